package advice_test

import (
	"math"
	"testing"

	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

// TestLotsSumToTheBin: a lot of which little is known takes from what no lot covers what it has itself:
// the whole is known as the bin is, to 3230 g within the step of the scale (JCGM 100:2008, F.2.2.1: a
// reading in steps of d has d/sqrt(12)), twice weighed.
func TestLotsSumToTheBin(t *testing.T) {
	bin := &sorting.Bin{Title: "invented",
		Floor: &sorting.Floor{Gross: quantity.Exact[quantity.Gram](3850), Tare: quantity.Exact[quantity.Gram](620), Scale: sorting.ScaleRef{Step: quantity.Exact[quantity.Gram](10)}, Origin: sorting.OwnPrint, OriginGiven: true},
		Lots:  []sorting.Lot{{Name: "grey", Mass: quantity.With[quantity.Gram](1000, 100), State: sorting.Dry, Prep: sorting.Cut, Origin: sorting.OwnPrint, OriginGiven: true}}}
	a, err := advice.Sort(bin, advice.Options{})
	if err != nil {
		t.Fatal(err)
	}
	got, sd := a.TotalOf(), 10/math.Sqrt(6)
	if math.Abs(got.Mean-3230) > 1 || math.Abs(got.High-got.Low-2*1.645*sd) > 0.2*2*1.645*sd {
		t.Errorf("in all %.0f g, %.1f to %.1f; the weighings give 3230 g, 90 %% in %.1f to %.1f", got.Mean, got.Low, got.High, 3230-1.645*sd, 3230+1.645*sd)
	}
}
