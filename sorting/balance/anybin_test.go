package balance_test

import (
	"fmt"
	"math"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/balance"

	"pgregory.net/rapid"
)

// anyMass draws a mass as users write them: plain, with a doubt, a range, about, none, or not at all.
func anyMass(t *rapid.T, label string) quantity.Mass {
	x := rapid.Float64Range(0, 5000).Draw(t, label)
	switch rapid.IntRange(0, 7).Draw(t, label+" form") {
	case 0:
		return quantity.Mass{}
	case 1:
		return mass(fmt.Sprintf("%.2f kg", x/1000))
	case 2:
		return mass(fmt.Sprintf("%.0f g ± %.1f %%", x, rapid.Float64Range(0, 20).Draw(t, label+" doubt")))
	case 3:
		return mass(fmt.Sprintf("%.0f-%.0f g", x/2, x))
	case 4:
		return mass(fmt.Sprintf("about %.0f g", x))
	case 5:
		return mass("0 g")
	case 6:
		return mass(fmt.Sprintf("%.1f g ± 0 g", x))
	}
	return mass(fmt.Sprintf("%.0f g", x))
}

var anyMaterial = rapid.SampledFrom([]polymers.Symbol{"PETG", "PLA", "PVA", "TPU", "ABS"})

func anyBin(t *rapid.T) *sorting.Bin {
	b := &sorting.Bin{}
	if rapid.Bool().Draw(t, "bin") {
		b.Floor = &sorting.Floor{Line: 1, Gross: anyMass(t, "gross"), Opening: anyMass(t, "opening"), Hardware: anyMass(t, "hardware")}
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "printed") {
		c := sorting.Counter{Line: 10 + i, From: fmt.Sprint("machine ", i), Counted: anyMass(t, "counted"), Material: anyMaterial.Draw(t, "material")}
		if rapid.Bool().Draw(t, "hides") {
			c.Hidden, c.HiddenShare = []polymers.Symbol{"PVB", "HIPS"}, share("5-20 %")
		}
		b.Printed = append(b.Printed, c)
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "spools") {
		b.Spools = append(b.Spools, sorting.Spool{Line: 20 + i, Material: anyMaterial.Draw(t, "stock"), Before: anyMass(t, "before"), After: anyMass(t, "after"), ReelsOut: anyMass(t, "reels")})
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "kept") {
		k := sorting.Kept{Line: 30 + i, Mass: anyMass(t, "kept mass"), Hardware: anyMass(t, "rods")}
		if rapid.Bool().Draw(t, "of") {
			k.Materials = []polymers.Symbol{anyMaterial.Draw(t, "kept of")}
		}
		b.Kept = append(b.Kept, k)
	}
	for i := range rapid.IntRange(0, 1).Draw(t, "thrown") {
		b.Thrown = append(b.Thrown, sorting.Thrown{Line: 40 + i, Mass: anyMass(t, "thrown mass")})
	}
	anyLots(t, b)
	nodes := rapid.SampledFrom([]string{"", "mill", "tub", "bin", "build", "lot 0", "dryer"})
	for i := range rapid.IntRange(0, 4).Draw(t, "streams") {
		s := sorting.Stream{Line: 200 + i, Name: fmt.Sprint("stream ", i), From: nodes.Draw(t, "from"), To: nodes.Draw(t, "to"), Mass: anyMass(t, "stream mass")}
		if rapid.Bool().Draw(t, "named") {
			s.Material = anyMaterial.Draw(t, "stream of")
		}
		if s.From != s.To {
			b.Streams = append(b.Streams, s)
		}
	}
	return b
}

func anyLots(t *rapid.T, b *sorting.Bin) {
	n := rapid.IntRange(0, 4).Draw(t, "lots")
	states := rapid.SampledFrom([]sorting.State{sorting.Dry, sorting.Dry, sorting.SurfaceDry, sorting.Wet})
	lot := func(name string, line int) sorting.Lot {
		return sorting.Lot{Name: name, Line: line, Mass: anyMass(t, name), State: states.Draw(t, "state")}
	}
	for i := range n {
		b.Lots = append(b.Lots, lot(fmt.Sprint("lot ", i), 50+i))
	}
	if n > 0 && rapid.Bool().Draw(t, "split") {
		b.Splits = []sorting.Split{{Line: 60, Lot: "lot 0", Loss: anyMass(t, "loss"), Into: []sorting.Side{{Lot: lot("light", 61)}, {Lot: lot("heavy", 62)}}}}
	}
	if n > 2 && rapid.Bool().Draw(t, "merge") {
		b.Merges = []sorting.Merge{{Line: 70, From: []string{"lot 1", "lot 2"}, Into: "both"}}
		b.Bags = []sorting.Bag{{Line: 71, ID: "A1", Lots: []string{"both"}, Gross: anyMass(t, "bag")}}
	}
	if n > 1 && rapid.Bool().Draw(t, "taken") {
		b.Taken = []sorting.Taken{{Line: 80, Lot: "lot 1", Mass: anyMass(t, "taken mass")}}
	}
}

// Any bin gets an answer or a clear word: no panic, nothing that is not a number, ranges in order,
// materials that sum to their stream, nothing below zero, an undetermined stream without a number, and
// twice the same answer.
func TestAnyBin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := anyBin(rt)
		r, err := balance.Solve(b, balance.Options{})
		if err != nil {
			if err.Error() == "" {
				rt.Fatal("an error without a word")
			}
			return
		}
		sums := map[string]float64{}
		whole := map[string]bool{}
		for _, s := range r.Streams {
			if (s.Reconciled == nil) != (s.Class == balance.Undetermined) {
				rt.Fatalf("%+v", s)
			}
			for _, x := range []float64{s.Mean, s.SD, s.Low, s.High} {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					rt.Fatalf("%+v", s)
				}
			}
			if s.Reconciled == nil {
				whole[s.Name] = false
				continue
			}
			if *s.Reconciled < 0 || s.Low < 0 || s.Mean < s.Low-s.SD-1e-3 || s.Low > s.High+1e-9 {
				rt.Fatalf("%s %s: %g [%g %g]", s.Name, s.Material, *s.Reconciled, s.Low, s.High)
			}
			if s.Material == "" {
				sums[s.Name], whole[s.Name] = *s.Reconciled, false
			} else if _, ok := sums[s.Name]; ok {
				sums[s.Name] -= *s.Reconciled
			}
		}
		for _, l := range r.Budget.Lots {
			for _, x := range []float64{l.Mean, l.SD, l.Low, l.High} {
				if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
					rt.Fatalf("%+v", l)
				}
			}
		}
		for _, row := range r.Budget.Precision {
			for _, x := range row {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					rt.Fatalf("precision %v", r.Budget.Precision)
				}
			}
		}
		second, err := balance.Solve(b, balance.Options{})
		if err != nil || fmt.Sprint(second.Words) != fmt.Sprint(r.Words) || second.ChiSquare != r.ChiSquare {
			rt.Fatalf("twice the same bin, two answers")
		}
	})
}
