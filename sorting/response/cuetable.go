package response

import (
	"fmt"
	"sync"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/sorting"
)

// cueTables answers categorical tests: the handbook's tables, moved by what known snippets of the
// same material showed in the same test.
type cueTables struct {
	lock   sync.Mutex               // lots are weighed at the same time
	cache  map[string][][][]float64 // by kind, setting and cue: rows
	learnt map[string][]float64     // by kind, setting, cue and base material: counts by outcome
}

func newCueTables(bin *sorting.Bin, ignoreKnown bool) *cueTables {
	t := &cueTables{cache: map[string][][][]float64{}, learnt: map[string][]float64{}}
	if ignoreKnown {
		return t
	}
	for _, k := range bin.Known {
		m, ok := polymers.Find(k.Material)
		if !ok {
			continue
		}
		for i := range bin.Tests {
			if o := &bin.Tests[i]; o.Known == k.Name {
				t.learn(o, m)
			}
		}
	}
	return t
}

func (t *cueTables) learn(o *sorting.Observation, m polymers.Material) {
	for _, c := range outcomesOf(o) {
		for _, s := range sights(o.Kind, c.Outcome, o.Flame) {
			names := cues.Seen(o.Kind, s.cue)
			at := index(names, s.outcome)
			if at < 0 {
				continue
			}
			key := tableKey(o.Kind, cues.Setting{Time: o.Time, Temp: o.Temp, Cue: s.cue}, m.Base)
			if t.learnt[key] == nil {
				t.learnt[key] = make([]float64, len(names))
			}
			t.learnt[key][at] += float64(c.N)
		}
	}
}

// sight is one thing seen: of a flame there can be several.
type sight struct{ cue, outcome string }

func sights(kind cues.Kind, outcome string, flame *sorting.FlameCues) []sight {
	if kind != cues.Flame {
		return []sight{{"", outcome}}
	}
	var out []sight
	if flame == nil {
		return out
	}
	if flame.Smoke != "" {
		out = append(out, sight{"smoke", flame.Smoke})
	}
	if flame.Drips != nil {
		out = append(out, sight{"drips", fmt.Sprint(*flame.Drips)})
	}
	if flame.GoesOut != nil {
		out = append(out, sight{"goes_out", fmt.Sprint(*flame.GoesOut)})
	}
	return out
}

func tableKey(k cues.Kind, s cues.Setting, m polymers.Symbol) string {
	return fmt.Sprintf("%s|%v|%v|%s|%s", k, s.Time.Value, s.Temp.Value, s.Cue, m)
}

// Reading a marking: how often it is the material, and how often it is something else moulded round
// it or misread; judgement.
const (
	markRight = 0.9
	markWrong = 0.02
)

// rows collects P(outcome) of a kind and setting for every candidate and variant.
func (m *Model) rows(k cues.Kind, s cues.Setting) [][][]float64 {
	m.cues.lock.Lock()
	defer m.cues.lock.Unlock()
	key := tableKey(k, s, "")
	if out, ok := m.cues.cache[key]; ok {
		return out
	}
	out := make([][][]float64, len(m.pops))
	for c := range m.pops {
		for _, v := range m.pops[c].variants {
			out[c] = append(out[c], m.cues.vector(k, s, v))
		}
	}
	m.cues.cache[key] = out
	return out
}

// markedRows gives each candidate the probability that its piece bears the symbol that was read.
func (m *Model) markedRows(symbol string) [][][]float64 {
	out := make([][][]float64, len(m.pops))
	for c := range m.pops {
		for _, v := range m.pops[c].variants {
			out[c] = append(out[c], []float64{marked(symbol, v)})
		}
	}
	return out
}

// marked is P(the symbol is read on a piece of the material). A marking of several polymers speaks for
// their blend where the handbook has it, else for its first; a resin code for the resin it names.
func marked(symbol string, m polymers.Material) float64 {
	read, ok := markedAs(symbol)
	if ok && (read.Symbol == m.Symbol || read.Base == m.Base) {
		return markRight
	}
	return markWrong
}

func markedAs(symbol string) (polymers.Material, bool) {
	if sym, err := polymers.Lookup(symbol); err == nil {
		return polymers.Find(sym)
	}
	m, err := polymers.ReadMarking(symbol)
	if err != nil || len(m.Polymers) == 0 {
		return polymers.Material{}, false
	}
	if len(m.Polymers) > 1 {
		if blend, ok := polymers.Find(m.Polymers[0] + "+" + m.Polymers[1]); ok {
			return blend, true
		}
	}
	return polymers.Find(m.Polymers[0])
}

// MarkedAs is the handbook's symbol for what a marking names; false where it has no record.
func MarkedAs(symbol string) (polymers.Symbol, bool) {
	m, ok := markedAs(symbol)
	return m.Symbol, ok
}

// vector is P(outcome | material) over the outcomes of a kind.
func (t *cueTables) vector(k cues.Kind, s cues.Setting, m polymers.Material) []float64 {
	v, err := cues.Likelihood(k, s, m)
	if err != nil {
		return v
	}
	if counts := t.learnt[tableKey(k, s, m.Base)]; counts != nil {
		if moved, e := cues.Learn(v, counts); e == nil {
			return moved
		}
	}
	return v
}

func index(list []string, s string) int {
	for i, x := range list {
		if x == s {
			return i
		}
	}
	return -1
}
