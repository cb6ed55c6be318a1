package advice

import "brinecut/sorting"

// TotalOf is the mass of several keys together in the whole bin, g; of all keys where none is named.
// Their single ranges do not add up to it: where one is more, another is less.
func (a *Answer) TotalOf(keys ...int) sorting.Range {
	K := len(a.Composition.Keys)
	wanted := make([]bool, K)
	for k := range wanted {
		wanted[k] = len(keys) == 0
	}
	for _, k := range keys {
		wanted[k] = true
	}
	x := make([]float64, len(a.Composition.Grams))
	for d, g := range a.Composition.Grams {
		for i, v := range g {
			if wanted[i%K] {
				x[d] += v
			}
		}
	}
	return rangeOf(x)
}
