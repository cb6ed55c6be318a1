package triage

import (
	"math"
	"strings"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// handBelief is the hand calculation of docs/method.md (triage 3) as a belief of its own: HIPS or PP.
func handBelief(t *testing.T, tests ...sorting.Observation) *Belief {
	t.Helper()
	lot := sorting.Lot{Name: "grey", Mixed: no(), Prep: sorting.AsIs, Origin: sorting.OwnPrint, OriginGiven: true}
	bin := &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: tests, Known: []sorting.Known{
		{Name: "grey spool", Material: "HIPS", Density: quantity.With[quantity.GramPerCm3](1.040, 0.002)},
		{Name: "box spool", Material: "PP", Density: quantity.With[quantity.GramPerCm3](0.905, 0.002)},
	}}
	cands := []sorting.Candidate{{Symbol: "HIPS", Weight: 0.5}, {Symbol: "PP", Weight: 0.5}}
	model, err := response.New(bin, cands, response.Options{NoShared: true})
	if err != nil {
		t.Fatal(err)
	}
	b := &Belief{Candidates: cands, bin: bin, model: model, keyOf: []int{0, 1}}
	b.Keys = []string{"HIPS", "PP"}
	p := b.newPile(lot)
	p.weigh(len(model.Scenarios))
	b.piles, b.joint, b.masses = []*pile{p}, [][]float64{p.prob}, []float64{500}
	return b
}

// TestTraceByHand: docs/method.md (triage 3) works out on paper P(floats) = 0.558 and the posterior PP
// 0.869 from 0.500. A sinker has 0.830 for HIPS and 0.015 for PP, so (0.830 + 0.015)/2 = 0.4225. Their
// surprisals are -log2 0.558 = 0.842 and -log2 0.4225 = 1.243 bits. The tolerance is that of 64 products.
func TestTraceByHand(t *testing.T) {
	for outcome, want := range map[string]float64{"floats": 0.842, "sinks": 1.243} {
		tr := handBelief(t, float("grey", 0.998, outcome)).Trace()[0]
		if len(tr.Steps) != 3 {
			t.Fatalf("%d steps, want the prior, one test, the weighings", len(tr.Steps))
		}
		if s := tr.Steps[0]; math.Abs(s.Share-0.5) > 0.002 || s.Bits != 0 {
			t.Errorf("starts from %.3f with %.2f bits, by symmetry 0.5 and none", s.Share, s.Bits)
		}
		if b := tr.Steps[1].Bits; math.Abs(b-want) > 0.02 {
			t.Errorf("%s surprises by %.3f bits, by hand %.3f", outcome, b, want)
		}
	}
	tr := handBelief(t, float("grey", 0.998, "floats")).Trace()[0]
	if s := tr.Steps[1]; s.Main != "PP" || math.Abs(s.Share-0.869) > 0.005 {
		t.Errorf("after a floater %s has %.4f, by hand PP 0.869", s.Main, s.Share)
	}
}

// TestTraceAddsUp: the surprises of tests one after another add up to that of all of them at once, the
// chain rule of probability (Shannon 1948, section 6), whatever the order.
func TestTraceAddsUp(t *testing.T) {
	x, y := float("grey", 0.998, "floats"), hot("grey", 92, "stiff")
	total := func(tests ...sorting.Observation) float64 {
		s := 0.0
		for _, step := range handBelief(t, tests...).Trace()[0].Steps {
			s += step.Bits
		}
		return s
	}
	if a, b := total(x, y), total(y, x); math.Abs(a-b) > 0.02 {
		t.Errorf("in one order %.3f bits, in the other %.3f", a, b)
	}
}

// TestTraceSaysWhatMoved: an unclear outcome moves nothing, and the last step of a trace is what Judge
// answers.
func TestTraceSaysWhatMoved(t *testing.T) {
	unclear := hot("white", 64, cues.Unclear)
	soft := hot("white", 64, "soft")
	soft.ID, soft.Piece = "t9", 2
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{ownLot("white", "PLA", "PETG")}, Tests: []sorting.Observation{unclear, soft}}, budgetOf(ownLot("white", "PLA", "PETG")))
	steps := b.Trace()[0].Steps
	if steps[1].Share != steps[0].Share || steps[1].Bits > 1e-9 {
		t.Errorf("an unclear test moved the share from %.3f to %.3f, %.3f bits", steps[0].Share, steps[1].Share, steps[1].Bits)
	}
	if want := "t9: hot-water of 64 °C: soft (piece 2)"; steps[2].What != want {
		t.Errorf("says %q, want %q", steps[2].What, want)
	}
	last := steps[len(steps)-1]
	if last.Main != "PLA" || math.Abs(last.Share-b.share(0, "PLA")) > 0.01 {
		t.Errorf("ends at %s %.3f, the answer is %.3f", last.Main, last.Share, b.share(0, "PLA"))
	}
	if !strings.Contains(last.What, "weighings") {
		t.Errorf("the last step is %q", last.What)
	}
}

// TestTraceOfManyTests: a lot with more tests than steps has all of them told, several in one step, and
// ends where it would have ended with a step for each.
func TestTraceOfManyTests(t *testing.T) {
	lot := ownLot("white", "PLA", "PETG")
	bin := &sorting.Bin{Lots: []sorting.Lot{lot}}
	for i := range 90 {
		o := hot("white", 64, "stiff")
		o.ID = "n" + string(rune('a'+i%26))
		bin.Tests = append(bin.Tests, o)
	}
	b := judge(t, bin, budgetOf(lot))
	steps := b.Trace()[0].Steps
	told := 0
	for _, s := range steps {
		told += strings.Count(s.What, "stiff")
	}
	if told != 90 || len(steps) > mostTraced+2 {
		t.Errorf("%d tests told in %d steps", told, len(steps))
	}
	if last := steps[len(steps)-2]; last.Main != "PETG" || math.Abs(last.Share-b.share(0, "PETG")) > 0.01 {
		t.Errorf("ends at %s %.3f, the answer is %.3f", last.Main, last.Share, b.share(0, "PETG"))
	}
}
