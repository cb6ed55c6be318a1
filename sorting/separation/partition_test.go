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

// coal is the washability table of a coal, weight percent and ash percent by density class (B. A. Wills,
// Mineral Processing Technology, from memory: its cumulative columns come out to every digit). Centres
// of the classes; those of the two end classes are assumed.
var coal = []struct{ density, weight, ash float64 }{
	{1.29, 0.77, 4.4}, {1.31, 0.73, 5.6}, {1.33, 1.26, 6.5}, {1.35, 4.01, 7.2}, {1.37, 8.92, 9.2}, {1.39, 10.33, 11.0},
	{1.41, 9.28, 12.1}, {1.43, 9.00, 14.1}, {1.45, 8.58, 16.0}, {1.47, 7.79, 17.9}, {1.49, 6.42, 21.5}, {1.60, 32.91, 40.2},
}

func washed(t *testing.T, cut, ep quantity.GramPerCm3) (yield, ash, sinkAsh float64) {
	t.Helper()
	var parts []Part
	for _, c := range coal {
		parts = append(parts, Part{Share: c.weight, Density: quantity.GramPerCm3(c.density)})
	}
	floats, sinks, err := Cut(parts, cut, ep)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range coal {
		ash += floats.MakeUp[i] * c.ash
		sinkAsh += sinks.MakeUp[i] * c.ash
	}
	return 100 * floats.Share, ash, sinkAsh
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// The cumulative columns of the table at 1.46, a perfect cut: yield 52.88 %, ash 11.7 %.
func TestCutAgainstTheWashabilityTable(t *testing.T) {
	yield, ash, _ := washed(t, 1.46, 0)
	near(t, "yield", yield, 52.88, 0.005)
	near(t, "ash", ash, 11.7, 0.05)
	yield, ash, _ = washed(t, 1.44, 0)
	near(t, "yield", yield, 44.30, 0.005)
	near(t, "ash", ash, 10.8, 0.05)
}

// The same coal through a bath of 1.44 with Ep 0.02, reckoned from the same inputs by an independent
// program: floats 43.456 %, ash 11.214 %, ash of the sinks 30.593 %.
func TestCutThroughADenseMediumBath(t *testing.T) {
	yield, ash, sinkAsh := washed(t, 1.44, 0.02)
	near(t, "yield", yield, 43.456, 0.0005)
	near(t, "ash", ash, 11.214, 0.0005)
	near(t, "sinks' ash", sinkAsh, 30.593, 0.0005)
}

// Two baths one after the other, a made-up feed (densities are no facts), reckoned by an independent
// program: A 60 (1.24), B 25 (1.27), C 10 (1.05), D 5 (1.38); 1.15 with Ep 0.02, then its sinks in 1.255
// with Ep 0.004.
func TestTwoBaths(t *testing.T) {
	feed := []Part{{Share: 60, Density: 1.24}, {Share: 25, Density: 1.27}, {Share: 10, Density: 1.05}, {Share: 5, Density: 1.38}}
	first, rest, err := Cut(feed, 1.15, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "first floats", 100*first.Share, 10.41792, 5e-6)
	near(t, "C in them", 100*first.MakeUp[2], 95.595, 5e-4)
	for i := range feed {
		feed[i].Share = rest.Share * rest.MakeUp[i]
	}
	second, last, err := Cut(feed, 1.255, 0.004)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "second floats", 100*second.Share*rest.Share, 59.06300, 5e-6)
	near(t, "A in them", 100*second.MakeUp[0], 99.255, 5e-4)
	near(t, "last sinks", 100*last.Share*rest.Share, 30.51908, 5e-6)
	for i, want := range []float64{3.121, 80.496, 0, 16.383} {
		near(t, "make-up of the last sinks", 100*last.MakeUp[i], want, 5e-4)
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
