package reuse

import (
	"bufio"
	"os"
	"strconv"
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// stops are the hard stops the fractions of these tests track.
var stops = []polymers.Symbol{"PVC-U", "PVC-P", "POM", "PTFE"}

// fraction of one material from one's own printers: n kg, settled, dry, with a share of others.
func fraction(material string, kg, others float64) sorting.Fraction {
	f := sorting.Fraction{Name: material + " bag", Material: material, Symbols: symbolsOf(material), Lots: []string{"a"},
		Keys: []string{material, "TPU", "other"}, Possible: make([]float64, len(stops)), HardStops: stops,
		Origin: sorting.OwnPrint, OriginGiven: true, State: sorting.Dry, Settled: true, HowTold: []string{"hot-water"}}
	for i := range 64 {
		g := 1000 * kg * (0.97 + 0.06*(float64(i)+0.5)/64)
		f.Grams = append(f.Grams, []float64{g * (1 - others), g * others, 0})
	}
	return f
}

// bench with every tool, exhaust and no outlet.
func bench() Situation {
	return Situation{Kit: sorting.Kit{Given: true, Has: []string{"granulator", "filament extruder", "sheet press", "dryer"}},
		Place: sorting.Place{Given: true, Exhaust: true, Drain: "sewer"}, Currency: "EUR"}
}

// outlet that takes PETG and ABS at 95 % from 1 kg.
func outlet() sorting.Outlet {
	return sorting.Outlet{Name: "depot", Accepts: []polymers.Symbol{"PETG", "ABS"}, Purity: quantity.MustParse[quantity.Share]("95 %"),
		Minimum: quantity.MustParse[quantity.Gram]("1 kg"), Pays: quantity.MustParse[quantity.MoneyPerKg]("0.10 EUR/kg"),
		Refuses: []string{"fibre", "flame retardant"}}
}

func choose(t *testing.T, f sorting.Fraction, s Situation) Decision {
	t.Helper()
	d, err := Choose(f, s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// table reads a tab-separated file of published figures, its comments and header left out.
func table(t testing.TB, name string) [][]string {
	t.Helper()
	file, err := os.Open("../testdata/published/reuse/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var rows [][]string
	for sc := bufio.NewScanner(file); sc.Scan(); {
		if !strings.HasPrefix(sc.Text(), "#") {
			rows = append(rows, strings.Split(sc.Text(), "\t"))
		}
	}
	return rows[1:]
}

// worked figures by id: value and tolerance.
func worked(t testing.TB) map[string][2]float64 {
	out := map[string][2]float64{}
	for _, r := range table(t, "worked.tsv") {
		v, err1 := strconv.ParseFloat(r[2], 64)
		tol, err2 := strconv.ParseFloat(r[3], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(r)
		}
		out[r[0]] = [2]float64{v, tol}
	}
	return out
}
