package balance

import (
	"errors"
	"fmt"
	"math"
)

// Class says what the readings make of an unknown or a reading.
type Class string

// The classes, after Narasimhan & Jordache 2000, chapter 3.
const (
	Redundant    Class = "redundant"    // measured, and the other readings check it
	Measured     Class = "measured"     // measured, and nothing checks it
	Observable   Class = "observable"   // not measured, but it follows from the others
	Undetermined Class = "undetermined" // neither; it gets no number
)

// Checked is one reading after reconciliation.
type Checked struct {
	Redundant bool    // the other readings check it
	Adjusted  float64 // what the unbounded solution makes of it
	Z         float64 // (reading - Adjusted) / its standard deviation, of all its doubt; 0 where not redundant
	Power     float64 // the same of its own error alone: its square is the drop in chi-square if it were left out
	AdjustSD  float64 // standard deviation of reading - Adjusted
}

// Solution is a reconciled problem. ChiSquare is of the solution under the bounds and only nearly
// chi-square distributed where one of them bites; FreeChiSquare is without them.
type Solution struct {
	ChiSquare     float64
	FreeChiSquare float64
	DoF           int       // rank of the balances among readings alone, method.md (B5)
	Readings      []Checked // as in Problem
	Active        []int     // unknowns that bounds hold at zero
	Loose         bool      // bounds on undetermined parts were too many to follow all of them

	problem Problem
	r       *reduced
	sInv    []float64 // inverse of G V G'
	gcol    []vec     // columns of G
	free    []float64 // by column: unbounded estimate
	bounds  []combo
	active  []int // indices in bounds
	pull    []float64
	slack   []float64           // by bound: how far off it the bounded solution is
	known   map[string]Estimate // what Of has answered
	ranged  *Solution           // whose bounds leave room inside, for ranges; made when first asked for
	drawn   *fan                // of ranged: draws of the truncated distribution; nil where no bound is near
}

// Estimate is what the readings say of one linear combination of unknowns.
type Estimate struct {
	Determined bool
	Value      float64 // bounded least squares
	Mean, SD   float64 // of the truncated distribution
	Low, High  float64 // between which it holds 90 %
	FreeSD     float64 // standard uncertainty without the bounds
}

// errScales is returned when the doubts given differ by so much that the sums cannot be trusted.
var errScales = errors.New("the doubts of the readings lie too far apart to reckon with; check the units of the smallest and the largest ±")

// Reconcile finds the bounded weighted least-squares solution of p: the unknowns that meet every
// balance exactly, keep to their bounds and lie nearest to the readings (method.md (B1)-(B6);
// Narasimhan & Jordache 2000, chapters 3 and 5). The error is a *Contradiction where exact entries
// cannot all be true, or tells of bounds that no solution meets. The result does not depend on how
// undetermined parts are split: only on what the readings determine.
func Reconcile(p Problem) (*Solution, error) {
	s, err := reconcileFree(p, nil)
	if err != nil {
		return nil, err
	}
	s.gatherBounds()
	if err := s.hold(); err != nil {
		return nil, err
	}
	return s, nil
}

// reconcileFree solves without bounds, leaving out the readings in skip.
func reconcileFree(p Problem, skip []bool) (*Solution, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	r, err := newSystem(p, skip).reduce(p.scale())
	if err != nil {
		return nil, err
	}
	s := &Solution{problem: p, r: r, DoF: len(r.g)}
	s.transpose()
	if err := s.invert(); err != nil {
		return nil, err
	}
	s.adjust()
	s.checkReadings(skip)
	return s, nil
}

func (s *Solution) transpose() {
	s.gcol = make([]vec, len(s.r.measured))
	for i, row := range s.r.g {
		for k, c := range row.cols {
			s.gcol[c].cols = append(s.gcol[c].cols, i)
			s.gcol[c].vals = append(s.gcol[c].vals, row.vals[k])
		}
	}
}

// invert forms S = G V G' and its inverse, on rows scaled to a diagonal of ones.
func (s *Solution) invert() error {
	d := s.DoF
	a := make([]float64, d*d)
	for c, col := range s.gcol {
		for i, ri := range col.cols {
			for j, rj := range col.cols {
				a[ri*d+rj] += col.vals[i] * col.vals[j] * s.r.v[c]
			}
		}
	}
	root := make([]float64, d)
	for i := range root {
		root[i] = math.Sqrt(a[i*d+i])
	}
	for i := range d {
		for j := range d {
			a[i*d+j] /= root[i] * root[j]
		}
	}
	inv, ok := inverseOf(d, a)
	if !ok {
		return errScales
	}
	for i := range d {
		for j := range d {
			inv[i*d+j] /= root[i] * root[j]
		}
	}
	s.sInv = inv
	return nil
}

// adjust computes x = y - V G' S^-1 (G y - g) and J, method.md (B3), (B4).
func (s *Solution) adjust() {
	d := s.DoF
	gap := make([]float64, d)
	for i, row := range s.r.g {
		gap[i] = row.dot(s.r.y) - row.rhs
	}
	k := make([]float64, d)
	for i := range d {
		for j := range d {
			k[i] += s.sInv[i*d+j] * gap[j]
		}
		s.FreeChiSquare += gap[i] * k[i]
	}
	s.FreeChiSquare = max(0, s.FreeChiSquare)
	s.ChiSquare = s.FreeChiSquare
	s.free = make([]float64, len(s.r.y))
	for c := range s.free {
		s.free[c] = s.r.y[c] - s.r.v[c]*s.gcol[c].dot(k)
	}
}

// Of returns what the readings say of a linear combination of unknowns, with its range. A Solution is
// not for use by several goroutines at once.
func (s *Solution) Of(ts []Term) Estimate {
	key := makeVec(ts, 0).key()
	e, ok := s.known[key]
	if !ok {
		e = s.rangeOf(ts)
		if s.known == nil {
			s.known = map[string]Estimate{}
		}
		s.known[key] = e
	}
	return e
}

func (s *Solution) rangeOf(ts []Term) Estimate {
	e, c := s.point(ts)
	if !e.Determined {
		return e
	}
	if s.ranged == nil {
		s.makeRoom()
	}
	if s.ranged != s {
		_, c = s.ranged.point(ts)
		e.Mean, e.SD = c.mean, c.sd
	}
	e.Low, e.High = c.mean+normalQuantile(0.05)*c.sd, c.mean+normalQuantile(0.95)*c.sd
	if s.drawn != nil {
		s.drawn.spread(s.ranged, c, &e)
	}
	return s.tidy(e)
}

// At is Of without the range: Value and FreeSD alone are set.
func (s *Solution) At(ts []Term) Estimate {
	e, _ := s.point(ts)
	return s.tidy(e)
}

func (s *Solution) point(ts []Term) (Estimate, combo) {
	h, ok := s.terms(ts)
	if !ok {
		return Estimate{}, combo{}
	}
	c := s.combine(h)
	e := Estimate{Determined: true, Value: c.mean, Mean: c.mean, SD: c.sd, FreeSD: c.sd}
	for k, cov := range s.across(c, s.activeCombos()) {
		e.Value += cov * s.pull[k]
	}
	return e, c
}

// free1 is the unbounded value of a determined combination.
func (s *Solution) free1(ts []Term) float64 {
	h, _ := s.terms(ts)
	return h.rhs + h.dot(s.free)
}

// tidy removes rounding below a billionth of the largest reading.
func (s *Solution) tidy(e Estimate) Estimate {
	tiny := 1e-9 * s.problem.scale()
	for _, x := range []*float64{&e.Value, &e.Mean, &e.Low, &e.High} {
		if math.Abs(*x) < tiny {
			*x = 0
		}
	}
	return e
}

// ClassOf says what is known of a combination; reading is the reading that measures just it, or -1.
func (s *Solution) ClassOf(ts []Term, reading int) Class {
	if reading >= 0 {
		if s.Readings[reading].Redundant {
			return Redundant
		}
		return Measured
	}
	if _, ok := s.terms(ts); ok {
		return Observable
	}
	return Undetermined
}

// checkReadings fills Readings: the measurement test, method.md (B7), (B8).
func (s *Solution) checkReadings(skip []bool) {
	s.Readings = make([]Checked, len(s.problem.Readings))
	for i, r := range s.problem.Readings {
		if skip != nil && skip[i] {
			continue
		}
		c := s.combine(s.r.asRead[i])
		k := Checked{Adjusted: c.mean}
		if v := s.quadratic(c.w); v > 1e-12*r.Variance() && r.Variance() > 0 {
			k.Redundant, k.AdjustSD = true, math.Sqrt(v)
			k.Z = (r.Value - c.mean) / k.AdjustSD
		}
		if col := s.r.column[i]; col >= 0 {
			own := s.r.v[col] * s.r.v[col] * s.quadratic(s.gcol[col])
			if own > 1e-24*s.r.v[col]*s.r.v[col] && own > 1e-12*s.r.v[col] {
				k.Power = (s.r.y[col] - s.free[col]) / math.Sqrt(own)
			}
		}
		s.Readings[i] = k
	}
}

func infeasible(name string) error {
	return fmt.Errorf("no masses at zero or above fit the exact entries: %q would have to be negative", name)
}
