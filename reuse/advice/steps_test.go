package advice

import (
	"strings"
	"testing"

	"brinecut/reuse"
	"brinecut/sorting"
)

// TestDampIsDriedAtTheBench: what goes no better way for being damp gets a step at the bench that names
// that way and the safety page; what must not be heated gets none.
func TestDampIsDriedAtTheBench(t *testing.T) {
	d := reuse.Decision{Route: reuse.Hold, MayBeHeated: true, NextRoute: reuse.Sheet, Drying: "dry it at 63 °C for 4 h or more"}
	a := &Answer{Bin: &sorting.Bin{}, Fractions: []Fraction{{Fraction: sorting.Fraction{Name: "PETG", Lots: []string{"x"}}, Decision: d}}}
	got := dryings(a)
	if len(got) != 1 || got[0].Do != `spread "PETG" thin and dry it at 63 °C for 4 h or more, which sheet needs; weigh it again, and write state = "dry"` ||
		!strings.Contains(strings.Join(got[0].Cautions, " "), "docs/safety.md") {
		t.Errorf("%+v", got)
	}
	a.Fractions[0].Decision.MayBeHeated = false
	if got := dryings(a); len(got) != 0 {
		t.Errorf("barred from heat, and yet %+v", got)
	}
}
