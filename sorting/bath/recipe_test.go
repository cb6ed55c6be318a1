package bath

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brinecut/polymers/quantity"
)

func density(x float64) quantity.Density     { return quantity.Exact(quantity.GramPerCm3(x)) }
func degrees(x float64) quantity.Temperature { return quantity.Exact(quantity.Celsius(x)) }

func product(t testing.TB, text string) Product {
	t.Helper()
	p, err := ReadProduct(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Mass fractions at 20 °C worked from the density sources apart from this program, to their
// printed digits.
func TestMassFractionOfTarget(t *testing.T) {
	for _, c := range []struct {
		liquid      Liquid
		target      float64
		massPercent float64
	}{
		{EpsomSalt, 1.250, 22.49}, {CalciumChloride, 1.250, 27.02}, {MagnesiumChloride, 1.250, 27.57}, {PotassiumCarbonate, 1.250, 25.68},
		{Sugar, 1.250, 53.65}, {EpsomSalt, 1.260, 23.3}, {CalciumChloride, 1.300, 31.66}, {PotassiumCarbonate, 1.400, 38.83},
		{Ethanol, 0.98, 11.33}, {Ethanol, 0.96, 26.09}, {Ethanol, 0.94, 37.57}, {Ethanol, 0.92, 47.17},
	} {
		w, err := Concentration(c.liquid, quantity.GramPerCm3(c.target), 20)
		digit := 0.0051
		if c.massPercent == 23.3 {
			digit = 0.051
		}
		if err != nil || math.Abs(100*float64(w)-c.massPercent) > digit {
			t.Errorf("%s at %g: %.3f %%, want %g; %v", c.liquid, c.target, 100*float64(w), c.massPercent, err)
		}
	}
}

// OIML R 22: strength by volume of the same ethanol baths.
func TestVolumePercent(t *testing.T) {
	for target, want := range map[float64]float64{0.98: 14.07, 0.96: 31.74, 0.94: 44.74, 0.92: 54.98} {
		w, err := Concentration(Ethanol, quantity.GramPerCm3(target), 20)
		if got := 100 * float64(VolumePercent(Ethanol, w)); err != nil || math.Abs(got-want) > 0.0051 {
			t.Errorf("%g g/cm3: %.3f %% vol, want %g; %v", target, got, want, err)
		}
		if back := massFromVolume(Ethanol, float64(VolumePercent(Ethanol, w))); math.Abs(back-float64(w)) > 1e-9 {
			t.Errorf("%g g/cm3: %g came back as %g", target, float64(w), back)
		}
	}
}

// Sensitivities at 20 °C from the same sources, worked apart: change with temperature in kg/m3/K
// and for one per cent of solute.
func TestSensitivities(t *testing.T) {
	for _, c := range []struct {
		liquid              Liquid
		w                   float64
		rho                 float64
		perKelvin, perPoint float64
	}{
		{TableSalt, .10, 1071, -0.35, 7.5}, {TableSalt, .20, 1148, -0.50, 8.0}, {TableSalt, .26, 1197, -0.58, 8.2},
		{CalciumChloride, .20, 1178, -0.38, 10.0}, {CalciumChloride, .30, 1282, -0.51, 10.8}, {CalciumChloride, .40, 1393, -0.68, 11.3},
		{EpsomSalt, .10, 1103, -0.24, 11.0}, {EpsomSalt, .20, 1219, -0.23, 12.3}, {EpsomSalt, .25, 1282, -0.19, 13.1},
		{MagnesiumChloride, .20, 1175, -0.27, 9.6}, {MagnesiumChloride, .30, 1275, -0.36, 10.2},
		{SodiumBromide, .20, 1174, -0.40, 10.2}, {SodiumBromide, .30, 1284, -0.53, 11.9}, {SodiumBromide, .40, 1414, -0.69, 14.2},
		{Sugar, .20, 1081, -0.30, 4.4}, {Sugar, .40, 1177, -0.40, 5.1}, {Sugar, .60, 1287, -0.49, 5.9},
		{Glycerol, .80, 1208, -0.61, 2.7}, {Ethanol, .40, 935, -0.74, -2.0}, {Ethanol, .60, 891, -0.83, -2.3},
	} {
		k := liquids[c.liquid]
		dt := slope(func(t float64) float64 { return k.density(c.w, t) }, 20, 0.5)
		dw := slope(func(w float64) float64 { return k.density(w, 20) }, c.w, 0.005) / 100
		if math.Abs(k.density(c.w, 20)-c.rho) > 1 || math.Abs(dt-c.perKelvin) > 0.011 || math.Abs(dw-c.perPoint) > 0.11 {
			t.Errorf("%s %g %%: %.1f kg/m3, %.3f /K, %.2f a point; want %g, %g, %g", c.liquid, 100*c.w, k.density(c.w, 20), dt, dw, c.rho, c.perKelvin, c.perPoint)
		}
	}
}

// What the strength of the product does to a bath of 1.250, worked apart: flake at 77 or 80 %
// mixed as 78.5 % gives 1.2445 or 1.2555; pellets 94 or 97 % 1.2455 or 1.2545; epsom salt half a
// point either way 1.2471 or 1.2529.
func TestStrengthMovesTheBath(t *testing.T) {
	for _, c := range []struct {
		text                   string
		low, high, thin, dense float64
	}{
		{"calcium chloride flake", .77, .80, 1.2445, 1.2555},
		{"calcium chloride pellets", .94, .97, 1.2455, 1.2545},
		{"epsom salt", .4834, .4934, 1.2471, 1.2529},
	} {
		p := product(t, c.text)
		rec, err := Mix(Request{Target: density(1.25), Product: p}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		total := float64(rec.Weigh + rec.Water)
		for content, want := range map[float64]float64{c.low: c.thin, c.high: c.dense} {
			got, err := Density(p.Liquid, quantity.Share(content*float64(rec.Weigh)/total), 20)
			if err != nil || math.Abs(float64(got)-want) > 0.00011 {
				t.Errorf("%s at %g: %.4f, want %.4f; %v", c.text, content, float64(got), want, err)
			}
		}
		if math.Abs(float64(p.Low)-c.low) > 1e-9 || math.Abs(float64(p.High)-c.high) > 1e-9 {
			t.Errorf("%s: span %g to %g, want %g to %g", c.text, float64(p.Low), float64(p.High), c.low, c.high)
		}
		// The rectangle between those ends is the first doubt of the recipe (GUM 4.3.7).
		if want := (c.dense - c.thin) / math.Sqrt(12); math.Abs(float64(rec.Doubts[0].SD)-want) > 0.0001 {
			t.Errorf("%s: doubt from strength %.5f, want %.5f", c.text, float64(rec.Doubts[0].SD), want)
		}
		if rec.Expected.Low >= rec.Target || rec.Expected.High <= rec.Target {
			t.Errorf("%s: %v does not hold the target", c.text, rec.Expected)
		}
	}
}

// The same epsom salt bath keeps 1.284 at 20 °C but only 1.242 where it may cool to 10 °C (CRC
// solubility through Laliberté).
func TestCeilingAtTheColdest(t *testing.T) {
	warm, err := Mix(Request{Target: density(1.26), Product: product(t, "epsom salt")}, Options{})
	if err != nil || !warm.Reachable || len(warm.Warnings) == 0 {
		t.Errorf("1.260 at 20 °C: %v, %d warnings, %v; 23.3 of 25.1 %% is above 90 %% of saturation", warm.Reachable, len(warm.Warnings), err)
	}
	cold, err := Mix(Request{Target: density(1.26), Product: product(t, "epsom salt"), ColdestTemp: degrees(10)}, Options{})
	if err != nil || cold.Reachable || cold.Weigh != 0 || cold.Water != 0 {
		t.Fatalf("1.260 kept at 10 °C: reachable %v, %v", cold.Reachable, err)
	}
	if got := float64(cold.Max); math.Abs(got-1.242) > 0.002 { // 1.242 is at 10 °C, the bath is used at 20 °C
		t.Errorf("ceiling %.4f, want about 1.242", got)
	}
	if len(cold.Instead) < 2 || !strings.Contains(cold.Instead[0], "never gets colder than 20 °C") {
		t.Errorf("instead: %q", cold.Instead)
	}
}

func TestOutOfReach(t *testing.T) {
	for _, c := range []struct {
		text, instead string
		target        float64
	}{
		{"table salt", "epsom salt", 1.255}, {"table salt", "ethanol", 0.95}, {"ethanol", "table salt", 1.10},
		{"glycerol 86 %", "stronger grade", 1.25}, {"water", "table salt", 1.05}, {"potassium carbonate", "no household liquid", 1.70},
	} {
		rec, err := Mix(Request{Target: density(c.target), Product: product(t, c.text)}, Options{})
		if err != nil || rec.Reachable || rec.Max == 0 || !strings.Contains(strings.Join(rec.Instead, "; "), c.instead) {
			t.Errorf("%s at %g: reachable %v, max %.3f, instead %q, %v", c.text, c.target, rec.Reachable, float64(rec.Max), rec.Instead, err)
		}
	}
}

func TestRefusals(t *testing.T) {
	epsom, ethanol, propanol := product(t, "epsom salt"), product(t, "ethanol"), product(t, "isopropanol")
	for name, r := range map[string]Request{
		"boiling over":                {Target: density(1.1), Product: epsom, Temp: degrees(140)},
		"ice":                         {Target: density(1.1), Product: epsom, Temp: degrees(-20)},
		"ice at night":                {Target: density(1.1), Product: epsom, ColdestTemp: degrees(-5)},
		"warm alcohol":                {Target: density(0.95), Product: ethanol, Temp: degrees(60)},
		"alcohol above flash":         {Target: density(0.90), Product: ethanol, Temp: degrees(30)},
		"warm isopropanol":            {Target: density(0.95), Product: propanol, Temp: degrees(40)},
		"alcohol beside a heat gun":   {Target: density(0.95), Product: ethanol, Beside: []string{"heat gun"}},
		"no product":                  {Target: density(1.1)},
		"no target":                   {Product: epsom},
		"not a number":                {Target: density(math.NaN()), Product: epsom},
		"no volume":                   {Target: density(1.1), Product: epsom, Volume: quantity.Exact(quantity.Milliliter(0))},
		"endless volume":              {Target: density(1.1), Product: epsom, Volume: quantity.Exact(quantity.Milliliter(math.Inf(1)))},
		"temperature is not a number": {Target: density(1.1), Product: epsom, Temp: degrees(math.NaN())},
	} {
		_, err := Mix(r, Options{})
		var refusal *Refusal
		if !errors.As(err, &refusal) || refusal.Instead == "" {
			t.Errorf("%s: %v, want a refusal that says what would do instead", name, err)
		}
	}
	// The flash point of 10 % vol is 49 °C: at 30 °C it may be used.
	if _, err := Mix(Request{Target: density(0.98), Product: ethanol, Temp: degrees(30)}, Options{}); err != nil {
		t.Errorf("weak ethanol at 30 °C: %v", err)
	}
}

// Published flash points of ethanol by volume.
func TestFlashPoints(t *testing.T) {
	for v, want := range map[float64]float64{.10: 49, .20: 36, .40: 26, .70: 21, .96: 17} {
		got, ok := flashPoint(Ethanol, massFromVolume(Ethanol, v+1e-12))
		if !ok || math.Abs(got-want) > 0.01 {
			t.Errorf("%g %% vol: %.2f °C (%v), want %g", 100*v, got, ok, want)
		}
	}
	rec, err := Mix(Request{Target: density(0.90), Product: product(t, "ethanol")}, Options{})
	if err != nil || !strings.Contains(rec.Cautions[0].Says, "flash point") {
		t.Errorf("0.900 at 20 °C carries no flash point: %v, %v", rec.Cautions, err)
	}
}

// Rise without heat loss, from 81.3 kJ/mol and the brine's heat capacity: 20 K at 10 %, 47 K at
// 20 %, 75 to 80 K at 30 % anhydrous calcium chloride.
func TestHeatOfSolution(t *testing.T) {
	p := product(t, "calcium chloride pellets")
	for w, want := range map[float64][2]float64{.10: {19.5, 20.5}, .20: {46.5, 47.5}, .30: {75, 80}} {
		if got := heatRise(p, w); got < want[0] || got > want[1] {
			t.Errorf("%g %%: %.1f K, want %v", 100*w, got, want)
		}
	}
	hotRec, err := Mix(Request{Target: density(1.25), Product: p}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(hotRec.Order[1].Cautions[0].Says, "never water onto solids") {
		t.Errorf("the adding step carries no heat caution: %+v", hotRec.Order[1])
	}
	if rec, err := Mix(Request{Target: density(1.2), Product: product(t, "epsom salt")}, Options{}); err != nil || rec.HeatRise >= 0 {
		t.Errorf("epsom salt: %v K, it cools while dissolving; %v", rec.HeatRise, err)
	}
}

// Terminal speeds at 1.25 g/cm3 and 20 °C of a 4 mm sphere, 10 kg/m3 from the bath, worked apart
// from the same viscosities and drag law: mm/s.
func TestWaiting(t *testing.T) {
	for l, want := range map[Liquid]float64{SodiumBromide: 18, PotassiumCarbonate: 15, CalciumChloride: 13, MagnesiumChloride: 10, EpsomSalt: 9, Sugar: 3} {
		w, err := Concentration(l, 1.25, 20)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Waiting(l, w, 20)
		if err != nil || math.Abs(got.Speed-want) > 0.6 {
			t.Errorf("%s: %.2f mm/s, want %g; %v", l, got.Speed, want, err)
		}
		if least := quantity.Second(shortWait); got.Least < least || (l == Sugar) != (got.Least >= longWait) {
			t.Errorf("%s: wait %v s", l, got.Least)
		}
	}
	// Glycerol of 96 %: 0.15 mm/s, 17 min through 150 mm.
	got, err := Waiting(Glycerol, 0.96, 20)
	if err != nil || math.Abs(got.Speed-0.15) > 0.01 || math.Abs(got.Crossing.Minutes()-17) > 1.5 {
		t.Errorf("glycerol: %.3f mm/s, %.1f min; %v", got.Speed, got.Crossing.Minutes(), err)
	}
}

// Any bath that is said to be reachable has, by its own masses, the density that was asked for;
// masses and volume agree; and nothing is negative, endless or above saturation.
func TestRecipeRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(everything()[1:]).Draw(t, "product")
		k := liquids[p.Liquid]
		temp := rapid.Float64Range(k.coldest, min(k.hottest, roomLimit)).Draw(t, "temp")
		coldest := rapid.Float64Range(0, 25).Draw(t, "coldest")
		target := rapid.Float64Range(0.75, 1.6).Draw(t, "target")
		volume := rapid.Float64Range(100, 20000).Draw(t, "volume")
		rec, err := Mix(Request{Target: density(target), Product: p, Temp: degrees(temp), ColdestTemp: degrees(coldest),
			Volume: quantity.Exact(quantity.Milliliter(volume))}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !rec.Reachable {
			if target >= float64(rec.Min) && target <= float64(rec.Max) || len(rec.Instead) == 0 {
				t.Fatalf("not reachable within %v to %v", rec.Min, rec.Max)
			}
			return
		}
		w := float64(rec.Weigh) * float64(p.Content) / float64(rec.Weigh+rec.Water)
		if math.Abs(w-float64(rec.MassFraction)) > 1e-9 || rec.Weigh < 0 || rec.Water < -1e-9 {
			t.Fatalf("%v g + %v g water is %v, not %v", rec.Weigh, rec.Water, w, rec.MassFraction)
		}
		back, err := Density(p.Liquid, quantity.Share(w), quantity.Celsius(temp))
		if err != nil || math.Abs(float64(back)-target) > 1e-6 {
			t.Fatalf("%v came back as %v, %v", target, back, err)
		}
		if made := float64(rec.Weigh+rec.Water) / target; math.Abs(made-volume) > 1e-6*volume {
			t.Fatalf("makes %v ml, want %v", made, volume)
		}
		sat, err := Solubility(p.Liquid, quantity.Celsius(min(temp, coldest)))
		if err != nil || rec.MassFraction > sat+1e-9 || rec.Saturation > 1+1e-9 {
			t.Fatalf("%v dissolved where %v is the most, %v", rec.MassFraction, sat, err)
		}
		if !(rec.Expected.SD > 0) || !finite(float64(rec.Expected.Low), float64(rec.Expected.High), float64(rec.HeatRise), rec.Wait.Speed) {
			t.Fatalf("%+v", rec.Expected)
		}
	})
}

// Density rises with concentration for what is heavier than water and falls for the alcohols, so
// that Concentration has one answer.
func TestDensityIsMonotone(t *testing.T) {
	for _, l := range Liquids()[1:] {
		k := liquids[l]
		for _, temp := range []float64{k.coldest, 20, k.hottest} {
			last := k.density(0, temp)
			for i := 1; i <= 1000; i++ {
				rho := k.density(k.limit*float64(i)/1000, temp)
				if (rho > last) == l.Flammable() {
					t.Fatalf("%s turns back at %.1f %% and %g °C", l, k.limit*float64(i)/10, temp)
				}
				last = rho
			}
		}
	}
}

// A hot bath and an alcohol away from 20 °C say so; what nobody stated comes back as an assumption.
func TestWordsBesideTheRecipe(t *testing.T) {
	warm, err := Mix(Request{Target: density(1.10), Product: product(t, "epsom salt"), Temp: degrees(60)}, Options{})
	if err != nil || len(warm.Cautions) < 2 || !strings.Contains(warm.Cautions[0].Says, "scald") || !strings.Contains(warm.Cautions[1].Says, "PLA") {
		t.Errorf("60 °C: %v, %v", warm.Cautions, err)
	}
	cool, err := Mix(Request{Target: density(0.95), Product: product(t, "isopropanol"), Temp: degrees(16)}, Options{})
	if err != nil || len(cool.Warnings) != 1 || !strings.Contains(cool.Warnings[0].Cure, "bottle") {
		t.Errorf("isopropanol at 16 °C: %v, %v", cool.Warnings, err)
	}
	keys := ""
	for _, a := range cool.Assumptions {
		keys += a.Key + ";"
		if a.Source == "" {
			t.Errorf("%s has no source", a.Says)
		}
	}
	for _, want := range []string{"scale step", "percentage", "volume", "coldest"} {
		if !strings.Contains(keys, want) {
			t.Errorf("assumptions %q lack %q", keys, want)
		}
	}
	alkali, err := Mix(Request{Target: density(1.30), Product: product(t, "potassium carbonate")}, Options{})
	if err != nil || !strings.Contains(alkali.Order[0].Do, "aluminium") {
		t.Errorf("potassium carbonate: %v, %v", alkali.Order, err)
	}
}
