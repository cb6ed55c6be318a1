package advice

import (
	"slices"

	"brinecut/sorting"
)

// rangeOf draws: their mean, and the ends between which 90 % of them lie. The mean always lies within.
func rangeOf(x []float64) sorting.Range {
	if len(x) == 0 {
		return sorting.Range{}
	}
	s := slices.Clone(x)
	slices.Sort(s)
	sum := 0.0
	for _, v := range s {
		sum += v
	}
	r := sorting.Range{Mean: sum / float64(len(s)), Low: at(s, 0.05), High: at(s, 0.95)}
	r.Low, r.High = min(r.Low, r.Mean), max(r.High, r.Mean)
	return r
}

func at(sorted []float64, q float64) float64 {
	x := q * float64(len(sorted)-1)
	i := int(x)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (x-float64(i))*(sorted[i+1]-sorted[i])
}

// shareRange of key k in the block of n keys that begins at from, over the draws.
func shareRange(grams [][]float64, from, n, k int) sorting.Range {
	var x []float64
	for _, g := range grams {
		total := 0.0
		for _, v := range g[from : from+n] {
			total += v
		}
		if total > 0 {
			x = append(x, g[from+k]/total)
		}
	}
	return rangeOf(x)
}

func massRange(f sorting.Fraction) sorting.Range {
	x := make([]float64, len(f.Grams))
	for d, g := range f.Grams {
		for _, v := range g {
			x[d] += v
		}
	}
	return rangeOf(x)
}

// purityRange is the share of the main material; of a mixture, of its largest part.
func purityRange(f sorting.Fraction) sorting.Range {
	k := slices.Index(f.Keys, f.Material)
	if k >= 0 {
		return shareRange(f.Grams, 0, len(f.Keys), k)
	}
	var best sorting.Range
	for k := range f.Keys {
		if r := shareRange(f.Grams, 0, len(f.Keys), k); r.Mean > best.Mean {
			best = r
		}
	}
	return best
}

// ShareOf is the share of key k in the fraction.
func (f Fraction) ShareOf(k int) sorting.Range { return shareRange(f.Grams, 0, len(f.Keys), k) }

// Totals are the masses of each key in the whole bin.
func (a *Answer) Totals() []sorting.Range {
	K := len(a.Composition.Keys)
	out := make([]sorting.Range, K)
	for k := range out {
		x := make([]float64, len(a.Composition.Grams))
		for d, g := range a.Composition.Grams {
			for i := k; i < len(g); i += K {
				x[d] += g[i]
			}
		}
		out[k] = rangeOf(x)
	}
	return out
}

func onceW(list []sorting.Warning) []sorting.Warning {
	var out []sorting.Warning
	for _, w := range list {
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

func onceA(list []sorting.Assumption) []sorting.Assumption {
	var out []sorting.Assumption
	for _, a := range list {
		if !slices.ContainsFunc(out, func(b sorting.Assumption) bool { return b.Says == a.Says && b.Key == a.Key }) {
			out = append(out, a)
		}
	}
	return out
}
