package main

import (
	"bytes"
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// goodBins are the demonstration bins that are read.
func goodBins(t *testing.T) []string {
	t.Helper()
	all, err := filepath.Glob("../../testdata/bins/*.toml")
	if err != nil || len(all) < 7 {
		t.Fatalf("bins %v, error %v", all, err)
	}
	return slices.DeleteFunc(all, func(p string) bool { return strings.HasPrefix(filepath.Base(p), "refused") })
}

// wire runs a command with --json and decodes what it writes.
func wire(t *testing.T, args ...string) map[string]any {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(append(args, "--json"), strings.NewReader(""), &out, &errs); code != exitDone {
		t.Fatalf("%v: exit code %d, %s", args, code, &errs)
	}
	got := map[string]any{}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	return got
}

// has holds an object to the keys that other programs rely on.
func has(t *testing.T, what string, o any, keys string) {
	t.Helper()
	m, ok := o.(map[string]any)
	if !ok {
		t.Errorf("%s is no object: %v", what, o)
		return
	}
	for key := range strings.FieldsSeq(keys) {
		if _, ok := m[key]; !ok {
			t.Errorf("%s has no key %q", what, key)
		}
	}
}

func at(t *testing.T, o any, path ...any) any {
	t.Helper()
	for _, p := range path {
		switch k := p.(type) {
		case string:
			o = o.(map[string]any)[k]
		case int:
			o = o.([]any)[k]
		}
	}
	return o
}

func TestSortJSON(t *testing.T) {
	for _, bin := range goodBins(t) {
		t.Run(filepath.Base(bin), func(t *testing.T) {
			got := wire(t, "sort", bin)
			has(t, "sort", got, "title composition lots steps fractions residues prevention assumptions")
			total := checkComposition(t, got["composition"].(map[string]any))
			sum := 0.0
			for _, l := range got["lots"].([]any) {
				sum += checkLot(t, l)
			}
			if math.Abs(sum-total) > 0.01*total+1 {
				t.Errorf("lots hold %v g, the composition %v g", sum, total)
			}
			checkFractions(t, got["fractions"].([]any))
			for _, s := range got["steps"].([]any) {
				has(t, "step", s, "n do lot minutes cautions")
			}
			for _, r := range got["residues"].([]any) {
				has(t, "residue", r, "what route cautions")
			}
		})
	}
}

func checkComposition(t *testing.T, c map[string]any) (total float64) {
	if _, ok := c["other"]; !ok {
		t.Error("the composition has no other")
	}
	for key, v := range c {
		ordered(t, key, v, "low_g", "mean_g", "high_g")
		total += v.(map[string]any)["mean_g"].(float64)
	}
	return total
}

// ordered holds a range to its mean, and both to zero or above.
func ordered(t *testing.T, what string, v any, keys ...string) {
	t.Helper()
	m := v.(map[string]any)
	last := 0.0
	for _, k := range keys {
		x, ok := m[k].(float64)
		if !ok || x < last-1e-9 {
			t.Errorf("%s: %s is %v, below %v", what, k, m[k], last)
		}
		last = x
	}
}

func checkLot(t *testing.T, l any) float64 {
	has(t, "lot", l, "name mass_g materials not_told_apart may_be_heated why_not settled")
	m := l.(map[string]any)
	sum := 0.0
	for key, v := range m["materials"].(map[string]any) {
		x := v.(float64)
		if x < 0 || x > 1 {
			t.Errorf("%v: share of %s is %v", m["name"], key, x)
		}
		sum += x
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("%v: shares sum to %v", m["name"], sum)
	}
	if m["may_be_heated"] == false && len(m["why_not"].([]any)) == 0 {
		t.Errorf("%v may not be heated and nothing says why", m["name"])
	}
	return m["mass_g"].(float64)
}

func checkFractions(t *testing.T, list []any) {
	routes := []string{"regrind", "sheet", "recycler", "hold", "disposal", "special-waste"}
	last := math.Inf(1)
	for _, f := range list {
		has(t, "fraction", f, "name material lots mass purity demonstrated marking route outlet why cautions worth")
		has(t, "worth", at(t, f, "worth"), "keep value break_even_g")
		ordered(t, "mass", at(t, f, "mass"), "low_g", "mean_g", "high_g")
		ordered(t, "purity", at(t, f, "purity"), "low", "mean", "high")
		if x := at(t, f, "mass", "mean_g").(float64); x > last {
			t.Errorf("a fraction of %v g behind one of %v g", x, last)
		} else {
			last = x
		}
		route := at(t, f, "route").(string)
		if !slices.Contains(routes, route) {
			t.Errorf("route %q", route)
		}
		if hot := route == "regrind" || route == "sheet"; hot && at(t, f, "may_be_heated") != true {
			t.Errorf("%v goes to %s and must not be heated", at(t, f, "name"), route)
		}
		if route == "disposal" && at(t, f, "worth", "keep") != false {
			t.Errorf("%v is thrown out and kept", at(t, f, "name"))
		}
	}
}

func TestBalanceAndNextJSON(t *testing.T) {
	for _, bin := range goodBins(t) {
		t.Run(filepath.Base(bin), func(t *testing.T) {
			got := wire(t, "balance", bin)
			has(t, "balance", got, "streams chi_square degrees_of_freedom p_value suspects next_weighing")
			for _, s := range got["streams"].([]any) {
				has(t, "stream", s, "name class measured_g sd_g low_g high_g z")
				m := s.(map[string]any)
				_, reconciled := m["reconciled_g"]
				if undetermined := m["class"] == "undetermined"; undetermined == reconciled {
					t.Errorf("%v is %v and has a figure: %v", m["name"], m["class"], reconciled)
				}
			}
			next := wire(t, "next", bin)
			has(t, "next", next, "done lot piece test outcomes why gain minutes cautions")
			if _, ok := next["piece"].(float64); !ok {
				t.Errorf("piece is %v", next["piece"])
			}
			if next["done"] == false {
				has(t, "test", next["test"], "kind density_g_cm3 temp_c")
			}
		})
	}
}

func TestOtherJSON(t *testing.T) {
	bath := []string{"bath", "--density", "1.2 g/cm3", "--volume", "1 l", "--salt", "epsom salt"}
	has(t, "bath", wire(t, bath...), "salt target_g_cm3 temp_c mass_percent water_g product_g reachable max_g_cm3 check cautions")
	checked := wire(t, "bath", "check", "--empty", "32 g", "--water", "532 g", "--filled", "657 g", "--target", "1.25 g/cm3")
	has(t, "bath check", checked, "density_g_cm3 add")
	has(t, "add", checked["add"], "what mass_g")
	ordered(t, "density", checked["density_g_cm3"], "low", "mean", "high")

	claim := wire(t, "claim", "--tested", "40", "--wrong", "1", "--purity", "95 %", "--finds", "90 %", "--false-alarms", "2 %")
	has(t, "claim", claim, "tested wrong confidence at_least exact bayes corrected supported pieces_needed basis wording")
	has(t, "corrected", claim["corrected"], "best low high")

	sheet := wire(t, "polymer", "PETG")
	has(t, "polymer", sheet, "symbol name density_g_cm3 glass_transition_c melt_c process_c never_heat drying marking sources")
	has(t, "drying", sheet["drying"], "temp_c hours max_moisture_percent form")
	if sheet["melt_c"] != nil {
		t.Error("PETG is amorphous and melts")
	}
	if never := wire(t, "polymer", "PVC-U"); never["never_heat"] != true || never["process_c"] != nil || never["drying"] != nil {
		t.Errorf("PVC-U: %v %v %v", never["never_heat"], never["process_c"], never["drying"])
	}

	has(t, "press", wire(t, "press", "--material", "PETG", "--thickness", "6 mm", "--platen", "220 °C", "--centre", "200 °C"),
		"diffusivity_m2_s fourier heat_up_s cool_down_s charge_g fills force_kn energy_kj_per_kg basis cautions")
	has(t, "regrind", wire(t, "regrind", "--material", "PLA", "--share", "25 %"), "passes mean_passes retention cautions")
	has(t, "mark", wire(t, "mark", ">PC+ABS<"), "marking polymers fillers code")
	cut := wire(t, "cut", "../../testdata/bins/drawbridge.toml", "--lot", "crumbs", "--density", "1.15 g/cm3")
	has(t, "cut", cut, "density_g_cm3 ep_g_cm3 floats sinks")
	has(t, "floats", cut["floats"], "share materials")
}

// The array of all materials, which decodes to a list.
func TestPolymersJSON(t *testing.T) {
	var out, errs bytes.Buffer
	if code := run([]string{"polymer", "--json"}, nil, &out, &errs); code != exitDone {
		t.Fatal(&errs)
	}
	var list []map[string]any
	if err := json.Unmarshal(out.Bytes(), &list); err != nil || len(list) < 25 {
		t.Errorf("%d materials, error %v", len(list), err)
	}
}

// Text is at most 100 columns wide, with nothing a terminal would act on, and the same each time.
func TestTextFitsAScreen(t *testing.T) {
	for _, bin := range goodBins(t) {
		for _, args := range [][]string{{"sort", bin}, {"sort", bin, "--steps"}, {"balance", bin}, {"next", bin}} {
			var out, again, errs bytes.Buffer
			if code := run(args, nil, &out, &errs); code != exitDone {
				t.Fatalf("%v: %s", args, &errs)
			}
			run(args, nil, &again, &errs)
			if !bytes.Equal(out.Bytes(), again.Bytes()) {
				t.Errorf("%v: two runs differ", args)
			}
			for line := range strings.Lines(out.String()) {
				line = strings.TrimSuffix(line, "\n")
				if n := len([]rune(line)); n > 100 || strings.HasSuffix(line, " ") {
					t.Errorf("%v: %d columns: %q", args, n, line)
				}
			}
			if i := strings.IndexFunc(out.String(), func(r rune) bool { return r != '\n' && r < ' ' || r >= 0x2500 && r < 0x2600 }); i >= 0 {
				t.Errorf("%v: a control or drawing character at %d", args, i)
			}
		}
	}
}

// The template of start, with its examples uncommented, is a file that is read.
func TestTheTemplateIsRight(t *testing.T) {
	var file strings.Builder
	for line := range strings.Lines(string(startFile)) {
		if len(line) > 1 && line[0] == '#' && line[1] != ' ' && line[1] != '\n' {
			line = line[1:]
		}
		file.WriteString(line)
	}
	var out, errs bytes.Buffer
	if code := run([]string{"sort", "-"}, strings.NewReader(file.String()), &out, &errs); code != exitDone {
		t.Errorf("exit code %d: %s", code, &errs)
	}
}
