package polymers

import (
	"slices"
	"sync"
)

//go:generate go run ./internal/tablegen

// Source is one entry of the bibliography.
type Source struct {
	ID     string
	Author string
	Title  string
	Year   string // "n.d." where undated
	Where  string // page, table or sheet
	Read   string // "page", "abstract" (an abstract or a snippet only), "none" (nothing published)
}

// All lists every record, most usual in a printer's bin first, then what only comes from elsewhere,
// hard stops last. The slice is the caller's; what its pointers and slices lead to is read-only.
func All() []Material { return slices.Clone(materials) }

// Symbols lists the symbols of All in the same order.
func Symbols() []Symbol {
	out := make([]Symbol, len(materials))
	for i := range materials {
		out[i] = materials[i].Symbol
	}
	return out
}

var bySymbol = sync.OnceValue(func() map[Symbol]int {
	m := make(map[Symbol]int, len(materials))
	for i := range materials {
		m[materials[i].Symbol] = i
	}
	return m
})

// Find gives the record of a symbol as All spells it. A filled grade with a percentage of its own
// ("PA12-GF15") is found under its generic record ("PA12-GF") by Lookup, not here.
func Find(sym Symbol) (Material, bool) {
	i, ok := bySymbol()[sym]
	if !ok {
		return Material{}, false
	}
	return materials[i], true
}

// Amorphous reports whether the record has no melting range: the polymer is amorphous, or rubbery with
// none on record. A rigid one is dried below its glass transition.
func (m Material) Amorphous() bool { return m.Melt == nil }

// Drying gives how a form, "pellet" or "print scrap", is dried; false where nothing is stated, as for
// a material that is never heated.
func (m Material) Drying(form string) (Drying, bool) {
	for _, d := range m.Dry {
		if d.Form == form {
			return d, true
		}
	}
	return Drying{}, false
}

// SourceOf gives the bibliography entry of an id.
func SourceOf(id string) (Source, bool) {
	for _, s := range sources {
		if s.ID == id {
			return s, true
		}
	}
	return Source{}, false
}

// Bibliography lists every source in the order of the data file.
func Bibliography() []Source { return slices.Clone(sources) }

// property is one property of a record with its key in the data files.
type property struct {
	key   string
	value *Value
}

func (m *Material) properties() []property {
	out := []property{
		{"density_g_cm3", &m.Density}, {"glass_transition_c", m.GlassTransition}, {"melt_c", m.Melt},
		{"softens_c", m.Softens}, {"heat_deflection_c", m.HeatDeflection}, {"process_c", m.Process},
		{"ceiling_c", m.CeilingC}, {"onset_c", m.Onset}, {"water_uptake_percent", m.WaterUptake},
		{"specific_heat_j_kg_k", m.SpecificHeat}, {"conductivity_w_m_k", m.Conductivity},
		{"melt_enthalpy_kj_kg", m.MeltEnthalpy}, {"shrinkage_percent", m.Shrinkage},
	}
	for i := range m.Dry {
		d := &m.Dry[i]
		out = append(out, property{"dry " + d.Form + " temp_c", &d.TempC}, property{"dry " + d.Form + " hours", &d.Hours},
			property{"dry " + d.Form + " max_moisture_percent", d.MaxMoisturePercent})
	}
	return out
}

// Properties lists the keys of the properties for which the record has a value, in the order of the
// data files; drying as "dry print scrap temp_c" and so on.
func (m Material) Properties() []string {
	var out []string
	for _, p := range m.properties() {
		if p.value != nil {
			out = append(out, p.key)
		}
	}
	return out
}

// Sources gives every value known of a property, the pick first, then the others in the order page,
// abstract, declared, computed, common practice, from memory. The property is a key of Properties;
// nil where there is no value.
func (m Material) Sources(property string) []Value {
	var out []Value
	for _, p := range m.properties() {
		if p.key == property && p.value != nil {
			out = append(out, *p.value)
		}
	}
	for _, a := range m.Alternates {
		if a.Property == property && out != nil {
			out = append(out, a.Values...)
		}
	}
	return out
}

// SourceIDs lists the ids of every source the record leans on, picks and hazards, each once, in the
// order of first use.
func (m Material) SourceIDs() []string {
	var out []string
	add := func(id string) {
		if id != "" && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	for _, p := range m.properties() {
		if p.value != nil {
			add(p.value.Source)
		}
	}
	add(m.SpreadSource)
	for _, h := range m.Hazards {
		add(h.Source)
	}
	return out
}
