package separation

import (
	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Ceiling is the most that a wet lot may be warmed to while it dries.
type Ceiling struct {
	Temp quantity.Celsius
	Of   polymers.Symbol // whose limit it is; empty where no limit is on record
}

// A material counts as possible in a lot from a share of 1 % in one draw of twenty on, and loose scrap
// stays 5 K under the lowest glass transition; 40 °C where nothing is on record. Judgement.
const (
	possibleShare = 0.01
	possibleDraws = 0.05
	underGlass    = 5
	unknownDrying = 40
	rubberyGlass  = 40 // °C: a glass transition below is no limit, the material is soft at room temperature
)

// Driest is the drying ceiling of lot l: from the lowest glass transition possible in it, and from what
// the records state for print scrap (method.md S10). Scrap is amorphous whatever the pellet was; warmer,
// it sticks.
func Driest(c *sorting.Composition, l int, candidates []sorting.Candidate, keyOf []int) Ceiling {
	out := Ceiling{Temp: unknownDrying}
	found := false
	for i, cand := range candidates {
		m, ok := polymers.Find(cand.Symbol)
		if !ok || m.WaterSoluble || !possible(c, l, keyOf[i]) {
			continue
		}
		if t, ok := limit(m); ok && (!found || t < out.Temp) {
			out, found = Ceiling{t, m.Symbol}, true
		}
	}
	return out
}

func limit(m polymers.Material) (quantity.Celsius, bool) {
	var t float64
	ok := false
	if g := m.GlassTransition; g != nil && g.Low >= rubberyGlass {
		t, ok = g.Low-underGlass, true
	}
	if d, dries := m.Drying("print scrap"); dries && (!ok || d.TempC.High < t) {
		t, ok = d.TempC.High, true
	}
	return quantity.Celsius(t), ok
}

func possible(c *sorting.Composition, l, k int) bool {
	K, n := len(c.Keys), 0
	for _, g := range c.Grams {
		row := g[l*K : (l+1)*K]
		if row[k] > possibleShare*sum(row) {
			n++
		}
	}
	return float64(n) > possibleDraws*float64(len(c.Grams))
}
