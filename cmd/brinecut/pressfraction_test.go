package main

import (
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

// fractionWith is a PETG fraction in which each draw holds these grams of PETG, PLA and PVA.
func fractionWith(grams ...[]float64) advice.Fraction {
	f := advice.Fraction{Decision: reuse.Decision{MayBeHeated: true}}
	f.Origin, f.OriginGiven, f.HardStops, f.Possible = sorting.OwnPrint, true, []polymers.Symbol{"PVC-U"}, []float64{0}
	f.Name, f.Material, f.Symbols, f.Keys, f.Grams = "PETG", "PETG", []polymers.Symbol{"PETG"}, []string{"PETG", "PLA", "PVA"}, grams
	total, main := 0.0, 0.0
	for _, g := range grams {
		total, main = total+g[0]+g[1]+g[2], main+g[0]
	}
	f.Purity = sorting.Range{Mean: main / total}
	return f
}

// Others by what is expected, soluble support by its upper bound, bar a sheet; what is above a trace
// brings its own cautions along.
func TestWhatMayBePressed(t *testing.T) {
	for _, c := range []struct {
		f    advice.Fraction
		want string
	}{
		{fractionWith([]float64{985, 15, 0}), ""},
		{fractionWith([]float64{970, 30, 0}), "other polymers"},
		{fractionWith([]float64{1000, 0, 0}, []float64{1000, 0, 0}, []float64{1000, 0, 0}, []float64{960, 0, 40}), "PVA, which breaks down"},
	} {
		err := pressable(c.f, "bin.toml")
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%v: %v, want %q", c.f.Grams, err, c.want)
		}
	}
	others := othersIn(fractionWith([]float64{985, 15, 0}))
	if len(others) != 1 || others[0].Symbol != "PLA" || len(others[0].Hazards) == 0 {
		t.Errorf("others %v", others)
	}
}
