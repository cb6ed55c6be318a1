package balance_test

import (
	"math"
	"testing"

	"brinecut/sorting"
	"brinecut/sorting/balance"
)

// What no lot covers is the bin less its lots: with the bin known to b and one lot to a, its error is
// that of the lot turned round and that of the bin, so the correlation with the lot is
// -a/sqrt(a^2 + b^2) (JCGM 100:2008, 5.2.2 and F.1.2.3). Lots with scales of their own and no bin have
// nothing in common.
func TestLotsShareTheBin(t *testing.T) {
	lot := sorting.Lot{Name: "grey", Mass: mass("1000 g ± 100 g"), State: sorting.Dry}
	bin := &sorting.Bin{Lots: []sorting.Lot{lot}, Floor: &sorting.Floor{Gross: mass("3200 g ± 50 g")}}
	r, err := balance.Solve(bin, balance.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b := r.Budget
	if len(b.Lots) != 2 || len(b.Common) != 2 {
		t.Fatalf("%d lots, in common %v", len(b.Lots), b.Common)
	}
	got := b.Common[1][0] * b.Common[0][0] // of L L'
	if want := -100 / math.Hypot(100, 50); math.Abs(got-want) > 0.001 {
		t.Errorf("grey and what no lot covers go together by %.4f, by hand %.4f", got, want)
	}
	other := sorting.Lot{Name: "white", Mass: mass("500 g ± 20 g"), State: sorting.Dry}
	r, err = balance.Solve(&sorting.Bin{Lots: []sorting.Lot{lot, other}}, balance.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Budget.Common != nil {
		t.Errorf("two lots of no bin have %v in common", r.Budget.Common)
	}
}
