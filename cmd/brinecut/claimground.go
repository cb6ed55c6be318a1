package main

import (
	"fmt"
	"slices"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/purity"
	"brinecut/sorting/triage"
)

// standing is what a claim stands on beside its counts.
type standing struct {
	drawn  *show.Drawn    // of a fraction; nil without one
	ground *advice.Ground // of a fraction
	grabs  []purity.Grab  // of a table of masses
	whole  bool           // each of them is one piece, right or wrong
	flake  bool           // the fraction is flake
}

// massColumns of a table of weighed pieces.
var massColumns = []string{"mass_g", "others_g"}

// countMasses reads weighed pieces. Where each is of one material, right or wrong, they are counted.
func (f *claimFlags) countMasses(s *standing) error {
	if f.counts.Tested > 0 || f.counts.Wrong > 0 {
		return wrongUse("--masses and --tested are both given", "the pieces are counted from the table: leave one of the two out")
	}
	rows, err := readColumns(f.masses, massColumns)
	if err != nil {
		return err
	}
	s.whole = true
	for n, row := range rows {
		mass, err1 := figure(row[0])
		others, err2 := figure(row[1])
		if err1 != nil || err2 != nil || mass <= 0 || others < 0 || others > mass {
			return rowFault(f.masses, n, fmt.Sprintf("a mass of %s g with %s g of others cannot be", quote(row[0]), quote(row[1])),
				"write the mass of the piece in g, and 0 or, where it is another material, its mass once more")
		}
		s.grabs = append(s.grabs, purity.Grab{Mass: mass, Others: others})
		s.whole = s.whole && (others == 0 || others == mass)
		if others > 0 {
			f.counts.Wrong++
		}
	}
	f.counts.Tested = len(rows)
	if !s.whole { // grabs of many pieces estimate a share, and show none
		f.counts.Tested, f.counts.Wrong = 0, 0
	}
	return nil
}

// ratio is how many times as heavy a wrong piece can be by the pieces that were weighed; 0 where it is
// not known.
func (s *standing) ratio() float64 {
	var right, wrong []float64
	for _, g := range s.weighed() {
		if g.Others > 0 {
			wrong = append(wrong, g.Mass)
		} else {
			right = append(right, g.Mass)
		}
	}
	if len(s.grabs) > 0 && !s.whole {
		return 0
	}
	return purity.MassRatio(right, wrong)
}

func (s *standing) weighed() []purity.Grab {
	if s.ground != nil {
		return s.ground.Grabs()
	}
	return s.grabs
}

// claimed puts everything together that is said of a claim.
func (f *claimFlags) claimed(r purity.Result, o purity.Options, s *standing) (show.Claimed, error) {
	out := show.Claimed{Result: r, Drawn: s.drawn, ByMass: f.byMass(r, o, s)}
	first, err := f.known(&out, o, s)
	if err != nil {
		return out, err
	}
	if err := f.second(&out, first, o, s); err != nil {
		return out, err
	}
	if m := out.ByMass; m != nil && m.Ratio > 0 && f.ratio == 0 {
		out.Assumptions = append(out.Assumptions, sorting.Assumption{Says: "no wrong piece is heavier than the heaviest that was weighed", Key: "--mass-ratio", Source: "judgement"})
	}
	return out, f.drawing(&out, s)
}

// known holds the claim against the errors that the bin's known snippets show, unless errors are stated;
// it returns the test's errors as far as they are known.
func (f *claimFlags) known(out *show.Claimed, o purity.Options, s *standing) (*purity.Test, error) {
	if o.Test != nil || s.ground == nil || s.ground.Trials == (purity.Trials{}) {
		return o.Test, nil
	}
	out.Known = &show.Known{Trials: s.ground.Trials}
	if o.Trials = s.ground.Known(); o.Trials == nil {
		return nil, nil
	}
	r, err := purity.Claim(f.counts, o)
	if err != nil {
		return nil, err
	}
	out.Known.Result = &r
	if i := slices.Index(out.Warnings, purity.NeverErrs); i >= 0 {
		out.Warnings[i] = "the limits by counting take the test never to err; what the known snippets leave open of that stands beside them"
	}
	out.Assumptions = append(out.Assumptions, sorting.Assumption{Says: "drawn pieces read as the known snippets do, which were tested alike: their errors are the test's",
		Key: "--finds, --false-alarms", Source: "judgement"})
	rates := o.Trials.Rates()
	return &rates, nil
}

// byMass is what weighed pieces say; nil where none were weighed and no ratio is stated.
func (f *claimFlags) byMass(r purity.Result, o purity.Options, s *standing) *show.ByMass {
	grabs := s.weighed()
	if len(grabs) == 0 {
		return nil
	}
	m := &show.ByMass{Pieces: len(grabs), Ratio: o.MassRatio}
	if m.Ratio == 0 {
		m.Ratio = s.ratio()
	}
	if m.Ratio > 0 {
		with := o
		with.MassRatio = m.Ratio
		if c, err := purity.Claim(r.Counts, with); err == nil {
			m.AtLeast = c.Demonstrated
		}
	}
	e, err := purity.ByMass(grabs, 0, r.Confidence)
	if err != nil {
		m.Why = err.Error()
		return m
	}
	m.MassShare, m.Estimated = e, true
	if n, err := e.GrabsFor(show.GrabError, 0.90); err == nil {
		m.Grabs = &n
	}
	return m
}

// second names the test that repairs one whose false alarms keep the purity out of reach.
func (f *claimFlags) second(out *show.Claimed, first *purity.Test, o purity.Options, s *standing) error {
	if first == nil || o.Purity == 0 || first.FalseAlarms < (1-o.Purity)*first.Finds || first.FalseAlarms == 0 {
		return nil
	}
	var list []triage.Second
	var err error
	switch {
	case s.ground != nil:
		list = s.ground.Seconds
	case f.material != "" && len(f.against) > 0:
		list, err = f.seconds()
	default:
		out.Warnings = append(out.Warnings, "say --material and --against, and --first for the kind of the test, to have the second test named")
		return nil
	}
	if err != nil {
		return err
	}
	tests := make([]purity.Test, len(list))
	for i, x := range list {
		tests[i] = purity.Test{Finds: x.Finds, FalseAlarms: x.FalseAlarms}
	}
	best, ok := purity.SecondTest(*first, tests, o.Purity, out.Confidence)
	if !ok {
		out.Second = &show.Second{None: true}
		return nil
	}
	out.Second = &show.Second{Second: list[best], Both: purity.Confirm(*first, tests[best])}
	out.Second.Pieces, _ = out.Second.Both.PiecesIfPure(o.Purity, out.Confidence)
	out.Assumptions = append(out.Assumptions, sorting.Assumption{Says: "the two tests err apart from each other on pieces of one material", Source: "judgement"})
	return nil
}

// seconds are the second tests for a sack of what the flags name.
func (f *claimFlags) seconds() ([]triage.Second, error) {
	m, err := material(f.material)
	if err != nil {
		return nil, err
	}
	var others []polymers.Symbol
	for _, s := range f.against {
		x, err := material(s)
		if err != nil {
			return nil, err
		}
		others = append(others, x.Symbol)
	}
	kinds, err := readKinds("first", f.first)
	if err != nil {
		return nil, err
	}
	list, err := advice.Seconds(m.Symbol, others, kinds)
	if err != nil {
		return nil, cannot(err.Error(), "ask for less purity")
	}
	return list, nil
}

// Flake to be drawn, where it is not said how large: as the plan for a float has it cut. Judgement.
const usualFlakeMm = 8

// drawError is the relative error, one standard deviation, that a grab of flake is sized for; judgement.
const drawError = 0.15

// drawing is how to draw the pieces that are still asked for.
func (f *claimFlags) drawing(out *show.Claimed, s *standing) error {
	if out.PiecesNeeded == nil || *out.PiecesNeeded == 0 {
		return nil
	}
	n := *out.PiecesNeeded
	if x := out.Second; x != nil && !x.None { // counted with both tests, the alarms so far included
		n = max(1, x.Pieces-out.Tested)
	}
	if !s.flake && !f.flake.Given() {
		out.Drawing = purity.DrawPieces(n)
		return nil
	}
	mm := float64(f.flake.Or(usualFlakeMm))
	if !f.flake.Given() {
		out.Assumptions = append(out.Assumptions, sorting.Assumption{Says: fmt.Sprintf("nearly all flake passes %d mm", usualFlakeMm), Key: "--flake", Source: "judgement"})
	}
	density := 1.2
	if m, err := polymers.Lookup(f.material); err == nil {
		if rec, ok := polymers.Find(m); ok {
			density = rec.Density.Typical
		}
	}
	grams, err := purity.Sample{TopMm: mm, Others: max(1-out.Purity, 0.01), OthersGCm3: density, RightGCm3: density, RelError: drawError}.LeastGrams()
	if err != nil {
		return err
	}
	out.Drawing = purity.DrawFlake(n, grams)
	return nil
}
