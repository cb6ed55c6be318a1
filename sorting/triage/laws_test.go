package triage

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// enumerate gives the exact mean shares of every lot: all combinations of points, each weighed.
func enumerate(piles []*pile, mass []float64, info information) [][]float64 {
	C := len(info.mean)
	out := make([][]float64, len(piles))
	for l := range out {
		out[l] = make([]float64, C)
	}
	at := make([]int, len(piles))
	total := 0.0
	var walk func(l int, logw float64, T []float64)
	walk = func(l int, logw float64, T []float64) {
		if l == len(piles) {
			w := math.Exp(logw + info.logDensity(T))
			total += w
			for k, i := range at {
				for c, x := range piles[k].points[i] {
					out[k][c] += w * x
				}
			}
			return
		}
		for i, w := range piles[l].points {
			if piles[l].prob[i] < negligible {
				continue
			}
			at[l] = i
			U := append([]float64(nil), T...)
			for c, x := range w {
				U[c] += mass[l] * x
			}
			walk(l+1, logw+math.Log(piles[l].prob[i]), U)
		}
	}
	walk(0, 0, make([]float64, C))
	for l := range out {
		for c := range out[l] {
			out[l][c] /= total
		}
	}
	return out
}

// TestSamplerAgainstEnumeration: on small bins the drawn shares are those of the exact sum over all
// combinations of make-ups, within 0.02 (2,000 draws).
func TestSamplerAgainstEnumeration(t *testing.T) {
	for _, c := range []struct {
		name      string
		mean      []float64
		sd        float64
		tests     []sorting.Observation
		masses    []float64
		tolerance float64
	}{
		{"loose totals", []float64{700, 300}, 200, nil, []float64{500, 500}, 0.02},
		{"tight totals, where single moves stick", []float64{500, 500}, 15, nil, []float64{500, 500}, 0.03},
		{"one lot tested, the other follows", []float64{600, 400}, 40, []sorting.Observation{hot("a", 64, "soft")}, []float64{400, 600}, 0.02},
		{"tests against weighings", []float64{950, 50}, 60, []sorting.Observation{hot("a", 70, "stiff"), float("b", 1.255, "sinks")}, []float64{450, 550}, 0.02},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, d := ownLot("a", "PLA", "PETG"), ownLot("b", "PLA", "PETG")
			bin := &sorting.Bin{Lots: []sorting.Lot{a, d}, Tests: c.tests}
			b := judge(t, bin, budgetOf(a, d))
			budget := sorting.Budget{Materials: []polymers.Symbol{"PLA", "PETG"}, Mean: c.mean,
				Precision: [][]float64{{1 / (c.sd * c.sd), 0}, {0, 1 / (c.sd * c.sd)}}, Max: []float64{math.Inf(1), math.Inf(1)}}
			info := budgetOn(b.Candidates, budget, false)
			info.soften(b.piles, c.masses)
			want := enumerate(b.piles, c.masses, info)
			_, weights, _ := drawJoint(b.piles, c.masses, budgetOn(b.Candidates, budget, false), 2000)
			for l, p := range b.piles {
				for k, got := range p.mean(weights[l]) {
					if math.Abs(got-want[l][k]) > c.tolerance {
						t.Errorf("lot %s, %s: drawn %.3f, exact %.3f", p.name, b.Candidates[k].Symbol, got, want[l][k])
					}
				}
			}
		})
	}
}

// anyBin draws a small bin with tests of all common kinds.
func anyBin(t *rapid.T) (*sorting.Bin, sorting.Budget) {
	shelf := []polymers.Symbol{"PLA", "PETG", "ABS", "ASA", "TPU", "PVA", "PVC-U", "PETG-CF", "HIPS"}
	n := rapid.IntRange(1, 4).Draw(t, "lots")
	bin := &sorting.Bin{}
	var lots []sorting.Lot
	for i := 0; i < n; i++ {
		l := ownLot(fmt.Sprint("lot ", i))
		l.Mass = quantity.Exact(quantity.Gram(rapid.Float64Range(0, 3000).Draw(t, "mass")))
		l.CouldBe = rapid.SliceOfNDistinct(rapid.SampledFrom(shelf), 0, 3, rapid.ID[polymers.Symbol]).Draw(t, "could be")
		l.Origin = rapid.SampledFrom([]sorting.Origin{sorting.OwnPrint, sorting.Moulded, sorting.UnknownOrigin}).Draw(t, "origin")
		l.Mixed = rapid.SampledFrom([]*bool{nil, no(), yes()}).Draw(t, "mixed")
		lots = append(lots, l)
	}
	for i := rapid.IntRange(0, 8).Draw(t, "tests"); i > 0; i-- {
		bin.Tests = append(bin.Tests, anyTest(t, lots[rapid.IntRange(0, n-1).Draw(t, "of lot")].Name))
	}
	bin.Lots = lots
	return bin, budgetOf(lots...)
}

func yes() *bool { b := true; return &b }

func anyTest(t *rapid.T, lot string) sorting.Observation {
	o := sorting.Observation{Lot: lot, Piece: rapid.IntRange(0, 3).Draw(t, "piece")}
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		o.Kind, o.Density = cues.Float, quantity.With(quantity.GramPerCm3(rapid.Float64Range(0.8, 1.5).Draw(t, "density")), 0.003)
		o.Outcome = rapid.SampledFrom([]string{"floats", "hovers", "sinks", "unclear"}).Draw(t, "seen")
	case 1:
		o.Kind, o.Temp = cues.HotWater, quantity.Exact(quantity.Celsius(rapid.Float64Range(20, 100).Draw(t, "temp")))
		o.Outcome = rapid.SampledFrom([]string{"stiff", "soft", "unclear"}).Draw(t, "seen")
	case 2:
		o.Kind, o.Outcome = cues.Bend, rapid.SampledFrom([]string{"snaps", "whitens", "bends", "rubbery"}).Draw(t, "seen")
	case 3:
		o.Kind, o.Outcome = cues.Soak, rapid.SampledFrom([]string{"unchanged", "slimy", "dissolves"}).Draw(t, "seen")
	default:
		o.Kind = cues.Bend
		o.Counts = []sorting.Count{{Outcome: "snaps", N: rapid.IntRange(0, 5000).Draw(t, "n")}, {Outcome: "bends", N: 1}}
		o.Piece = 0
	}
	return o
}

// TestLawsOfBelief: whatever a valid bin holds, the shares of a lot sum to one and lie within 0 and 1,
// the draws of a lot sum to its mass, and nothing is NaN or endless.
func TestLawsOfBelief(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bin, budget := anyBin(t)
		b, err := Judge(bin, budget, Options{Draws: 64})
		if err != nil {
			t.Fatal(err)
		}
		K := len(b.Keys)
		for _, g := range b.Grams {
			for l := range b.piles {
				total := 0.0
				for _, x := range g[l*K : (l+1)*K] {
					if !(x >= 0) || math.IsInf(x, 0) {
						t.Fatalf("lot %d holds %v g", l, x)
					}
					total += x
				}
				if math.Abs(total-b.masses[l]) > 1e-6*(1+b.masses[l]) {
					t.Fatalf("lot %d draws %.6f g of %.6f g", l, total, b.masses[l])
				}
			}
		}
		for l, w := range b.joint {
			if math.Abs(sum(w)-1) > 1e-6 || math.Abs(sum(b.piles[l].mean(w))-1) > 1e-6 {
				t.Fatalf("lot %d: weights sum to %v, shares to %v", l, sum(w), sum(b.piles[l].mean(w)))
			}
		}
	})
}

// TestOwnCueNeverLowers: a sight that is likelier for one material than for any other on the list
// never lowers that material's share.
func TestOwnCueNeverLowers(t *testing.T) {
	for _, c := range []struct {
		key  string
		test sorting.Observation
	}{
		{"PVA", sorting.Observation{Lot: "x", Kind: cues.Soak, Outcome: "slimy"}},
		{"TPU", sorting.Observation{Lot: "x", Kind: cues.Bend, Outcome: "rubbery"}},
		{"PLA", hot("x", 60, "soft")},
		{"PLA", sorting.Observation{Lot: "x", Kind: cues.Marked, Symbol: "PLA"}},
	} {
		lot := ownLot("x", "PLA", "PETG", "ABS")
		if c.key == "PVA" || c.key == "TPU" {
			lot.CouldBe = append(lot.CouldBe, polymers.Symbol(c.key))
		}
		before := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}}, budgetOf(lot)).share(0, c.key)
		after := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: []sorting.Observation{c.test}}, budgetOf(lot)).share(0, c.key)
		if after < before {
			t.Errorf("%s %s: the share of %s fell from %.3f to %.3f", c.test.Kind, c.test.Outcome, c.key, before, after)
		}
	}
}

// TestOrderAndNeighbours: the order of tests does not matter, and adding a lot leaves the others as
// they were where no weighing ties them.
func TestOrderAndNeighbours(t *testing.T) {
	lot, other := ownLot("x", "PLA", "PETG"), ownLot("y", "PLA", "PETG")
	tests := []sorting.Observation{hot("x", 64, "stiff"), float("x", 1.255, "sinks"), {Lot: "x", Kind: cues.Bend, Outcome: "whitens"}}
	back := []sorting.Observation{tests[2], tests[1], tests[0]}
	a := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: tests}, budgetOf(lot)).share(0, "PETG")
	b := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: back}, budgetOf(lot)).share(0, "PETG")
	c := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot, other}, Tests: tests}, budgetOf(lot, other)).share(0, "PETG")
	if math.Abs(a-b) > 1e-9 || math.Abs(a-c) > 1e-9 {
		t.Errorf("PETG %.12f, in another order %.12f, beside another lot %.12f", a, b, c)
	}
}

// TestUnclearSaysNothing: a test that could not be read changes nothing.
func TestUnclearSaysNothing(t *testing.T) {
	lot := ownLot("x", "PLA", "PETG")
	o := hot("x", 64, cues.Unclear)
	a := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}}, budgetOf(lot)).share(0, "PETG")
	if b := judge(t, &sorting.Bin{Lots: []sorting.Lot{lot}, Tests: []sorting.Observation{o}}, budgetOf(lot)).share(0, "PETG"); a != b {
		t.Errorf("PETG %.12f before and %.12f after an unclear test", a, b)
	}
}
