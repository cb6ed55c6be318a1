package show

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// 1 lb = 453.592 37 g, 1 oz = 28.349 52 g, t/°F = 1.8 t/°C + 32 (NIST Special Publication 811, 2008,
// appendix B.8 and B.9). Figures keep what they say: no coarser than they stood.
func TestUSUnits(t *testing.T) {
	for in, want := range map[string]string{
		"453.6 g of it":               "1.0000 lb of it",
		"28.35 g":                     "1.0000 oz",
		"5.08 kg":                     "11.20 lb",
		"81 (75 to 88) °C  page [2]":  "178 °F (167 to 190 °F)  page [2]",
		"1.27 (1.2 to 1.3) g/cm3":     "1.27 (1.2 to 1.3) g/cm3",
		"1 kg":                        "2.2 lb",
		"2.94 to 2.95 kg":             "6.48 to 6.50 lb",
		"0 to 31.0 g":                 "0 to 1.093 oz",
		"water of 100 °C":             "water of 212 °F",
		"at -40 °C":                   "at -40 °F",
		"4-12 h at 40-45 °C.":         "4-12 h at 104-113 °F.",
		"1.250 g/cm3":                 "1.250 g/cm3",
		"0.20 EUR/kg":                 "0.20 EUR/kg",
		"2.2 to 3.4 kg CO2e/kg":       "2.2 to 3.4 kg CO2e/kg",
		"at 21.111 °C":                "at 70 °F",
		"right within 1.0 °C":         "right within 1.8 °F",
		"20 °C ± 2 °C":                "68 °F ± 4 °F",
		"(± 610 g)":                   "(± 1.345 lb)",
		`of "box 2 kg" 1.00 kg`:       `of "box 2 kg" 2.20 lb`,
		"3 grades, 12 gauge, 5 kg/m3": "3 grades, 12 gauge, 5 kg/m3",
	} {
		if got := US.In(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
		if got := Metric.In(in); got != in {
			t.Errorf("metric text %q becomes %q", in, got)
		}
	}
}

// Paper says both: a receiver weighs in kilograms, whatever the sender does. 1 lb = 453.592 37 g (as above).
func TestUnitsBesideMetric(t *testing.T) {
	for in, want := range map[string]string{
		"1.45 kg net, weighed":             "1.45 kg (3.20 lb) net, weighed",
		"dried at 65 °C, 450-600 g":        "dried at 65 °C (149 °F), 450-600 g (0.992-1.323 lb)",
		"2.94 to 2.95 kg":                  "2.94 to 2.95 kg (6.48 to 6.50 lb)",
		"3.2 lb":                           "3.2 lb",
		"in a bath of 1.250 g/cm3, 2 bags": "in a bath of 1.250 g/cm3, 2 bags",
	} {
		got := US.Beside(in)
		if got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
		if again := US.In(got); again != want {
			t.Errorf("what stands in both units, %q, becomes %q", got, again)
		}
		if got := Metric.Beside(in); got != in {
			t.Errorf("metric text %q becomes %q", in, got)
		}
	}
}

// A name is its owner's, in a table, in prose and where it is cut.
func TestNamesKeepTheirUnits(t *testing.T) {
	var out strings.Builder
	p := NewPage(&out, US)
	p.Keep("white 3 kg spool", "3 kg", "plain")
	p.Table("lrr", [][]string{{"white 3 kg spool", "1.00 kg", "0.5 to 3.0 kg"}, {"white 3 kg sp…", "1 kg", "13 kg"}})
	p.Text("bag of white 3 kg spool (1.00 kg)", 0)
	if s := out.String(); strings.Count(s, "3 kg sp") != 3 || strings.Count(s, "2.20 lb") != 2 || !strings.Contains(s, "1.1 to 6.6 lb") || strings.Contains(s, "13 kg") {
		t.Errorf("names or measures are wrong:\n%s", s)
	}
}

// A table keeps to the width; words give way, figures never.
func TestTableKeepsToItsWidth(t *testing.T) {
	var out strings.Builder
	p := NewPage(&out, Metric)
	long := strings.Repeat("very long name ", 6)
	p.Table("lrl", [][]string{{long, "2.94 to 2.95 kg", long}, {"a", "1.00 kg", "b"}})
	p.Text(strings.Repeat("x", 250), 2)
	for line := range strings.Lines(out.String()) {
		if n := utf8.RuneCountInString(line) - 1; n > width {
			t.Errorf("%d columns: %q", n, line)
		}
	}
	if !strings.Contains(out.String(), "2.94 to 2.95 kg") || strings.Count(out.String(), "x") != 250 {
		t.Errorf("something is lost:\n%s", &out)
	}
}
