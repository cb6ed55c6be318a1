package show

import (
	"fmt"

	"brinecut/reuse"
)

type reason struct {
	Says   string `json:"says"`
	Source string `json:"source"`
}

// rule is one rule a bag was held against; worth is null for a rule that keeps nothing.
type rule struct {
	Route  string  `json:"route"`
	Outlet *string `json:"outlet"`
	Taken  bool    `json:"taken"`
	LostBy *string `json:"lost_by"`
	Asks   []asked `json:"asks"`
	Worth  *worth  `json:"worth"`
}

type asked struct {
	Asks   string  `json:"asks"`
	Met    bool    `json:"met"`
	By     *string `json:"by"`
	Cure   *string `json:"cure"`
	Source string  `json:"source"`
}

func rulesOf(list []reuse.Rule) []rule {
	out := []rule{}
	for _, r := range list {
		w := rule{Route: string(r.Route), Outlet: text(r.Outlet), Taken: r.Taken, LostBy: text(r.By), Asks: []asked{}}
		for _, a := range r.Asks {
			w.Asks = append(w.Asks, asked{a.Asks, a.Met, text(a.By), text(a.Cure), a.Source})
		}
		if r.Worth != nil {
			x := worthOf(*r.Worth)
			w.Worth = &x
		}
		out = append(out, w)
	}
	return out
}

func worthOf(w reuse.Worth) worth {
	out := worth{Keep: w.Keep, Value: estimateOf(w.Value), Currency: w.Currency, BreakEven: some(w.BreakEvenG), Hours: some(w.HoursPerKg), Energy: estimateOf(w.EnergyKWh)}
	if w.CO2Kg != nil {
		e := estimateOf(*w.CO2Kg)
		out.CO2 = &e
	}
	return out
}

// worthSum is the money of a way with its range.
func worthSum(w reuse.Worth) string {
	s := money(w.Value.Mean, w.Currency)
	if w.Value.High-w.Value.Low >= 0.005 {
		s += " (" + money(w.Value.Low, "") + " to " + money(w.Value.High, "") + ")"
	}
	return s
}

// WorthWords are the figures of a way beside its money: the mass from which it pays, hours a kilogram of
// product, energy and CO2 saved for the whole bag.
func WorthWords(w reuse.Worth) string {
	s := "at no mass does it pay"
	if w.BreakEvenG != nil {
		s = "it pays from " + mass(*w.BreakEvenG)
	}
	if w.HoursPerKg != nil {
		s += fmt.Sprintf(", %s of work a kilogram", minutes(*w.HoursPerKg*60))
	}
	if w.EnergyKWh.Mean > 0 {
		mean, low, high := digits(w.EnergyKWh.Mean, 2), digits(w.EnergyKWh.Low, 2), digits(w.EnergyKWh.High, 2)
		if s += ", " + mean + " kWh"; low != high {
			s += " (" + low + " to " + high + ")"
		}
	}
	if c := w.CO2Kg; c != nil {
		s += fmt.Sprintf(", CO2 saved %s to %s kg", digits(c.Low, 2), digits(c.High, 2))
	}
	return s
}

// prevention is what the bin says of the next build.
func prevention(p *Page, list []string) {
	if len(list) == 0 {
		return
	}
	p.Section("next build")
	for i, s := range list {
		p.Item(fmt.Sprintf("%d.", i+1), s)
	}
}

// residues are what the bench leaves behind, where it goes, and what to be careful of.
func residues(p *Page, list []reuse.Residue) {
	if len(list) == 0 {
		return
	}
	p.Section("left over")
	for _, r := range list {
		p.Item("-", fmt.Sprintf("%s: %s (%s)", r.What, r.Route, r.Source))
		cautions(p, r.Cautions)
	}
}
