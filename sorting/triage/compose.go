package triage

import (
	"math"
	"slices"
	"sort"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// compose turns the drawn points into grams by lot and key.
func (b *Belief) compose(chosen [][]int, budget sorting.Budget, opt Options) {
	b.group(opt.Alike)
	for _, p := range b.piles {
		b.Lots = append(b.Lots, p.name)
	}
	K := len(b.Keys)
	masses := b.drawMasses(len(chosen), budget.Common)
	for d, at := range chosen {
		g := make([]float64, len(b.piles)*K)
		for l, i := range at {
			for c, x := range b.piles[l].points[i] {
				g[l*K+b.keyOf[c]] += masses[d][l] * x
			}
		}
		b.Grams = append(b.Grams, g)
	}
	b.hardStops(chosen)
}

// drawMasses draws the lots' masses from the weighings, each at zero or above; what their errors have
// in common they have in the draws, so that lots that were weighed as parts of the bin sum to it.
func (b *Belief) drawMasses(n int, common [][]float64) [][]float64 {
	out := make([][]float64, n)
	for d := range out {
		out[d] = make([]float64, len(b.piles))
	}
	for l, p := range b.piles {
		s := newStream("mass", p.name)
		for d := range out {
			out[d][l] = -math.Sqrt2 * math.Erfcinv(2*(float64(d)+s.Uniform())/float64(n))
		}
		shuffle(s, n, func(i, j int) { out[i][l], out[j][l] = out[j][l], out[i][l] })
	}
	if common != nil {
		correlate(out, common)
	}
	for _, row := range out {
		for l, p := range b.piles {
			row[l] = math.Max(0, p.mass.Mean+p.mass.SD*row[l])
		}
	}
	return out
}

// correlate mixes independent standard normals: row <- L row with L L' their correlation.
func correlate(rows, lower [][]float64) {
	for _, row := range rows {
		for i := len(row) - 1; i >= 0; i-- {
			x := 0.0
			for j, w := range lower[i] {
				x += w * row[j]
			}
			row[i] = x
		}
	}
}

func shuffle(s *stream, n int, swap func(i, j int)) {
	for i := n - 1; i > 0; i-- {
		swap(i, int(s.Next()%uint64(i+1)))
	}
}

// group puts candidates that no allowed test tells apart under one key, in alphabetical order.
func (b *Belief) group(alike func(x, y polymers.Symbol) bool) {
	n := len(b.Candidates)
	b.keyOf = make([]int, n)
	done := make([]bool, n)
	for i, c := range b.Candidates {
		if done[i] || c.Symbol == polymers.Other {
			continue
		}
		members := []int{i}
		for j := i + 1; j < n; j++ {
			if !done[j] && alike != nil && alike(c.Symbol, b.Candidates[j].Symbol) {
				members = append(members, j)
			}
		}
		names := make([]string, 0, len(members))
		for _, m := range members {
			done[m] = true
			b.keyOf[m] = len(b.Keys)
			names = append(names, string(b.Candidates[m].Symbol))
		}
		sort.Strings(names)
		if len(names) > 1 {
			b.NotTold = append(b.NotTold, names)
		}
		b.Keys = append(b.Keys, strings.Join(names, "/"))
	}
	for i, c := range b.Candidates {
		if c.Symbol == polymers.Other {
			b.keyOf[i] = len(b.Keys)
		}
	}
	b.Keys = append(b.Keys, string(polymers.Other))
}

// hardInOther is the share of "other" that may be a material that must never be heated; judgement:
// desktop printers are not fed PVC or POM, anything else can be.
func hardInOther(l sorting.Lot) float64 {
	if l.Origin == sorting.OwnPrint {
		return 0.002
	}
	return 0.5
}

// hardStops finds for every lot the upper bound (95 %) of the share of each material that must never
// be heated; what may hide in "other" stands under polymers.Other.
func (b *Belief) hardStops(chosen [][]int) {
	var which []int
	for c, cand := range b.Candidates {
		if m, ok := polymers.Find(cand.Symbol); (ok && m.NeverHeat) || cand.Symbol == polymers.Other {
			which = append(which, c)
			b.HardStops = append(b.HardStops, cand.Symbol)
		}
	}
	for l, p := range b.piles {
		row := make([]float64, len(which))
		for k, c := range which {
			shares := make([]float64, len(chosen))
			for d, at := range chosen {
				shares[d] = p.points[at[l]][c]
			}
			slices.Sort(shares)
			row[k] = quantile(shares, 0.95)
			if b.Candidates[c].Symbol == polymers.Other {
				row[k] *= hardInOther(p.lot)
			}
		}
		b.Possible = append(b.Possible, row)
	}
}

// quantile of sorted numbers, linear between them.
func quantile(sorted []float64, q float64) float64 {
	if len(sorted) == 0 {
		return 0
	}
	at := q * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
