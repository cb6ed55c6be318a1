package reuse

import (
	"slices"
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/sorting"
)

// askedOf finds what a rule of a route asks, by how its words begin.
func askedOf(t *testing.T, d Decision, r Route, outlet, asks string) Asked {
	t.Helper()
	for _, rule := range d.Rules {
		for _, a := range rule.Asks {
			if rule.Route == r && rule.Outlet == outlet && strings.HasPrefix(a.Asks, asks) {
				return a
			}
		}
	}
	t.Fatalf("no rule of %s %s asks %q: %+v", r, outlet, asks, d.Rules)
	return Asked{}
}

// TestEachRuleByItself: a bag that fails one condition is told of that one, also where another rule would
// bar it as well. The rules are those of HSE PPS 13 (2002), INRS and common practice, as each names.
func TestEachRuleByItself(t *testing.T) {
	s := bench()
	s.Outlets = []sorting.Outlet{outlet()}
	for name, c := range map[string]struct {
		material string
		spoil    func(f *sorting.Fraction)
		route    Route
		outlet   string
		asks, by string
	}{
		"soluble":                 {"PVA", nil, Sheet, "", "not a soluble support", "never pressed or ground"},
		"no window":               {"POM", nil, Sheet, "", "a melt window", "no melt window is known"},
		"dryness not said":        {"PETG", func(f *sorting.Fraction) { f.State = "" }, Sheet, "", "dry", "is not said"},
		"wet":                     {"PETG", func(f *sorting.Fraction) { f.State = sorting.Wet }, Sheet, "", "dry", "it is wet"},
		"filled":                  {"PETG", func(f *sorting.Fraction) { f.Additives = []string{"carbon fibre"} }, Regrind, "", "no fibre", "filled"},
		"outlet, origin not said": {"PETG", func(f *sorting.Fraction) { f.OriginGiven = false }, Recycler, "depot", "next to no possible hard stop", "where it comes from"},
		"outlet, PVC possible":    {"PETG", func(f *sorting.Fraction) { f.Possible = []float64{0.0011, 0, 0, 0} }, Recycler, "depot", "next to no possible hard stop", "PVC-U"},
		"outlet, POM possible":    {"PETG", func(f *sorting.Fraction) { f.Possible = []float64{0, 0, 0.0011, 0} }, Recycler, "depot", "next to no possible hard stop", "POM"},
	} {
		f := fraction(c.material, 20, 0)
		if c.spoil != nil {
			if a := askedOf(t, choose(t, f, s), c.route, c.outlet, c.asks); !a.Met {
				t.Errorf("%s: %q is not met before: %s", name, c.asks, a.By)
			}
			c.spoil(&f)
		}
		if a := askedOf(t, choose(t, f, s), c.route, c.outlet, c.asks); a.Met || !strings.Contains(a.By, c.by) || a.Source == "" {
			t.Errorf("%s: %+v, want it to lack %q", name, a, c.by)
		}
	}
}

// TestEveryRuleIsTold: for every material and a few ways to spoil it exactly one rule is taken, it is the
// route, and every other says what it lost by.
func TestEveryRuleIsTold(t *testing.T) {
	s := bench()
	s.Outlets = []sorting.Outlet{outlet()}
	for _, m := range polymers.All() {
		for name, spoil := range map[string]func(f *sorting.Fraction){
			"good": func(*sorting.Fraction) {}, "wet": func(f *sorting.Fraction) { f.State = sorting.Wet },
			"moulded":     func(f *sorting.Fraction) { f.Origin = sorting.Moulded },
			"not settled": func(f *sorting.Fraction) { f.Settled = false },
		} {
			f := fraction(string(m.Symbol), 20, 0.01)
			spoil(&f)
			d, taken := choose(t, f, s), 0
			for _, r := range d.Rules {
				if r.Taken != (r.By == "") {
					t.Errorf("%s, %s: rule %s taken %v, lost by %q", m.Symbol, name, r.Route, r.Taken, r.By)
				}
				if r.Taken {
					taken++
					if r.Route != d.Route || r.Outlet != d.Outlet {
						t.Errorf("%s, %s: %s is taken and the bag goes to %s", m.Symbol, name, r.Route, d.Route)
					}
				}
				for _, a := range r.Asks {
					if a.Asks == "" || a.Source == "" || !a.Met && a.By == "" && !r.Taken {
						t.Errorf("%s, %s: %s asks %+v", m.Symbol, name, r.Route, a)
					}
				}
			}
			if taken != 1 {
				t.Errorf("%s, %s: %d rules taken", m.Symbol, name, taken)
			}
		}
	}
	d := choose(t, fraction("POM", 2, 0), s)
	if a := askedOf(t, d, Disposal, "", "another plastic that is never heated"); !a.Met {
		t.Errorf("POM does not go by its own rule: %+v", d.Rules)
	}
}

// TestTogether: PVC with acetal is told as the worst of pairs (a resin maker's molding guide for POM, safety,
// section 2.1), beside the bar of each; either alone is not.
func TestTogether(t *testing.T) {
	for _, c := range []struct {
		possible []float64
		want     bool
	}{{[]float64{0.01, 0, 0.01, 0}, true}, {[]float64{0.01, 0, 0, 0}, false}, {[]float64{0, 0, 0.01, 0}, false}} {
		f := fraction("PETG", 20, 0)
		f.Possible = c.possible
		if got := strings.Contains(strings.Join(choose(t, f, bench()).WhyNot, "\n"), "PVC and POM may both be in it"); got != c.want {
			t.Errorf("%v: told %v", c.possible, got)
		}
	}
}

// TestGradeNames: a flame-retarded grade (the FR of ISO 1043-4) and a fluoropolymer bar by their names alone, in the
// handbook or not.
func TestGradeNames(t *testing.T) {
	for name, want := range map[polymers.Symbol]bool{"PC+ABS-FR(40)": false, "ABS-FR(17)": false, "FR": false, "PTFE": false, "PVDF": false, "ETFE": false, "PFA": false, "PETG": true, "PLA": true} {
		for _, in := range []HeatInput{{Materials: []polymers.Symbol{name}}, {Materials: []polymers.Symbol{"PETG"}, CouldBe: []polymers.Symbol{name}}} {
			in.Origin, in.OriginGiven, in.Possible = sorting.OwnPrint, true, map[polymers.Symbol]float64{"PVC-U": 0}
			if got := MayHeat(in).May; got != want {
				t.Errorf("%s: may be heated %v", name, got)
			}
		}
	}
}

// TestMeltBars: each thing that no press takes, alone, on a bag that would else be pressed.
func TestMeltBars(t *testing.T) {
	for asks, spoil := range map[string]func(f *sorting.Fraction){
		"":                   func(*sorting.Fraction) {},
		"one named material": func(f *sorting.Fraction) { f.Material, f.Symbols = "", nil },
		"a melt window":      func(f *sorting.Fraction) { f.Material, f.Symbols, f.Keys[0] = "POM", nil, "POM" },
		"not a soluble support": func(f *sorting.Fraction) {
			f.Material, f.Symbols, f.Keys[0] = "PVA", nil, "PVA"
		},
		"no fibre or filler": func(f *sorting.Fraction) { f.Additives = []string{"carbon fibre"} },
		"few enough other polymers": func(f *sorting.Fraction) {
			for _, g := range f.Grams {
				g[0], g[1] = 0.9*g[0], 0.1*g[0]
			}
		},
	} {
		f := fraction("PETG", 20, 0)
		spoil(&f)
		bars, err := Unpressable(f, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if asks == "" && len(bars) > 0 || asks != "" && !slices.ContainsFunc(bars, func(a Asked) bool { return a.Asks == asks }) {
			t.Errorf("%q does not bar: %+v", asks, bars)
		}
	}
	if _, err := Unpressable(sorting.Fraction{}, Options{}); err == nil {
		t.Error("a fraction without draws is judged")
	}
}

// TestOutletGetsNoHardStop: what may hold more PVC than 0.1 % goes to no recycler, whatever was demonstrated (0.1 %
// already harms PET: van Velzen et al., as reported 2022).
func TestOutletGetsNoHardStop(t *testing.T) {
	for possible, want := range map[float64]Route{0.0009: Recycler, 0.0011: Disposal} {
		f := fraction("PETG", 2, 0)
		f.Possible[0] = possible
		f.Demonstrated = &sorting.Demonstration{AtLeast: 0.96, Confidence: 0.95, Tested: 80}
		if d := choose(t, f, Situation{Outlets: []sorting.Outlet{outlet()}}); d.Route != want {
			t.Errorf("up to %v of PVC-U: %s, want %s", possible, d.Route, want)
		}
	}
}

// TestGatesHold: each gate, alone, is the rule that is taken, in the order of docs/method.md, Reuse.
func TestGatesHold(t *testing.T) {
	for i, spoil := range []func(f *sorting.Fraction){
		func(f *sorting.Fraction) { f.Additives = []string{"flame retardant"} },
		func(f *sorting.Fraction) { f.CouldBe = []polymers.Symbol{"PVC-U"} },
		func(f *sorting.Fraction) { f.Origin, f.Possible[0] = sorting.Moulded, 0.2 },
		func(f *sorting.Fraction) { f.CouldBe = []polymers.Symbol{"POM"} },
		func(f *sorting.Fraction) { f.Material, f.Symbols, f.Keys[0] = "PVA", nil, "PVA" },
		func(f *sorting.Fraction) { f.Material, f.Symbols, f.Mixed = "", nil, true },
	} {
		f := fraction("PETG", 2, 0)
		spoil(&f)
		d := choose(t, f, Situation{Outlets: []sorting.Outlet{outlet()}})
		if at := slices.IndexFunc(d.Rules, func(r Rule) bool { return r.Taken }); at != i {
			t.Errorf("gate %d: rule %d is taken, %s", i, at, d.Route)
		}
	}
}
