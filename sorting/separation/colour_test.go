package separation

import (
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/sorting"
)

// A lot of red and white pieces, with a red snippet of PETG and a white one of PLA, is picked over by eye
// before it meets water. By the law of total probability 0.75 of a material's spools have its snippet's
// colour, and half of the others: 0.875 of the PETG is red.
func TestPickingByColour(t *testing.T) {
	s := sceneOf(t, "motley", 3000, sorting.AsIs, []polymers.Symbol{"PLA", "PETG"}, []float64{0.5, 0.5}, 60)
	known := []sorting.Known{{Name: "red PETG", Material: "PETG"}, {Name: "box", Spool: "white, matt", Material: "PLA"}}
	offered := func(colour string, known []sorting.Known) []test {
		s.feed.Lot.Colour, s.feed.Known = colour, known
		return newDeck(s.c, s.model, s.feed, PlanOptions{}.withDefaults()).colours()
	}
	if got := offered("red, white", known); len(got) != 2 || got[0].outcomes[0] != "red" {
		t.Fatalf("%+v", got)
	}
	for i, want := range []float64{0.125, 0.875} {
		x := newDeck(s.c, s.model, s.feed, PlanOptions{}.withDefaults()).ofColour("red")[i]
		near(t, "red of "+s.c.Keys[i], sum(x)/float64(len(x)), want, 0.5/float64(len(x))+1e-9)
	}
	p := s.plan(PlanOptions{})
	if p.First == nil || p.First.Kind != sorting.ByHand {
		t.Fatalf("%+v", p)
	}
	if with, without := len(PlanAssumptions([]LotPlan{p}, PlanOptions{})), len(PlanAssumptions(nil, PlanOptions{})); with != without+1 {
		t.Errorf("%d assumptions, %d without colours", with, without)
	}
	if first := Steps(p, false)[0]; !strings.Contains(first.Do, "by eye, dry and in daylight") || len(first.Cautions) == 0 {
		t.Errorf("%+v", first)
	}
	if r := p.First.Sides[0].Recovery; r.High-r.Low < 0.2 {
		t.Errorf("a spool has a colour or has it not, yet recovery is held to be %+v", r)
	}
	if len(offered("red", known)) != 0 || len(offered("red and green", []sorting.Known{{Name: "grey", Material: "PLA"}})) != 0 {
		t.Error("one colour, or colours of nothing known, are no way to pick")
	}
}
