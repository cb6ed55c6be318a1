package show

import (
	"bytes"
	"strings"
	"testing"

	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

// Of two closed ways the one that lacks less is nearest, unless the decision names another; a gate ahead
// of all ways leaves nothing near. What two ways ask alike, and sources, are written once.
func TestRulesSayFirstWhatMatters(t *testing.T) {
	worth := func(x float64) *reuse.Worth {
		return &reuse.Worth{Value: sorting.Range{Mean: x, Low: x, High: x}, Currency: "EUR"}
	}
	dry := reuse.Asked{Asks: "dry", By: "it is damp", Cure: "dry it", Source: "a book"}
	tools := reuse.Asked{Asks: "tools", By: "no press", Source: "a kit"}
	met := reuse.Asked{Asks: "tools", Met: true, Source: "a kit"}
	d := reuse.Decision{Route: reuse.Hold, Rules: []reuse.Rule{
		{Route: reuse.Disposal, By: "it is not", Asks: []reuse.Asked{{Asks: "soluble", By: "it is not", Source: "a book"}}},
		{Route: reuse.Regrind, By: "no press", Asks: []reuse.Asked{dry, tools}, Worth: worth(9)},
		{Route: reuse.Sheet, By: "it is damp", Asks: []reuse.Asked{dry, met}, Worth: worth(1)},
		{Route: reuse.Hold, Taken: true, Asks: []reuse.Asked{{Asks: "no way is open", Met: true, Source: "a rule"}}},
	}}
	if got := nearestWords(d); got != "sheet (rule 3), lost by: it is damp (to mend it: dry it)" {
		t.Errorf("nearest %q", got)
	}
	d.NextRoute, d.NextBetter = reuse.Regrind, []string{"dry it"}
	if got := nearestWords(d); !strings.HasPrefix(got, "regrind (rule 2), lost by: it is damp (to mend it: dry it); no press") {
		t.Errorf("nearest %q", got)
	}
	var out bytes.Buffer
	rules(NewPage(&out, Metric), []advice.Fraction{{Fraction: sorting.Fraction{Name: "PETG"}, Decision: d}})
	for _, once := range []string{"a book", "a kit", "[1] a book", "sheet, if: the same as regrind", "1. disposal: no; it is not", "it lacks 1 of the 2 it asks"} {
		if n := strings.Count(out.String(), once); n != 1 {
			t.Errorf("%q stands %d times in\n%s", once, n, out.String())
		}
	}
	d.Rules[0].Taken, d.Rules[3].Taken = true, false
	if got := nearestWords(d); got != "none: rule 1 ends the matter, no way is asked after it" {
		t.Errorf("behind a gate, nearest %q", got)
	}
}

// Who dries a bag for hours is told before what it still needs after, and whose outlet asks for it.
func TestNextNeedsAreAllSaid(t *testing.T) {
	d := reuse.Decision{Route: reuse.Hold, Why: []reuse.Reason{{Words: "kept"}}, NextRoute: reuse.Recycler, NextOutlet: "depot", NextBetter: []string{"dry it", "59 more clean random pieces"}}
	if got := because(advice.Fraction{Decision: d}); got != "kept; depot needs: dry it, then: 59 more clean random pieces" {
		t.Errorf("%q", got)
	}
}
