package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/cmd/brinecut/internal/chart"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/bath"
)

// water is the density of plain water at 20 °C, g/cm3 (Tanaka and others, Metrologia 38 (2001) 301).
const water = 0.998

// densities is the axis with liquids, materials and tested pieces on it.
func densities(a advice.Answer, m marks) picture {
	p := picture{ID: "density", Head: "Densities", Heads: []string{"", "low", "typical", "high"},
		Lead: "A piece sinks where its liquid lies to its left, and floats where it lies to its right; air in a piece moves it left, so that a floater may only be hiding air."}
	x := chart.Axis{About: chart.About{ID: "axis", Title: "Densities of liquids, materials and tested pieces"}}
	x.Liquids, x.Materials, x.Pieces = liquids(a.Bin), materials(a, m), tested(a.Bin)
	var words []string
	for _, l := range x.Liquids {
		words = append(words, fmt.Sprintf("%s %s", l.Name, span(l.Low, l.High)))
		p.Rows = append(p.Rows, []string{l.Name, density(l.Low), "", density(l.High)})
	}
	for _, y := range x.Materials {
		words = append(words, fmt.Sprintf("%s %s, typical %s", y.Name, span(y.Low, y.High), density(y.Typical)))
		p.Rows = append(p.Rows, []string{y.Name, density(y.Low), density(y.Typical), density(y.High)})
	}
	for _, y := range x.Pieces {
		words = append(words, fmt.Sprintf("pieces of %s at %s: %s", y.Name, density(y.Density), outcomes(y)))
		p.Rows = append(p.Rows, []string{y.Name + ", " + outcomes(y), "", density(y.Density), ""})
	}
	x.Desc = "In g/cm3: " + strings.Join(words, "; ") + "."
	p.drawn("", x.Picture())
	return p
}

func density(x float64) string { return fmt.Sprintf("%.3f", x) }

func span(low, high float64) string {
	if density(low) == density(high) {
		return density(low)
	}
	return density(low) + " to " + density(high)
}

func outcomes(p chart.Pieces) string {
	if p.Weighed {
		return "weighed"
	}
	var out []string
	for _, o := range []struct {
		n    int
		what string
	}{{p.Floats, "float"}, {p.Hovers, "hover"}, {p.Sinks, "sink"}} {
		if o.n > 0 {
			out = append(out, fmt.Sprintf("%d %s", o.n, o.what))
		}
	}
	return show.Words(out)
}

// liquids are water, the baths of the bin with their doubt, and what the salts of the kit reach.
func liquids(bin *sorting.Bin) []chart.Liquid {
	out := []chart.Liquid{{Name: "plain water", Low: water, High: water}}
	for _, b := range bin.Baths {
		d, sd := float64(b.Density.Value), float64(b.Density.SD)
		name := "bath " + b.Name
		if b.Salt != "" {
			name += ", " + b.Salt
		}
		out = append(out, chart.Liquid{Name: name, Low: d - sd, High: d + sd})
	}
	for _, o := range bath.Reach(advice.Kit(bin), bath.Place{}) {
		if o.Max > o.Min {
			out = append(out, chart.Liquid{Name: string(o.Product.Name) + " reaches", Low: float64(o.Min), High: float64(o.Max)})
		}
	}
	return out
}

func materials(a advice.Answer, m marks) []chart.Material {
	var out []chart.Material
	for _, k := range order(a) {
		key := a.Composition.Keys[k]
		for _, sym := range members(key) {
			h, ok := polymers.Find(sym)
			if !ok {
				continue
			}
			x := chart.Material{Name: string(sym), Mark: m[key], Low: h.Density.Low, Typical: h.Density.Typical, High: h.Density.High}
			for _, s := range a.Bin.Known {
				if g, ok := polymers.Find(s.Material); ok && g.Base == sym && s.Density.Given() {
					x.Snippets = append(x.Snippets, float64(s.Density.Value))
				}
			}
			out = append(out, x)
		}
	}
	return out
}

// tested gathers the float tests of each lot or snippet by bath, and weighed pieces one by one.
func tested(bin *sorting.Bin) []chart.Pieces {
	var out []chart.Pieces
	for i := range bin.Tests {
		o := &bin.Tests[i]
		name := o.Lot + o.Known
		d := float64(liquidOf(bin, o))
		switch {
		case o.Kind == cues.Weigh && float64(o.InAir.Value) > float64(o.InLiquid.Value) && d > 0:
			air := float64(o.InAir.Value)
			out = append(out, chart.Pieces{Name: name, Density: air * d / (air - float64(o.InLiquid.Value)), Weighed: true}) // method.md (response 2)
		case o.Kind == cues.Float && d > 0:
			at := slices.IndexFunc(out, func(p chart.Pieces) bool { return p.Name == name && !p.Weighed && math.Abs(p.Density-d) < 1e-9 })
			if at < 0 {
				at = len(out)
				out = append(out, chart.Pieces{Name: name, Density: d})
			}
			count(&out[at], o)
		}
	}
	return out
}

func liquidOf(bin *sorting.Bin, o *sorting.Observation) quantity.GramPerCm3 {
	if o.Kind == cues.Weigh && o.Liquid.Given() {
		return o.Liquid.Value
	}
	if b, ok := bin.BathOf(o.Bath); ok {
		return b.Density.Value
	}
	return o.Density.Value
}

func count(p *chart.Pieces, o *sorting.Observation) {
	list := o.Counts
	if len(list) == 0 {
		list = []sorting.Count{{Outcome: o.Outcome, N: 1}}
	}
	for _, c := range list {
		switch c.Outcome {
		case "floats":
			p.Floats += c.N
		case "hovers":
			p.Hovers += c.N
		case "sinks":
			p.Sinks += c.N
		}
	}
}

// purities keeps apart what is expected of each bag, what is demonstrated, and what is asked.
func purities(a advice.Answer, m marks) picture {
	p := picture{ID: "purity", Head: "How pure each bag is", Heads: []string{"bag", "expected", "demonstrated", "asked"},
		Lead: "Expected is what the tests and weighings make likely. Demonstrated is what pieces drawn at random show by themselves, at 95 % confidence one-sided; only that is held against what an outlet asks."}
	var bags []chart.Purity
	for i, f := range a.Fractions {
		if f.Material == "" {
			continue
		}
		b := chart.Purity{About: chart.About{ID: fmt.Sprintf("pure-%d", i+1), Title: f.Name + ", from " + quoted(f.Lots)}, Mark: bagMark(f, m),
			Low: f.Purity.Low, Mean: f.Purity.Mean, High: f.Purity.High,
			Expected: show.Percent(f.Purity.Mean) + " (" + strings.TrimSuffix(show.PercentSpan(f.Purity), " %") + ")", Shown: "nothing"}
		if f.Demonstrated != nil {
			b.Demonstrated = f.Demonstrated.AtLeast
			b.Shown = "at least " + claim(b.Demonstrated)
		}
		asks := asked(a.Bin.Outlets, f)
		b.Asked = asks
		b.Desc = fmt.Sprintf("Expected %s, range %s; demonstrated %s; %s.", show.Percent(f.Purity.Mean), show.PercentSpan(f.Purity), b.Shown, askedWords(asks))
		bags = append(bags, b)
		p.Rows = append(p.Rows, []string{f.Name, b.Expected, b.Shown, askedWords(asks)})
	}
	for _, b := range bags {
		b.From = chart.PurityFrom(bags)
		p.drawn(b.Title, b.Picture())
	}
	return p
}

// asked is what outlets that take the fraction want demonstrated.
func asked(outlets []sorting.Outlet, f advice.Fraction) []chart.Asked {
	var out []chart.Asked
	for _, o := range outlets {
		if q := float64(o.Purity.Or(0)); q > 0 && accepts(o, f) {
			out = append(out, chart.Asked{Purity: q, Words: show.Percent(q) + " asked by " + o.Name})
		}
	}
	return out
}

func askedWords(asks []chart.Asked) string {
	if len(asks) == 0 {
		return "nothing asked"
	}
	var out []string
	for _, x := range asks {
		out = append(out, x.Words)
	}
	return show.Words(out)
}

func accepts(o sorting.Outlet, f advice.Fraction) bool {
	return slices.ContainsFunc(f.Symbols, func(s polymers.Symbol) bool { return slices.Contains(o.Accepts, s) })
}

// worths is what each bag is worth against its mass, with the mass at which it breaks even.
func worths(a advice.Answer) picture {
	p := picture{ID: "worth", Head: "Worth against mass", Heads: []string{"bag", "mass", "worth", "90 % range", "breaks even at"},
		Lead: "What keeping a bag gains over throwing it out, bench hours counted. The bar is the 90 % range at the mass there is; the ring is the mass from which it pays."}
	for i, f := range a.Fractions {
		w := f.Decision.Worth
		even, pays := "no mass", "no mass makes it pay"
		x := chart.Worth{About: chart.About{ID: fmt.Sprintf("worth-%d", i+1), Title: f.Name + ", " + show.GoesTo(f.Decision)},
			Mass: f.Mass.Mean / 1000, Value: w.Value.Mean, Low: w.Value.Low, High: w.Value.High, Currency: w.Currency}
		if w.BreakEvenG != nil {
			x.BreakEven, even = *w.BreakEvenG/1000, show.Mass(*w.BreakEvenG)
			pays = "pays from " + even
		}
		x.Desc = fmt.Sprintf("At %s it is worth %s, range %s to %s; it breaks even at %s.", show.Mass(f.Mass.Mean), show.Money(w.Value.Mean, w.Currency),
			show.Money(w.Value.Low, ""), show.Money(w.Value.High, w.Currency), even)
		p.Rows = append(p.Rows, []string{f.Name, show.Mass(f.Mass.Mean), show.Money(w.Value.Mean, w.Currency),
			show.Money(w.Value.Low, "") + " to " + show.Money(w.Value.High, ""), even})
		if w.Value != (sorting.Range{}) { // thrown out, or held for want of anything to reckon with
			p.drawn(x.Title+": "+pays, x.Picture())
		}
	}
	return p
}
