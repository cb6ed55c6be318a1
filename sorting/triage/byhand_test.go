package triage

import (
	"math"
	"testing"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// handPile is the lot of the hand calculation in docs/method.md (triage 3): HIPS or PP, known snippets
// of both, nothing shared in error, printed pieces with 2 % air.
func handPile(t *testing.T, tests ...sorting.Observation) []float64 {
	t.Helper()
	lot := sorting.Lot{Name: "grey", Mass: quantity.Exact[quantity.Gram](500), Mixed: no(), Prep: sorting.AsIs,
		Origin: sorting.OwnPrint, OriginGiven: true}
	bin := &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: tests, Known: []sorting.Known{
		{Name: "grey spool", Material: "HIPS", Density: quantity.With[quantity.GramPerCm3](1.040, 0.002)},
		{Name: "box spool", Material: "PP", Density: quantity.With[quantity.GramPerCm3](0.905, 0.002)},
	}}
	cands := []sorting.Candidate{{Symbol: "HIPS", Weight: 0.5}, {Symbol: "PP", Weight: 0.5}}
	model, err := response.New(bin, cands, response.Options{NoShared: true})
	if err != nil {
		t.Fatal(err)
	}
	b := &Belief{Candidates: cands, bin: bin, model: model}
	p := b.newPile(lot)
	p.weigh(len(model.Scenarios))
	return p.mean(p.prob)
}

// TestFloatByHand: posteriors worked out on paper from the published law of an exponentially modified
// normal and Bayes' rule, docs/method.md (triage 3). The tolerance is that of the draws: 64 products.
func TestFloatByHand(t *testing.T) {
	if m := handPile(t); math.Abs(m[1]-0.5) > 0.002 {
		t.Errorf("without a test PP has %.4f, by symmetry 0.5", m[1])
	}
	if m := handPile(t, float("grey", 0.998, "floats")); math.Abs(m[1]-0.869) > 0.005 {
		t.Errorf("after a floater PP has %.4f, by hand 0.869", m[1])
	}
	if m := handPile(t, float("grey", 0.998, "sinks")); math.Abs(m[0]-0.965) > 0.005 {
		t.Errorf("after a sinker HIPS has %.4f, by hand 0.965", m[0])
	}
}

// TestNoEvidenceByHand: the prior of docs/method.md (triage 3), through the whole of Judge; the mixtures'
// 128 points stand for their mean to 0.02, which counts with 0.05.
func TestNoEvidenceByHand(t *testing.T) {
	lot := ownLot("white", "PLA", "PETG")
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}}, budgetOf(lot))
	m := b.piles[0].mean(b.joint[0])
	for c, want := range []float64{0.491, 0.491} {
		if math.Abs(m[c]-want) > 0.003 {
			t.Errorf("%s has %.4f without a test, by hand %.4f", b.Candidates[c].Symbol, m[c], want)
		}
	}
	if o := m[len(m)-1]; math.Abs(o-0.0095) > 0.001 {
		t.Errorf("other has %.4f without a test, by hand 0.0095", o)
	}
	// 512 draws stand for the same law to about two draws in its main point
	if got := b.share(0, "PLA"); math.Abs(got-0.491) > 0.006 {
		t.Errorf("PLA has %.4f in the draws, by hand 0.491", got)
	}
}
