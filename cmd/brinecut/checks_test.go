package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting/balance"
	"brinecut/sorting/bath"
	"brinecut/sorting/purity"
	"brinecut/sorting/separation"
)

// checked is one published value with ours, both as written in docs/checks.md.
type checked struct {
	what, published, ours, tolerance, source string
	within                                   bool
}

// compared makes a row of two numbers: ours is written two digits beyond the tolerance.
func compared(what string, published, ours, tolerance float64, source string) checked {
	places := 0
	for x := tolerance; x < 10 && places < 8 && x > 0; x *= 10 {
		places++
	}
	return checked{what, text(published), strconv.FormatFloat(ours, 'f', places, 64), "± " + text(tolerance), source, math.Abs(ours-published) <= tolerance*(1+1e-9)}
}

func text(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// table reads a table of testdata/published: comment lines, a head, then rows by column.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(root + "/testdata/published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma, r.Comment, r.LazyQuotes = '\t', '#', true
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, h := range all[0] {
			row[h] = cells[i]
		}
		out = append(out, row)
	}
	return out
}

func tabled(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// solutes are the names of the tables that are not ours.
var solutes = map[string]string{"sucrose": "sugar", "2-propanol": "isopropanol"}

func solute(t *testing.T, s string) bath.Liquid {
	t.Helper()
	for _, l := range bath.Liquids() {
		if l.String() == s || l.String() == solutes[s] {
			return l
		}
	}
	p, err := bath.ReadProduct(s)
	if err != nil {
		t.Fatal(err)
	}
	return p.Liquid
}

func heldDensities(t *testing.T) (out []checked) {
	for _, r := range table(t, "liquids/densities.tsv") {
		got, err := bath.Density(solute(t, r["solute"]), quantity.Share(tabled(t, r["mass_percent"])/100), quantity.Celsius(tabled(t, r["temp_C"])))
		if err != nil {
			t.Error(err)
		}
		what := fmt.Sprintf("%s %s %%, %s °C, g/cm3", r["solute"], r["mass_percent"], r["temp_C"])
		out = append(out, compared(what, tabled(t, r["density_g_cm3"]), float64(got), tabled(t, r["tolerance_g_cm3"]), r["source"]))
	}
	return out
}

func heldSolubilities(t *testing.T) (out []checked) {
	for _, r := range table(t, "liquids/solubility.tsv") {
		got, err := bath.Solubility(solute(t, r["solute"]), quantity.Celsius(tabled(t, r["temp_C"])))
		if err != nil {
			t.Error(err)
		}
		out = append(out, compared(r["solute"]+" dissolved at "+r["temp_C"]+" °C, % by mass", tabled(t, r["mass_percent"]), 100*float64(got), 0.005, r["source"]))
	}
	return out
}

func heldRecipes(t *testing.T) (out []checked) {
	for _, r := range table(t, "liquids/recipes.tsv") {
		p, err := bath.ReadProduct(r["product"])
		if err != nil {
			t.Fatal(err)
		}
		got, err := bath.Mix(bath.Request{Target: quantity.MustParse[quantity.GramPerCm3](r["target_g_cm3"] + " g/cm3"), Product: p}, bath.Options{})
		if err != nil {
			t.Error(err)
		}
		what, source := r["product"]+" for a litre of "+r["target_g_cm3"]+" g/cm3, ", "reckoned apart from this program from the density sources above and CRC molar masses"
		out = append(out, compared(what+"g", tabled(t, r["product_g"]), float64(got.Weigh), 0.5, source),
			compared(what+"water, g", tabled(t, r["water_g"]), float64(got.Water), 0.5, source))
	}
	return out
}

// limitSources are those named in the head of sampling/limits.tsv.
var limitSources = map[string]string{"newcombe": "Newcombe 1998, Statistics in Medicine 17:857, table I (recalled)", "nist": "NIST/SEMATECH e-Handbook, 7.2.4.2",
	"jeffreys": "Brown, Cai and DasGupta 2001, Statistical Science 16:101, table 5 (recalled)"}

func heldLimits(t *testing.T) (out []checked) {
	for _, r := range table(t, "sampling/limits.tsv") {
		got, err := purity.Claim(purity.Counts{Wrong: int(tabled(t, r["wrong"])), Tested: int(tabled(t, r["tested"]))}, purity.Options{Confidence: tabled(t, r["confidence"])})
		if err != nil {
			t.Error(err)
		}
		l := got.Exact
		if r["kind"] == "bayes" {
			l = got.Bayes
		}
		what := fmt.Sprintf("%s of %s wrong, %s at %s, ", r["wrong"], r["tested"], r["kind"], r["confidence"])
		out = append(out, compared(what+"low", tabled(t, r["low"]), 1-l.High, tabled(t, r["tolerance"]), limitSources[r["source"]]),
			compared(what+"high", tabled(t, r["high"]), 1-l.Low, tabled(t, r["tolerance"]), limitSources[r["source"]]))
	}
	return out
}

func heldCuts(t *testing.T) (out []checked) {
	var feed []separation.Part
	var ash []float64
	rows := table(t, "separation/washability_coal.tsv")
	for _, r := range rows {
		feed = append(feed, separation.Part{Share: tabled(t, r["weight_percent"]), Density: quantity.GramPerCm3(tabled(t, r["centre"]))})
		ash = append(ash, tabled(t, r["ash_percent"]))
	}
	const source = "Wills, Mineral Processing Technology, dense medium separation (from memory)"
	for _, r := range rows {
		if r["up_to"] == "" {
			continue
		}
		floats, _, err := separation.Cut(feed, quantity.GramPerCm3(tabled(t, r["up_to"])), 0)
		if err != nil {
			t.Error(err)
		}
		mean := 0.0
		for i, a := range ash {
			mean += floats.MakeUp[i] * a
		}
		out = append(out, compared("coal floating at "+r["up_to"]+", %", tabled(t, r["cumulative_weight_percent"]), 100*floats.Share, 0.005, source),
			compared("ash of it, %", tabled(t, r["cumulative_ash_percent"]), mean, 0.0500001, source))
	}
	return out
}

func heldNetworks(t *testing.T) (out []checked) {
	var all map[string]struct {
		Source    string
		A         [][]float64 `json:"constraint_matrix"`
		Measured  []float64
		SD        []float64 `json:"standard_deviation"`
		Published []float64 `json:"published_reconciled"`
		Tolerance float64
	}
	src, err := os.ReadFile(root + "/testdata/published/balance/reconcile_linear.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(src, &all); err != nil {
		t.Fatal(err)
	}
	for i := range 16 { // P1 to P15, in order
		id := fmt.Sprintf("P%d", i)
		n, ok := all[id]
		if !ok {
			continue
		}
		got, err := balance.Reconcile(networkOf(n.A, n.Measured, n.SD))
		if err != nil {
			t.Fatal(err)
		}
		for j, want := range n.Published {
			out = append(out, compared(fmt.Sprintf("network %s, stream %d", id, j+1), want, got.Of([]balance.Term{{Unknown: j, Factor: 1}}).Value, n.Tolerance, n.Source))
		}
	}
	return out
}

// networkOf writes a node matrix and readings as a problem.
func networkOf(a [][]float64, y, sd []float64) (p balance.Problem) {
	for j := range a[0] {
		name := fmt.Sprint(j + 1)
		p.Unknowns = append(p.Unknowns, balance.Unknown{Name: name})
		p.Readings = append(p.Readings, balance.Reading{Name: name, Terms: []balance.Term{{Unknown: j, Factor: 1}}, Value: y[j], SD: sd[j]})
	}
	for _, row := range a {
		c := balance.Constraint{Name: "node"}
		for j, x := range row {
			if x != 0 {
				c.Terms = append(c.Terms, balance.Term{Unknown: j, Factor: x})
			}
		}
		p.Constraints = append(p.Constraints, c)
	}
	return p
}

// heldProperties reads the two tables of polymers/handbook_test.go, where they are tested.
func heldProperties(t *testing.T) (out []checked) {
	for _, r := range handbookRows(t) {
		m, ok := polymers.Find(polymers.Symbol(r.symbol))
		if !ok || len(m.Sources(r.property)) == 0 {
			t.Errorf("no %s of %s", r.property, r.symbol)
			continue
		}
		v := m.Sources(r.property)[0]
		h := checked{what: r.symbol + " " + r.property, published: text(r.value), source: r.source}
		if r.pick {
			h.ours, h.tolerance, h.within = text(v.Typical), "printed digit", math.Round(v.Typical/r.digit) == math.Round(r.value/r.digit)
		} else {
			h.ours, h.tolerance = text(v.Low)+" to "+text(v.High), "in the range, ± "+text(r.digit)
			h.within = r.value+r.digit >= v.Low && r.value-r.digit <= v.High
		}
		out = append(out, h)
	}
	return out
}

// docs/checks.md is what the tests hold; go test ./cmd/brinecut -run DocsChecks -update writes it anew.
func TestDocsChecks(t *testing.T) {
	var b strings.Builder
	b.WriteString(checksHead)
	total := 0
	for _, part := range []struct {
		name string
		rows func(*testing.T) []checked
	}{{"Densities of liquids", heldDensities}, {"Solubility", heldSolubilities}, {"Recipes", heldRecipes}, {"Properties of materials", heldProperties},
		{"Reconciled flow sheets", heldNetworks}, {"Cuts by density", heldCuts}, {"Limits of a share", heldLimits}} {
		rows := part.rows(t)
		total += len(rows)
		fmt.Fprintf(&b, "\n### %s (%d)\n\n| what | published | ours | tolerance | source |\n|---|---|---|---|---|\n", part.name, len(rows))
		for _, h := range rows {
			if !h.within {
				t.Errorf("%s: %s, published %s (%s), %s", h.what, h.ours, h.published, h.source, h.tolerance)
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", cell(h.what), h.published, h.ours, h.tolerance, cell(h.source))
		}
	}
	if total < 400 {
		t.Errorf("only %d values", total)
	}
	b.WriteString(workedHead)
	for _, name := range []string{"reuse/worked.tsv", "separation/worked.tsv"} {
		for _, r := range table(t, name) {
			fmt.Fprintf(&b, "| %s | %s | ± %s | %s; %s |\n", cell(r["what"]), r["value"], r["tolerance"], cell(r["source"]), cell(r["standing"]))
		}
	}
	literals(t, &b)
	b.WriteString(checksTail)
	docFile(t, "checks.md", b.String())
}

// docFile holds a page of docs/ to what is generated, or writes it.
func docFile(t *testing.T, name, want string) {
	t.Helper()
	path := root + "/docs/" + name
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	a, b := strings.Split(string(got), "\n"), strings.Split(want, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			t.Fatalf("docs/%s:%d is\n%s\nand ought to be\n%s\n(go test ./cmd/brinecut -run DocsChecks -update writes it anew)", name, i+1, a[i], b[i])
		}
	}
	if !slices.Equal(a, b) {
		t.Errorf("docs/%s has %d lines, ought to have %d", name, len(a), len(b))
	}
}

// cell is a text in a cell of a table; an equation cited there is one of package reuse.
func cell(s string) string {
	return strings.NewReplacer("|", `\|`, "method.md (R", "method.md, reuse (R").Replace(s)
}

const checksHead = `# What is checked, against what

Written by a test (` + "`go test ./cmd/brinecut -run DocsChecks -update`" + `), which fails where this page and the code part. A value is asserted at the precision it was printed with, or at the
tolerance beside it. "From memory" and "recalled" are said where the page itself was not at hand; where a value was recomputed, that is said too.

## Published values, and ours
`

const workedHead = `
## Worked figures

Ours lies within the tolerance, or a test of its package fails.

| what | value | tolerance | source |
|---|---|---|---|
`

const checksTail = `
## Not in these tables

- ` + "`testdata/published/press/slab_coefficients.tsv` (roots and coefficients of the plane wall) and `regrind_generations.tsv`, checked by `reuse/press`, row by row" + `
- ` + "`testdata/published/liquids/viscosity.tsv`, checked to a tenth by `sorting/bath`; `laliberte*.tsv`, the coefficients in code, checked digit by digit" + `
- ` + "`testdata/published/separation/tromp.tsv` and `ordered_cuts.tsv`, `testdata/published/sampling/ratio_cities.tsv`, `testdata/published/reuse/compatibility.tsv`, `testdata/published/balance/*` beyond the networks above: checked by their packages, and by `balance` as a command" + `
- comparisons with other programs (scipy, R, IAPWS-95), which run where those are installed: their figures are made as the test runs
`
