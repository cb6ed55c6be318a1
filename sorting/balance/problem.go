package balance

import (
	"fmt"
	"math"
)

// Term is one unknown with its factor in a linear combination.
type Term struct {
	Unknown int
	Factor  float64
}

// Unknown is one mass to be found, in g (or in any one unit the whole problem keeps to).
type Unknown struct {
	Name string
	Free bool // may be negative; all others are held at zero or above
}

// Constraint is an exact linear statement: the sum of Terms is Value.
type Constraint struct {
	Name  string
	Terms []Term
	Value float64
}

// Share is how far one standard deviation of a common influence moves a reading.
type Share struct {
	Influence int
	Size      float64
}

// Reading is a measured linear combination of unknowns. SD is the standard uncertainty of its own;
// Shared are the errors it has in common with other readings. A reading without any doubt is exact.
type Reading struct {
	Name   string
	Line   int
	Terms  []Term
	Value  float64
	SD     float64
	Shared []Share
	Half   float64 // half-width where the error is rectangular (SD is then Half / sqrt 3); 0 where it is normal
}

// Variance of the reading, own and shared errors together.
func (r Reading) Variance() float64 {
	v := r.SD * r.SD
	for _, s := range r.Shared {
		v += s.Size * s.Size
	}
	return v
}

// Problem is a linear reconciliation problem: unknowns at zero or above, exact balances, readings, and
// the influences that several readings share (each of mean 0 and standard deviation 1).
type Problem struct {
	Unknowns    []Unknown
	Constraints []Constraint
	Readings    []Reading
	Influences  []string
}

func (p Problem) check() error {
	for _, c := range p.Constraints {
		if err := p.checkRow(c.Name, c.Terms, c.Value); err != nil {
			return err
		}
	}
	for _, r := range p.Readings {
		if err := p.checkRow(r.Name, r.Terms, r.Value, r.SD); err != nil {
			return err
		}
		for _, s := range r.Shared {
			if s.Influence < 0 || s.Influence >= len(p.Influences) || !finite(s.Size) {
				return fmt.Errorf("%q leans on an influence that does not exist", r.Name)
			}
		}
		if r.SD < 0 {
			return fmt.Errorf("%q has a negative doubt", r.Name)
		}
	}
	return nil
}

func (p Problem) checkRow(name string, terms []Term, numbers ...float64) error {
	for _, x := range numbers {
		if !finite(x) {
			return fmt.Errorf("%q holds a number that is not finite", name)
		}
	}
	for _, t := range terms {
		if t.Unknown < 0 || t.Unknown >= len(p.Unknowns) || !finite(t.Factor) {
			return fmt.Errorf("%q speaks of an unknown that does not exist", name)
		}
	}
	return nil
}

// scale is the largest number read, the yardstick for "zero but for rounding".
func (p Problem) scale() float64 {
	s := 0.0
	for _, r := range p.Readings {
		s = max(s, math.Abs(r.Value), r.SD)
	}
	for _, c := range p.Constraints {
		s = max(s, math.Abs(c.Value))
	}
	if s == 0 {
		return 1
	}
	return s
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
