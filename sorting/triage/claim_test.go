package triage

import (
	"math"
	"slices"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

func counted(kind cues.Kind, random bool, counts ...sorting.Count) sorting.Observation {
	return sorting.Observation{Lot: "white", Kind: kind, Random: random, Counts: counts}
}

// TestRandomPieces: a claim counts the pieces drawn at random that could be told, each by its own reading
// alone. PVA dissolves in water and PLA does not (handbook: water_soluble), so a soak tells them apart.
func TestRandomPieces(t *testing.T) {
	soaked := func(random bool) sorting.Observation {
		return counted(cues.Soak, random, sorting.Count{Outcome: "unchanged", N: 10}, sorting.Count{Outcome: "dissolves", N: 1})
	}
	for name, c := range map[string]struct {
		tests                []sorting.Observation
		drawn, tested, wrong int
	}{
		"drawn at random":      {[]sorting.Observation{soaked(true)}, 11, 11, 1},
		"picked by judgement":  {[]sorting.Observation{soaked(false)}, 0, 0, 0},
		"both":                 {[]sorting.Observation{soaked(true), soaked(false)}, 11, 11, 1},
		"unclear":              {[]sorting.Observation{counted(cues.Soak, true, sorting.Count{Outcome: cues.Unclear, N: 5})}, 0, 0, 0},
		"cannot tell":          {[]sorting.Observation{{Lot: "white", Kind: cues.Float, Random: true, Density: quantity.With[quantity.GramPerCm3](0.998, 0.003), Outcome: "sinks"}}, 1, 0, 0},
		"of another lot":       {[]sorting.Observation{{Lot: "black", Kind: cues.Soak, Random: true, Outcome: "unchanged"}}, 0, 0, 0},
		"a piece tested twice": {[]sorting.Observation{{Lot: "white", Kind: cues.Soak, Piece: 3, Random: true, Outcome: "unchanged"}, {Lot: "white", Kind: cues.Bend, Piece: 3, Outcome: "snaps"}}, 1, 1, 0},
	} {
		t.Run(name, func(t *testing.T) {
			a, d := ownLot("white", "PLA", "PVA"), ownLot("black", "PLA", "PVA")
			b := judge(t, &sorting.Bin{Lots: []sorting.Lot{a, d}, Tests: c.tests}, budgetOf(a, d))
			tested, wrong, rivals := b.RandomPieces("white", "PLA")
			if tested != c.tested || wrong != c.wrong {
				t.Errorf("%d tested, %d wrong; want %d and %d", tested, wrong, c.tested, c.wrong)
			}
			if !slices.Equal(rivals, []string{"PVA"}) {
				t.Errorf("held against %v, the shelf says PVA", rivals)
			}
			if n := b.RandomDrawn("white"); name != "unclear" && n != c.drawn {
				t.Errorf("%d drawn at random, want %d", n, c.drawn)
			}
		})
	}
}

// TestRivals: a claim is held against the shelf, else against what the file names, else against the usual
// filaments; and a lot that is none has no claim.
func TestRivals(t *testing.T) {
	bare, shelf := ownLot("bare"), ownLot("shelf", "ABS")
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{bare, shelf}}, budgetOf(bare, shelf))
	if _, _, rivals := b.RandomPieces("bare", "PLA"); !slices.Equal(rivals, []string{"ABS"}) {
		t.Errorf("held against %v, the file names ABS alone", rivals)
	}
	alone := judge(t, &sorting.Bin{Lots: []sorting.Lot{bare}}, budgetOf(bare))
	if _, _, rivals := alone.RandomPieces("bare", "PLA"); len(rivals) < 3 || slices.Contains(rivals, "PLA") || slices.Contains(rivals, "other") {
		t.Errorf("held against %v, want the usual filaments", rivals)
	}
	if n, wrong, rivals := b.RandomPieces("none", "PLA"); n != 0 || wrong != 0 || rivals != nil {
		t.Errorf("a lot that is none: %d, %d, %v", n, wrong, rivals)
	}
}

// split is a lot of PP and PLA that was divided in water: PP is lighter than water and PLA heavier
// (handbook: 0.905 and 1.24 g/cm3).
func split(t *testing.T, kind sorting.SplitKind) *Belief {
	t.Helper()
	lot := ownLot("heap", "PP", "PLA")
	lot.Mixed = yes()
	light, heavy := ownLot("light"), ownLot("heavy")
	light.Mixed, heavy.Mixed = nil, nil
	s := sorting.Split{Lot: "heap", Kind: kind, Into: []sorting.Side{{Lot: light}, {Lot: heavy}}}
	if kind == sorting.ByFloat {
		s.Density = quantity.With[quantity.GramPerCm3](0.998, 0.003)
		s.Into[0].Outcome, s.Into[1].Outcome = "floats", "sinks"
	}
	budget := budgetOf(light, heavy)
	budget.Lots[0].From, budget.Lots[1].From = "heap", "heap"
	return judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}, Splits: []sorting.Split{s}}, budget)
}

// TestSidesOfASplit: the side that floats in water is PP, the side that sinks PLA; a split by hand says
// nothing of which side is which.
func TestSidesOfASplit(t *testing.T) {
	b := split(t, sorting.ByFloat)
	if pp, pla := b.share(0, "PP"), b.share(1, "PLA"); pp < 0.9 || pla < 0.8 || b.share(1, "PP") > 0.05 {
		t.Errorf("what floats is PP with %.3f, what sinks PLA with %.3f and PP with %.3f", pp, pla, b.share(1, "PP"))
	}
	if b.Trace()[0].Steps[0].What != `before any test of its own: what was known of "heap", divided by float, this side floats` {
		t.Errorf("the trace begins with %q", b.Trace()[0].Steps[0].What)
	}
	hand := split(t, sorting.ByHand)
	if x, y := hand.share(0, "PP"), hand.share(1, "PP"); math.Abs(x-y) > 0.05 {
		t.Errorf("split by hand, one side is PP with %.3f and the other with %.3f", x, y)
	}
}

// TestMixtureHandedOn: what a plan for parting a lot is given sums to one where it should, and a lot
// before its split is known by its shelf alone.
func TestMixtureHandedOn(t *testing.T) {
	b := split(t, sorting.ByFloat)
	m, ok := b.BeforeSplit(b.bin.Splits[0])
	if !ok || b.Model() == nil {
		t.Fatal("the lot that was split is not known")
	}
	mean := make([]float64, len(b.Keys))
	for _, row := range m.Shares {
		if math.Abs(sum(row)-1) > 1e-9 {
			t.Fatalf("shares sum to %v", sum(row))
		}
		for k, x := range row {
			mean[k] += x / float64(len(m.Shares))
		}
	}
	for k, key := range b.Keys {
		if key == "PP" || key == "PLA" {
			if mean[k] < 0.35 || mean[k] > 0.6 {
				t.Errorf("%s has %.3f before the split, by symmetry about a half", key, mean[k])
			}
		}
	}
	tested := chartBin(t, hot("white", 64, "stiff"))
	for name, m := range map[string]Mixture{"split": m, "side": b.MixtureOf(0), "tested": tested.MixtureOf(0)} {
		within := map[int]float64{}
		for c, k := range m.KeyOf {
			within[k] += m.Within[c]
		}
		for k, s := range within {
			if math.Abs(s-1) > 1e-6 {
				t.Errorf("%s: candidates of key %d sum to %v", name, k, s)
			}
		}
		if s := sum(m.Scenarios); math.Abs(s-1) > 1e-6 {
			t.Errorf("%s: scenarios sum to %v", name, s)
		}
	}
	if _, ok := b.BeforeSplit(sorting.Split{Lot: "none"}); ok {
		t.Error("a lot that is none was there before its split")
	}
}

// TestOneLotUnderItsWeighing: a single lot that the weighings say is PLA by 450 g of 500 g ± 10 g is so,
// and its tests and those of the lots merged into it are counted.
func TestOneLotUnderItsWeighing(t *testing.T) {
	lot := ownLot("white", "PLA", "PETG")
	lot.Mixed = yes()
	budget := budgetOf(lot)
	budget.Materials = append(budget.Materials, "PLA")
	budget.Mean, budget.Precision, budget.Max = []float64{450}, [][]float64{{1. / 100}}, []float64{math.Inf(1)}
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: []sorting.Observation{hot("white", 64, "soft")}}, budget)
	if s := b.share(0, "PLA"); math.Abs(s-0.9) > 0.06 {
		t.Errorf("PLA has %.3f, weighed 0.9", s)
	}
	if b.TestedOf(0) != 1 || len(b.TestsOf("white")) != 1 || len(b.TestsOf("none")) != 0 {
		t.Errorf("%d pieces tested, %d tests", b.TestedOf(0), len(b.TestsOf("white")))
	}
}
