package bath

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"brinecut/polymers/quantity"
)

// rows reads a table of published values; fewer rows than pinned is a broken table.
func rows(t *testing.T, name string, pinned int) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "published", "liquids", name))
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
	for _, row := range all[1:] {
		m := map[string]string{}
		for i, key := range all[0] {
			m[key] = row[i]
		}
		out = append(out, m)
	}
	if len(out) != pinned {
		t.Fatalf("%s has %d rows, pinned are %d", name, len(out), pinned)
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// named finds the liquid of a published row.
func named(t *testing.T, s string) Liquid {
	t.Helper()
	l, ok := findLiquid(strings.ToLower(s))
	if !ok {
		t.Fatalf("no liquid %q", s)
	}
	return l
}

// The tolerance in the table is between a straightforward evaluation of each source and the row.
func TestDensityAgainstPublishedTables(t *testing.T) {
	square, count := map[Liquid]float64{}, map[Liquid]int{}
	for _, row := range rows(t, "densities.tsv", 160) {
		l := named(t, row["solute"])
		w, temp, want := number(t, row["mass_percent"])/100, number(t, row["temp_C"]), 1000*number(t, row["density_g_cm3"])
		got, err := Density(l, quantity.Share(w), quantity.Celsius(temp))
		if err != nil {
			t.Errorf("%s %g %% %g °C: %v", l, 100*w, temp, err)
			continue
		}
		diff := got.KgPerM3() - want
		if tol := 1000 * number(t, row["tolerance_g_cm3"]); math.Abs(diff) > tol {
			t.Errorf("%s %g %% %g °C: %.2f kg/m3, published %.2f (%s), tolerance %g", l, 100*w, temp, got.KgPerM3(), want, row["source"], tol)
		}
		square[l] += diff * diff
		count[l]++
	}
	for _, l := range Liquids() {
		if count[l] < 10 {
			t.Errorf("%s: only %d published rows", l, count[l])
		}
		if rms := math.Sqrt(square[l] / float64(count[l])); rms > liquids[l].doubt {
			t.Errorf("%s: rms difference %.2f kg/m3 is above the doubt %.2f that recipes are given", l, rms, liquids[l].doubt)
		}
	}
}

func TestSolubilityAgainstPublishedTable(t *testing.T) {
	for _, row := range rows(t, "solubility.tsv", 45) {
		l, temp, want := named(t, row["solute"]), number(t, row["temp_C"]), number(t, row["mass_percent"])
		got, err := Solubility(l, quantity.Celsius(temp))
		if err != nil || math.Abs(100*float64(got)-want) > 1e-9 {
			t.Errorf("%s %g °C: %v %%, %v; published %v (%s)", l, temp, 100*got, err, want, row["source"])
		}
	}
}

// The highest density of each saturated salt at 20 °C, from the CRC solubilities and an
// evaluation of the same density sources apart from this program, to the digits given there.
func TestHighestDensity(t *testing.T) {
	for l, want := range map[Liquid]string{TableSalt: "1.200", CalciumChloride: "1.42", EpsomSalt: "1.284",
		MagnesiumChloride: "1.33", PotassiumCarbonate: "1.57", SodiumBromide: "1.53", Sugar: "1.33"} {
		p, err := ReadProduct(l.String())
		if err != nil {
			t.Fatal(err)
		}
		o, err := spanOf(p, 20, 20)
		if err != nil {
			t.Fatal(err)
		}
		digits := len(want) - 2
		if got := strconv.FormatFloat(float64(o.Max), 'f', digits, 64); got != want {
			t.Errorf("%s reaches %s g/cm3 (%.4f), want %s", l, got, float64(o.Max), want)
		}
	}
}

func TestViscosityAgainstPublishedTable(t *testing.T) {
	for _, row := range rows(t, "viscosity.tsv", 53) {
		l := named(t, row["solute"])
		w, want := number(t, row["mass_percent"])/100, number(t, row["viscosity_mPa_s"])
		got := liquids[l].viscosity(w, 20)
		// A waiting time needs no better than a tenth. Laliberté's potassium carbonate leaves the
		// table by 12 % near saturation.
		tol := 0.10 * want
		if l == PotassiumCarbonate {
			tol = 0.15 * want
		}
		if math.Abs(got-want) > tol {
			t.Errorf("%s %g %%: %.3f mPa s, published %.3f (%s)", l, 100*w, got, want, row["source"])
		}
	}
}

func TestRecipesToTheGram(t *testing.T) {
	for _, row := range rows(t, "recipes.tsv", 41) {
		p, err := ReadProduct(row["product"])
		if err != nil {
			t.Errorf("%s: %v", row["product"], err)
			continue
		}
		rec, err := Mix(Request{Target: quantity.MustParse[quantity.GramPerCm3](row["target_g_cm3"] + " g/cm3"), Product: p}, Options{})
		if err != nil || !rec.Reachable {
			t.Errorf("%s at %s: reachable %v, %v", row["product"], row["target_g_cm3"], rec.Reachable, err)
			continue
		}
		if a, b := number(t, row["product_g"]), number(t, row["water_g"]); math.Abs(float64(rec.Weigh)-a) > 0.5 || math.Abs(float64(rec.Water)-b) > 0.5 {
			t.Errorf("%s at %s: %.1f g + %.1f g water, want %.1f + %.1f", row["product"], row["target_g_cm3"], float64(rec.Weigh), float64(rec.Water), a, b)
		}
	}
}
