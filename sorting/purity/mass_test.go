package purity

import (
	"errors"
	"math"
	"testing"
)

// Cochran 1977, Sampling Techniques, ch. 6 (cities of table 6.1): with 196 cities and a 1920 total of 22 919
// thousand the ratio estimate of 1930 is 28 397 (total and result recalled, recomputed from the 49 pairs).
func TestPublishedRatio(t *testing.T) {
	var x, y []float64
	for _, f := range rows(t, "ratio_cities.tsv") {
		x, y = append(x, number(t, f[0])), append(y, number(t, f[1]))
	}
	r, se, _ := ratio(x, y, 196)
	near(t, "cities", float64(len(x)), 49, 0)
	near(t, "ratio", r, 6262./5054, 1e-12)
	near(t, "total", r*22919, 28397, .5)
	near(t, "standard error of the total", se*196*5054/49, 604.0, .05) // N x-bar times that of the ratio
}

// Equal grabs turn the ratio into a plain mean, whose standard error is elementary: 10 and 30 of 100.
func TestByMassPlainMean(t *testing.T) {
	m, err := ByMass([]Grab{{100, 10}, {100, 30}, {100, 20}}, 0, .95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "best", m.Best, .20, 1e-12)
	near(t, "standard error", m.SD, .10/math.Sqrt(3), 1e-12)
	near(t, "low end is clipped", m.Low, 0, 0) // t(2, 97.5 %) = 4.303, any table of Student's t
	near(t, "high", m.High, .20+4.303*.10/math.Sqrt(3), 1e-4)
}

// ASTM D5231-92, appendix example as recalled: corrugated board, mean .14, s .06, 10 % at 90 %: 50, then 52.
func TestPublishedNumberOfGrabs(t *testing.T) {
	n, err := grabsFor(.14, .06, .10, .90)
	if err != nil || n != 52 {
		t.Errorf("%d grabs (%v), published 52", n, err)
	}
	m, _ := ByMass([]Grab{{100, 10}, {100, 30}, {100, 20}}, 0, .95)
	if _, err := m.GrabsFor(0, .9); err == nil {
		t.Error("an error of nothing was accepted")
	}
	if n, _ := m.GrabsFor(.5, .90); n != 5 { // t(4) = 2.132, squared 4.55; t(3) = 2.353, squared 5.5 (any table of Student's t)
		t.Errorf("%d grabs for half", n)
	}
}

func TestByMassRefuses(t *testing.T) {
	for because, g := range map[string][]Grab{
		"one grab": {{100, 1}}, "no others seen": {{100, 0}, {90, 0}}, "more others than mass": {{10, 11}, {10, 1}},
		"no mass": {{0, 0}, {10, 1}}, "NaN": {{math.NaN(), 0}, {10, 1}},
	} {
		var r *Refusal
		if _, err := ByMass(g, 0, .95); !errors.As(err, &r) {
			t.Errorf("%s: %v", because, err)
		}
	}
	if _, err := ByMass([]Grab{{10, 1}, {10, 2}, {10, 1}}, 2, .95); err == nil {
		t.Error("three grabs of two were accepted")
	}
}

// A wrong piece three times as heavy: 95 of 100 pieces are 95/(95 + 3 x 5) of the mass, whatever the formula.
func TestMassBound(t *testing.T) {
	near(t, "95 % of pieces", byMass(.95, 3), 95./110, 1e-12)
	near(t, "and back", Options{Purity: 95. / 110, MassRatio: 3}.piecePurity(), .95, 1e-12)
	near(t, "ratio from weighed pieces", MassRatio([]float64{2, 4}, []float64{6}), 2, 1e-12)
	near(t, "no right piece weighed", MassRatio(nil, []float64{6}), 0, 0)
	r := claim(t, Counts{Tested: 59}, Options{Purity: .95, MassRatio: 3})
	if r.Supported || r.Basis != Mass || r.PiecesNeeded == nil {
		t.Errorf("59 pieces do not show 95 %% of the mass where wrong ones can be three times as heavy: %+v", r)
	}
	near(t, "all the same mass", claim(t, Counts{Tested: 59}, Options{MassRatio: 1}).Demonstrated, .9505, .0001)
}

// Gelman et al. 2013, Bayesian Data Analysis, section 3.4: 727, 583 and 137 of 1447 answers, uniform prior:
// Dirichlet(728, 584, 138); shares .502 .403 .095 printed, the rest recomputed. The share of one material alone is
// then beta, whatever the others are: that is what Jeffreys' interval is made of. Mean and spread are summed over its
// quantiles.
func TestPublishedDirichlet(t *testing.T) {
	for _, c := range []struct{ of, mean, sd, low, high float64 }{
		{728, .502, .01313, .4763, .5278}, {584, .403, .01288, .3777, .4281}, {138, .095, .00770, .0806, .1108},
	} {
		const cells = 20000
		mean, square := 0.0, 0.0
		for i := range cells {
			x := betaQuantile((float64(i)+.5)/cells, c.of, 1450-c.of)
			mean, square = mean+x/cells, square+x*x/cells
		}
		near(t, "mean", mean, c.mean, .0005)
		near(t, "sd", math.Sqrt(square-mean*mean), c.sd, .000005)
		near(t, "low", betaQuantile(.025, c.of, 1450-c.of), c.low, .00005)
		near(t, "high", betaQuantile(.975, c.of, 1450-c.of), c.high, .00005)
	}
}

// Gy's formula as worked in the spreadsheet "WillsBookModules" after Wills: 5 % Pb, mineral of 86.6 % Pb, densities
// 7.5 and 2.65, 2 % at 95 %, liberation 0.015 cm; over four stages with safety of two 1 369 632 g and 24 501 g.
func TestPublishedGy(t *testing.T) {
	for top, want := range map[float64]float64{25: 1_369_632, 5: 24_501} {
		g, err := Sample{TopMm: top, LiberationMm: .15, Others: .05 / .866, OthersGCm3: 7.5, RightGCm3: 2.65, RelError: .02 / 1.96, Shape: .5, SizeRange: .25}.LeastGrams()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "four stages, twice", 4*2*g, want, .5)
	}
	if _, err := (Sample{TopMm: 5, RelError: .2, OthersGCm3: 1.2, RightGCm3: 1.2}).LeastGrams(); err == nil {
		t.Error("no others were accepted")
	}
}
