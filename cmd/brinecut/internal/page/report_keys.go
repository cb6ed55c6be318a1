package page

import (
	"slices"
	"strings"

	"brinecut/cmd/brinecut/internal/chart"
	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

// marks gives every key of the answer its letter, most mass first.
type marks map[string]chart.Mark

// sources lists where the figures of the materials and tests of this bin come from.
func sources(a advice.Answer) []named {
	var out []named
	add := func(what, source string) {
		n := named{what, source}
		if source != "" && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	for _, sym := range present(a) {
		m, ok := polymers.Find(sym)
		if !ok {
			continue
		}
		add(string(sym)+", density", cited(m.Density))
		if m.Softens != nil {
			add(string(sym)+", softening in water", cited(*m.Softens))
		}
	}
	for _, k := range cues.Kinds() {
		if used(a, k) {
			t, _ := cues.Find(k)
			for _, id := range strings.Fields(t.Source) {
				if text, ok := cues.Source(id); ok {
					add("test "+string(k), text)
				}
			}
		}
	}
	for _, f := range a.Fractions {
		for _, r := range f.Decision.Why {
			add("bag "+f.Name, r.Source)
		}
	}
	return out
}

// cited is a value's source as the bibliography has it, or the kind of evidence where it has none.
func cited(v polymers.Value) string {
	s, ok := polymers.SourceOf(v.Source)
	if !ok || s.Read == "none" {
		return string(v.Evidence)
	}
	return strings.Trim(strings.Join([]string{s.Author, s.Title, s.Year}, ", "), ", ")
}

func used(a advice.Answer, k cues.Kind) bool {
	if slices.ContainsFunc(a.Bin.Tests, func(o sorting.Observation) bool { return o.Kind == k }) {
		return true
	}
	return a.Chart != nil && slices.ContainsFunc(a.Chart.Lines, func(l triage.ChartLine) bool { return l.Kind == k })
}

// leastShown is the expected share of the bin from which a material is drawn.
const leastShown = 0.005

// order of the keys by mass, most first; those too small to draw left out.
func order(a advice.Answer) []int {
	totals, all := a.Totals(), a.TotalOf()
	var out []int
	for k := range totals {
		if totals[k].Mean >= leastShown*all.Mean && totals[k].Mean > 0 {
			out = append(out, k)
		}
	}
	slices.SortStableFunc(out, func(i, j int) int {
		switch {
		case totals[i].Mean > totals[j].Mean:
			return -1
		case totals[i].Mean < totals[j].Mean:
			return 1
		}
		return 0
	})
	return out
}

// present lists the materials of the keys that are drawn, members of groups one by one.
func present(a advice.Answer) []polymers.Symbol {
	var out []polymers.Symbol
	for _, k := range order(a) {
		for _, s := range members(a.Composition.Keys[k]) {
			if s != polymers.Other {
				out = append(out, s)
			}
		}
	}
	return out
}

// members of a key: itself, or those of a group such as "ABS/ASA".
func members(key string) []polymers.Symbol {
	if _, ok := polymers.Find(polymers.Symbol(key)); ok {
		return []polymers.Symbol{polymers.Symbol(key)}
	}
	var out []polymers.Symbol
	for _, s := range strings.Split(key, "/") {
		out = append(out, polymers.Symbol(s))
	}
	return out
}

func marksOf(a advice.Answer) marks {
	m, n := marks{string(polymers.Other): chart.Rest()}, 0
	mark := func(k int) {
		if key := a.Composition.Keys[k]; key != string(polymers.Other) {
			if _, ok := m[key]; !ok {
				m[key] = chart.MarkOf(n)
				n++
			}
		}
	}
	for _, k := range order(a) {
		mark(k)
	}
	for k := range a.Composition.Keys {
		mark(k)
	}
	return m
}
