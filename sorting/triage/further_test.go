package triage

import (
	"math"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// planOf plans for a bin of own lots with float, hot water and bending, at 3 an hour, each material
// worth 4 a kilogram in its own bag.
func planOf(t *testing.T, bin *sorting.Bin) *planner {
	t.Helper()
	b := judge(t, bin, budgetOf(bin.Lots...))
	n := newPlanner(b, chartMenu(cues.Float, cues.HotWater, cues.Bend), chartStakes(b), NextOptions{DoubtCost: 0.5})
	for l := range b.piles {
		n.proposals(l)
	}
	return n
}

func mixedLot(pieces int) sorting.Lot {
	lot := ownLot("crumbs", "PLA", "PETG")
	lot.Mixed, lot.Pieces = yes(), pieces
	return lot
}

// A handful of one is one piece: counted in every scenario or averaged over them is the same there.
func TestHandfulOfOneIsOnePiece(t *testing.T) {
	n := planOf(t, &sorting.Bin{Lots: []sorting.Lot{mixedLot(0)}, Tests: []sorting.Observation{hot("crumbs", 66, "soft"), hot("crumbs", 66, "stiff")}})
	g := n.grounds[0]
	k := &n.looked[0][0]
	for i := range n.looked[0] {
		if n.looked[0][i].ask.Temp == 66 {
			k = &n.looked[0][i]
		}
	}
	one, single := n.afterCounts(0, k, 1), expected(g.branches(g.prob, k))
	if math.Abs(one-single) > 0.03*single {
		t.Errorf("a handful of one leaves a loss of %.5f, one piece %.5f", one, single)
	}
	if ten := n.afterCounts(0, k, 10); ten >= one {
		t.Errorf("ten pieces leave a loss of %.5f, one piece %.5f: more pieces must tell more", ten, one)
	}
}

// The ways in which n pieces fall out are all there, once: their probabilities sum to one
// (Newton's multinomial theorem).
func TestCountsSumToOne(t *testing.T) {
	p := []float64{0.2, 0.5, 0.3}
	sum, ways := 0.0, 0
	each(6, 3, func(c []int) {
		e := multinomial(c)
		for o, n := range c {
			e += float64(n) * math.Log(p[o])
		}
		sum += math.Exp(e)
		ways++
	})
	if math.Abs(sum-1) > 1e-12 || ways != 28 {
		t.Errorf("%d ways sum to %.12f, want 28 ways that sum to 1", ways, sum)
	}
}

// Crumbs of which many are left are tested by the handful; a small lot is not.
func TestHandfulOfCrumbs(t *testing.T) {
	for _, x := range []struct{ pieces, most int }{{0, 10}, {300, 10}, {12, 5}, {6, 0}} {
		n := planOf(t, &sorting.Bin{Lots: []sorting.Lot{mixedLot(x.pieces)}, Tests: []sorting.Observation{hot("crumbs", 66, "soft")}})
		most := 0
		for _, many := range []int{fewAtOnce, manyAtOnce} {
			gain, minutes, ok := n.handful(0, &Proposal{Lot: "crumbs", Kind: cues.HotWater, Temp: 66, Minutes: 2}, many)
			if !ok {
				continue
			}
			most = many
			if gain < 0 || minutes <= 2 {
				t.Errorf("%d pieces: %d at once gain %g in %g minutes", x.pieces, many, gain, minutes)
			}
		}
		if most != x.most {
			t.Errorf("of %d pieces %d go into one jar, want %d", x.pieces, most, x.most)
		}
		if _, _, ok := n.handful(0, &Proposal{Lot: "crumbs", Kind: cues.Bend}, fewAtOnce); ok {
			t.Error("strips are bent by the handful")
		}
	}
}

// A piece of crumbs that only bent is told by hot water: the same piece again, by its own number.
func TestAPieceAgain(t *testing.T) {
	tests := []sorting.Observation{
		{Lot: "crumbs", Piece: 1, Kind: cues.Bend, Outcome: "bends"},
		{Lot: "crumbs", Piece: 2, Kind: cues.HotWater, Temp: quantity.Exact[quantity.Celsius](66), Outcome: "soft"},
	}
	n := planOf(t, &sorting.Bin{Lots: []sorting.Lot{mixedLot(0)}, Tests: tests})
	got := n.again(0)
	if len(got) == 0 {
		t.Fatal("no piece is tested again")
	}
	for _, p := range got {
		if !p.Again || p.Piece != 1 || p.Kind == cues.Bend {
			t.Errorf("piece %d by %s again=%v: want piece 1, which only bent, by another kind", p.Piece, p.Kind, p.Again)
		}
		q := 0.0
		for _, o := range p.Outcomes {
			q += o.Probability
		}
		if math.Abs(q-1) > 0.05 {
			t.Errorf("outcomes of %s again have probabilities that sum to %.3f", p.Kind, q)
		}
	}
}

// A piece that a test used up is not tested again, nor one that is told.
func TestNoPieceAgain(t *testing.T) {
	for name, o := range map[string]sorting.Observation{
		"used up": {Lot: "crumbs", Piece: 1, Kind: cues.Soak, Outcome: "unchanged"},
		"fresh":   {Lot: "crumbs", Kind: cues.Bend, Outcome: "bends"},
	} {
		n := planOf(t, &sorting.Bin{Lots: []sorting.Lot{mixedLot(0)}, Tests: []sorting.Observation{o}})
		if got := n.again(0); len(got) > 0 {
			t.Errorf("%s: piece %d is proposed again", name, got[0].Piece)
		}
	}
}

// A merged lot's pieces bear the numbers of the lots it was put together from: none is asked for again.
func TestNoPieceOfAMergeAgain(t *testing.T) {
	lot := mixedLot(0)
	bin := &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: []sorting.Observation{{Lot: "crumbs", Piece: 1, Kind: cues.Bend, Outcome: "bends"}}}
	n := planOf(t, bin)
	if len(n.again(0)) == 0 {
		t.Fatal("the piece is not asked for again even without a merge")
	}
	n.b.piles[0].mass.Parts = []string{"left", "right"}
	if got := n.again(0); len(got) > 0 {
		t.Errorf("piece %d of a merged lot is asked for", got[0].Piece)
	}
}

// Where lots hang on a bath whose density is hardly known, a piece of known material in it is worth
// having; where nothing was floated it is not.
func TestSnippetInADoubtfulBath(t *testing.T) {
	lot := ownLot("white", "PLA", "PETG")
	known := sorting.Known{Name: "spool end", Material: "PETG", Density: quantity.With[quantity.GramPerCm3](1.27, 0.002)}
	bin := &sorting.Bin{Lots: []sorting.Lot{lot}, Known: []sorting.Known{known}}
	if n := planOf(t, bin); n.snippetTest([]float64{1}) != nil {
		t.Error("nothing was floated, yet a snippet is to be")
	}
	for range 3 {
		o := float("white", 1.255, "sinks")
		o.Density = quantity.With[quantity.GramPerCm3](1.255, 0.02)
		bin.Tests = append(bin.Tests, o)
	}
	n := planOf(t, bin)
	p := n.snippetTest([]float64{1})
	if p == nil || p.Known != "spool end" || p.Kind != cues.Float || p.Lot != "" {
		t.Fatalf("proposed %+v, want the snippet floated", p)
	}
	if !(p.Gain > 0) {
		t.Errorf("the snippet would gain %g in a bath known to ± 0.02", p.Gain)
	}
	for range mostChecks {
		o := float("", 1.255, "sinks")
		o.Density, o.Lot, o.Known = quantity.With[quantity.GramPerCm3](1.255, 0.02), "", "spool end"
		bin.Tests = append(bin.Tests, o)
	}
	if n := planOf(t, bin); n.snippetTest([]float64{1}) != nil {
		t.Error("a snippet that was floated twice in a bath is to go in again")
	}
}

// Adding a lot leaves the proposals of the others as they were, where no weighing ties them and no
// test teaches of the other.
func TestNeighbourLeavesProposals(t *testing.T) {
	a, c := ownLot("a", "PLA", "PETG"), ownLot("c", "PLA", "PETG")
	tests := []sorting.Observation{hot("a", 66, "soft")}
	alone := planOf(t, &sorting.Bin{Lots: []sorting.Lot{a}, Tests: tests})
	both := planOf(t, &sorting.Bin{Lots: []sorting.Lot{a, c}, Tests: tests})
	x, y := bestOf(alone.proposals(0)), bestOf(both.proposals(0))
	if x.Kind != y.Kind || x.Temp != y.Temp || math.Abs(x.Gain-y.Gain) > 1e-9 {
		t.Errorf("a lot beside it turns %s %v (gain %g) into %s %v (gain %g)", x.Kind, x.Temp, x.Gain, y.Kind, y.Temp, y.Gain)
	}
}

// What is found in one lot makes it likelier in the next, and never by a lot's own tests.
func TestLotsTeachEachOther(t *testing.T) {
	bin := func(tests ...sorting.Observation) *sorting.Bin {
		b := &sorting.Bin{Tests: tests}
		for _, n := range []string{"a", "b", "c", "d"} {
			b.Lots = append(b.Lots, ownLot(n))
		}
		b.Printed = []sorting.Counter{{From: "machine", Material: "PETG"}, {From: "other machine", Material: "PLA"}}
		return b
	}
	soak := func(lot string) sorting.Observation {
		return sorting.Observation{Lot: lot, Kind: cues.Soak, Outcome: "slimy"}
	}
	before := judge(t, bin(), budgetOf(bin().Lots...))
	after := judge(t, bin(soak("a"), soak("a"), soak("b")), budgetOf(bin().Lots...))
	const pva = string(polymers.Symbol("PVA"))
	if x, y := before.share(3, pva), after.share(3, pva); y < 2*x {
		t.Errorf("PVA in two lots takes its share in a third from %.3f to %.3f only", x, y)
	}
	if x, y := after.share(2, pva), after.share(3, pva); math.Abs(x-y) > 0.02 {
		t.Errorf("two lots without tests have %.3f and %.3f PVA", x, y)
	}
}
