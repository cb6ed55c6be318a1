package triage

import (
	"testing"

	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// TestSolventAndHeatNeverJoin: with a solvent on a chart no test above 100 °C joins it, and the other way round,
// whatever it would save (docs/safety.md, section 1).
func TestSolventAndHeatNeverJoin(t *testing.T) {
	b := chartBin(t)
	for _, c := range []struct {
		there, more cues.Kind
		want        bool
	}{
		{cues.Acetone, cues.HotAir, false}, {cues.HotAir, cues.Acetone, false}, {cues.Acetone, cues.Flame, false},
		{cues.Acetone, cues.HotWater, true}, {cues.HotAir, cues.Bend, true},
	} {
		k := newKey(b, sorting.Menu{}, chartStakes(b), ChartOptions{})
		k.looks = []look{{ask: response.Ask{Kind: c.there}}}
		k.nodes = []*node{{look: 0}}
		if got := k.joins(c.more); got != c.want {
			t.Errorf("%s on a chart with %s: %v, want %v", c.more, c.there, got, c.want)
		}
	}
}
