package polymers

import "strings"

// Tally says how many values rest on one kind of evidence.
type Tally struct {
	Evidence Evidence
	Count    int
}

// Kinds lists the kinds of evidence, strongest first.
func Kinds() []Evidence {
	return []Evidence{Page, Abstract, Declared, Computed, CommonPractice, Memory, Judgement}
}

// EvidenceCount says what the values that decisions use rest on: density, glass transition, melt,
// softening, melt window, ceiling and drying of every record, strongest kind first. A value carried
// over from another record is counted there once and not again, nor is one of print scrap that is the
// pellet's.
func EvidenceCount() []Tally { return tally(materials) }

// EvidenceCount is the same tally of one record alone, what it carries over included.
func (m Material) EvidenceCount() []Tally {
	own := m
	out := make([]Tally, 0, len(Kinds()))
	for _, k := range Kinds() {
		n := 0
		for _, p := range own.properties() {
			if p.value != nil && decides(p.key) && p.value.Evidence == k {
				n++
			}
		}
		out = append(out, Tally{k, n})
	}
	return out
}

func tally(ms []Material) []Tally {
	out := make([]Tally, 0, len(Kinds()))
	for _, k := range Kinds() {
		n := 0
		for i := range ms {
			for _, p := range ms[i].properties() {
				if p.value != nil && p.value.From == "" && decides(p.key) && p.value.Evidence == k && !ms[i].asPellet(p) {
					n++
				}
			}
		}
		out = append(out, Tally{k, n})
	}
	return out
}

func decides(key string) bool {
	switch key {
	case "density_g_cm3", "glass_transition_c", "melt_c", "softens_c", "process_c", "ceiling_c":
		return true
	}
	return strings.HasPrefix(key, "dry ")
}

// asPellet reports whether a value of print scrap is the pellet's over again.
func (m *Material) asPellet(p property) bool {
	what, ok := strings.CutPrefix(p.key, "dry print scrap ")
	if !ok {
		return false
	}
	for _, q := range m.properties() {
		if q.key == "dry pellet "+what && q.value != nil {
			return q.value.Source == p.value.Source && q.value.Low == p.value.Low &&
				q.value.Typical == p.value.Typical && q.value.High == p.value.High
		}
	}
	return false
}
