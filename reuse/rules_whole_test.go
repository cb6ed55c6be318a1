package reuse

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brinecut/polymers"
	"brinecut/sorting"
)

// TestRulesAreWhole: whatever the fraction, one rule at most is taken and it is the route; every other says what
// it lost by, every condition has a source, and what is not met says by what.
func TestRulesAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, err := Choose(anyFraction(t), anySituation(t), Options{})
		if err != nil {
			t.Fatal(err)
		}
		taken := 0
		for _, r := range d.Rules {
			if r.Taken {
				taken++
				if r.Route != d.Route || r.Outlet != d.Outlet || r.By != "" {
					t.Fatalf("taken %+v, and the route is %s", r, d.Route)
				}
			} else if r.By == "" {
				t.Fatalf("%s %s was not taken and does not say why", r.Route, r.Outlet)
			}
			for _, a := range r.Asks {
				if a.Asks == "" || a.Source == "" || !a.Met && a.By == "" || r.Taken && !a.Met {
					t.Fatalf("%s: condition %+v", r.Route, a)
				}
			}
		}
		if taken != 1 {
			t.Fatalf("%d rules are taken: %s, %+v", taken, d.Route, d.Rules)
		}
	})
}

// TestMeltingWindows: PETG (worked from 220 °C) stays hard lumps at the heat of PLA (210 °C), and PLA melts in
// PETG; PLA breaks down at the heat of PC (common practice, the windows are the handbook's).
func TestMeltingWindows(t *testing.T) {
	for _, c := range []struct {
		main, other polymers.Symbol
		says        string
	}{
		{"PLA", "PETG", "PETG, which stays solid"}, {"PETG", "PC", "PC, which stays solid"}, {"PETG", "PEEK", "PEEK, which stays solid"},
		{"PLA", "PA6", "PA6, which stays solid"}, {"PC", "PLA", "PLA, which breaks down"}, {"PETG", "PVA", "PVA, which breaks down"}, {"PETG", "ABS", ""}, {"ABS", "PC", ""},
	} {
		f := fraction(string(c.main), 20, 0.03)
		f.Keys[1] = string(c.other)
		bars, err := Unpressable(f, Options{})
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, b := range bars {
			if strings.Contains(b.Asks, "melt heat") {
				said += b.By
			}
		}
		if c.says == "" && said != "" || !strings.Contains(said, c.says) {
			t.Errorf("3 %% %s in %s: %q, want %q", c.other, c.main, said, c.says)
		}
		f = fraction(string(c.main), 20, 0.015) // below 2 % both are let through
		f.Keys[1] = string(c.other)
		if bars, _ := Unpressable(f, Options{}); slices.ContainsFunc(bars, func(a Asked) bool { return strings.Contains(a.Asks, "melt heat") }) {
			t.Errorf("1.5 %% %s in %s bars: %+v", c.other, c.main, bars)
		}
	}
}

// TestPVCWithPOM: each bars by itself; where both may be there it is told that together they are worse (a resin
// maker's molding guide for POM, section 2.1).
func TestPVCWithPOM(t *testing.T) {
	for name, c := range map[string]struct {
		possible []float64 // PVC-U, PVC-P, POM, PTFE
		couldBe  []polymers.Symbol
		want     bool
	}{
		"both by their bounds": {[]float64{0.002, 0, 0.002, 0}, nil, true},
		"one named":            {[]float64{0, 0.002, 0, 0}, []polymers.Symbol{"POM"}, true},
		"PVC alone":            {[]float64{0.2, 0, 0, 0}, nil, false},
		"POM alone":            {[]float64{0, 0, 0.2, 0}, nil, false},
	} {
		f := fraction("PETG", 20, 0)
		f.Possible, f.CouldBe = c.possible, c.couldBe
		h := MayHeat(heatOf(f, sharesOf(f)))
		if said := slices.ContainsFunc(h.WhyNot, func(r Reason) bool { return strings.Contains(r.Words, "PVC and POM may both") }); h.May || said != c.want {
			t.Errorf("%s: may %v, said %v: %+v", name, h.May, said, h.WhyNot)
		}
	}
}

// TestConstantsOnce: however many ways and fractions lean on a [worth] constant, it is stated in the same words.
func TestConstantsOnce(t *testing.T) {
	said := map[string]string{}
	for _, s := range []Situation{bench(), {Outlets: []sorting.Outlet{outlet()}}, {Kit: sorting.Kit{Given: true, Has: []string{"sheet press"}}}} {
		for _, m := range []string{"PETG", "PLA", "TPU"} {
			for _, a := range choose(t, fraction(m, 20, 0), s).Assumptions {
				if !strings.HasPrefix(a.Key, "[worth]") {
					continue
				}
				if was := said[a.Key]; was != "" && was != a.Says {
					t.Errorf("%s is stated as %q and as %q", a.Key, was, a.Says)
				}
				said[a.Key] = a.Says
			}
		}
	}
	if want := "hours: 2 h (1 to 3) at the bench, 0.5 h (0.25 to 0.75) to hand it over"; said["[worth] hours"] != want {
		t.Errorf("%q, want %q", said["[worth] hours"], want)
	}
}
