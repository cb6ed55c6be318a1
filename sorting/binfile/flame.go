package binfile

import (
	"slices"

	"brinecut/polymers/cues"
	"brinecut/sorting"
)

// flame reads the cues of a flame: a table as the outcome, or keys of the test itself; or "unclear".
func (t *table) flame(test cues.Test, o *sorting.Observation) {
	if _, ok := t.values["outcome"].(string); ok {
		o.Outcome = t.choice("outcome", cues.Unclear)
	} else if c := t.one("outcome"); c != nil {
		o.Flame = c.cues(test)
		c.done()
		if o.Flame == nil && len(c.values) == 0 {
			t.refuse("outcome", "no cue is noted", `write those that were seen, such as { smoke = "sooty", drips = true }, or "unclear"`)
		}
	}
	direct := t.cues(test)
	if direct != nil && t.has("outcome") {
		t.refuse("outcome", "the cues stand here and beside it", "write them once")
	} else if direct != nil {
		o.Flame = direct
	}
	t.need("no cue is noted", `write those that were seen: outcome = { smoke = "sooty", drips = true, goes_out = false }`,
		"outcome", "smoke", "drips", "goes_out")
}

// cues reads those cues that are there; nil where none is.
func (t *table) cues(test cues.Test) *sorting.FlameCues {
	i := slices.IndexFunc(test.Cues, func(c cues.Cue) bool { return c.Name == "smoke" })
	f := &sorting.FlameCues{Smoke: t.choice("smoke", test.Cues[i].Outcomes...)}
	f.Drips, f.GoesOut = t.truth("drips"), t.truth("goes_out")
	if *f == (sorting.FlameCues{}) {
		return nil
	}
	return f
}
