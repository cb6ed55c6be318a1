package bath

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brinecut/polymers/quantity"
)

func grams(x float64) quantity.Mass { return quantity.Exact(quantity.Gram(x)) }

func within(limit, x float64) quantity.Mass {
	return quantity.With(quantity.Gram(x), quantity.Gram(limit/math.Sqrt(3)))
}

// A bottle of half a litre, filled alike within 0.3 ml, on a scale right within ± 1 g or ± 0.1 g,
// with a bath of 1.250: standard uncertainty 0.0021 and 0.0011 g/cm3 (GUM, worked apart; there
// the empty weighing is left out, and temperature too).
func TestBottleUncertainty(t *testing.T) {
	for limit, want := range map[float64]float64{1: 0.0021, 0.1: 0.0011} {
		c, err := Check(Weighings{Empty: within(limit, 30), Water: within(limit, 529.1), Filled: within(limit, 654.9)}, CheckOptions{TempLimit: 1e-6})
		if err != nil || math.Abs(float64(c.Density.SD)-want) > 0.0001 {
			t.Errorf("± %g g: u = %.5f, want %.4f; %v", limit, float64(c.Density.SD), want, err)
		}
		if z := float64(c.Density.High-c.Density.Mean) / float64(c.Density.SD); math.Abs(z-1.645) > 0.001 { // 90 % of a normal
			t.Errorf("High lies %.4f deviations up", z)
		}
	}
}

// Propagation checked against finite differences of the ratio itself (GUM 5.1.3, note 2).
func TestBottlePropagation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.Float64Range(10, 300).Draw(t, "empty")
		net := rapid.Float64Range(100, 2000).Draw(t, "net")
		r := rapid.Float64Range(0.8, 1.6).Draw(t, "ratio")
		step := rapid.Float64Range(0.1, 5).Draw(t, "step")
		u := step / math.Sqrt(12)
		rho := func(e, w, f float64) float64 {
			return (f-e)/(w-e)*(waterDensity(20)/1000-airDensity) + airDensity
		}
		w, f, h := e+net, e+net*r, 1e-4
		want := math.Sqrt(math.Pow((rho(e+h, w, f)-rho(e-h, w, f))/(2*h), 2)+math.Pow((rho(e, w+h, f)-rho(e, w-h, f))/(2*h), 2)+
			math.Pow((rho(e, w, f+h)-rho(e, w, f-h))/(2*h), 2)) * u
		c, err := Check(Weighings{Empty: grams(e), Water: grams(w), Filled: grams(f)}, CheckOptions{ScaleStep: quantity.Gram(step)})
		if err != nil || math.Abs(float64(c.Doubts[0].SD)-want) > 1e-6*want+1e-9 || math.Abs(float64(c.Density.Mean)-rho(e, w, f)) > 1e-12 {
			t.Fatalf("%v, want %v; %v", c.Doubts[0].SD, want, err)
		}
	})
}

// Air buoyancy at 1.25 is -0.0003 (0.0012 g/cm3 of air).
func TestBuoyancy(t *testing.T) {
	c, err := Check(Weighings{Empty: grams(0), Water: grams(998.2067), Filled: grams(1250)}, CheckOptions{})
	if err != nil || math.Abs(float64(c.Density.Mean)-1.2497) > 0.00005 {
		t.Errorf("%.5f, want 1.2497; %v", float64(c.Density.Mean), err)
	}
}

// Relative density: 0.998207 g/cm3 at 20 °C and 0.99902 at 60 °F (Tanaka 2001: 999.017 kg/m3).
func TestRelativeDensity(t *testing.T) {
	if got := float64(FromRelative(1, Relative20)); math.Abs(got-0.998207) > 5e-7 {
		t.Errorf("20/20: %.7f", got)
	}
	if got := float64(FromRelative(1, Relative60F)); math.Abs(got-0.999017) > 5e-7 {
		t.Errorf("60/60: %.7f", got)
	}
	if got := ToRelative(FromRelative(1.2522, Relative60F), Relative60F); math.Abs(got-1.2522) > 1e-12 {
		t.Errorf("round trip: %v", got)
	}
	// Glass expands: -0.0003 at 30 °C on 1.25 (ISO 1768:1975).
	c, err := CheckHydrometer(Reading{Figure: 1.25, Scale: Density20, Temp: degrees(30)}, CheckOptions{})
	if err != nil || math.Abs(float64(c.Density.Mean)-1.2497) > 0.00005 {
		t.Errorf("at 30 °C: %.5f, want 1.2497; %v", float64(c.Density.Mean), err)
	}
	if want := 0.002 / math.Sqrt(3); math.Abs(float64(c.Density.SD)-want) > 1e-9 { // GUM 4.3.7
		t.Errorf("u = %v, want %v", c.Density.SD, want)
	}
}

func TestCheckRefused(t *testing.T) {
	for name, w := range map[string]Weighings{
		"empty":        {},
		"no water":     {Empty: grams(50), Water: grams(50), Filled: grams(600)},
		"no bath":      {Empty: grams(50), Water: grams(550), Filled: grams(40)},
		"other bottle": {Empty: grams(50), Water: grams(550), Filled: grams(1500)},
		"ice":          {Empty: grams(50), Water: grams(550), Filled: grams(650), Temp: degrees(-3)},
		"steam":        {Empty: grams(50), Water: grams(550), Filled: grams(650), Temp: degrees(130)},
		"not a number": {Empty: grams(50), Water: grams(math.NaN()), Filled: grams(650)},
	} {
		_, err := Check(w, CheckOptions{})
		var refusal *Refusal
		if !errors.As(err, &refusal) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := CheckHydrometer(Reading{Figure: 12.5}, CheckOptions{}); err == nil {
		t.Error("a hydrometer that shows 12.5 was accepted")
	}
}

// bottle makes weighings of a bath whose true density is rho at 20 °C.
func bottle(rho float64) Weighings {
	water := waterDensity(20)/1000 - airDensity
	return Weighings{Empty: grams(50), Water: grams(50 + 500*water), Filled: grams(50 + 500*(rho-airDensity))}
}

// What is added brings the bath to the target, by the mass balance of solute and water.
func TestAdditionReachesTarget(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(everything()[1:]).Draw(t, "product")
		o, err := spanOf(p, 20, 20)
		if err != nil {
			t.Fatal(err)
		}
		width := float64(o.Max - o.Min)
		from := float64(o.Min) + width*rapid.Float64Range(0.2, 0.95).Draw(t, "from")
		to := float64(o.Min) + width*rapid.Float64Range(0.2, 0.95).Draw(t, "to")
		w := bottle(from)
		w.Target, w.Product, w.Bath = density(to), p, grams(2000)
		c, err := Check(w, CheckOptions{ScaleStep: 0.001, Fill: 1e-6, TempLimit: 1e-6})
		if err != nil {
			t.Fatal(err)
		}
		if c.Add.What == "nothing" {
			if math.Abs(from-to) > 2*closeEnough {
				t.Fatalf("nothing to add from %v to %v", from, to)
			}
			return
		}
		now, err := Concentration(p.Liquid, quantity.GramPerCm3(from), 20)
		if err != nil {
			t.Fatal(err)
		}
		if c.Add.What == "start anew" {
			then, err := Concentration(p.Liquid, quantity.GramPerCm3(to), 20)
			times := float64(now/then) - 1 // of water
			if then > now {
				times = float64((then - now) / (p.Content - then)) // of product
			}
			if err != nil || c.Add.Mass != 0 || times < 1.99 {
				t.Fatalf("%v to %v takes %.2f times the bath and is called too much; %v", from, to, times, err)
			}
			return
		}
		solute, total := 2000*float64(now), 2000+float64(c.Add.Mass)
		if c.Add.What == p.Name {
			solute += float64(c.Add.Mass) * float64(p.Content)
		} else if c.Add.What != "water" {
			t.Fatalf("add %q", c.Add.What)
		}
		got, err := Density(p.Liquid, quantity.Share(solute/total), 20)
		if err != nil || c.Add.Mass <= 0 || c.Add.Mass > 4000 || math.Abs(float64(got)-to) > 2e-5 {
			t.Fatalf("%v g of %s brings %v to %v, not %v; %v", c.Add.Mass, c.Add.What, from, got, to, err)
		}
	})
}

func TestAdditionWithoutProduct(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to float64
		what     string
	}{
		{"too dense", 1.26, 1.25, "water"}, {"too thin", 1.24, 1.25, "the product it was mixed from"}, {"right", 1.2502, 1.25, "nothing"},
		{"alcohol too thin", 0.93, 0.95, "water"}, {"alcohol too dense", 0.96, 0.95, "the product it was mixed from"},
		{"across water", 1.10, 0.95, "another liquid"}, {"to water", 1.10, 0.998, "another liquid"}, {"from water", 0.9983, 1.10, "the product it was mixed from"},
		{"beyond all", 1.40, 1.80, "another liquid"},
	} {
		w := bottle(c.from)
		w.Target = density(c.to)
		got, err := Check(w, CheckOptions{})
		if err != nil || got.Add.What != c.what || (got.Add.Mass > 0) != (c.what == "water" || strings.HasPrefix(c.what, "the product")) {
			t.Errorf("%s: add %v g %q (%s); %v", c.name, got.Add.Mass, got.Add.What, got.Add.Note, err)
		}
	}
	// Additive volumes against the true mass balance of each salt, 1.15 to 1.10: never too much, and
	// at most a tenth too little.
	w := bottle(1.15)
	w.Target = density(1.10)
	blind, err := Check(w, CheckOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"table salt", "epsom salt", "sugar", "calcium chloride", "magnesium chloride", "potassium carbonate", "sodium bromide", "glycerol"} {
		w.Product = product(t, name)
		exact, err := Check(w, CheckOptions{})
		if r := blind.Add.Mass / exact.Add.Mass; err != nil || r > 1 || r < 0.9 {
			t.Errorf("%s: %.1f g of water, %.1f g when not named; %v", name, float64(exact.Add.Mass), float64(blind.Add.Mass), err)
		}
	}
}

// ISO 1183-1 method A / ASTM D792 worked through with GUM: m_A 25.43 g within ± 0.01 g a reading,
// displaced 20.02 g within ± 0.02 g, two readings each, water of 21.5 °C (0.99789 ± 0.5 K), bubble
// ± 0.02 cm3: 1.2672 g/cm3 with air buoyancy, u = 0.0013.
func TestHydrostaticWeighing(t *testing.T) {
	two := func(limit, x float64) quantity.Mass {
		return quantity.With(quantity.Gram(x), quantity.Gram(limit/math.Sqrt(3)*math.Sqrt2))
	}
	water, err := Density(Water, 0, 21.5)
	if err != nil || math.Abs(float64(water)-0.99789) > 5e-6 {
		t.Fatalf("water at 21.5 °C: %v, %v", water, err)
	}
	liquid := quantity.With(water, 0.00022*0.5/quantity.GramPerCm3(math.Sqrt(3)))
	got, err := DisplacedDensity(two(0.01, 25.43), two(0.02, 20.02), liquid)
	if err != nil || math.Abs(float64(got.Value)-1.2672) > 5e-5 || math.Abs(float64(got.SD)-0.0013) > 5e-5 {
		t.Errorf("%.5f ± %.5f, want 1.2672 ± 0.0013; %v", float64(got.Value), float64(got.SD), err)
	}
	// 127 g on a scale right within ± 0.1 g, D = 100.2 g: U (k=2) = 0.003.
	got, err = DisplacedDensity(two(0.1, 127), two(0.1, 100.2), liquid)
	if err != nil || math.Abs(2*float64(got.SD)-0.003) > 5e-4 {
		t.Errorf("U = %.4f, want 0.003; %v", 2*float64(got.SD), err)
	}
}

// The two forms agree on the density, and the slopes of PieceDensity are those of the formula.
func TestPieceDensity(t *testing.T) {
	air, in := quantity.With[quantity.Gram](25.43, 0.05), quantity.With[quantity.Gram](5.41, 0.03)
	water := quantity.With[quantity.GramPerCm3](0.99789, 0.0004)
	got, err := PieceDensity(air, in, water)
	if err != nil || math.Abs(float64(got.Value)-1.2672) > 5e-5 {
		t.Fatalf("%v, %v", got.Value, err)
	}
	rho := func(a, b, l float64) float64 { return a/(a-b)*(l-airDensity) + airDensity }
	const h = 1e-5
	da := (rho(25.43+h, 5.41, .99789) - rho(25.43-h, 5.41, .99789)) / (2 * h) * 0.05
	db := (rho(25.43, 5.41+h, .99789) - rho(25.43, 5.41-h, .99789)) / (2 * h) * 0.03
	dl := (rho(25.43, 5.41, .99789+h) - rho(25.43, 5.41, .99789-h)) / (2 * h) * 0.0004
	bubble := 1.2672 / (20.02 / 0.99789) * 0.02 / math.Sqrt(3)
	if want := math.Sqrt(da*da + db*db + dl*dl + bubble*bubble); math.Abs(float64(got.SD)-want) > 1e-6 {
		t.Errorf("u = %.6f, want %.6f", float64(got.SD), want)
	}
	for name, bad := range map[string][2]float64{"floats": {10, 10.5}, "nothing": {0, 0}, "no volume": {10, 10}, "heavier than gold": {10, 9.99}} {
		if _, err := PieceDensity(grams(bad[0]), grams(bad[1]), water); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}
