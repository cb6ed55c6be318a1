package advice

import (
	"testing"

	"brinecut/polymers"
	"brinecut/sorting"
)

// TestHiddenMassCountsOnce: one mass of PLA behind two counters is one line, and no more than the bin holds.
func TestHiddenMassCountsOnce(t *testing.T) {
	a := &Answer{Bin: &sorting.Bin{Printed: []sorting.Counter{
		{From: "machine 1", Material: "PETG", Hidden: []polymers.Symbol{"PLA"}},
		{From: "machine 2", Material: "PETG", Hidden: []polymers.Symbol{"PLA", "TPU"}}}}}
	a.Composition.Keys = []string{"PETG", "PLA"}
	a.Composition.Grams = [][]float64{{4000, 700}, {4000, 720}}
	got := counters(a)
	if len(got) != 1 || got[0].From != "machine 1 and machine 2" || got[0].Material != "PLA" || got[0].BookedAs != "PETG" || got[0].Mass != 710 {
		t.Errorf("%+v", got)
	}
}
