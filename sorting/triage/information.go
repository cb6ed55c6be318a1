package triage

import (
	"math"

	"brinecut/polymers"
	"brinecut/sorting"
)

// information is what the weighings say of the totals by candidate: exp(-(T-mean)' P (T-mean) / 2).
type information struct {
	mean      []float64
	precision [][]float64
	max       []float64 // g by candidate; +Inf where nothing bounds it
	any       bool
}

// boundSD softens an upper bound on a total, as a share of it; judgement.
const boundSD = 0.05

// budgetOn carries the budget over to the candidate list. Materials that share a candidate (variants)
// are not expected: the budget speaks in base symbols.
func budgetOn(cands []sorting.Candidate, b sorting.Budget, ignore bool) information {
	n := len(cands)
	info := information{mean: make([]float64, n), precision: make([][]float64, n), max: make([]float64, n)}
	for i := range info.precision {
		info.precision[i] = make([]float64, n)
		info.max[i] = math.Inf(1)
	}
	if ignore {
		return info
	}
	at := make([]int, len(b.Materials))
	for k, s := range b.Materials {
		at[k] = candidateOf(cands, s)
		if at[k] >= 0 && k < len(b.Max) {
			info.max[at[k]] = b.Max[k]
		}
		if at[k] >= 0 {
			info.mean[at[k]] = b.Mean[k]
		}
	}
	for k, i := range at {
		for l, j := range at {
			if i < 0 || j < 0 || k >= len(b.Precision) || b.Precision[k][l] == 0 {
				continue
			}
			info.precision[i][j] = b.Precision[k][l]
			info.any = true
		}
	}
	for _, m := range info.max {
		info.any = info.any || !math.IsInf(m, 1)
	}
	return info
}

func candidateOf(cands []sorting.Candidate, s polymers.Symbol) int {
	f := family(s)
	for i, c := range cands {
		if c.Symbol == f {
			return i
		}
	}
	return -1
}

// soften adds to the variance of every total what the set of possible make-ups cannot resolve: the
// make-ups of mixed lots are a finite set, and a total known more sharply than they lie apart would
// leave no make-up at all (method.md, triage 4). P' = (1 + P D)^-1 P for a diagonal D.
func (f *information) soften(piles []*pile, mass []float64) {
	D := booking * sum(mass) * booking * sum(mass)
	for l, p := range piles {
		mixed := 0.0
		for _, x := range p.prob[p.vertices():] {
			mixed += x
		}
		g := resolution * mass[l] * mixed
		D += g * g
	}
	if D == 0 {
		return
	}
	n := len(f.mean)
	a := make([][]float64, n)
	for i := range a {
		a[i] = make([]float64, 2*n)
		for j := 0; j < n; j++ {
			a[i][j] = f.precision[i][j] * D
			a[i][n+j] = f.precision[i][j]
		}
		a[i][i]++
	}
	eliminate(a)
	for i := range a {
		for j := 0; j < n; j++ {
			f.precision[i][j] = (a[i][n+j] + a[j][n+i]) / 2
		}
	}
}

// booking is the share of all mass that a counter may have booked under the wrong material, one
// standard deviation: the counters' list of materials is never quite complete; judgement.
const booking = 0.01

// resolution is how far apart the make-ups of a mixed lot lie, as a share of it: 128 points in the two
// or three directions that matter.
const resolution = 0.04

// eliminate solves the linear systems written side by side in a (Gauss-Jordan with pivots); the left
// block becomes the unit matrix. It is 1 + P D with both factors positive semidefinite: never singular.
func eliminate(a [][]float64) {
	n := len(a)
	for k := 0; k < n; k++ {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		a[k], a[p] = a[p], a[k]
		for j := len(a[k]) - 1; j >= k; j-- {
			a[k][j] /= a[k][k]
		}
		for i := range a {
			if i == k || a[i][k] == 0 {
				continue
			}
			for j := len(a[i]) - 1; j >= k; j-- {
				a[i][j] -= a[i][k] * a[k][j]
			}
		}
	}
}

// logDensity of totals T, up to a constant.
func (f *information) logDensity(T []float64) float64 {
	q := 0.0
	for i, row := range f.precision {
		di := T[i] - f.mean[i]
		for j, p := range row {
			if p != 0 {
				q += p * di * (T[j] - f.mean[j])
			}
		}
		q += 2 * f.over(i, T[i])
	}
	return -q / 2
}
