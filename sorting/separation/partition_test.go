package separation

import (
	"math"
	"testing"

	"brinecut/polymers/quantity"
)

// By definition of the probable error: 25 %, 50 % and 75 % at d50 - Ep, d50, d50 + Ep (B. A. Wills and
// J. A. Finch, Mineral Processing Technology, 8th ed. 2016, dense medium separation).
func TestPartitionAtTheProbableError(t *testing.T) {
	for rho, want := range map[quantity.GramPerCm3]float64{1.40: 0.25, 1.50: 0.50, 1.60: 0.75} {
		if got := Partition(rho, 1.50, 0.10); math.Abs(got-want) > 1e-12 {
			t.Errorf("P(%v) = %v, want %v", rho, got, want)
		}
	}
	for rho, want := range map[quantity.GramPerCm3]float64{1.499: 0, 1.5: 0.5, 1.501: 1} {
		if got := Partition(rho, 1.5, 0); got != want {
			t.Errorf("perfect cut: P(%v) = %v, want %v", rho, got, want)
		}
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// A cut loses nothing, and a part spread around the cut is parted in halves.
func TestCutKeepsTheMass(t *testing.T) {
	feed := []Part{{Share: 3, Density: 1.25, Spread: 0.01}, {Share: 1, Density: 1.05, Spread: 0.02}}
	floats, sinks, err := Cut(feed, 1.25, 0.003)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "both sides", floats.Share+sinks.Share, 1, 1e-12)
	near(t, "first part", floats.Share*floats.MakeUp[0]+sinks.Share*sinks.MakeUp[0], 0.75, 1e-12)
	near(t, "its half that sinks", sinks.Share*sinks.MakeUp[0], 0.375, 1e-9)
}

func TestCutRefuses(t *testing.T) {
	for _, parts := range [][]Part{nil, {{Share: 0, Density: 1}}, {{Share: -1, Density: 1}}, {{Share: math.NaN(), Density: 1}}, {{Share: 1}}, {{Share: math.Inf(1), Density: 1}}} {
		if _, _, err := Cut(parts, 1.2, 0.01); err == nil {
			t.Errorf("%v was cut", parts)
		}
	}
}
