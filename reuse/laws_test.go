package reuse

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

var (
	symbolGen = rapid.SampledFrom([]polymers.Symbol{"PLA", "PETG", "ABS", "TPU", "PVA", "PETG-CF", "PVC-U", "PVC-P", "POM", "PTFE", "other", "XYZ", "ABS-FR(17)"})
	keyGen    = rapid.SampledFrom([]string{"PLA", "PETG", "ABS/ASA", "TPU", "PVA", "PETG-CF", "PVC-U", "POM", "", "other", "XYZ"})
)

// mostly draws the first value half of the time, so that single doubts come up and not all at once.
func mostly[T any](t *rapid.T, label string, usual T, others ...T) T {
	if rapid.Bool().Draw(t, label+" usual") {
		return usual
	}
	return append(others, usual)[rapid.IntRange(0, len(others)).Draw(t, label)]
}

// anyFraction draws a fraction without regard to sense: what advice would never hand over as well.
func anyFraction(t *rapid.T) sorting.Fraction {
	keys := append(slices.Compact(slices.Sorted(slices.Values(rapid.SliceOfN(keyGen, 1, 4).Draw(t, "keys")))), "other")
	keys = append([]string{mostly(t, "first", "PETG", "PLA", "ABS/ASA", "PVA", "PVC-U")}, keys...)
	f := sorting.Fraction{Name: "x", Material: mostly(t, "main", keys[0], keys[1:]...), Keys: keys, HardStops: stops,
		Origin:      mostly(t, "origin", sorting.OwnPrint, sorting.Moulded, sorting.UnknownOrigin, ""),
		OriginGiven: mostly(t, "given", true, false),
		State:       mostly(t, "state", sorting.Dry, sorting.SurfaceDry, sorting.Wet, ""),
		Settled:     mostly(t, "settled", true, false), Mixed: rapid.Bool().Draw(t, "mixed"),
		CouldBe:   mostly(t, "could be", nil, []polymers.Symbol{symbolGen.Draw(t, "shelf")}, []polymers.Symbol{"PETG", symbolGen.Draw(t, "shelf 2")}),
		Additives: mostly(t, "additives", nil, []string{"uv"}, []string{"uv", "flame retardant"}, []string{"no flame retardant"}, []string{"FR"}, []string{"glass fibre"})}
	if rapid.Bool().Draw(t, "symbols") && f.Material != "" {
		f.Symbols = symbolsOf(f.Material)
	}
	share := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 0.01), rapid.Float64(), rapid.Just(math.NaN()))
	f.Possible = mostly(t, "possible", make([]float64, len(stops)), rapid.SliceOfN(share, 0, len(stops)).Draw(t, "bounds"))
	mainWeight := mostly(t, "main mass", 50000, rapid.Float64Range(0, 1e5).Draw(t, "any mass"))
	for range rapid.IntRange(1, 12).Draw(t, "draws") {
		row := make([]float64, len(keys))
		for k := range row {
			row[k] = rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 100)).Draw(t, "g")
			if keys[k] == f.Material {
				row[k] += mainWeight
			}
		}
		f.Grams = append(f.Grams, row)
	}
	return f
}

func anySituation(t *rapid.T) Situation {
	s := bench()
	s.Kit.Has = mostly(t, "kit", s.Kit.Has, rapid.SliceOfN(rapid.SampledFrom(s.Kit.Has), 0, 4).Draw(t, "some kit"))
	if rapid.Bool().Draw(t, "outlet") {
		s.Outlets = []sorting.Outlet{outlet()}
	}
	s.Worth.Hours = quantity.Exact(quantity.Second(mostly(t, "hours", 7200, rapid.Float64Range(0, 1e5).Draw(t, "any hours"))))
	s.Worth.Replaces = quantity.Exact(quantity.MoneyPerKg(mostly(t, "replaces", 20, rapid.Float64Range(0, 200).Draw(t, "any price"))))
	return s
}

// barred says, apart from the code, whether a fraction must stay cold.
func barred(f sorting.Fraction) bool {
	if f.Origin != sorting.OwnPrint || !f.OriginGiven || len(f.Possible) < len(stops) {
		return true
	}
	for _, p := range f.Possible {
		if math.IsNaN(p) || p > 0.001 {
			return true
		}
	}
	never := []polymers.Symbol{"PVC-U", "PVC-P", "POM", "PTFE", "other", "XYZ", "ABS-FR(17)"}
	for _, s := range slices.Concat(f.CouldBe, f.Symbols, []polymers.Symbol{polymers.Symbol(f.Material)}) {
		if slices.Contains(never, s) {
			return true
		}
	}
	return slices.Contains(f.Additives, "flame retardant") || slices.Contains(f.Additives, "FR") || f.Material == ""
}

func TestNoHotRouteToAHardStop(t *testing.T) {
	hot := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			f := anyFraction(t)
			d, err := Choose(f, anySituation(t), Options{OthersInSheet: 1, OthersInFeed: 1, LetDown: 1, UnstableInMelt: 1})
			if err != nil {
				t.Fatal(err)
			}
			if d.Route.Hot() {
				hot++
			}
			if barred(f) && (d.Route.Hot() || d.MayBeHeated) {
				t.Fatalf("route %s, may be heated %v for %+v", d.Route, d.MayBeHeated, f)
			}
		}
	})
	t.Logf("%d hot routes among the checked", hot)
	if hot == 0 {
		t.Error("no hot route came up: the check checks nothing")
	}
}

// openWays of a fraction: none where a gate holds.
func openWays(f sorting.Fraction, s Situation) map[string]bool {
	v := look(f, s, Options{})
	out := map[string]bool{}
	if at, _ := v.gate(); at >= 0 {
		return out
	}
	for _, w := range v.ways() {
		if w.open() {
			out[string(w.route)+w.outlet] = true
		}
	}
	return out
}

func TestDoubtOpensNoWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := fraction(rapid.SampledFrom([]string{"PETG", "PLA", "ABS", "ABS/ASA"}).Draw(t, "material"), rapid.Float64Range(0.1, 60).Draw(t, "kg"), rapid.Float64Range(0, 0.06).Draw(t, "others"))
		if rapid.Bool().Draw(t, "demonstrated") {
			f.Demonstrated = &sorting.Demonstration{AtLeast: rapid.Float64Range(0.9, 1).Draw(t, "at least"), Confidence: 0.95, Tested: 80}
		}
		s := anySituation(t)
		before := openWays(f, s)
		doubt(t, &f)
		for w := range openWays(f, s) {
			if !before[w] {
				t.Fatalf("%s opened by doubt", w)
			}
		}
	})
}

// doubt makes a fraction less sure in one way.
func doubt(t *rapid.T, f *sorting.Fraction) {
	x := rapid.Float64Range(0, 1).Draw(t, "how much")
	switch rapid.IntRange(0, 7).Draw(t, "doubt") {
	case 0:
		f.OriginGiven = false
	case 1:
		f.Origin = rapid.SampledFrom([]sorting.Origin{sorting.Moulded, sorting.UnknownOrigin}).Draw(t, "from")
	case 2:
		f.Possible = []float64{x, 0, x / 2, 0}
	case 3:
		f.CouldBe = append(f.CouldBe, symbolGen.Draw(t, "could be"))
	case 4:
		f.Settled = false
	case 5:
		f.Demonstrated = nil
	case 6:
		f.State = sorting.Wet
	case 7:
		for _, row := range f.Grams {
			row[0], row[2] = row[0]*(1-x), row[2]+row[0]*x
		}
	}
}

func TestMoreMassNeverMakesKeepingWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySituation(t)
		route := rapid.SampledFrom([]Route{Regrind, Sheet, Recycler}).Draw(t, "route")
		c := benchCosts(route, s)
		if route == Recycler {
			c = outletCosts(outlet(), s)
		}
		kg := rapid.Float64Range(0.001, 50).Draw(t, "kg")
		a := c.appraise([]float64{900 * kg, 1100 * kg})
		b := c.appraise([]float64{1000 * kg, 1300 * kg})
		if a.Keep && !b.Keep {
			t.Fatalf("kept at %v kg, not with more", kg)
		}
		if c.bracket() > 0 && b.Value.Mean < a.Value.Mean {
			t.Fatalf("worth %v, with more %v", a.Value.Mean, b.Value.Mean)
		}
		for _, w := range []Worth{a, b} {
			for _, r := range []sorting.Range{w.Value, w.EnergyKWh} {
				if !(r.Low <= r.Mean && r.Mean <= r.High) || math.IsInf(r.High-r.Low, 0) {
					t.Fatalf("range %+v", r)
				}
			}
			if w.Keep != (w.Value.Mean > 0) {
				t.Fatalf("keep %v at a mean value of %v", w.Keep, w.Value.Mean)
			}
		}
		if be := a.BreakEvenG; be != nil && *be > 0 {
			if v := c.appraise([]float64{*be}).Value.Mean; math.Abs(v) > 1e-6*(1+c.once()) {
				t.Fatalf("worth %v at the break-even of %v g", v, *be)
			}
		}
	})
}

// TestRangeHolds90: with one normal constant alone in doubt, value is normal, and the range is its mean
// plus and minus 1.645 standard deviations (NIST/SEMATECH e-Handbook, 1.3.6.7.1).
func TestRangeHolds90(t *testing.T) {
	s := Situation{Worth: handWorth()}
	s.Worth.Replaces = quantity.With(quantity.MoneyPerKg(20), 2)
	w := benchCosts(Regrind, s).appraise([]float64{10000})
	half := 1.645 * 10 * 0.5 * 0.85 * 2
	if math.Abs(w.Value.High-w.Value.Mean-half) > 0.02*half || math.Abs(w.Value.Mean-w.Value.Low-half) > 0.02*half {
		t.Errorf("range %+v, want half width %.2f", w.Value, half)
	}
}

// TestMoreOfTheSameIsNeverHeldWorse: of two bags alike but for their mass the heavier is never judged less worth
// keeping, whatever way each takes.
func TestMoreOfTheSameIsNeverHeldWorse(t *testing.T) {
	kept := 0
	rapid.Check(t, func(t *rapid.T) {
		f, s := anyFraction(t), anySituation(t)
		more := f
		more.Grams = nil
		by := rapid.Float64Range(1, 20).Draw(t, "times as much")
		for _, row := range f.Grams {
			var g []float64
			for _, x := range row {
				g = append(g, by*x)
			}
			more.Grams = append(more.Grams, g)
		}
		a, err := Choose(f, s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		b, err := Choose(more, s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if a.Worth.Keep {
			kept++
		}
		if a.Worth.Keep && !b.Worth.Keep {
			t.Fatalf("%s is worth %v, %v times as much goes to %s and is worth %v", a.Route, a.Worth.Value, by, b.Route, b.Worth.Value)
		}
	})
	if kept == 0 {
		t.Error("nothing was worth keeping: the check checks nothing")
	}
}
