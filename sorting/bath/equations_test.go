package bath

import (
	"fmt"
	"math"
	"testing"
)

// Values that a published implementation of Laliberté (2009) is tested with.
func TestLaliberteImplementation(t *testing.T) {
	const w = 0.0037838838
	if got := sodiumChloride.apparent(w, 0); math.Abs(got-3761.8917586) > 1e-6 {
		t.Errorf("apparent density of NaCl: %.7f, want 3761.8917586", got)
	}
	if got := sodiumChloride.density(w, 0); math.Abs(got-1002.6250120) > 1e-7 {
		t.Errorf("density of NaCl: %.7f, want 1002.6250120", got)
	}
	// Two salts at 5 °C: the apparent densities take the total mass fraction.
	second := electrolyte{c: [5]float64{0.967814929691928, 5.540434135986, 1.10374669742622, 0.0123340782160061, 2589.61875022366}}
	const w1, w2 = 0.00581, 0.002
	got := 1 / ((1-w1-w2)/kell(5) + w1/sodiumChloride.apparent(w1+w2, 5) + w2/second.apparent(w1+w2, 5))
	if math.Abs(got-1005.6947727219) > 1e-7 {
		t.Errorf("density of two salts: %.10f, want 1005.6947727219", got)
	}
}

// The coefficients in code are the published ones, digit by digit, and the ranges no wider.
func TestCoefficientsPinned(t *testing.T) {
	salts := map[string]electrolyte{"NaCl": sodiumChloride, "CaCl2": calciumChloride, "MgSO4": magnesiumSulfate,
		"MgCl2": magnesiumChloride, "NaBr": sodiumBromide, "K2CO3": potassiumCarbonate}
	for _, row := range rows(t, "laliberte.tsv", 6) {
		if row["solute"] == "K2CO3" { // its density coefficients are not used
			continue
		}
		k := liquids[named(t, row["solute"])]
		for i, c := range salts[row["solute"]].c {
			if want := number(t, row[fmt.Sprintf("c%d", i)]); c != want {
				t.Errorf("%s c%d is %v, published %v", k.name, i, c, want)
			}
		}
		if k.coldest < number(t, row["t_min_C"]) || k.hottest > number(t, row["t_max_C"]) || k.fitted > number(t, row["w_max"])+5e-4 {
			t.Errorf("%s: %g to %g °C up to %g is wider than published", k.name, k.coldest, k.hottest, k.fitted)
		}
	}
	for _, row := range rows(t, "laliberte_viscosity.tsv", 6) {
		for i, v := range salts[row["solute"]].v {
			if want := number(t, row[fmt.Sprintf("v%d", i+1)]); v != want {
				t.Errorf("%s v%d is %v, published %v", row["solute"], i+1, v, want)
			}
		}
	}
}

// OIML R 22 (1975), spot values of the printed equation.
func TestOIMLSpotValues(t *testing.T) {
	for _, c := range []struct{ w, t, want float64 }{{0.5, 20, 913.770595}, {1, 0, 806.2151206}, {0.4, 20, 935.1450}} {
		if got := ethanolDensity(c.w, c.t); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%g %% at %g °C: %.6f, want %g", 100*c.w, c.t, got, c.want)
		}
	}
}
