package balance

import (
	"math"
	"sort"
)

const testLevel = 0.95 // confidence of the global and the measurement test, common practice

// sidakLimit is the limit of |z| when n readings are tested at once, method.md (B9); Sidak 1967.
func sidakLimit(n int) float64 {
	if n < 1 {
		return math.Inf(1)
	}
	beta := 1 - math.Pow(testLevel, 1/float64(n))
	return normalQuantile(1 - beta/2)
}

// Deletion is one step of serial elimination: readings that cannot be told apart, the one left out on
// their behalf, and what is left of chi-square then.
type Deletion struct {
	Readings  []int   // one, or a set that no reading tells apart
	Z         float64 // of the reading when it was deleted
	Size      float64 // reading less what the others make of it
	SizeSD    float64
	ChiSquare float64
	DoF       int
}

// mostDeletions bounds serial elimination; with more odd readings than this the sheet itself is wrong: judgement.
const mostDeletions = 10

// Eliminate names the readings that chi-square cannot live with, by serial elimination: while the
// global test fails, the reading with the largest |z| is left out and the rest reconciled again
// (Ripps 1965; Narasimhan & Jordache 2000, chapter 8). A reading that nothing checks is never left
// out, nor one that would leave nothing to test: with one degree of freedom the last Deletion names
// the whole set, and its ChiSquare and DoF are those before it.
func Eliminate(p Problem) ([]Deletion, error) {
	skip := make([]bool, len(p.Readings))
	var out []Deletion
	for len(out) < mostDeletions {
		s, err := reconcileFree(p, skip)
		if err != nil {
			return out, err
		}
		if n := len(out); n > 0 {
			out[n-1].ChiSquare, out[n-1].DoF = s.FreeChiSquare, s.DoF
		}
		if s.DoF == 0 || s.FreeChiSquare <= chiSquareLimit(testLevel, s.DoF) {
			return out, nil
		}
		d := s.oddest(skip)
		if len(d.Readings) == 0 {
			return out, nil
		}
		d.ChiSquare, d.DoF = s.FreeChiSquare, s.DoF
		out = append(out, d)
		if s.DoF == 1 {
			return out, nil
		}
		skip[d.Readings[0]] = true
	}
	return out, nil
}

// oddest is the reading with the largest z, with all those that no reading tells apart from it; the
// heaviest of them stands first.
func (s *Solution) oddest(skip []bool) Deletion {
	best := -1
	for i, r := range s.Readings {
		if !skip[i] && r.Power != 0 && (best < 0 || math.Abs(r.Power) > math.Abs(s.Readings[best].Power)*(1+1e-9)) {
			best = i
		}
	}
	if best < 0 {
		return Deletion{}
	}
	d := Deletion{}
	for i, r := range s.Readings {
		if !skip[i] && r.Power != 0 && (i == best || s.parallel(i, best)) {
			d.Readings = append(d.Readings, i)
		}
	}
	value := func(i int) float64 { return math.Abs(s.problem.Readings[i].Value) }
	sort.SliceStable(d.Readings, func(i, j int) bool { return value(d.Readings[i]) > value(d.Readings[j]) })
	d.Z = s.Readings[d.Readings[0]].Power
	d.Size, d.SizeSD = s.sizeOf(d.Readings[0])
	return d
}

// sizeOf is the error that reading i would have to hold, from its adjustment, and its doubt.
func (s *Solution) sizeOf(i int) (size, sd float64) {
	c := s.r.column[i]
	q := s.r.v[c] * s.quadratic(s.gcol[c]) // share of its variance that is adjusted
	return (s.r.y[c] - s.free[c]) / q, math.Sqrt(s.r.v[c] / q)
}

// parallel reports whether the tests of two readings are the same test.
func (s *Solution) parallel(i, j int) bool {
	a, b := s.gcol[s.r.column[i]], s.gcol[s.r.column[j]]
	ab, d := 0.0, s.DoF
	for k, x := range a.cols {
		for l, y := range b.cols {
			ab += a.vals[k] * b.vals[l] * s.sInv[x*d+y]
		}
	}
	return ab*ab >= (1-1e-9)*s.quadratic(a)*s.quadratic(b)
}
