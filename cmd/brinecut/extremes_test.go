package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// repeated writes a repeated table with the keys given.
func repeated(head string, keys ...string) string {
	return "[[" + head + "]]\n" + strings.Join(keys, "\n") + "\n"
}

// everyKind tests a lot in each way with one outcome.
func everyKind(lot, outcome string) string {
	var b strings.Builder
	for i, kind := range []string{"bend", "soak", "float", "hot-water", "acetone", "hot-air", "flame", "weigh", "marked"} {
		keys := []string{fmt.Sprintf("id = %q", fmt.Sprint(lot, i)), fmt.Sprintf("lot = %q", lot), fmt.Sprintf("kind = %q", kind), fmt.Sprintf("outcome = %q", outcome)}
		switch kind {
		case "float":
			keys = append(keys, `density = "1.2 g/cm3"`)
		case "hot-water":
			keys = append(keys, `temp = "64 °C"`)
		}
		b.WriteString(repeated("test", keys...))
	}
	return b.String()
}

// extremes are valid files at the edge of what can be.
func extremes() map[string]string {
	const own, two = "origin = \"own-print\"\n", "[[lot]]\nname = \"a\"\nmass = \"500 g\"\ncould_be = [\"PLA\", \"PETG\"]\norigin = \"own-print\"\n[[lot]]\nname = \"b\"\nmass = \"300 g\"\ncould_be = [\"ABS\", \"PLA\"]\norigin = \"own-print\"\n"
	const bin = "[bin]\ngross = \"1 kg\"\ntare = \"200 g\"\n" + own
	test := func(lot, temp, outcome string) string {
		return repeated("test", fmt.Sprintf("lot = %q", lot), `kind = "hot-water"`, fmt.Sprintf("temp = %q", temp), fmt.Sprintf("outcome = %q", outcome))
	}
	var withdrawn strings.Builder
	for _, lot := range []string{"a", "b"} {
		for i := range 9 {
			withdrawn.WriteString(repeated("withdrawn", fmt.Sprintf("id = %q", fmt.Sprint(lot, i)), `why = "misread"`))
		}
	}
	return map[string]string{
		"weighings that contradict": "[bin]\ngross = \"400 g ± 1 g\"\ntare = \"200 g\"\n" + own + two + repeated("printed", `counted = "10 g ± 0.1 g"`, `material = "PLA"`),
		"tests that contradict":     bin + two + strings.Repeat(test("a", "64 °C", "soft")+test("a", "64 °C", "stiff")+test("a", "30 °C", "soft")+test("a", "99 °C", "stiff"), 3),
		"nothing in the bin":        "[bin]\ngross = \"200 g\"\ntare = \"200 g\"\n" + own,
		"lots of no mass":           strings.NewReplacer("500 g", "0 g", "300 g", "0 g").Replace(bin + two),
		"all masses nothing":        "[bin]\ngross = \"0 g\"\ntare = \"0 g\"\n" + own + strings.NewReplacer("500 g", "0 g", "300 g", "0 g").Replace(two),
		"one piece":                 "[[lot]]\nname = \"a\"\nmass = \"1 g\"\npieces = 1\n" + own + repeated("test", `lot = "a"`, "piece = 1", `kind = "bend"`, `outcome = "snaps"`, `drawn = "random"`),
		"ten thousand pieces": "[[lot]]\nname = \"a\"\nmass = \"20 kg\"\npieces = 10000\ncould_be = [\"PLA\", \"PP\"]\n" + own +
			repeated("test", `lot = "a"`, `kind = "float"`, `density = "1.0 g/cm3"`, `drawn = "random"`, "counts = { sinks = 9990, floats = 9, unclear = 1 }"),
		"all unclear":              bin + two + everyKind("a", "unclear") + everyKind("b", "unclear"),
		"everything withdrawn":     bin + two + everyKind("a", "unclear") + everyKind("b", "unclear") + withdrawn.String(),
		"everything taken":         bin + two + repeated("taken", `lot = "a"`, `mass = "500 g"`) + repeated("taken", `lot = "b"`, `mass = "300 g"`),
		"everything in empty bags": bin + two + repeated("bag", `id = "x"`, `lots = ["a", "b"]`, `gross = "20 g"`, `tare = "20 g"`),
		"a crumb and a hill":       strings.NewReplacer("500 g", "0.001 g", "300 g", "9e8 kg").Replace(two),
		"shares without end":       bin + two + repeated("printed", `counted = "0 g"`, `material = "PLA"`, `hidden = ["PETG"]`, `hidden_share = "0-100 %"`, `error = "0 %"`, `shared_error = "100 %"`),
		"worth nothing":            bin + two + "[worth]\nreplaces = \"0 EUR/kg\"\nyield = \"0 %\"\nas_good_as = \"0 %\"\nhour = \"0 EUR/h\"\nhours = \"0 h\"\n",
	}
}

var reNoNumber = regexp.MustCompile(`(?i)\bNaN\b|[+-]Inf\b|\binf\b|%!`)

// TestExtremes: at the edge of what a file can say every command still answers, in figures that can be,
// and its text and its page hold no word for what is no number.
func TestExtremes(t *testing.T) {
	for name, src := range extremes() {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "bin.toml")
			if err := os.WriteFile(path, []byte("currency = \"EUR\"\n"+src), 0o644); err != nil {
				t.Fatal(err)
			}
			answer := map[string]any{}
			for _, command := range []string{"sort", "next", "balance"} {
				got := map[string]any{}
				if err := json.Unmarshal(said(t, command, path, "--json"), &got); err != nil {
					t.Fatal(err)
				}
				figures(t, command, got)
				plain(t, command, said(t, command, path))
				if command == "sort" {
					answer = got
				}
			}
			parts(t, path, answer)
			pdf, html := path+".pdf", path+".html"
			plain(t, "label", said(t, "label", path, "--what", "lots", "-o", pdf))
			plain(t, "report", said(t, "report", path, "-o", html))
			page, err := os.ReadFile(html)
			if err != nil {
				t.Fatal(err)
			}
			plain(t, "the page", page)
		})
	}
}

// parts cuts every lot of an answer and claims every fraction of it.
func parts(t *testing.T, path string, answer map[string]any) {
	t.Helper()
	for _, what := range []struct{ list, command, flag string }{{"lots", "cut", "--lot"}, {"fractions", "claim", "--fraction"}} {
		for _, x := range answer[what.list].([]any) {
			args := []string{what.command, path, what.flag, x.(map[string]any)["name"].(string), "--json"}
			if what.command == "cut" {
				args = append(args, "--density", "1.15 g/cm3")
			}
			var out, errs bytes.Buffer
			if code := run(args, nil, &out, &errs); code != exitDone {
				if code != exitCannot || !strings.Contains(errs.String(), "hint: ") {
					t.Errorf("%v: exit code %d: %s", args, code, &errs)
				}
				continue
			}
			got := map[string]any{}
			if err := json.Unmarshal(out.Bytes(), &got); err != nil {
				t.Fatalf("%v: %v", args, err)
			}
			figures(t, what.command, got)
		}
	}
}

func plain(t *testing.T, what string, text []byte) {
	t.Helper()
	if m := reNoNumber.Find(text); m != nil {
		t.Errorf("%s says %s", what, m)
	}
}
