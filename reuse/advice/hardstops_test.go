package advice

import (
	"slices"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/reuse"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

// TestBarredLotsStayColdAndWhole: a lot that the heat rule bars gets no test above 100 °C and none that
// splinters or cuts it; one that a name or an additive bars is only read (docs/safety.md, section 1).
func TestBarredLotsStayColdAndWhole(t *testing.T) {
	cold := reuse.Heat{WhyNot: []reuse.Reason{{Words: "moulded", Source: "x"}}}
	lots := []Lot{{Name: "own", Heat: reuse.Heat{May: true}}, {Name: "moulded", Heat: cold}, {Name: "pipe", Heat: cold, Lot: sorting.Lot{CouldBe: []polymers.Symbol{"PVC-U"}}}}
	got, kept := forbidden(lots), whole(lots)
	for lot, want := range map[string][]cues.Kind{
		"own":     nil,
		"moulded": {cues.Bend, cues.HotAir, cues.Flame},
		"pipe":    {cues.Bend, cues.Soak, cues.Float, cues.Weigh, cues.HotWater, cues.Acetone, cues.HotAir, cues.Flame},
	} {
		if kinds := got[lot]; len(kinds) != len(want) {
			t.Errorf("%s is barred from %v, want %v", lot, kinds, want)
		}
		for _, k := range want {
			if !slices.Contains(got[lot], k) {
				t.Errorf("%s is not barred from %s", lot, k)
			}
		}
		if kept[lot] != (lot != "own") {
			t.Errorf("%s is kept whole: %v", lot, kept[lot])
		}
	}
}

// TestMarkingsBar: a never-heat polymer, resin code 3 (PVC, ASTM D7611) and a flame retardant (ISO 1043-4) read on
// a piece bar its lot whatever the tests say.
func TestMarkingsBar(t *testing.T) {
	for marking, want := range map[string]struct{ stop, fire bool }{
		">PVC-U<": {true, false}, ">POM<": {true, false}, "3": {true, false}, ">ABS-FR(17)<": {false, true}, ">PETG<": {}, "1": {},
	} {
		m := readMarkings([]sorting.Observation{{Kind: cues.Marked, Symbol: marking}})
		if (len(m.hardStops) > 0) != want.stop || (len(m.additives) > 0) != want.fire {
			t.Errorf("%s: hard stops %v, additives %v", marking, m.hardStops, m.additives)
		}
		in := reuse.HeatInput{Origin: sorting.OwnPrint, OriginGiven: true, Materials: []polymers.Symbol{"PETG"}, CouldBe: m.hardStops, Additives: m.additives,
			Possible: map[polymers.Symbol]float64{"PVC-U": 0}}
		if may := reuse.MayHeat(in).May; may == (want.stop || want.fire) {
			t.Errorf("%s read on a piece: may be heated %v", marking, may)
		}
	}
}

// TestMenuKeepsApart: a flame is offered to nobody who did not allow it by name, and a solvent and a heat gun never
// in one session (docs/safety.md, section 1).
func TestMenuKeepsApart(t *testing.T) {
	offers := func(kit sorting.Kit, tests ...sorting.Observation) []cues.Kind {
		kit.Given, kit.Has = true, []string{"acetone", "heat gun", "lighter"}
		return kindsOf(Menu(&sorting.Bin{Kit: kit, Tests: tests}))
	}
	for name, c := range map[string]struct {
		got  []cues.Kind
		kind cues.Kind
		want bool
	}{
		"flame not allowed":          {offers(sorting.Kit{}), cues.Flame, false},
		"flame allowed":              {offers(sorting.Kit{Allow: []string{"flame"}}), cues.Flame, true},
		"heat gun":                   {offers(sorting.Kit{}), cues.HotAir, true},
		"heat gun after acetone":     {offers(sorting.Kit{}, sorting.Observation{Kind: cues.Acetone}), cues.HotAir, false},
		"acetone after a heat gun":   {offers(sorting.Kit{}, sorting.Observation{Kind: cues.HotAir}), cues.Acetone, false},
		"acetone":                    {offers(sorting.Kit{}), cues.Acetone, true},
		"heat gun that is forbidden": {offers(sorting.Kit{Forbid: []cues.Kind{cues.HotAir}}), cues.HotAir, false},
	} {
		if slices.Contains(c.got, c.kind) != c.want {
			t.Errorf("%s: %s offered %v", name, c.kind, !c.want)
		}
	}
}

// TestHeatOfALot: what a lot is heated by is its own bound of hard stops, never its mean.
func TestHeatOfALot(t *testing.T) {
	for possible, want := range map[float64]bool{0.0009: true, 0.0011: false} {
		b := &triage.Belief{Composition: sorting.Composition{HardStops: []polymers.Symbol{"PVC-U"}, Possible: [][]float64{{possible}}}}
		lot := Lot{Name: "a", Shares: []float64{1, 0}, Lot: sorting.Lot{Origin: sorting.OwnPrint, OriginGiven: true}}
		if got := reuse.MayHeat(heatInput(b, 0, lot)).May; got != want {
			t.Errorf("up to %v of PVC-U: may be heated %v", possible, got)
		}
	}
}
