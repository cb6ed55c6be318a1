package reuse

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// cold is a bench without a hot tool, and one outlet.
func cold() Situation {
	return Situation{Currency: "EUR", Kit: sorting.Kit{Given: true}, Outlets: []sorting.Outlet{outlet()}}
}

func whyOf(d Decision) string {
	var out []string
	for _, r := range d.Why {
		out = append(out, r.Words)
	}
	return strings.Join(out, "\n")
}

// TestHeldForAnOutlet: by hand, 2 kg at 0.10 EUR/kg paid and 0.20 EUR/kg saved bring 0.6 EUR against half an hour
// at 10 EUR: 4.4 EUR lost, and 5/0.3 = 16.7 kg to break even. At 5 EUR/kg paid, 10.4 less 5 are 5.4 EUR won,
// from 5/5.2 = 962 g.
func TestHeldForAnOutlet(t *testing.T) {
	s := cold()
	d := choose(t, fraction("PETG", 2, 0), s)
	if !strings.HasPrefix(d.Why[0].Words, "not worth your evening in money: handed to depot -4.4 EUR") || !strings.Contains(d.Why[0].Words, "pays from 16.7 kg, even after the random draws it asks for") {
		t.Errorf("first said: %q", d.Why[0].Words)
	}
	if !strings.Contains(whyOf(d), "59 more clean random pieces; even then it would cost 4.4 EUR more than it brings: not worth the draws") {
		t.Errorf("the draws are not judged:\n%s", whyOf(d))
	}
	if len(d.NextBetter) != 1 || d.NextBetter[0] != "14.7 kg more before it pays" || d.NextWay() != "depot" {
		t.Errorf("%s needs %q", d.NextWay(), d.NextBetter)
	}
	s.Outlets[0].Pays = quantity.MustParse[quantity.MoneyPerKg]("5 EUR/kg")
	d = choose(t, fraction("PETG", 2, 0), s)
	if !strings.HasPrefix(d.Why[0].Words, "handed to depot it would gain 5.4 EUR") || !strings.Contains(d.Why[0].Words, "pays from 962 g") || !d.Worth.Keep {
		t.Errorf("keep %v, first said: %q", d.Worth.Keep, d.Why[0].Words)
	}
	if len(d.NextBetter) != 1 || d.NextBetter[0] != "59 more clean random pieces" {
		t.Errorf("needs %q", d.NextBetter)
	}
}

// TestMassBeforeTests: of two needs, the one that no test cures stands first.
func TestMassBeforeTests(t *testing.T) {
	s := cold()
	s.Outlets[0].Pays = quantity.MustParse[quantity.MoneyPerKg]("20 EUR/kg")
	d := choose(t, fraction("PETG", 0.6, 0), s)
	if len(d.NextBetter) != 2 || d.NextBetter[0] != "400 g more" || d.NextBetter[1] != "59 more clean random pieces" {
		t.Errorf("needs %q", d.NextBetter)
	}
}

// TestToolsThatTheBenchLacks are named in the line that says what they would bring.
func TestToolsThatTheBenchLacks(t *testing.T) {
	for name, c := range map[string]struct {
		kit  sorting.Kit
		want string
	}{
		"none":        {sorting.Kit{Given: true}, "with a granulator and a filament extruder, which this bench lacks, as filament"},
		"not said":    {sorting.Kit{}, "with a granulator and a filament extruder, which [kit] does not list, as filament"},
		"an extruder": {sorting.Kit{Given: true, Has: []string{"filament extruder"}}, "with a granulator, which this bench lacks, as filament"},
		"all of them": {bench().Kit, "money: as filament"},
	} {
		d := choose(t, fraction("PLA", 0.3, 0), Situation{Kit: c.kit})
		if d.Route != Hold || !strings.Contains(d.Why[0].Words, c.want) {
			t.Errorf("%s: %s, %q", name, d.Route, d.Why[0].Words)
		}
	}
	unborn := choose(t, fraction("PLA-CF", 2, 0), Situation{Kit: sorting.Kit{Given: true}})
	if unborn.Route == Hold && !strings.HasPrefix(unborn.Why[0].Words, "no way at hand") {
		t.Errorf("filled: %q", unborn.Why[0].Words)
	}
}

// TestHoldIsWorthTheWayAtHand: a press at hand speaks before an extruder that is not, and an outlet that takes it
// before either.
func TestHoldIsWorthTheWayAtHand(t *testing.T) {
	s := bench()
	s.Kit.Has = []string{"sheet press"}
	d := choose(t, fraction("PETG", 1, 0), s)
	sheet := benchCosts(Sheet, s).appraise([]float64{1000})
	if d.Route != Hold || d.Worth.BreakEvenG == nil || *d.Worth.BreakEvenG != *sheet.BreakEvenG || !strings.Contains(d.Why[0].Words, "as sheet") {
		t.Errorf("worth %+v: %q", d.Worth, d.Why[0].Words)
	}
	d = choose(t, fraction("PETG", 8, 0), cold())
	if d.Worth.Keep || !strings.Contains(whyOf(d), "which this bench lacks, as filament it would gain") {
		t.Errorf("keep %v:\n%s", d.Worth.Keep, whyOf(d))
	}
}

// TestHoldSaysWhatItMeans, once.
func TestHoldSaysWhatItMeans(t *testing.T) {
	mixture := fraction("PETG", 2, 0.4)
	mixture.Material, mixture.Symbols, mixture.Settled = "", nil, false
	lost := fraction("PETG", 2, 0)
	lost.Material, lost.Symbols, lost.OriginGiven, lost.Settled = "", nil, false, false
	open := fraction("PETG", 20, 0)
	open.Settled = false
	for name, d := range map[string]Decision{
		"too little": choose(t, fraction("PETG", 0.5, 0), bench()), "not demonstrated": choose(t, fraction("PETG", 2, 0), cold()),
		"mixture": choose(t, mixture, cold()), "origin not said": choose(t, lost, Situation{}), "not settled": choose(t, open, bench()),
	} {
		if d.Route != Hold || strings.Count(whyOf(d), "kept dry, closed and labelled") != 1 || !strings.Contains(d.Why[0].Words, " until ") {
			t.Errorf("%s: %s\n%s", name, d.Route, whyOf(d))
		}
	}
	if d := choose(t, mixture, cold()); !strings.HasPrefix(d.Why[0].Words, "a test or a cut still pays") || len(d.NextBetter) != 1 {
		t.Errorf("mixture: %q, needs %q", d.Why[0].Words, d.NextBetter)
	}
	if d := choose(t, open, bench()); !strings.Contains(whyOf(d), "a test or a cut still pays") {
		t.Errorf("not settled: %s", whyOf(d))
	}
}

// TestNoTestForWhatCannotPay: a bag of one name that would not pay at its purest is never sent to a test.
func TestNoTestForWhatCannotPay(t *testing.T) {
	seen := 0
	rapid.Check(t, func(t *rapid.T) {
		s := anySituation(t)
		f := fraction(rapid.SampledFrom([]string{"PETG", "ABS"}).Draw(t, "material"), rapid.Float64Range(0.1, 30).Draw(t, "kg"), rapid.Float64Range(0, 0.3).Draw(t, "others"))
		f.Settled = rapid.Bool().Draw(t, "settled")
		d, err := Choose(f, s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := target(look(f, s, Options{}).ways()); d.Route != Hold || d.Worth.Keep || !ok || d.NextRoute == "" {
			return
		}
		seen++
		for _, n := range d.NextBetter {
			if strings.Contains(n, "test") || strings.Contains(n, "random pieces") {
				if d.NextRoute == Recycler && len(s.Outlets) == 0 {
					continue // what an outlet that is not found would pay is not known
				}
				t.Fatalf("worth %v, and it is sent to %q", d.Worth.Value.Mean, n)
			}
		}
	})
	if seen == 0 {
		t.Error("no such bag came up: the check checks nothing")
	}
}

func TestMoneyRange(t *testing.T) {
	for _, c := range []struct {
		mean, low, high float64
		want            string
	}{
		{-9.63, -9.66, -9.60, "-9.6 EUR"}, {-0.01, -0.04, 0.02, "0.0 EUR"}, {22.1, 21.8, 22.4, "22 EUR"}, {8.4, -4.4, 21.7, "8.4 EUR (-4.4 to 22)"},
	} {
		if got := moneyRange(Worth{Currency: "EUR", Value: sorting.Range{Mean: c.mean, Low: c.low, High: c.high}}); got != c.want {
			t.Errorf("%v: %q, want %q", c.mean, got, c.want)
		}
	}
	if got := span(0.4, 0.4); got != "0.4" {
		t.Errorf("two ends alike: %q", got)
	}
}

// TestSheetWithoutAGranulator: pieces for a press are cut by hand where there is none, and flake is not cut again.
func TestSheetWithoutAGranulator(t *testing.T) {
	s := bench()
	s.Kit.Has = []string{"sheet press"}
	flake := fraction("PETG", 20, 0)
	flake.Prep = sorting.Flake
	for name, c := range map[string]struct {
		f    sorting.Fraction
		kit  []string
		want bool
	}{
		"press alone": {fraction("PETG", 20, 0), []string{"sheet press"}, true}, "with a granulator": {fraction("PETG", 20, 0), []string{"sheet press", "granulator"}, false},
		"flake": {flake, []string{"sheet press"}, false},
	} {
		s.Kit.Has = c.kit
		d := choose(t, c.f, s)
		if d.Route != Sheet || strings.Contains(strings.Join(d.Cautions, "\n"), "cut by hand to 5-10 mm") != c.want {
			t.Errorf("%s: %s, %q", name, d.Route, d.Cautions)
		}
	}
}

// TestWholeBinMixed: a share of all is not written as 100 %.
func TestWholeBinMixed(t *testing.T) {
	if got := Prevent(Build{Bin: 4680, Mixed: 4680}); len(got) != 1 || !strings.Contains(got[0], "not shown to be one material (all of the bin)") {
		t.Errorf("%q", got)
	}
}

// TestDryingSaysHowWarm: what is damp and may be melted is told the handbook's heat and hours for print
// scrap; what is never heated, or of unsaid origin, is told no heat by any of its rules.
func TestDryingSaysHowWarm(t *testing.T) {
	with := func(f sorting.Fraction, change func(*sorting.Fraction)) sorting.Fraction { change(&f); return f }
	wet := func(f *sorting.Fraction) { f.State = sorting.Wet }
	petg, _ := polymers.Find("PETG")
	d, ok := petg.Drying("print scrap")
	want := fmt.Sprintf("dry it at %.0f °C for %.3g h or more", d.TempC.Typical, d.Hours.Typical)
	if got := choose(t, with(fraction("PETG", 20, 0), wet), bench()); !ok || got.NextBetter[0] != want || got.Drying != want {
		t.Errorf("needs %q, dried as %q, want %q", got.NextBetter, got.Drying, want)
	}
	if got := choose(t, fraction("PETG", 1, 0), bench()); got.Drying != "" {
		t.Errorf("dry, and yet dried as %q", got.Drying)
	}
	for name, f := range map[string]sorting.Fraction{
		"PVC":     with(fraction("PVC-U", 20, 0), wet),
		"unsaid":  with(fraction("PETG", 20, 0), func(f *sorting.Fraction) { wet(f); f.OriginGiven = false }),
		"moulded": with(fraction("PETG", 20, 0), func(f *sorting.Fraction) { wet(f); f.Origin, f.Possible = sorting.Moulded, []float64{0.2, 0, 0, 0} }),
	} {
		for _, r := range choose(t, f, bench()).Rules {
			for _, a := range r.Asks {
				if strings.Contains(a.Cure, "dry it at") {
					t.Errorf("%s: %q", name, a.Cure)
				}
			}
		}
	}
}
