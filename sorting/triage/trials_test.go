package triage

import (
	"math"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// inCounts is a test of so many fresh pieces; floats and sinks, or soft and stiff.
func inCounts(o sorting.Observation, first string, n int, second string, m int) sorting.Observation {
	o.Outcome, o.Counts = "", []sorting.Count{{Outcome: first, N: n}, {Outcome: second, N: m}}
	return o
}

func ofKnown(name string, o sorting.Observation) sorting.Observation {
	o.Lot, o.Known = "", name
	return o
}

// trialBin is a sack of PETG that may hold PLA, drawn from and tested in water of 64 °C, which lies
// between their glass transitions (PLA 55-60, PETG about 80 °C: data sheets), with known snippets.
func trialBin(more ...sorting.Observation) *sorting.Bin {
	drawn := inCounts(hot("clear", 64, ""), "stiff", 40, "soft", 1)
	drawn.Random = true
	return &sorting.Bin{Lots: []sorting.Lot{ownLot("clear", "PETG", "PLA")}, Tests: append([]sorting.Observation{drawn}, more...),
		Known: []sorting.Known{{Name: "clear PETG", Material: "PETG"}, {Name: "box PLA", Material: "PLA"}, {Name: "grey ABS", Material: "ABS"}}}
}

// Trials are as written down: 9 of 10 pieces known to be PLA went limp at 64 °C, 12 of 13 known to be PETG
// stayed stiff. What was tested otherwise, or is of a material the claim is not held against, is no trial.
func TestTrialsAreCountedFromKnownSnippets(t *testing.T) {
	bin := trialBin(
		ofKnown("box PLA", inCounts(hot("", 64, ""), "soft", 9, "stiff", 1)),
		ofKnown("clear PETG", inCounts(hot("", 64, ""), "soft", 1, "stiff", 12)),
		ofKnown("clear PETG", inCounts(hot("", 80, ""), "soft", 5, "stiff", 5)),
		ofKnown("box PLA", float("", 1.25, "floats")),
		ofKnown("grey ABS", inCounts(hot("", 64, ""), "soft", 0, "stiff", 7)),
		ofKnown("box PLA", hot("", 64, cues.Unclear)))
	b := judge(t, bin, budgetOf(bin.Lots...))
	if got, want := b.Trials([]string{"clear"}, "PETG"), (Trials{Found: 9, Others: 10, Passed: 12, Right: 13}); got != want {
		t.Errorf("%+v, written down %+v", got, want)
	}
	if got := b.Trials([]string{"unsorted"}, "PETG"); got != (Trials{}) {
		t.Errorf("nothing was drawn from there: %+v", got)
	}
}

// A numbered piece counts as one piece, with all its tests together; a piece that went only one of two
// tests did not go the way the drawn ones did.
func TestTrialsGoTheWholeWay(t *testing.T) {
	numbered := func(n int, o sorting.Observation) sorting.Observation { o.Piece = n; return o }
	bin := &sorting.Bin{Lots: []sorting.Lot{ownLot("clear", "PETG", "PLA")}, Known: []sorting.Known{{Name: "box PLA", Material: "PLA"}}}
	for _, o := range []sorting.Observation{hot("clear", 64, "stiff"), float("clear", 1.25, "sinks")} {
		o.Random = true
		bin.Tests = append(bin.Tests, numbered(1, o))
	}
	for _, o := range []sorting.Observation{numbered(1, hot("", 64, "soft")), numbered(1, float("", 1.25, "floats")), hot("", 64, "soft")} {
		bin.Tests = append(bin.Tests, ofKnown("box PLA", o))
	}
	b := judge(t, bin, budgetOf(bin.Lots...))
	if got := b.Trials([]string{"clear"}, "PETG"); got.Others != 1 || got.Found != 1 {
		t.Errorf("one piece went both tests: %+v", got)
	}
}

// Pieces are numbered lot by lot: the first of one lot and the first of another are two pieces after a
// merge, and their masses stay their own.
func TestPiecesOfMergedLotsStayApart(t *testing.T) {
	bin := &sorting.Bin{Lots: []sorting.Lot{ownLot("a", "PETG", "PLA"), ownLot("b", "PETG", "PLA")},
		Merges: []sorting.Merge{{From: []string{"a", "b"}, Into: "ab"}}}
	for lot, outcome := range map[string]string{"a": "stiff", "b": "soft"} {
		o := hot(lot, 64, outcome)
		o.Piece, o.Random = 1, true
		bin.Tests = append(bin.Tests, o)
	}
	for lot, g := range map[string]quantity.Gram{"a": 4, "b": 6} {
		bin.Tests = append(bin.Tests, sorting.Observation{Lot: lot, Piece: 1, Kind: cues.Weigh, InAir: quantity.Exact(g),
			InLiquid: quantity.Exact(g / 5), Liquid: quantity.Exact(quantity.GramPerCm3(0.998))})
	}
	bin.Merges[0].Lot, _ = bin.Lot("ab")
	ab, _ := bin.Lot("ab")
	b := judge(t, bin, budgetOf(ab))
	if tested, wrong, _ := b.RandomPieces("ab", "PETG"); tested != 2 || wrong != 1 {
		t.Errorf("%d pieces, %d wrong", tested, wrong)
	}
	right, wrong := b.RandomMasses("ab", "PETG")
	if len(right) != 1 || len(wrong) != 1 || right[0] != 4 || wrong[0] != 6 {
		t.Errorf("masses %v and %v", right, wrong)
	}
}

// Hot water between the glass transitions of PLA (55-60 °C) and PETG (about 80 °C, data sheets) tells
// them apart better than any bath (declared densities overlap); a kind that was used already, or that is
// barred, is not named, and what a bench cannot tell apart has no second test.
func TestSecondTests(t *testing.T) {
	float := sorting.Offer{Kind: cues.Float, Densities: []quantity.GramPerCm3{1, 1.35}}
	water := sorting.Offer{Kind: cues.HotWater, Temps: []quantity.Celsius{60, 63, 66, 70, 75, 80, 85}}
	menu := sorting.Menu{Offers: []sorting.Offer{float, water}}
	bin := &sorting.Bin{Lots: []sorting.Lot{ownLot("clear", "PETG", "PLA")}}
	got := judge(t, bin, budgetOf(bin.Lots...)).Seconds("clear", "PETG", menu)
	if len(got) != 2 || got[1].Kind != cues.HotWater || got[1].Temp < 60 || got[1].Temp > 75 || len(got[1].Alarms) != 1 || got[1].Alarms[0] != "soft" {
		t.Fatalf("%+v", got)
	}
	if f, w := got[0], got[1]; w.Finds-w.FalseAlarms <= f.Finds-f.FalseAlarms || f.Density <= 1.2 || math.Abs(float64(f.Density)*200-math.Round(float64(f.Density)*200)) > 1e-6 {
		t.Errorf("bath %+v, water %+v", f, w)
	}
	used := trialBin()
	if got := judge(t, used, budgetOf(used.Lots...)).Seconds("clear", "PETG", menu); len(got) != 1 || got[0].Kind != cues.Float {
		t.Errorf("hot water was the first test: %+v", got)
	}
	menu.Forbidden = map[string][]cues.Kind{"clear": {cues.Float, cues.HotWater}}
	if got := judge(t, bin, budgetOf(bin.Lots...)).Seconds("clear", "PETG", menu); len(got) != 0 {
		t.Errorf("barred: %+v", got)
	}
	alike := &sorting.Bin{Lots: []sorting.Lot{ownLot("grey", "ABS", "ASA")}}
	for _, s := range judge(t, alike, budgetOf(alike.Lots...)).Seconds("grey", "ABS", sorting.Menu{Offers: []sorting.Offer{water}}) {
		if s.Finds-s.FalseAlarms > 0.5 {
			t.Errorf("ABS told from ASA by %+v", s)
		}
	}
}
