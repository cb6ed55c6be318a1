package triage

import (
	"strings"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/sorting"
)

// A lot that bends like much else and is PETG by one reading hangs on that reading; a second of it ends that.
func TestCarriedByOnePiece(t *testing.T) {
	lot := ownLot("white", "PLA", "PETG")
	lot.Mixed = no()
	bend := sorting.Observation{ID: "t1", Lot: "white", Piece: 1, Kind: cues.Bend, Outcome: "snaps"}
	one := hot("white", 66, "stiff")
	one.ID, one.Piece = "t2", 2
	judged := func(tests ...sorting.Observation) []sorting.Warning {
		b := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: tests}, budgetOf(lot))
		return b.Carried([]bool{true})
	}
	got := judged(bend, one)
	if len(got) != 1 || !strings.Contains(got[0].Says, "t2") || !strings.Contains(got[0].Says, "PETG") || got[0].Cure == "" {
		t.Errorf("warned %+v, want that PETG hangs on t2", got)
	}
	two := hot("white", 75, "stiff")
	two.ID, two.Piece = "t3", 3
	if got := judged(bend, one, two, hot("white", 66, "stiff")); len(got) > 0 {
		t.Errorf("with three like readings it is still said to hang on one: %s", got[0].Says)
	}
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: []sorting.Observation{bend, one}}, budgetOf(lot))
	if got := b.Carried([]bool{false}); len(got) > 0 {
		t.Error("a lot that is not settled is warned of")
	}
}
