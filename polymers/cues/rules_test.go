package cues

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestPower(t *testing.T) {
	for nth, want := range map[int]float64{1: 1, 2: 0.5, 3: 0, 9: 0} {
		if got := Power(nth); got != want {
			t.Errorf("test %d of a family counts %v, not %v", nth, got, want)
		}
	}
}

// The posterior mean of a multinomial under a Dirichlet prior with a0 pseudo-counts:
// (a0 p + n) / (a0 + N) (Gelman et al., Bayesian Data Analysis, 3rd ed., section 3.4).
func TestLearn(t *testing.T) {
	got, err := Learn([]float64{0.6, 0.4}, []float64{0, 5})
	if err != nil || math.Abs(got[0]-0.3) > 1e-12 || math.Abs(got[1]-0.7) > 1e-12 {
		t.Errorf("five pieces against a row of five: %v, %v", got, err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		n := []float64{rapid.Float64Range(0, 1e6).Draw(rt, "a"), rapid.Float64Range(0, 1e6).Draw(rt, "b"), rapid.Float64Range(0, 1e6).Draw(rt, "c")}
		p, err := Learn([]float64{0.9, 0.06, 0.04}, n)
		if err != nil || math.Abs(p[0]+p[1]+p[2]-1) > 1e-9 || !(min(p[0], p[1], p[2]) > 0) {
			rt.Fatalf("%v, %v", p, err)
		}
	})
	for _, bad := range [][]float64{{1}, {-1, 2}, {math.NaN(), 1}, {math.Inf(1), 0}} {
		if p, err := Learn([]float64{0.5, 0.5}, bad); err == nil {
			t.Errorf("learned %v from %v", p, bad)
		}
	}
}
