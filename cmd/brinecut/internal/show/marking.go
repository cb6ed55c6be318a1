package show

import (
	"fmt"
	"strings"

	"brinecut/polymers"
)

type marking struct {
	Marking         string   `json:"marking"`
	Polymers        []string `json:"polymers"`
	Fillers         []filler `json:"fillers"`
	FillerPercent   *number  `json:"filler_total_percent"`
	Recyclate       bool     `json:"recyclate"`
	RecyclateShare  *number  `json:"recyclate_at_least_percent"`
	FlameRetardants []string `json:"flame_retardants"`
	Plasticizers    []string `json:"plasticizers"`
	Density         *span    `json:"density_g_cm3"` // computed; nil where not all of it is known
	Code            string   `json:"code"`
	NeverHeat       bool     `json:"never_heat"`
	Notes           []string `json:"notes"`
}

type filler struct {
	Symbol  string  `json:"symbol"`
	Percent *number `json:"percent"`
}

// MarkingJSON is the wire form of a marking.
func MarkingJSON(m polymers.Marking) any { return markingOf(m) }

func markingOf(m polymers.Marking) marking {
	out := marking{Marking: m.Text, Polymers: []string{}, Fillers: []filler{}, FillerPercent: some(m.FillerTotal), FlameRetardants: nonNil(m.FlameRetardants),
		Plasticizers: nonNil(m.Plasticizers), Code: m.Code, Notes: nonNil(m.Notes)}
	out.NeverHeat = len(m.FlameRetardants) > 0
	for _, s := range m.Polymers {
		out.Polymers = append(out.Polymers, string(s))
		if r, ok := polymers.Find(s); ok && r.NeverHeat {
			out.NeverHeat = true
		}
	}
	for _, f := range m.Fillers {
		out.Fillers = append(out.Fillers, filler{f.Symbol, some(f.Percent)})
	}
	if v, ok := m.Density(); ok {
		out.Density = &span{number(v.Low), number(v.Typical), number(v.High)}
	}
	if m.Recyclate != nil {
		out.Recyclate, out.RecyclateShare = true, some(m.Recyclate.AtLeastPercent)
	}
	return out
}

// Marking writes a marking for a person.
func Marking(p *Page, m polymers.Marking) {
	w := markingOf(m)
	p.Title(m.Text)
	p.Section("polymer")
	for _, s := range w.Polymers {
		name := "not in the handbook"
		if r, ok := polymers.Find(polymers.Symbol(s)); ok {
			name = r.Name
		}
		p.Line(s + "  " + name)
	}
	if len(w.Fillers) > 0 {
		p.head = "filler"
	}
	for _, f := range w.Fillers {
		share := "share not stated"
		if f.Percent != nil {
			share = percent(float64(*f.Percent) / 100)
		}
		p.Line(f.Symbol + "  " + share)
	}
	if d := w.Density; d != nil {
		p.head = "density"
		p.Text(fmt.Sprintf("%.3f g/cm3 (%.3f to %.3f), computed by the rule of mixtures; a print holds air and has less", float64(d.Typical), float64(d.Low), float64(d.High)), 0)
	}
	if w.Code != "" {
		p.head = "resin code"
		p.Line(w.Code + "  (ASTM D7611: names the resin, promises nothing)")
	}
	if m.Recyclate != nil {
		p.head = "recyclate"
		p.Line(declared(w.RecyclateShare))
	}
	if len(m.FlameRetardants) > 0 {
		p.head = "retardant"
		p.Line("FR(" + strings.Join(m.FlameRetardants, "+") + ")")
	}
	if w.NeverHeat {
		p.head = "never heat"
		p.Text("this must never be heated: no press, no extruder, no hot air, no flame", 0)
	}
	notes(p, m.Notes)
}

func declared(share *number) string {
	if share == nil {
		return "declared, no amount stated"
	}
	return "at least " + percent(float64(*share)/100) + " declared"
}
