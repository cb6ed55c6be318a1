package advice_test

import (
	"fmt"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

// large is an invented bin of many lots and tests, two counters and a finished piece.
func large(lots, tests int) *sorting.Bin {
	b := &sorting.Bin{Title: "invented, for speed", Currency: "EUR"}
	b.Kit = sorting.Kit{Given: true, Has: []string{"table salt", "epsom salt", "sugar", "kettle", "thermometer", "scale 1 g", "sheet press"}}
	b.Floor = &sorting.Floor{Gross: quantity.Exact(quantity.Gram(700 + 200*lots)), Tare: quantity.Exact[quantity.Gram](700), Origin: sorting.OwnPrint, OriginGiven: true}
	for i := 0; i < lots; i++ {
		b.Lots = append(b.Lots, sorting.Lot{Name: fmt.Sprintf("lot %d", i+1), Mass: quantity.Exact[quantity.Gram](200), State: sorting.Dry, Prep: sorting.Cut,
			CouldBe: []polymers.Symbol{"PETG", "PLA", "ABS"}, Origin: sorting.OwnPrint, OriginGiven: true})
	}
	for i, m := range []polymers.Symbol{"PETG", "PLA", "ABS"} {
		g := quantity.Gram(200 * lots)
		b.Printed = append(b.Printed, sorting.Counter{From: fmt.Sprint("machine ", i+1), Material: m, Counted: quantity.Exact(g), Error: quantity.Exact[quantity.Share](0.04)})
		b.Kept = append(b.Kept, sorting.Kept{What: fmt.Sprint("part ", m), Mass: quantity.Exact(g * 2 / 3), Materials: []polymers.Symbol{m}})
	}
	for i := 0; i < tests; i++ {
		o := sorting.Observation{ID: fmt.Sprint("t", i+1), Lot: b.Lots[i%lots].Name, Piece: i/lots + 1}
		switch kind := (i%lots + i/lots) % 3; {
		case kind == 0:
			o.Kind, o.Density, o.Outcome = cues.Float, quantity.With[quantity.GramPerCm3](1.15, 0.003), []string{"sinks", "floats"}[i%lots%2]
		case kind == 1:
			o.Kind, o.Temp, o.Outcome = cues.HotWater, quantity.Exact[quantity.Celsius](66), []string{"stiff", "soft", "stiff"}[i%lots%3]
		default:
			o.Kind, o.Outcome = cues.Bend, []string{"snaps", "whitens", "bends"}[i%lots%3]
		}
		b.Tests = append(b.Tests, o)
	}
	return b
}

func BenchmarkSort(b *testing.B) {
	for _, size := range [][2]int{{6, 30}, {60, 300}, {240, 4800}} {
		bin := large(size[0], size[1])
		b.Run(fmt.Sprintf("%d lots %d tests", size[0], size[1]), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := advice.Sort(bin, advice.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
