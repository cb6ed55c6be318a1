package triage

import (
	"math"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

func no() *bool { b := false; return &b }

func ownLot(name string, could ...polymers.Symbol) sorting.Lot {
	return sorting.Lot{Name: name, Mass: quantity.Exact[quantity.Gram](500), CouldBe: could, Mixed: no(), Prep: sorting.Cut,
		Origin: sorting.OwnPrint, OriginGiven: true, State: sorting.Dry}
}

func hot(lot string, t quantity.Celsius, outcome string) sorting.Observation {
	return sorting.Observation{Lot: lot, Kind: cues.HotWater, Temp: quantity.Exact(t), Outcome: outcome}
}

func float(lot string, d quantity.GramPerCm3, outcome string) sorting.Observation {
	return sorting.Observation{Lot: lot, Kind: cues.Float, Density: quantity.With(d, 0.003), Outcome: outcome}
}

func judge(t *testing.T, bin *sorting.Bin, budget sorting.Budget) *Belief {
	t.Helper()
	b, err := Judge(bin, budget, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func budgetOf(lots ...sorting.Lot) sorting.Budget {
	var b sorting.Budget
	for _, l := range lots {
		b.Lots = append(b.Lots, sorting.LotMass{Lot: l, Mean: float64(l.Mass.Value), Low: float64(l.Mass.Value), High: float64(l.Mass.Value)})
	}
	return b
}

func (b *Belief) share(l int, key string) float64 {
	K := len(b.Keys)
	sum, total := 0.0, 0.0
	for _, g := range b.Grams {
		for k := range b.Keys {
			total += g[l*K+k]
			if b.Keys[k] == key {
				sum += g[l*K+k]
			}
		}
	}
	return sum / math.Max(total, 1e-9)
}

func TestHotWaterPartsPLAFromPETG(t *testing.T) {
	lot := ownLot("white", "PLA", "PETG")
	for outcome, key := range map[string]string{"soft": "PLA", "stiff": "PETG"} {
		bin := &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: []sorting.Observation{hot("white", 64, outcome), hot("white", 64, outcome)}}
		b := judge(t, bin, budgetOf(lot))
		if s := b.share(0, key); s < 0.8 {
			t.Errorf("two pieces %s at 64 °C: %s has %.3f, want at least 0.8 (keys %v)", outcome, key, s, b.Keys)
		}
	}
}

func TestSinkerIsStrongerThanFloater(t *testing.T) {
	lot := ownLot("white", "PLA", "PETG")
	lot.Prep = sorting.AsIs
	move := func(outcome string) float64 {
		bin := &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: []sorting.Observation{float("white", 1.255, outcome)}}
		b := judge(t, bin, budgetOf(lot))
		return math.Abs(math.Log(b.share(0, "PETG") / b.share(0, "PLA")))
	}
	if s, f := move("sinks"), move("floats"); s < 1.2*f {
		t.Errorf("log odds moved %.2f by a sinker and %.2f by a floater: a printed piece that floats may just hold air", s, f)
	}
}

// TestTightTotals is the case on which single-site moves stick: two equal lots, the weighings say one
// is PLA and one PETG, and nothing says which. Each must come out even.
func TestTightTotals(t *testing.T) {
	a, c := ownLot("a", "PLA", "PETG"), ownLot("b", "PLA", "PETG")
	budget := budgetOf(a, c)
	budget.Materials = []polymers.Symbol{"PLA", "PETG"}
	budget.Mean = []float64{500, 500}
	budget.Precision = [][]float64{{1. / 100, 0}, {0, 1. / 100}} // ± 10 g
	budget.Max = []float64{math.Inf(1), math.Inf(1)}
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{a, c}}, budget)
	if s := b.share(0, "PLA"); math.Abs(s-0.5) > 0.06 {
		t.Errorf("lot a is PLA with %.3f, want 0.5", s)
	}
	if one, other := b.share(0, "PLA"), b.share(1, "PLA"); math.Abs(one+other-1) > 0.06 {
		t.Errorf("PLA shares %.3f and %.3f do not sum to the weighed total", one, other)
	}
}

func TestNoEvidenceIsThePrior(t *testing.T) {
	lot := ownLot("white", "PLA", "PETG")
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}}, budgetOf(lot))
	if x, y := b.share(0, "PLA"), b.share(0, "PETG"); math.Abs(x-y) > 0.02 {
		t.Errorf("without evidence PLA %.3f and PETG %.3f differ", x, y)
	}
	if o := b.share(0, "other"); o < 0.005 || o > 0.04 {
		t.Errorf("other holds %.3f, want about the 0.015 that is always left", o)
	}
}

func TestDrawsSumToLot(t *testing.T) {
	lot := ownLot("white", "PLA", "PETG")
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: []sorting.Observation{float("white", 1.255, "sinks")}}, budgetOf(lot))
	for d, g := range b.Grams {
		if s := sum(g); math.Abs(s-500) > 1e-6 {
			t.Fatalf("draw %d sums to %.6f g, want 500", d, s)
		}
	}
}
