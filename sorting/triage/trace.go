package triage

import (
	"fmt"
	"math"
	"strings"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Trace tells for every lot how its answer came about: its share before any test, then after each of
// its own tests in the order of the file, then after the weighings have tied the lots together. Bits
// are given for tests alone, method.md (triage 7): zero is a test that could not have come out
// otherwise, and every bit halves its probability. A lot is weighed anew for each of its tests, so a
// trace is reckoned only when asked for.
func (b *Belief) Trace() []sorting.Trace {
	out := make([]sorting.Trace, len(b.piles))
	for l, p := range b.piles {
		out[l] = sorting.Trace{Lot: p.name, Steps: b.retrace(l)}
	}
	return out
}

// mostTraced is how many steps tests are told in: a lot with more tests has some together in one step.
const mostTraced = 40

func (b *Belief) retrace(l int) []sorting.TraceStep {
	tests := b.testsOf(b.piles[l].name)
	before := b.upTo(l, nil)
	steps := []sorting.TraceStep{b.stepOf(before, before.prob, b.startOf(l))}
	size := (len(tests) + mostTraced - 1) / mostTraced
	for from := 0; from < len(tests); from += size {
		to := min(from+size, len(tests))
		var what []string
		for t := from; t < to; t++ {
			what = append(what, observed(&tests[t]))
		}
		after := b.upTo(l, tests[:to])
		step := b.stepOf(after, after.prob, strings.Join(what, "; "))
		step.Bits = surpriseOf(before, after, len(b.model.Scenarios))
		steps, before = append(steps, step), after
	}
	return append(steps, b.stepOf(b.piles[l], b.joint[l], "with what the weighings say of the whole bin"))
}

// upTo is lot l as only the given tests speak for it.
func (b *Belief) upTo(l int, tests []sorting.Observation) *pile {
	p := *b.piles[l]
	p.pieces, p.tables, p.tested, p.scen = b.model.Pieces(tests, p.lot.Prep), nil, 0, nil
	for i := range p.pieces {
		p.tables = append(p.tables, p.drawn.Table(&p.pieces[i]))
	}
	p.weigh(len(b.model.Scenarios))
	return &p
}

// surpriseOf is -log2 of the probability that what after knows and before does not would be seen:
// the mean, over the make-ups that before believes in, of the ratio of likelihoods.
func surpriseOf(before, after *pile, scenarios int) float64 {
	p := 0.0
	for i, w := range before.points {
		if before.prob[i] > 1e-12 {
			p += before.prob[i] * math.Exp(after.logLikelihood(w, scenarios)-before.logLikelihood(w, scenarios))
		}
	}
	return math.Max(0, -math.Log2(math.Max(p, 1e-300)))
}

func (b *Belief) stepOf(p *pile, prob []float64, what string) sorting.TraceStep {
	byKey := make([]float64, len(b.Keys))
	for c, x := range p.mean(prob) {
		byKey[b.keyOf[c]] += x
	}
	k := best(byKey)
	return sorting.TraceStep{What: what, Main: b.Keys[k], Share: byKey[k]}
}

// startOf says what a lot's prior shares rest on.
func (b *Belief) startOf(l int) string {
	p := b.piles[l]
	if s, side, ok := b.bin.SplitOf(p.name); ok {
		what := fmt.Sprintf("before any test of its own: what was known of %q, divided by %s", s.Lot, s.Kind)
		if side.Outcome != "" {
			what += ", this side " + side.Outcome
		}
		return what
	}
	switch {
	case p.crumbs() && len(p.lot.CouldBe) == 0:
		return "before any test of its own: what the other lots were found to be"
	case len(p.lot.CouldBe) > 0:
		return "before any test: the shelf it may come from"
	}
	return "before any test: what the file names and what is usual"
}

// observed words one test for the trace.
func observed(o *sorting.Observation) string {
	var w []string
	kind := string(o.Kind)
	switch {
	case o.Bath != "":
		kind += " in bath " + o.Bath
	case o.Kind == cues.Float && o.Density.Given():
		kind += " at " + quantity.Format(o.Density.Value)
	case o.Temp.Given() && o.Kind == cues.HotWater:
		kind += " of " + quantity.Format(o.Temp.Value)
	}
	for _, c := range o.Counts {
		w = append(w, fmt.Sprintf("%s %d", c.Outcome, c.N))
	}
	switch {
	case o.Outcome != "":
		w = append(w, o.Outcome)
	case o.Symbol != "":
		w = append(w, "read "+o.Symbol)
	case o.Kind == cues.Weigh:
		w = append(w, fmt.Sprintf("%s in air, %s in the liquid", quantity.Format(o.InAir.Value), quantity.Format(o.InLiquid.Value)))
	case o.Flame != nil:
		w = append(w, "cues noted")
	}
	what := kind + ": " + strings.Join(w, ", ")
	if o.Piece > 0 && len(o.Counts) == 0 {
		what += fmt.Sprintf(" (piece %d)", o.Piece)
	}
	if o.Outcome == cues.Unclear {
		what += ", which carries nothing"
	}
	if o.ID == "" {
		return what
	}
	return o.ID + ": " + what
}
