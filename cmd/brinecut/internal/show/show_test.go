package show

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"brinecut/sorting"
)

func TestFigures(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{mass(0), "0 g"}, {mass(3.14), "3.1 g"}, {mass(12.34), "12.3 g"}, {mass(620), "620 g"}, {mass(999.4), "999 g"},
		{mass(999.6), "1.00 kg"}, {mass(2717), "2.72 kg"}, {mass(11300), "11.3 kg"}, {mass(-9140), "-9.14 kg"},
		{massSpan(2680, 2760), "2.68 to 2.76 kg"}, {massSpan(0, 31), "0 to 31.0 g"}, {massSpan(15, 2640), "0.015 to 2.64 kg"},
		{percent(0.974), "97 %"}, {percent(0.046), "4.6 %"}, {percent(0.0003), "<0.1 %"}, {percent(0.996), "99.6 %"}, {percent(1), "100 %"}, {percent(0), "0 %"},
		{percent(0.9996), ">99.9 %"}, {percent(0.9994), "99.9 %"}, {percent(1 - 1e-12), "100 %"}, {percent(1e-12), "0 %"},
		{percentSpan(sorting.Range{Low: 0.2168, High: 0.2232}), "22 %"}, {percentSpan(sorting.Range{Low: 0.0002, High: 0.9999}), "<0.1 to >99.9 %"},
		{percentWith(sorting.Range{Mean: 0.22, Low: 0.2168, High: 0.2232}), "22 %"}, {percentWith(sorting.Range{Mean: 0.22, Low: 0.1, High: 0.3}), "22 % (10 to 30 %)"},
		{percentSpan(sorting.Range{Low: 0.91, High: 0.99}), "91 to 99 %"},
		{digits(9.996, 3), "10.0"}, {digits(0.04567, 3), "0.0457"}, {digits(123456, 3), "123000"}, {digits(math.NaN(), 3), "0"},
		{money(8.4, "EUR"), "8.40 EUR"}, {money(1234, ""), "1234"}, {minutes(0.3), "20 s"}, {minutes(35), "35 min"}, {minutes(150), "2.5 h"},
		{list([]string{"a", "b", "c"}), "a, b and c"}, {cropped("a long name", 6), "a lon…"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// Nothing of a bin file reaches a terminal with an escape, a control character or a mark that turns the
// reading direction.
func TestCleanLeavesNothingThatActs(t *testing.T) {
	if got := Clean("red\x1b[31m\nPETG\u202e\u200b"); got != "red�[31m PETG��" {
		t.Errorf("%q", got)
	}
}

// A word of a command line is in quotes where a shell would take it apart.
func TestWord(t *testing.T) {
	for in, want := range map[string]string{"white": "white", "white gloss": "'white gloss'", "it's": `'it'\''s'`, "$(rm)": "'$(rm)'", "": "''", "bins/a.toml": "bins/a.toml"} {
		if got := word(in); got != want {
			t.Errorf("%q becomes %s, want %s", in, got, want)
		}
	}
}

func TestPageKeepsToItsWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var out strings.Builder
		p := NewPage(&out, Metric)
		p.Section("a heading")
		words := rapid.SliceOf(rapid.StringMatching(`[a-zäß]{1,30}`)).Draw(t, "words")
		p.Item("-", strings.Join(words, " "))
		p.Under(3, strings.Join(words, " "))
		for line := range strings.Lines(out.String()) {
			if n := utf8.RuneCountInString(line) - 1; n > width {
				t.Fatalf("%d columns: %q", n, line)
			}
		}
		for _, w := range words {
			if strings.Count(out.String(), w) < 2 {
				t.Fatalf("%q is lost", w)
			}
		}
	})
}

// Shares on the wire sum to one to the sixth decimal, whatever rounding does.
func TestSharesSumToOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfN(rapid.Float64Range(0, 1), 1, 40).Draw(t, "x")
		total := 0.0
		for _, v := range x {
			total += v
		}
		if total == 0 {
			t.Skip("nothing to share")
		}
		for i := range x {
			x[i] /= total
		}
		micro := 0
		for i, s := range shares(x) {
			if s < 0 || math.Abs(float64(s)-x[i]) > 5e-5 {
				t.Fatalf("%v became %v", x[i], s)
			}
			micro += int(math.Round(float64(s) * 1e6))
		}
		if micro != 1000000 {
			t.Fatalf("sum %d millionths", micro)
		}
	})
}

// No figure on the wire is a NaN or an infinity, and members keep their order.
func TestNumbersAndObjects(t *testing.T) {
	var out strings.Builder
	v := object{{"b", number(math.NaN())}, {"a", number(math.Inf(-1))}, {">c<", number(1.0 / 3)}, {"d", number(math.Copysign(0, -1))}, {"e", number(1e-320)}}
	if err := JSON(&out, v); err != nil {
		t.Fatal(err)
	}
	want := "{\n  \"b\": null,\n  \"a\": null,\n  \">c<\": 0.33333333,\n  \"d\": 0,\n  \"e\": 1e-320\n}\n"
	got := strings.ReplaceAll(out.String(), `\u003e`, ">")
	if got = strings.ReplaceAll(got, `\u003c`, "<"); got != want {
		t.Errorf("%s", got)
	}
	if err := json.Unmarshal([]byte(out.String()), &map[string]any{}); err != nil {
		t.Error(err)
	}
}

func TestPropertyNames(t *testing.T) {
	for key, want := range map[string][2]string{"density_g_cm3": {"density", " g/cm3"}, "glass_transition_c": {"glass transition", " °C"},
		"dry print scrap hours": {"dry print scrap for", " h"}, "shrinkage_percent": {"shrinkage", " %"}} {
		if name, unit := property(key); name != want[0] || unit != want[1] {
			t.Errorf("%s: %q %q", key, name, unit)
		}
	}
}
