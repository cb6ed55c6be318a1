package advice

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

// TestBathsToMix: a liter of 12.0 % brine of table salt has 1.0857 g/cm3 at 20 °C, so 130.3 g of salt in
// 955.4 g of water (CRC Handbook of Chemistry and Physics, concentrative properties of aqueous solutions,
// sodium chloride; kitchen salt holds up to 3 % of other things). A bath that the bin has, and plain
// water, are not mixed; one density is mixed once.
func TestBathsToMix(t *testing.T) {
	lines := []triage.ChartLine{{N: 1, Kind: cues.Float, Density: 1.0857}, {N: 2, Kind: cues.HotWater, Temp: 64}, {N: 3, Kind: cues.Float, Density: 1.0857},
		{N: 4, Kind: cues.Float, Density: 0.998}, {N: 5, Kind: cues.Float, Density: 1.25, Bath: "A"}}
	bin := &sorting.Bin{Kit: sorting.Kit{Has: []string{"table salt"}, Given: true}}
	got := bathsToMix(bin, lines)
	if len(got) != 1 {
		t.Fatalf("%d baths to mix: %v", len(got), got)
	}
	m := regexp.MustCompile(`(\d+) g table salt in (\d+) g water`).FindStringSubmatch(got[0].Do)
	if m == nil {
		t.Fatalf("no recipe in %q", got[0].Do)
	}
	salt, errS := strconv.ParseFloat(m[1], 64)
	water, errW := strconv.ParseFloat(m[2], 64)
	if errS != nil || errW != nil || salt < 130 || salt > 134.5 || water < 951 || water > 956 {
		t.Errorf("%v g salt in %v g water, by the handbook 130.3 in 955.4", salt, water)
	}
	if len(got[0].Cautions) == 0 || !strings.Contains(strings.Join(got[0].Cautions, " "), "eyes") {
		t.Errorf("the cautions of brine are not beside it: %q", got[0].Cautions)
	}
}

// TestChartBeginsWithHazards: whatever the bin, foreign pieces, metal and fibre are dealt with ahead of
// line 1, each with its caution.
func TestChartBeginsWithHazards(t *testing.T) {
	for _, keys := range [][]string{{"PLA", "other"}, {"PLA", "PVA", "other"}} {
		a := &Answer{}
		a.Composition.Keys = keys
		first := beforeChart(a)
		all := ""
		for _, s := range first {
			if len(s.Cautions) == 0 {
				t.Errorf("%q has no caution", s.Do)
			}
			all += s.Do + "\n"
		}
		for _, want := range []string{"not surely off your own printer: stop", "batteries", "fibre-filled"} {
			if !strings.Contains(all, want) {
				t.Errorf("%v: no line on %q", keys, want)
			}
		}
		if strings.Contains(all, "soluble support") != (len(keys) == 3) {
			t.Errorf("%v: %q", keys, all)
		}
	}
}
