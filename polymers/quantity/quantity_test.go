package quantity

import (
	"math"
	"strings"
	"testing"
)

func TestParseMass(t *testing.T) {
	for _, c := range []struct {
		text    string
		v, sd   float64
		shape   Shape
		because string
	}{
		{"6.52 kg", 6520, 0, Unstated, "plain"},
		{"6.52 kg ± 20 g", 6520, 20, Normal, "± is one standard deviation"},
		{"6.52 kg +/- 20 g (k=2)", 6520, 10, Normal, "expanded"},
		{"100 g ± 3 (limit)", 100, 3 / math.Sqrt(3), Rectangular, "± without unit is in the value's unit; GUM F.2.2.1"},
		{"450-600 g", 525, 150 / math.Sqrt(12), Rectangular, "range"},
		{"0.5-2 kg", 1250, 1500 / math.Sqrt(12), Rectangular, "range in kg"},
		{"450 g - 0.6 kg", 525, 150 / math.Sqrt(12), Rectangular, "range, two units"},
		{"about 2 kg", 2000, 200, Normal, "ten per cent"},
		{"2,4 kg", 2400, 0, Unstated, "decimal comma that cannot be a thousand"},
		{"0,712 kg", 712, 0, Unstated, "no thousand begins with a nought"},
		{"5,84 kg ± 0,020", 5840, 20, Normal, "decimal commas on both sides"},
		{"1.234.500,5 g", 1234500.5, 0, Unstated, "points between thousands, a comma before decimals"},
		{"1,234.5 g", 1234.5, 0, Unstated, "both marks: one reading only"},
		{"1 lb", 453.59237, 0, Unstated, "NIST SP 811 B.8"},
		{"8 lb 6 oz", 3798.83609875, 0, Unstated, "8 lb 6 oz is 134 oz"},
		{"2 lb 5.5 oz ± 0.5", 1063.1071171875, 14.1747615625, Normal, "± without unit is in ounces"},
		{"1 oz", 28.349523125, 0, Unstated, "NIST SP 811 B.8"},
		{"2 kg ± 5 %", 2000, 100, Normal, "relative"},
		{"0 g", 0, 0, Unstated, "nothing"},
	} {
		q, err := Parse[Gram](c.text)
		if err != nil {
			t.Errorf("%q (%s): %v", c.text, c.because, err)
			continue
		}
		if math.Abs(float64(q.Value)-c.v) > 1e-9 || math.Abs(float64(q.SD)-c.sd) > 1e-9 || q.Shape != c.shape {
			t.Errorf("%q (%s): %v ± %v %v, want %v ± %v %v", c.text, c.because, q.Value, q.SD, q.Shape, c.v, c.sd, c.shape)
		}
	}
}

func TestRefused(t *testing.T) {
	for text, part := range map[string]string{
		"6.52": "no unit", "1,234 kg": "two ways", "6 stone": "not a unit", "3 °C": "unit of temperature",
		"-2 kg": "negative", "6.52 kg ± 20": "larger than the value", "": "nothing is written", "NaN kg": "number",
		"1 234 g": "blank stands inside the number", "1/4 in": `write it with a decimal point, as "0.25 in"`, "1 1/2 lb": `as "1.5 lb"`, "3/0 g": "fraction of nothing", "4 lb 3 g": "has two values", "4 lb 16 oz": "more ounces than go into a pound", "0,712,500 g": "number", "0.712,5 g": "number",
		"1e400 g": "number", "600-450 g": "backwards", "kg": "number", "1e30 kg": "too large",
	} {
		_, err := Parse[Gram](text)
		if err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("%q: got %v, want a fault that says %q", text, err, part)
		}
	}
	if _, err := Parse[Share]("120 %"); err == nil {
		t.Error("a share of 120 % was accepted")
	}
	if _, err := Parse[Celsius]("-300 °C"); err == nil {
		t.Error("-300 °C was accepted")
	}
}

func TestOtherKinds(t *testing.T) {
	if q := MustParse[Celsius]("68 °F ± 1.8"); math.Abs(float64(q.Value)-20) > 1e-9 || math.Abs(float64(q.SD)-1) > 1e-9 {
		t.Errorf("68 °F ± 1.8 = %v ± %v", q.Value, q.SD)
	}
	if q := MustParse[GramPerCm3]("1250 kg/m3 ± 3"); math.Abs(float64(q.Value)-1.25) > 1e-12 || math.Abs(float64(q.SD)-.003) > 1e-12 {
		t.Errorf("1250 kg/m3 ± 3 = %v ± %v", q.Value, q.SD)
	}
	if q := MustParse[MoneyPerKWh]("0.32 EUR/kWh"); q.Currency != "EUR" || q.Value != .32 {
		t.Errorf("0.32 EUR/kWh = %+v", q)
	}
	if q := MustParse[MoneyPerKg]("9 USD/lb"); q.Currency != "USD" || math.Abs(float64(q.Value)-9/0.45359237) > 1e-9 {
		t.Errorf("9 USD/lb = %+v", q)
	}
	if q := MustParse[Share]("10-30 %"); math.Abs(float64(q.Low())-.1) > 1e-12 || math.Abs(float64(q.High())-.3) > 1e-12 {
		t.Errorf("10-30 %% = %v to %v", q.Low(), q.High())
	}
}

// One step of the last digit is the doubt of a reading that states none (JCGM 100:2008, 4.3.7).
func TestLastDigit(t *testing.T) {
	for text, want := range map[string]float64{"1.82 kg": 10, "1,8 kg": 100, "0,712 kg": 1, "2 kg": 1000, "0.0 kg": 100, "1,200.5 g": 0.1, "6.52 kg ± 20 g": 10,
		"1 oz": 28.349523125, "8 lb 6 oz": 28.349523125, "2 lb 5.5 oz": 2.8349523125, "1.4 lb": 45.359237} {
		if got := MustParse[Gram](text).LastDigit(); math.Abs(float64(got)-want) > 1e-9 {
			t.Errorf("%q: last digit %v g, want %v g", text, got, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"6.52 kg ± 20 g", "450-600 g", "about 2 kg", "1.250 g/cm3 ± 0.005 (limit)", "15 %", "1,234 kg"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		q, err := Parse[Gram](s)
		if err == nil && (q.Value < 0 || q.SD < 0 || math.IsNaN(float64(q.Value)) || math.IsInf(float64(q.SD), 0)) {
			t.Errorf("%q read as %v ± %v", s, q.Value, q.SD)
		}
	})
}
