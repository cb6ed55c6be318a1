// Package balance says what the weighings of a bin say, and nothing else: where the material went, how
// sure that is, which figure does not fit the others, and what to weigh next. It knows neither tests
// nor prior belief. The method is weighted least squares on exact balances under bounds; equations are
// numbered in docs/method.md.
package balance

import (
	"errors"
	"fmt"
	"math"

	"brinecut/polymers"
	"brinecut/sorting"
)

// Options of Solve. The zero value does everything.
type Options struct {
	SkipNext bool // leave out what to weigh next
}

// Stream is one flow of the sheet. Masses in g; plastic only, unless Kind is IsHardware.
type Stream struct {
	Name       string
	Kind       Kind
	Material   polymers.Symbol // empty on a stream's total
	Class      Class
	Measured   *float64 // as read, less what is no plastic
	Reconciled *float64 // bounded least squares; nil where undetermined
	Mean, SD   float64  // of the truncated distribution
	Low, High  float64  // holding 90 % of it
	Z          *float64 // (reading - reconciled without bounds) / its standard deviation; nil where nothing checks it
	Tested     bool     // Mean, SD, Low and High hold what tests taught as well
	Line       int
}

// Suspect is a figure that does not fit the others, or a set of which one does not.
type Suspect struct {
	Names  []string
	Line   int
	Size   float64 // g: reading less what the others make of the first
	SizeSD float64 // g
	Says   string
}

// Result is what the weighings say. ChiSquare and Streams use all readings; suspects are named, never
// removed. PValue is nil where nothing can be tested.
type Result struct {
	Streams   []Stream
	ChiSquare float64
	DoF       int
	PValue    *float64

	Suspects     []Suspect
	NextWeighing []Weighing
	Where        Where
	Checks       []Explanation // the usual explanations, one by one
	Words        []string      // the answer in sentences
	Budget       sorting.Budget

	Warnings    []sorting.Warning
	Assumptions []sorting.Assumption

	sheet    *sheet
	solution *Solution
}

// Solve reconciles all weighings of a bin (method.md (B1)-(B15)). It is an error where entries that
// allow no error contradict each other, or where no masses at zero or above can meet them.
func Solve(bin *sorting.Bin, opt Options) (Result, error) {
	s := newSheet(bin)
	if err := s.build(); err != nil {
		return Result{}, s.explain(err)
	}
	sol, err := Reconcile(s.p)
	if err != nil {
		return Result{}, s.explain(err)
	}
	r := Result{ChiSquare: sol.ChiSquare, DoF: sol.DoF, sheet: s, solution: sol}
	if sol.DoF > 0 {
		p := chiSquareTail(sol.ChiSquare, sol.DoF)
		r.PValue = &p
	}
	for _, f := range s.flows {
		r.Streams = append(r.Streams, s.stream(f, sol))
	}
	if r.Suspects, err = s.suspects(sol); err != nil {
		return Result{}, s.explain(err)
	}
	s.doubtBounds(sol)
	withWater, err := s.assumeWater(sol)
	if err != nil {
		return Result{}, s.explain(err)
	}
	if r.Budget, err = s.budget(sol, withWater); err != nil {
		return Result{}, s.explain(err)
	}
	if !opt.SkipNext {
		if r.NextWeighing, err = s.next(withWater); err != nil {
			return Result{}, s.explain(err)
		}
		r.NextWeighing = append(again(r.Suspects), r.NextWeighing...)
	}
	r.Where = s.where(sol)
	r.Checks = s.explanations(r.Where)
	r.Words = s.words(r)
	r.Warnings, r.Assumptions = s.warnings, s.assumptions
	r.Budget.Warnings, r.Budget.Assumptions = s.warnings, s.assumptions
	return r, nil
}

// stream reports one flow.
func (s *sheet) stream(f flow, sol *Solution) Stream {
	out := Stream{Name: f.name, Kind: f.kind, Material: f.material, Measured: f.measured, Line: f.line}
	e := sol.Of(f.terms)
	out.Class = sol.ClassOf(f.terms, f.reading)
	if !e.Determined {
		out.Class = Undetermined
		return out
	}
	v := math.Max(0, e.Value)
	out.Reconciled, out.Mean, out.SD = &v, math.Max(0, e.Mean), e.SD
	out.Low, out.High = math.Max(0, e.Low), math.Max(0, e.High)
	if f.reading >= 0 && sol.Readings[f.reading].Redundant {
		z := sol.Readings[f.reading].Z
		out.Z = &z
	}
	return out
}

// explain puts the entries of a contradiction into words.
func (s *sheet) explain(err error) error {
	var c *Contradiction
	if !errors.As(err, &c) {
		return fmt.Errorf("balance: %w", err)
	}
	names := ""
	for _, i := range c.Readings {
		if i < len(s.p.Readings) {
			if names != "" {
				names += ", "
			}
			names += fmt.Sprintf("%q (line %d)", s.p.Readings[i].Name, s.p.Readings[i].Line)
		}
	}
	return fmt.Errorf("balance: %w: %s", c, names)
}

// doubtBounds warns where holding masses at zero or above costs more than chance explains.
func (s *sheet) doubtBounds(sol *Solution) {
	if sol.Loose {
		s.warn("", 0, "the undetermined part of the flow sheet is so large that not all its bounds were followed: ranges may be too wide", "measure more of its streams")
	}
	if sol.ChiSquare-sol.FreeChiSquare < chiSquareLimit(testLevel, 1) {
		return
	}
	done := map[string]bool{}
	for _, u := range sol.Active {
		name := s.p.Unknowns[u].Name
		if done[name] {
			continue
		}
		done[name] = true
		s.doubt(name, fmt.Sprintf("%q would come out below zero: some weighing beside it is wrong by more than its doubt", name), "weigh what enters and leaves there again")
	}
}

func sqrt(x float64) float64 { return math.Sqrt(max(0, x)) }
