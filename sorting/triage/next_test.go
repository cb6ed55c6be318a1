package triage

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// TestNextPartsPLAFromPETG: of two materials whose glass transitions are published as 55 to 60 °C and 75
// to 80 °C (handbook, docs/polymers.md) and whose densities overlap, hot water between the two tells more
// in a minute than a bath does.
func TestNextPartsPLAFromPETG(t *testing.T) {
	b := chartBin(t)
	a := Next(b, chartMenu(cues.Float, cues.HotWater), chartStakes(b), NextOptions{})
	if a.Done || a.Best == nil || a.Best.Kind != cues.HotWater || a.Best.Temp < 60 || a.Best.Temp > 75 {
		t.Fatalf("the best test is %+v", a.Best)
	}
	for _, e := range a.Best.Outcomes {
		if want := map[string]string{"soft": "PLA", "stiff": "PETG"}[e.Outcome]; e.Main != want || e.Share < 0.6 {
			t.Errorf("%s leaves %s with %.2f, want %s", e.Outcome, e.Main, e.Share, want)
		}
	}
}

// slipped is by how much outcomes may miss a sum of one: slips of reading (0.015) are allowed for in each
// of them, and materials below a share of 5e-4 are left out of planning.
const slipped = 0.02

// TestNextLaws holds what is true of any advice: the outcomes of a look sum to one, a look gains
// nothing below zero (an outcome can be ignored: Raiffa and Schlaifer 1961, section 4.5) and no more than
// all that doubt costs, skipped and barred kinds are never named, and a second look in thought never
// makes the best test worse.
func TestNextLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bin, budget := anyBin(t)
		bin.Tests = slices.DeleteFunc(bin.Tests, func(o sorting.Observation) bool { return len(o.Counts) > 0 })
		b, err := Judge(bin, budget, Options{Draws: 64})
		if err != nil {
			t.Fatal(err)
		}
		menu := chartMenu(cues.Bend, cues.Soak, cues.Float, cues.HotWater, cues.Acetone)
		barred := bin.Lots[0].Name
		menu.Forbidden = map[string][]cues.Kind{barred: {cues.Acetone}}
		opt := NextOptions{Skip: []cues.Kind{cues.Soak}, OneStep: rapid.Bool().Draw(t, "one step")}
		a := Next(b, menu, chartStakes(b), opt)
		holds(t, a, barred)
		if opt.OneStep {
			opt.OneStep = false
			two := Next(b, menu, chartStakes(b), opt)
			for l := range a.ByLot {
				if two.Settled[l] && !a.Settled[l] {
					t.Fatalf("lot %d is settled when looking two tests ahead and not when looking one", l)
				}
			}
		}
	})
}

func holds(t *rapid.T, a Advice, barred string) {
	doubt := 0.0
	for l, p := range a.ByLot {
		doubt += a.Baseline[l]
		switch {
		case p.Gain < 0 || p.Gain > a.Baseline[l]+1e-6:
			t.Fatalf("lot %d: gain %v of a doubt of %v", l, p.Gain, a.Baseline[l])
		case p.Kind == cues.Soak, p.Kind == cues.Acetone && p.Lot == barred:
			t.Fatalf("%s is proposed for %s", p.Kind, p.Lot)
		case p.Work < p.Minutes-1e-9:
			t.Fatalf("lot %d: %v minutes of work in a test of %v", l, p.Work, p.Minutes)
		}
		sum, sure := 0.0, 0.0
		for _, e := range p.Outcomes {
			sum += e.Probability
			sure += e.Probability * e.Share
			if e.Share < 0 || e.Share > 1+1e-9 {
				t.Fatalf("lot %d: %s leaves a share of %v", l, e.Outcome, e.Share)
			}
		}
		if math.Abs(sum-1) > slipped {
			t.Fatalf("lot %d: outcomes of %s sum to %v", l, p.Kind, sum)
		}
		if sure/sum < p.ShareBefore-slipped {
			t.Fatalf("lot %d: %s has %v now and the likeliest %v on average after %s", l, p.MainBefore, p.ShareBefore, sure/sum, p.Kind)
		}
	}
	if math.Abs(doubt-a.Doubt) > 1e-9*(1+doubt) {
		t.Fatalf("doubt %v of the lots, %v in all", doubt, a.Doubt)
	}
}

// TestNextEnds: testing is done where all goes the same way, where bench time is dearer than anything it
// could bring, and where nothing may be tested; and an advice then says which lots are settled.
func TestNextEnds(t *testing.T) {
	b := chartBin(t)
	menu := chartMenu(cues.Float, cues.HotWater)
	same := chartStakes(b)
	for i := range same.SameWay {
		same.SameWay[i], same.Right[i] = 0, 0
	}
	dear := chartStakes(b)
	dear.HourValue = 1e5
	for name, a := range map[string]Advice{
		"all goes the same way": Next(b, menu, same, NextOptions{}),
		"dear time":             Next(b, menu, dear, NextOptions{}),
		"nothing to test with":  Next(b, sorting.Menu{}, chartStakes(b), NextOptions{}),
		"all kinds skipped":     Next(b, menu, chartStakes(b), NextOptions{Skip: []cues.Kind{cues.Float, cues.HotWater}}),
	} {
		if !a.Done || slices.Contains(a.Settled, false) {
			t.Errorf("%s: done %v, settled %v", name, a.Done, a.Settled)
		}
	}
	if a := Next(b, sorting.Menu{}, chartStakes(b), NextOptions{}); a.Best != nil {
		t.Errorf("with nothing to test with it proposes %s", a.Best.Kind)
	}
}

// TestNextReachesOnlyItsBaths: no bath is proposed that the bench cannot mix, and one that stands ready
// is used under its name, without the minutes of mixing.
func TestNextReachesOnlyItsBaths(t *testing.T) {
	a, c := ownLot("white", "PLA", "PP"), ownLot("black", "PLA", "PETG")
	bin := &sorting.Bin{Lots: []sorting.Lot{a, c}, Baths: []sorting.Bath{{Name: "B", Density: quantity.With[quantity.GramPerCm3](1.255, 0.002)}},
		Tests: []sorting.Observation{{Lot: "black", Kind: cues.Float, Bath: "B", Outcome: "sinks"}}}
	b := judge(t, bin, budgetOf(a, c))
	menu := chartMenu(cues.Float)
	menu.Offers[0].Densities = []quantity.GramPerCm3{0.998, 1.1}
	for _, p := range Next(b, menu, chartStakes(b), NextOptions{}).ByLot {
		if p.Density > 1.1 {
			t.Errorf("a bath of %v is proposed, 1.1 is the most", p.Density)
		}
	}
	menu.Offers[0].Densities = []quantity.GramPerCm3{1.25, 1.26}
	for _, p := range Next(b, menu, chartStakes(b), NextOptions{OneStep: true}).ByLot {
		if p.Bath != "B" || p.NewSetting || p.Minutes != menu.Offers[0].Minutes {
			t.Errorf("%s: bath %q, %v minutes, to be mixed: %v", p.Lot, p.Bath, p.Minutes, p.NewSetting)
		}
	}
}

// TestNextGivesAFreshPiece: the piece proposed is one that no test of the lot has used.
func TestNextGivesAFreshPiece(t *testing.T) {
	seen := hot("white", 64, "stiff")
	seen.Piece = 4
	b := chartBin(t, seen)
	a := Next(b, chartMenu(cues.HotWater), chartStakes(b), NextOptions{})
	if a.ByLot[0].Piece != 5 || a.ByLot[1].Piece != 1 {
		t.Errorf("pieces %d and %d, want 5 and 1", a.ByLot[0].Piece, a.ByLot[1].Piece)
	}
	if a.ByLot[0].NewSetting && a.ByLot[0].Temp == 64 {
		t.Error("water that stands at 64 °C is brought to 64 °C anew")
	}
}

// TestCandidatesOfEveryTable: whatever table names a material, it stands on the list of what a piece may
// be, with its reason, and the weights sum to one.
func TestCandidatesOfEveryTable(t *testing.T) {
	bin := &sorting.Bin{
		Printed: []sorting.Counter{
			{Material: "PETG", Counted: quantity.Exact[quantity.Gram](5000), Hidden: []polymers.Symbol{"PVA"}},
			{Material: "PLA", Metres: quantity.Exact[quantity.Millimeter](1e6)},
			{Material: "ABS", JobRows: []sorting.Job{{Mass: 100}, {Mass: 50}}},
		},
		Spools:  []sorting.Spool{{Material: "PC"}},
		Kept:    []sorting.Kept{{Materials: []polymers.Symbol{"PA12"}}},
		Known:   []sorting.Known{{Material: "TPU"}},
		Lots:    []sorting.Lot{ownLot("a", "HIPS")},
		Splits:  []sorting.Split{{Lot: "a", Into: []sorting.Side{{Lot: ownLot("b", "ASA"), Outcome: "floats"}}}},
		Tests:   []sorting.Observation{{Lot: "a", Kind: cues.Marked, Symbol: ">PP<"}},
		Streams: []sorting.Stream{{Name: "x", Material: "PE-HD"}},
	}
	sum, weight := 0.0, map[polymers.Symbol]float64{}
	for _, c := range Candidates(bin, nil) {
		sum += c.Weight
		weight[c.Symbol] = c.Weight
		if c.Weight < 0 || c.Why == "" {
			t.Errorf("%s has weight %v for the reason %q", c.Symbol, c.Weight, c.Why)
		}
	}
	for _, s := range []polymers.Symbol{"PETG", "PVA", "PLA", "ABS", "PC", "PA12", "TPU", "HIPS", "ASA", "PP", "PE-HD", polymers.Other} {
		if weight[s] <= 0 {
			t.Errorf("%s is not on the list", s)
		}
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("weights sum to %v", sum)
	}
	// printed more is likelier: 5 kg, 3 kg (1,000 m at 3 g), 150 g
	if !(weight["PETG"] > weight["PLA"] && weight["PLA"] > weight["ABS"]) {
		t.Errorf("PETG %.3f, PLA %.3f, ABS %.3f", weight["PETG"], weight["PLA"], weight["ABS"])
	}
}
