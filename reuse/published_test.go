package reuse

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// handWorth is the [worth] of the break-even worked by hand.
func handWorth() sorting.Worth {
	return sorting.Worth{
		Replaces:    quantity.MustParse[quantity.MoneyPerKg]("20 EUR/kg"),
		AsGoodAs:    quantity.MustParse[quantity.Share]("50 %"),
		Yield:       quantity.MustParse[quantity.Share]("85 %"),
		Energy:      quantity.MustParse[quantity.KilowattHoursKg]("1.5 kWh/kg"),
		Electricity: quantity.MustParse[quantity.MoneyPerKWh]("0.30 EUR/kWh"),
		Consumables: quantity.MustParse[quantity.MoneyPerKg]("0.30 EUR/kg"),
		Disposal:    quantity.MustParse[quantity.MoneyPerKg]("0.20 EUR/kg"),
		Hours:       quantity.MustParse[quantity.Second]("2 h"),
		Hour:        quantity.MustParse[quantity.MoneyPerHour]("10 EUR/h"),
		Fixed:       quantity.MustParse[quantity.Money]("5 EUR"),
	}
}

func TestWorkedFigures(t *testing.T) {
	c := benchCosts(Regrind, Situation{Worth: handWorth()})
	cl, liters, _ := Chloride("table salt", 1000)
	got := map[string]float64{
		"nacl-chloride-g": float64(cl), "nacl-dilution-l": liters,
		"bracket": c.bracket(), "break-even-kg": *c.breakEven() / 1000,
		"clean-95-0": float64(moreClean(0, 0, 0.95)), "clean-95-1": float64(10 + moreClean(10, 1, 0.95)),
		"clean-95-2": float64(40 + moreClean(40, 2, 0.95)), "clean-90-0": float64(moreClean(0, 0, 0.90)),
		"clean-99-0": float64(moreClean(0, 0, 0.99)),
		"virgin-PET": virgins["PET"].high, "virgin-PS": (virgins["HIPS"].low + virgins["HIPS"].high) / 2,
		"virgin-PP": (virgins["PP"].low + virgins["PP"].high) / 2, "reprocessed": reprocessed,
	}
	want := worked(t)
	for id, g := range got {
		w, ok := want[id]
		if !ok || math.Abs(g-w[0]) > w[1]+1e-9 {
			t.Errorf("%s: %v, published %v ± %v", id, g, w[0], w[1])
		}
	}
}

// TestHardStopLimit holds the limit on hard stops against the ceiling of hydrogen chloride in air:
// 300 g charge, 30 m3, all of it released, 24.45 l/mol at 25 °C and 1 atm.
func TestHardStopLimit(t *testing.T) {
	w := worked(t)
	grams := 300 * MostHardStop * w["hcl-of-pvc"][0]
	ppm := grams / 36.46 * 24.45e-3 / 30 * 1e6
	if ppm >= w["hcl-ceiling-ppm"][0] {
		t.Errorf("%.1f ppm hydrogen chloride at the limit, ceiling %v", ppm, w["hcl-ceiling-ppm"][0])
	}
	if ppm < w["hcl-ceiling-ppm"][0]/10 {
		t.Errorf("%.2f ppm: the limit no longer has the ground its comment gives", ppm)
	}
}

func TestCompatibility(t *testing.T) {
	for _, r := range table(t, "compatibility.tsv") {
		main, ok1 := polymers.Find(polymers.Symbol(r[0]))
		other, ok2 := polymers.Find(polymers.Symbol(r[1]))
		if !ok1 || !ok2 {
			t.Errorf("%s + %s: not in the handbook", r[0], r[1])
			continue
		}
		want, _ := strconv.ParseFloat(r[2], 64)
		if got := carries(main, other); got != want {
			t.Errorf("%s carries %v of %s, published %v (%s)", r[0], got, r[1], want, r[3])
		}
	}
}

// TestCarbonByHand: 1 kg PET at exact constants, 0.85 * 0.5 * 3.4 - 0.3 * 1.5 = 0.995 kg CO2e at the
// best end and 0.85 * 0.5 * 2.2 - 0.6 * 1.5 = 0.035 kg at the worst, method.md (R4).
func TestCarbonByHand(t *testing.T) {
	w := way{route: Regrind, costs: benchCosts(Regrind, Situation{Worth: handWorth()})}
	got := w.carbon([]polymers.Symbol{"PETG"}, 1, [2]float64{0.3, 0.6})
	if got == nil || math.Abs(got.High-0.995) > 5e-4 || math.Abs(got.Low-0.035) > 5e-4 {
		t.Errorf("CO2 %+v, by hand 0.035 to 0.995 kg", got)
	}
	// handed over: 3.4 - 1.4 = 2.0 and 2.2 - 1.4 = 0.8
	over := way{route: Recycler, costs: outletCosts(outlet(), Situation{})}
	if got := over.carbon([]polymers.Symbol{"PETG"}, 1, [2]float64{0.3, 0.6}); got == nil || math.Abs(got.High-2.0) > 5e-4 || math.Abs(got.Low-0.8) > 5e-4 {
		t.Errorf("CO2 handed over %+v, by hand 0.8 to 2.0 kg", got)
	}
	if got := w.carbon([]polymers.Symbol{"TPU"}, 1, [2]float64{0.3, 0.6}); got != nil {
		t.Errorf("a CO2 figure for TPU, of which none was found: %+v", got)
	}
}

// TestHalton against the first terms as published (Halton 1960; Niederreiter 1992, section 3.1).
func TestHalton(t *testing.T) {
	for i, w := range []float64{1. / 2, 1. / 4, 3. / 4, 1. / 8, 5. / 8} {
		if g := halton(i+1, 2); g != w {
			t.Errorf("base 2, term %d: %v, want %v", i+1, g, w)
		}
	}
	for i, w := range []float64{1. / 3, 2. / 3, 1. / 9, 4. / 9, 7. / 9} {
		if g := halton(i+1, 3); math.Abs(g-w) > 1e-15 {
			t.Errorf("base 3, term %d: %v, want %v", i+1, g, w)
		}
	}
}

// ExampleChloride: 1 kg of table salt left from baths, US EPA 440/5-88-001.
func ExampleChloride() {
	cl, liters, _ := Chloride("table salt", 1000)
	fmt.Printf("%.0f g chloride, %.0f l to 230 mg/l", float64(cl), rounded(liters))
	// Output: 607 g chloride, 2640 l to 230 mg/l
}

// ExampleChoose: the break-even worked by hand, 3.14 kg, against a bag of 2 kg.
func ExampleChoose() {
	s := bench()
	s.Worth = handWorth()
	s.Kit.Has = []string{"granulator", "filament extruder"}
	d, _ := Choose(fraction("PETG", 2, 0), s, Options{})
	fmt.Println(d.Route, "-", d.Why[0].Words)
	fmt.Println(d.NextRoute, "-", d.NextBetter)
	// Output:
	// hold - not worth your evening in money: as filament -9.1 EUR (-9.5 to -8.7), it pays from 3.14 kg; kept dry, closed and labelled until there is enough of it to pay
	// regrind - [1.14 kg more before it pays]
}
