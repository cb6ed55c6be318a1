package separation

import (
	"math"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// One model answers for a plan and for a bath that is only asked about: at the bath of a plan, what
// floats and sinks is what the plan expects.
func TestPreviewIsThePlansParting(t *testing.T) {
	s := sceneOf(t, "far", 2000, sorting.Cut, []polymers.Symbol{"ABS", "PETG"}, []float64{0.4, 0.6}, 60)
	p := s.plan(PlanOptions{})
	v := Float(s.c, s.model, s.feed, Bath{Density: p.First.Density}, PlanOptions{})
	for i, side := range p.First.Sides {
		x := v.Sides[i]
		near(t, side.Outcome+": mass", x.Share*2000, side.Mass.Mean, 0.02*side.Mass.Mean)
		near(t, side.Outcome+": purity", x.MakeUp[i], side.Purity.Mean, 0.01)
		if x.Main != side.Main || x.Mass.Low > side.Mass.Mean || x.Mass.High < side.Mass.Mean {
			t.Errorf("%+v, planned %+v", x, side)
		}
	}
	near(t, "nothing is lost", v.Sides[0].Share+v.Sides[1].Share, 1, 1e-9)
}

// Where the cut is much less sharp than the pieces are alike, the model is the partition curve of the
// trade (S1) around the material's density, air lowering it by 0.4 % in flake.
func TestPreviewWithAnEpIsThePartitionCurve(t *testing.T) {
	cands := []sorting.Candidate{{Symbol: "PETG", Weight: 1}}
	bin := &sorting.Bin{Known: []sorting.Known{{Name: "snippet", Material: "PETG", Density: quantity.With(quantity.GramPerCm3(1.27), 0.002)}}}
	m, err := response.New(bin, cands, response.Options{})
	if err != nil {
		t.Fatal(err)
	}
	lot := sorting.Lot{Name: "one", Prep: sorting.Flake}
	f := Feed{Lot: lot, Drawn: m.Products(lot), KeyOf: []int{0}, Within: []float64{1}, Scenarios: make([]float64, len(m.Scenarios))}
	for j := range f.Scenarios {
		f.Scenarios[j] = 1 / float64(len(f.Scenarios))
	}
	c := &sorting.Composition{Lots: []string{"one"}, Keys: []string{"PETG"}, Grams: [][]float64{{1000}}}
	ep := quantity.GramPerCm3(0.05)
	for _, bath := range []quantity.GramPerCm3{1.15, 1.20, 1.25, 1.30, 1.35} {
		v := Float(c, m, f, Bath{Density: bath, Ep: &ep}, PlanOptions{})
		near(t, "sinks", v.Sides[1].Share, Partition(1.27*(1-0.004), bath, ep), 0.02)
	}
	// a perfect cut leaves what the pieces themselves do, and is sharper than hands are
	sharp := quantity.GramPerCm3(0)
	far := Float(c, m, f, Bath{Density: 1.10, Ep: &sharp}, PlanOptions{}).Sides[0].Share
	near(t, "perfect, far below", far, 0, 1e-3)
	if hands := Float(c, m, f, Bath{Density: 1.10}, PlanOptions{}).Sides[0].Share; math.Abs(hands-0.015) > 0.002 {
		t.Errorf("hands put %v on the wrong side, the model's readings err in 1.5 %%", hands)
	}
}

// Air floats what should sink: the same lot gives more floats as printed than cut small.
func TestPreviewKnowsAir(t *testing.T) {
	s := sceneOf(t, "air", 1000, sorting.AsIs, []polymers.Symbol{"ABS", "PETG"}, []float64{0.4, 0.6}, 60)
	whole := Float(s.c, s.model, s.feed, Bath{Density: 1.22}, PlanOptions{})
	cut := Float(s.c, s.model, s.feed, Bath{Density: 1.22, Prep: sorting.Cut}, PlanOptions{})
	if whole.Of.Prep != sorting.AsIs || !(whole.Sides[0].MakeUp[1] > cut.Sides[0].MakeUp[1]+0.02) {
		t.Errorf("PETG among the floats: %v as printed, %v cut small", whole.Sides[0].MakeUp[1], cut.Sides[0].MakeUp[1])
	}
}
