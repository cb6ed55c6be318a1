package balance_test

import (
	"math"
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/balance"
)

// The budget holds what the counters say and leaves the bin's own weighing to the lots: with PLA hidden
// in 8.4 kg at 12.5 %, none of it kept and nothing thrown, 1,050 g of PLA came to the bin.
func TestBudgetIsWithoutTheBinsWeighing(t *testing.T) {
	b := build()
	b.Thrown = nil
	b.Printed[0].Error, b.Printed[0].SharedError = share("0 %"), share("0 %")
	r := solved(t, b)
	i := indexOf(t, r.Budget.Materials, "PLA")
	close(t, "PLA", r.Budget.Mean[i], 1050, 1e-6)
	sd := 8400 * 0.15 / math.Sqrt(12)
	p := r.Budget.Precision
	j := indexOf(t, r.Budget.Materials, "PETG")
	close(t, "variance by inverting two by two", p[j][j]/(p[i][i]*p[j][j]-p[i][j]*p[j][i]), sd*sd, 0.01*sd*sd)
	lighter := build()
	lighter.Thrown, lighter.Printed = nil, b.Printed
	lighter.Floor.Gross = mass("5.80 kg")
	close(t, "mean with a lighter bin", solved(t, lighter).Budget.Mean[i], r.Budget.Mean[i], 1e-9)
	if got := r.Budget.Max[i]; got < 1050 || got > 1050+3.1*sd {
		t.Errorf("most PLA %.0f g", got)
	}
	if len(r.Budget.Hidden) != 1 || r.Budget.Hidden[0] != "PLA" {
		t.Errorf("hidden %v", r.Budget.Hidden)
	}
}

func indexOf(t *testing.T, list []polymers.Symbol, m polymers.Symbol) int {
	t.Helper()
	for i, x := range list {
		if x == m {
			return i
		}
	}
	t.Fatalf("no %s in %v", m, list)
	return -1
}

// By hand: each of two materials was printed at 1500 g ± 150/sqrt 2 (their sum is known), so not above
// 1674 g; of the 2000 g kept each is anything between 324 g and that, rectangular: 390 g. The difference of
// the two in the bin is known to sqrt(2 (150^2 + 390^2)), and their sum to sqrt(2 * 150^2 + 1).
func TestBudgetOfWhatDividesUnknown(t *testing.T) {
	p := solved(t, two()).Budget.Precision
	difference := (p[0][0] - p[0][1] - p[1][0] + p[1][1]) / 4
	close(t, "difference", 1/math.Sqrt(difference), math.Sqrt(2*(150*150+390*390)), 1)
	sum := (p[0][0] + p[0][1] + p[1][0] + p[1][1]) / 4
	close(t, "sum", 1/math.Sqrt(sum), math.Sqrt(2*150*150+1), 0.1)
}

// One weighing is left that matters: the parts that were kept, by material; after it, none.
func TestNextWeighing(t *testing.T) {
	r := solved(t, two())
	if len(r.NextWeighing) == 0 || !strings.Contains(r.NextWeighing[0].What, "model") {
		t.Fatalf("next: %+v", r.NextWeighing)
	}
	if d := r.NextWeighing[0].Drop; d < 0.2 || d > 1 {
		t.Errorf("it takes away %.2f of the doubt", d)
	}
	fine := &sorting.Bin{Floor: &sorting.Floor{Gross: mass("1000 g"), Tare: mass("10 g"), Scale: sorting.ScaleRef{Step: mass("1 g")}}}
	r = solved(t, fine)
	if len(r.NextWeighing) != 0 || !strings.HasPrefix(r.Words[len(r.Words)-1], "weigh nothing more") {
		t.Errorf("a bin weighed to 1 g: %+v", r.NextWeighing)
	}
}

// The rank-one drop by hand: a lot that is the rest of a bin known to 10 g, weighed to 0.29 g.
func TestDropByHand(t *testing.T) {
	b := &sorting.Bin{Floor: &sorting.Floor{Gross: mass("1000 g ± 10 g")}, Lots: []sorting.Lot{{Name: "a"}}}
	r := solved(t, b)
	want := 1 - math.Sqrt(1-100/(100+1.0/12))
	for _, w := range r.NextWeighing {
		if strings.Contains(w.What, `"a"`) {
			close(t, "drop", w.Drop, want, 1e-9)
			return
		}
	}
	t.Fatalf("weighing the lot is not proposed: %+v", r.NextWeighing)
}

func verdict(t *testing.T, r balance.Result, what string) balance.Verdict {
	t.Helper()
	for _, c := range r.Checks {
		if strings.Contains(c.What, what) {
			return c.Verdict
		}
	}
	t.Fatalf("no explanation %q", what)
	return ""
}

// Each usual explanation against a bin made so that it alone is the cause, or cannot be.
func TestExplanations(t *testing.T) {
	base := func() *sorting.Bin {
		b := two()
		for i := range b.Printed {
			b.Printed[i].Error = share("1 %")
		}
		return b
	}
	rods := base()
	rods.Kept[0].Mass, rods.Kept[0].Hardware = mass("2400 g ± 1 g"), quantity.Mass{}
	scrap := base()
	scrap.Floor.Gross = mass("600 g ± 1 g")
	booked := base()
	booked.Spools = []sorting.Spool{{Material: "PETG", Before: mass("3000 g"), After: mass("1900 g"), ReelsOut: mass("0 g")}}
	reels := base()
	reels.Spools = []sorting.Spool{{Material: "PETG", Before: mass("3000 g"), After: mass("1050 g")}}
	for _, c := range []struct {
		bin  *sorting.Bin
		what string
		want balance.Verdict
	}{
		{base(), "rods", balance.NotNeeded}, {base(), "thrown", balance.NotNeeded}, {base(), "booked", balance.NotTold},
		{rods, "rods", balance.Fits}, {rods, "thrown", balance.FitsNot}, {rods, "failed", balance.Fits},
		{scrap, "rods", balance.FitsNot}, {scrap, "thrown", balance.Fits}, {scrap, "failed", balance.FitsNot},
		{booked, "booked", balance.Fits}, {booked, "reels", balance.NotNeeded},
		{reels, "reels", balance.Fits}, {reels, "booked", balance.NotNeeded},
	} {
		if got := verdict(t, solved(t, c.bin), c.what); got != c.want {
			t.Errorf("%s: %s, should be %s", c.what, got, c.want)
		}
	}
}

// 4,000 g printed and 1,000 g kept is far from the published shares and is remarked with its source.
func TestWasteRemark(t *testing.T) {
	b := two()
	b.Kept[0].Mass, b.Floor.Gross = mass("1000 g ± 1 g"), mass("2000 g ± 1 g")
	r := solved(t, b)
	close(t, "waste", r.Where.Waste.Mean, 2.0/3, 1e-3)
	if !strings.Contains(strings.Join(r.Words, "\n"), "Song & Telenko 2017") {
		t.Errorf("no remark: %q", r.Words)
	}
}

// As read, 3,000 g came in and 3,000 g went out; the table says so and knows the doubt:
// two counters of 150 g, two weighings of 1 g.
func TestWhereItWent(t *testing.T) {
	w := solved(t, two()).Where
	close(t, "gap", *w.Gap, 0, 1e-9)
	close(t, "its doubt", w.GapSD, math.Sqrt(2*150*150+2), 1e-6)
	if len(w.Rows) != 4 {
		t.Errorf("rows %+v", w.Rows)
	}
}
