package balance_test

import (
	"math"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/balance"
)

func mass(s string) quantity.Mass      { return quantity.MustParse[quantity.Gram](s) }
func share(s string) quantity.Fraction { return quantity.MustParse[quantity.Share](s) }

// build is an invented bin: two counters, one of which hides PLA, a finished model with rods in it, and
// a bin of 5.09 kg of plastic in two lots and a rest.
func build() *sorting.Bin {
	scale := sorting.ScaleRef{Step: mass("10 g")}
	return &sorting.Bin{
		Floor: &sorting.Floor{Line: 1, Gross: mass("5.84 kg"), Tare: mass("0.71 kg"), Scale: scale, Hardware: mass("40 g ± 10 g")},
		Printed: []sorting.Counter{
			{Line: 10, From: "machine 1", Counted: mass("8.4 kg"), Error: share("4 %"), SharedError: share("2 %"), Material: "PETG", Hidden: []polymers.Symbol{"PLA"}, HiddenShare: share("5-20 %")},
			{Line: 20, From: "machine 2", Counted: mass("7.2 kg"), Error: share("4 %"), SharedError: share("2 %"), Material: "PETG"},
		},
		Kept:   []sorting.Kept{{Line: 30, What: "model", Mass: mass("10.6 kg ± 50 g"), Hardware: mass("0.6 kg ± 0.1 kg"), Materials: []polymers.Symbol{"PETG"}}},
		Thrown: []sorting.Thrown{{Line: 40, Mass: mass("0.2-1 kg")}},
		Lots: []sorting.Lot{
			{Line: 50, Name: "white", Mass: mass("1.82 kg"), Scale: scale, State: sorting.Dry},
			{Line: 60, Name: "crumbs", Mass: mass("2.15 kg"), Scale: scale, State: sorting.Dry},
		},
	}
}

func solved(t testing.TB, b *sorting.Bin) balance.Result {
	t.Helper()
	r, err := balance.Solve(b, balance.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func stream(t testing.TB, r balance.Result, name string, m polymers.Symbol) balance.Stream {
	t.Helper()
	for _, s := range r.Streams {
		if s.Name == name && s.Material == m {
			return s
		}
	}
	t.Fatalf("no stream %q of %q", name, m)
	return balance.Stream{}
}

// What comes in goes out, stream by stream and material by material; lots sum to the bin.
func TestMassInIsMassOut(t *testing.T) {
	r := solved(t, build())
	total := func(names ...string) (sum float64) {
		for _, n := range names {
			sum += *stream(t, r, n, "").Reconciled
		}
		return sum
	}
	if in, out := total("machine 1", "machine 2"), total("model", "thrown", "bin"); math.Abs(in-out) > 1e-6 {
		t.Errorf("in %.6f g, out %.6f g", in, out)
	}
	if bin, lots := total("bin"), total("white", "crumbs", "unsorted"); math.Abs(bin-lots) > 1e-6 {
		t.Errorf("bin %.6f g, lots %.6f g", bin, lots)
	}
	m := stream(t, r, "machine 1", "")
	if got := *stream(t, r, "machine 1", "PETG").Reconciled + *stream(t, r, "machine 1", "PLA").Reconciled; math.Abs(got-*m.Reconciled) > 1e-6 {
		t.Errorf("materials sum to %.6f g of %.6f g", got, *m.Reconciled)
	}
}

// One reading of a scale with step d is known to d/sqrt 12, a net of two to sqrt 2 of that
// (JCGM 100:2008, F.2.2.1): 2.887 g and 4.082 g for a step of 10 g.
func TestScaleStep(t *testing.T) {
	b := &sorting.Bin{
		Floor: &sorting.Floor{Gross: mass("5.84 kg"), Tare: mass("0.71 kg"), Scale: sorting.ScaleRef{Step: mass("10 g")}},
		Lots:  []sorting.Lot{{Name: "a", Mass: mass("1.82 kg"), Scale: sorting.ScaleRef{Step: mass("10 g")}}},
	}
	r := solved(t, b)
	if got := stream(t, r, "bin", "").SD; math.Abs(got-4.082) > 5e-4 {
		t.Errorf("net of two readings: %.4f g, handbook 4.082 g", got)
	}
	if got := stream(t, r, "a", "").SD; math.Abs(got-2.887) > 5e-4 {
		t.Errorf("one reading: %.4f g, handbook 2.887 g", got)
	}
}

// A material of which only a sum is known gets no number.
func TestUndeterminedHasNoNumber(t *testing.T) {
	b := build()
	b.Kept[0].Materials = nil
	s := stream(t, solved(t, b), "model", "PLA")
	if s.Class != balance.Undetermined || s.Reconciled != nil {
		t.Errorf("PLA in the model: %s %v", s.Class, s.Reconciled)
	}
}
