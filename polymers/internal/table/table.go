// Package table reads the handbook's data files and writes them as Go, so that the program starts
// without decoding them. It is used by the generator and by the tests that hold the files to account.
package table

import (
	"fmt"
	"path"
	"sort"
	"strings"

	"github.com/BurntSushi/toml"
)

// Value is one value as a data file has it. A value without low and high is its own range.
type Value struct {
	Low      *float64
	Typical  float64
	High     *float64
	Source   string
	Evidence string
	From     string
	Note     string
}

// Range gives the ends of the value, which are the typical value where none are written.
func (v Value) Range() (low, high float64) {
	low, high = v.Typical, v.Typical
	if v.Low != nil {
		low = *v.Low
	}
	if v.High != nil {
		high = *v.High
	}
	return low, high
}

// Dry is one form's drying: lists with the pick first.
type Dry struct {
	Form        string
	TempC       []Value `toml:"temp_c"`
	Hours       []Value `toml:"hours"`
	MaxMoisture []Value `toml:"max_moisture_percent"`
}

// Hazard is one entry of hazards.toml.
type Hazard struct {
	ID, What, Words, Source string
	OnsetC                  *Value `toml:"onset_c"`
}

// Source is one entry of the bibliography.
type Source struct {
	ID, Author, Title, Year, Where, Read string
}

// Filler is one entry of fillers.toml.
type Filler struct {
	Symbol, Name string
	Density      Value `toml:"density_g_cm3"`
}

// Material is one record as a data file has it, after what it carries over from another is filled in.
type Material struct {
	Symbol, Name, Base, Polymer, Variant, Filler, Like string
	NotLike                                            []string `toml:"not_like"`
	Names                                              []string
	Marking                                            string
	Rubbery                                            bool
	WaterSoluble                                       bool   `toml:"water_soluble"`
	NeverHeat                                          bool   `toml:"never_heat"`
	NeverHeatWhy                                       string `toml:"never_heat_why"`
	Foreign                                            bool
	Hazards                                            []string
	SpreadMaterial                                     string   `toml:"spread_material"`
	SpreadClasses                                      []string `toml:"spread_classes"`
	Spread                                             float64  `toml:"spread_g_cm3"`
	Density                                            []Value  `toml:"density_g_cm3"`
	GlassTransition                                    []Value  `toml:"glass_transition_c"`
	Melt                                               []Value  `toml:"melt_c"`
	Softens                                            []Value  `toml:"softens_c"`
	HeatDeflection                                     []Value  `toml:"heat_deflection_c"`
	Process                                            []Value  `toml:"process_c"`
	Ceiling                                            []Value  `toml:"ceiling_c"`
	Onset                                              []Value  `toml:"onset_c"`
	WaterUptake                                        []Value  `toml:"water_uptake_percent"`
	SpecificHeat                                       []Value  `toml:"specific_heat_j_kg_k"`
	Conductivity                                       []Value  `toml:"conductivity_w_m_k"`
	MeltEnthalpy                                       []Value  `toml:"melt_enthalpy_kj_kg"`
	Shrinkage                                          []Value  `toml:"shrinkage_percent"`
	Dry                                                []Dry
	File                                               string `toml:"-"`
}

// Property is one property's list, by the key it has in the data files.
type Property struct {
	Key    string
	Values *[]Value
}

// Properties lists the record's properties in the order of the files.
func (m *Material) Properties() []Property {
	return []Property{
		{"density_g_cm3", &m.Density}, {"glass_transition_c", &m.GlassTransition}, {"melt_c", &m.Melt},
		{"softens_c", &m.Softens}, {"heat_deflection_c", &m.HeatDeflection}, {"process_c", &m.Process},
		{"ceiling_c", &m.Ceiling}, {"onset_c", &m.Onset}, {"water_uptake_percent", &m.WaterUptake},
		{"specific_heat_j_kg_k", &m.SpecificHeat}, {"conductivity_w_m_k", &m.Conductivity},
		{"melt_enthalpy_kj_kg", &m.MeltEnthalpy}, {"shrinkage_percent", &m.Shrinkage},
	}
}

// Table is the whole handbook.
type Table struct {
	Materials []Material // in the order of order.toml
	Hazards   []Hazard
	Sources   []Source
	Fillers   []Filler
}

type file struct {
	Material []Material
	Hazard   []Hazard
	Source   []Source
	Filler   []Filler
	Order    []string
}

// Read decodes the data files, given as name and contents, strictly: an unknown key is an error.
func Read(files map[string][]byte) (Table, error) {
	var t Table
	var order []string
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		var f file
		md, err := toml.Decode(string(files[name]), &f)
		if err != nil {
			return t, fmt.Errorf("%s: %w", name, err)
		}
		if un := md.Undecoded(); len(un) > 0 {
			return t, fmt.Errorf("%s: unknown key %s", name, un[0])
		}
		for i := range f.Material {
			f.Material[i].File = strings.TrimSuffix(path.Base(name), ".toml")
		}
		t.Materials = append(t.Materials, f.Material...)
		t.Hazards = append(t.Hazards, f.Hazard...)
		t.Sources = append(t.Sources, f.Source...)
		t.Fillers = append(t.Fillers, f.Filler...)
		order = append(order, f.Order...)
	}
	if err := t.sort(order); err != nil {
		return t, err
	}
	return t, t.carryOver()
}

// sort puts the materials into the stated order; each has to be named there once.
func (t *Table) sort(order []string) error {
	place := map[string]int{}
	for i, s := range order {
		if _, twice := place[s]; twice {
			return fmt.Errorf("order: %s is named twice", s)
		}
		place[s] = i
	}
	for _, m := range t.Materials {
		if _, ok := place[m.Symbol]; !ok {
			return fmt.Errorf("order: %s is not named", m.Symbol)
		}
	}
	if len(place) != len(t.Materials) {
		return fmt.Errorf("order names %d materials, the files have %d", len(place), len(t.Materials))
	}
	sort.SliceStable(t.Materials, func(i, j int) bool {
		return place[t.Materials[i].Symbol] < place[t.Materials[j].Symbol]
	})
	return nil
}

// carryOver fills what a record leaves out from the record it is like, marking each such value.
func (t *Table) carryOver() error {
	index := map[string]int{}
	for i, m := range t.Materials {
		index[m.Symbol] = i
	}
	for i := range t.Materials {
		m := &t.Materials[i]
		if m.Like == "" {
			continue
		}
		j, ok := index[m.Like]
		if !ok {
			return fmt.Errorf("%s is like %s, which is no record", m.Symbol, m.Like)
		}
		if t.Materials[j].Like != "" {
			return fmt.Errorf("%s is like %s, which is itself like another", m.Symbol, m.Like)
		}
		m.fill(&t.Materials[j])
	}
	return nil
}

func (m *Material) fill(from *Material) {
	theirs := from.Properties()
	for i, p := range m.Properties() {
		if len(*p.Values) > 0 || contains(m.NotLike, p.Key) || len(*theirs[i].Values) == 0 {
			continue
		}
		*p.Values = carried(*theirs[i].Values, from.Symbol)
	}
	if len(m.Dry) > 0 {
		return
	}
	for _, d := range from.Dry {
		m.Dry = append(m.Dry, Dry{Form: d.Form, TempC: carried(d.TempC, from.Symbol),
			Hours: carried(d.Hours, from.Symbol), MaxMoisture: carried(d.MaxMoisture, from.Symbol)})
	}
}

func carried(vs []Value, from string) []Value {
	out := append([]Value(nil), vs...)
	for i := range out {
		if out[i].From == "" {
			out[i].From = from
		}
	}
	return out
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
