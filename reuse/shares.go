package reuse

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// shares of the keys of a fraction over its draws: expected, and the upper bound at 95 %.
type shares struct {
	mean, upper []float64
}

func sharesOf(f sorting.Fraction) shares {
	sh := shares{make([]float64, len(f.Keys)), make([]float64, len(f.Keys))}
	by := make([][]float64, len(f.Keys))
	for _, draw := range f.Grams {
		total := sum(draw)
		if !(total > 0) || len(draw) != len(f.Keys) {
			continue
		}
		for k, g := range draw {
			by[k] = append(by[k], g/total)
		}
	}
	for k, xs := range by {
		if len(xs) == 0 {
			continue
		}
		sh.mean[k] = sum(xs) / float64(len(xs))
		slices.Sort(xs)
		sh.upper[k] = quantile(xs, 0.95)
	}
	return sh
}

// masses of the fraction in grams over its draws, or those of the bag as weighed.
func masses(f sorting.Fraction, s Situation) []float64 {
	if s.Weighed != nil && s.Weighed.Given() {
		return spread(constantOf(*s.Weighed), 64)
	}
	out := make([]float64, len(f.Grams))
	for i, draw := range f.Grams {
		out[i] = sum(draw)
	}
	return out
}

// check refuses draws that cannot be reckoned with.
func check(f sorting.Fraction) error {
	if len(f.Grams) == 0 || len(f.Keys) == 0 {
		return fmt.Errorf("fraction %q holds no draws: nothing is known of its mass", f.Name)
	}
	for i, draw := range f.Grams {
		if len(draw) != len(f.Keys) {
			return fmt.Errorf("fraction %q: draw %d has %d masses for %d materials", f.Name, i+1, len(draw), len(f.Keys))
		}
		for _, g := range draw {
			if !(g >= 0) || g > 1e12 {
				return fmt.Errorf("fraction %q: draw %d holds a mass of %v g", f.Name, i+1, g)
			}
		}
	}
	return nil
}

// symbolsOf names the materials behind a key: itself where the handbook has it, else the members of
// a group written "ABS/ASA".
func symbolsOf(key string) []polymers.Symbol {
	if _, ok := polymers.Find(polymers.Symbol(key)); ok || !strings.Contains(key, "/") {
		return []polymers.Symbol{polymers.Symbol(key)}
	}
	var out []polymers.Symbol
	for _, part := range strings.Split(key, "/") {
		out = append(out, polymers.Symbol(part))
	}
	return out
}

func sum(xs []float64) float64 {
	t := 0.0
	for _, x := range xs {
		t += x
	}
	return t
}

// quantile of sorted values by the nearest rank above (Hyndman and Fan, Am Stat 50 (1996) 361, type 1).
func quantile(sorted []float64, p float64) float64 {
	i := int(math.Ceil(p*float64(len(sorted)))) - 1
	return sorted[min(max(i, 0), len(sorted)-1)]
}

// rangeOf orders a range about its mean, which in a very skewed case can lie beyond a 5 % end.
func rangeOf(mean float64, xs []float64) sorting.Range {
	slices.Sort(xs)
	return sorting.Range{Mean: mean, Low: min(mean, quantile(xs, 0.05)), High: max(mean, quantile(xs, 0.95))}
}

// percent writes an estimated share to two figures, rounded up so that it never looks better held
// against a limit than it is.
func percent(x float64) string {
	if !(x >= 0) || math.IsInf(x, 0) {
		return "an unknown part"
	}
	if x == 0 {
		return "0 %"
	}
	p := math.Pow(10, 1-math.Floor(math.Log10(x)))
	return quantity.Format(quantity.Share(math.Ceil(x*p-1e-6) / p))
}

// twoDigits writes a share that is held against no limit to two figures, rounded to the nearest.
func twoDigits(x float64) string {
	p := math.Pow(10, 1-math.Floor(math.Log10(x)))
	return quantity.Format(quantity.Share(math.Round(x*p) / p))
}

// shown writes a demonstrated purity, rounded down to a tenth of a percent: a claim is never rounded up.
func shown(x float64) string {
	return quantity.Format(quantity.Share(math.Floor(x*1000+1e-6) / 1000))
}

func grams(g float64) string { return quantity.Format(quantity.Gram(rounded(g))) }

// rounded to three significant figures, as far as a mass that was estimated deserves.
func rounded(x float64) float64 {
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return x
	}
	p := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*p) / p
}
