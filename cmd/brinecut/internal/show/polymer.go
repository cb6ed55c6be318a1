package show

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"brinecut/polymers"
)

type span struct {
	Low     number `json:"low"`
	Typical number `json:"typical"`
	High    number `json:"high"`
}

// spanOf gives null for a property that does not exist or is not known.
func spanOf(v *polymers.Value) *span {
	if v == nil {
		return nil
	}
	return &span{number(v.Low), number(v.Typical), number(v.High)}
}

type polymer struct {
	Symbol          string   `json:"symbol"`
	Name            string   `json:"name"`
	Density         *span    `json:"density_g_cm3"`
	GlassTransition *span    `json:"glass_transition_c"`
	Melt            *span    `json:"melt_c"`
	Softens         *span    `json:"softens_in_water_c"`
	Process         *span    `json:"process_c"`
	Ceiling         *number  `json:"ceiling_c"`
	NeverHeat       bool     `json:"never_heat"`
	NeverHeatWhy    string   `json:"never_heat_why,omitempty"`
	Drying          *drying  `json:"drying"`
	DryingForms     []drying `json:"drying_by_form"`
	WaterSoluble    bool     `json:"water_soluble"`
	Marking         string   `json:"marking"`
	Hazards         []hazard `json:"hazards"`
	Values          []value  `json:"values"`
	Sources         []string `json:"sources"`
}

type drying struct {
	TempC       number  `json:"temp_c"`
	Hours       number  `json:"hours"`
	MaxMoisture *number `json:"max_moisture_percent"`
	Form        string  `json:"form"`
}

type hazard struct {
	What   string `json:"what"`
	Words  string `json:"words"`
	Onset  *span  `json:"onset_c"`
	Source string `json:"source"`
}

type value struct {
	Property string `json:"property"`
	span
	Evidence string `json:"evidence"`
	Source   string `json:"source"`
	Note     string `json:"note,omitempty"`
}

// PolymersJSON is the wire form of the property table.
func PolymersJSON(list []polymers.Material) any {
	out := make([]polymer, len(list))
	for i, m := range list {
		out[i] = polymerOf(m)
	}
	return out
}

// PolymerJSON is the wire form of one material's sheet.
func PolymerJSON(m polymers.Material) any { return polymerOf(m) }

func polymerOf(m polymers.Material) polymer {
	out := polymer{Symbol: string(m.Symbol), Name: m.Name, Density: spanOf(&m.Density), GlassTransition: spanOf(m.GlassTransition), Melt: spanOf(m.Melt),
		Softens: spanOf(m.Softens), Process: spanOf(m.Process), NeverHeat: m.NeverHeat, NeverHeatWhy: m.NeverHeatWhy, WaterSoluble: m.WaterSoluble,
		Marking: m.Marking, DryingForms: []drying{}, Hazards: []hazard{}, Values: []value{}, Sources: []string{}}
	if m.CeilingC != nil {
		out.Ceiling = some(&m.CeilingC.Typical)
	}
	for _, d := range m.Dry {
		out.DryingForms = append(out.DryingForms, dryingOf(d))
	}
	if d, ok := dryingFirst(m); ok {
		w := dryingOf(d)
		out.Drying = &w
	}
	for _, h := range m.Hazards {
		out.Hazards = append(out.Hazards, hazard{h.What, h.Words, spanOf(h.OnsetC), source(h.Source)})
	}
	for _, prop := range m.Properties() {
		for _, v := range m.Sources(prop) {
			out.Values = append(out.Values, value{prop, *spanOf(&v), string(v.Evidence), source(v.Source), v.Note})
		}
	}
	for _, id := range m.SourceIDs() {
		out.Sources = append(out.Sources, source(id))
	}
	return out
}

// dryingFirst is how print scrap is dried, which is what a bin holds; of pellets where no more is known.
func dryingFirst(m polymers.Material) (polymers.Drying, bool) {
	if d, ok := m.Drying("print scrap"); ok {
		return d, true
	}
	return m.Drying("pellet")
}

func dryingOf(d polymers.Drying) drying {
	out := drying{TempC: number(d.TempC.Typical), Hours: number(d.Hours.Typical), Form: d.Form}
	if d.MaxMoisturePercent != nil {
		out.MaxMoisture = some(&d.MaxMoisturePercent.Typical)
	}
	return out
}

// source writes a source of the bibliography out; an id without an entry stands as it is.
func source(id string) string {
	s, ok := polymers.SourceOf(id)
	if !ok {
		return id
	}
	var parts []string
	for _, x := range []string{s.Author, s.Title, s.Year, s.Where} {
		if x != "" {
			parts = append(parts, x)
		}
	}
	return strings.Join(parts, ", ")
}

// Polymers writes the property table.
func Polymers(p *Page, list []polymers.Material) {
	rows := [][]string{{"", "density", "glass", "melts", "limp in", "worked at", "dry at", "printed as"},
		{"", "g/cm3", p.units.degree(), p.units.degree(), "water " + p.units.degree(), p.units.degree(), p.units.degree(), ""}}
	for _, m := range list {
		dry := "-"
		if d, ok := dryingFirst(m); ok {
			dry = plain(d.TempC.Typical)
		}
		worked := between(m.Process)
		if m.NeverHeat {
			worked = "NEVER"
		}
		rows = append(rows, []string{string(m.Symbol), fmt.Sprintf("%.2f (%.2f-%.2f)", m.Density.Typical, m.Density.Low, m.Density.High),
			p.units.degrees(typical(m.GlassTransition)), p.units.degrees(between(m.Melt)), p.units.degrees(typical(m.Softens)), p.units.degrees(worked), p.units.degrees(dry), m.Marking})
	}
	for _, line := range p.table("llrlrlrl", rows, width) {
		p.print(line)
	}
	p.print("")
	p.Title("limp in water: a thin print of about 2 mm. NEVER: hard stop, never heated whatever the flags.")
	p.Title("brinecut polymer SYMBOL gives one material's sheet, each value with its source.")
}

// plain writes a value to two places, and a small one, such as the water a melt bears, to three.
func plain(x float64) string {
	places := 2
	if math.Abs(x) < 0.1 {
		places = 3
	}
	return strconv.FormatFloat(round(x, places), 'f', -1, 64)
}

func typical(v *polymers.Value) string {
	if v == nil {
		return "-"
	}
	return plain(v.Typical)
}

func between(v *polymers.Value) string {
	switch {
	case v == nil:
		return "-"
	case v.Low == v.High:
		return plain(v.Typical)
	}
	return plain(v.Low) + "-" + plain(v.High)
}

// Polymer writes one material's sheet.
func Polymer(p *Page, m polymers.Material) {
	p.Title(string(m.Symbol) + "  " + m.Name)
	if m.NeverHeat {
		p.Section("never heat")
		p.Text(m.NeverHeatWhy, 0)
	}
	p.Section("marking")
	p.Line(m.Marking)
	p.Section("values")
	ids := sheetValues(p, m)
	for _, h := range m.Hazards {
		if ids.head {
			p.Section("hazards")
			ids.head = false
		}
		p.Item("-", h.What+": "+h.Words+ids.ref(h.Source))
	}
	p.Section("sources")
	for i, id := range ids.list {
		p.Item("["+strconv.Itoa(i+1)+"]", source(id))
	}
}

// refs numbers sources in the order they are met.
type refs struct {
	list []string
	head bool
}

func (r *refs) ref(id string) string {
	if id == "" {
		return ""
	}
	for i, x := range r.list {
		if x == id {
			return " [" + strconv.Itoa(i+1) + "]"
		}
	}
	r.list = append(r.list, id)
	return " [" + strconv.Itoa(len(r.list)) + "]"
}

// sheetValues writes every value known of each property, the one that is used first.
func sheetValues(p *Page, m polymers.Material) *refs {
	ids := &refs{head: true}
	var rows [][]string
	for _, prop := range m.Properties() {
		name, unit := property(prop)
		for i, v := range m.Sources(prop) {
			shown := name
			if i > 0 {
				shown = "  also"
			}
			figure := plain(v.Typical)
			if v.Low != v.High {
				figure += " (" + plain(v.Low) + " to " + plain(v.High) + ")"
			}
			rows = append(rows, []string{shown, figure + unit, string(v.Evidence) + ids.ref(v.Source)})
		}
	}
	p.Table("lll", rows)
	return ids
}

// units that end the keys of the data files, as they are written for a person.
var units = []struct{ end, unit string }{{"_g_cm3", " g/cm3"}, {"_c", " °C"}, {"_percent", " %"}, {"_j_kg_k", " J/kg/K"}, {"_w_m_k", " W/m/K"},
	{"_kj_kg", " kJ/kg"}, {" hours", " h"}}

// property is the name and unit of a key such as "density_g_cm3".
func property(key string) (name, unit string) {
	name = key
	for _, u := range units {
		if cut, ok := strings.CutSuffix(key, u.end); ok {
			name, unit = cut, u.unit
			if u.end == " hours" {
				name += " for"
			}
			break
		}
	}
	return strings.ReplaceAll(name, "_", " "), unit
}

// EvidenceJSON is the wire form of what values rest on.
func EvidenceJSON(list []polymers.Tally) any {
	out := object{}
	for _, t := range list {
		out = append(out, member{string(t.Evidence), t.Count})
	}
	return out
}

// Evidence writes what values rest on.
func Evidence(p *Page, list []polymers.Tally) {
	total := 0
	rows := [][]string{}
	for _, t := range list {
		total += t.Count
	}
	for _, t := range list {
		rows = append(rows, []string{string(t.Evidence), strconv.Itoa(t.Count), percent(float64(t.Count) / float64(max(total, 1)))})
	}
	p.head = "values"
	p.Table("lrr", rows)
}
