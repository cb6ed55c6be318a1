package triage

import (
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// A side has its shelf from its lot, as the bin file is read, and yet the split tells the sides apart: at
// 1.15 g/cm3 ABS (1.04) floats and PETG (1.27, both data sheets) sinks. A shelf that is said of the side
// itself goes before.
func TestSidesOfALotWithAShelf(t *testing.T) {
	yes := true
	heap := ownLot("heap", "PETG", "ABS")
	heap.Mixed = &yes
	side := func(name string, could ...polymers.Symbol) sorting.Lot {
		l := ownLot(name, could...)
		l.Mixed = nil
		return l
	}
	light, heavy := side("light", "PETG", "ABS"), side("heavy", "PETG", "ABS")
	split := sorting.Split{Lot: "heap", Kind: sorting.ByFloat, Density: quantity.With[quantity.GramPerCm3](1.15, 0.003),
		Into: []sorting.Side{{Lot: light, Outcome: "floats"}, {Lot: heavy, Outcome: "sinks"}}}
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{heap}, Splits: []sorting.Split{split}}, budgetOf(light, heavy))
	if x, y := b.share(0, "ABS"), b.share(1, "PETG"); x < 0.8 || y < 0.8 {
		t.Errorf("what floats is ABS with %.3f, what sinks PETG with %.3f", x, y)
	}
	split.Into[0].CouldBe = []polymers.Symbol{"PP"}
	own := side("light", "PP")
	b = judge(t, &sorting.Bin{Lots: []sorting.Lot{heap}, Splits: []sorting.Split{split}}, budgetOf(own, heavy))
	if x := b.share(0, "PP"); x < 0.8 {
		t.Errorf("said to be PP, and it floats: %.3f", x)
	}
}
