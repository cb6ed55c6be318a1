package separation

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// at finds the first step that says all the words; -1 where none does.
func at(steps []Step, words ...string) int {
	for i, s := range steps {
		all := true
		for _, w := range words {
			all = all && strings.Contains(s.Do, w)
		}
		if all {
			return i
		}
	}
	return -1
}

// What the bench has to do comes in an order that works: dry picking, sieving, wetting, witnesses, the
// bath, rinsing, the witnesses again, drying, writing down; every wet step has its caution.
func TestStepsInBenchOrder(t *testing.T) {
	s := sceneOf(t, "order", 3000, sorting.Cut, []polymers.Symbol{"PVA", "ABS", "PETG"}, []float64{0.1, 0.3, 0.6}, 100)
	s.stakes.Right[0], s.stakes.Wrong[0] = 0, 40
	steps := Steps(s.plan(PlanOptions{}), true)
	order := []int{
		at(steps, "pick the soluble support", "dry"), at(steps, "sieve the crumbs"), at(steps, "wet ", "dish soap", "until no bubble clings"),
		at(steps, "two witnesses"), at(steps, "push every piece under", "count only what rises again"), at(steps, "rinse", "never dries"),
		at(steps, "witnesses", "again"), at(steps, "dry them overnight", "°C"), at(steps, "[[split]]"),
	}
	for i, x := range order {
		if x < 0 || i > 0 && x <= order[i-1] {
			t.Fatalf("order %v of\n%s", order, spelled(steps))
		}
	}
	for _, x := range steps {
		if x.Minutes <= 0 {
			t.Errorf("%q takes no time", x.Do)
		}
		if (strings.HasPrefix(x.Do, "float") || strings.HasPrefix(x.Do, "warm") || strings.HasPrefix(x.Do, "wet") || strings.HasPrefix(x.Do, "rinse")) && len(x.Cautions) == 0 {
			t.Errorf("%q has no caution", x.Do)
		}
	}
	if len(Steps(LotPlan{}, true)) != 0 {
		t.Error("steps without a plan")
	}
}

func spelled(steps []Step) string {
	var b strings.Builder
	for i, s := range steps {
		fmt.Fprintln(&b, i, s.Minutes, s.Do)
	}
	return b.String()
}

// The drying ceiling stays below the glass transition of everything that may be in the lot: PLA's is 55 to
// 60 °C (data sheet of a PLA grade, DSC), ABS's about 105 °C.
func TestDryingCeiling(t *testing.T) {
	hot := sceneOf(t, "abs", 1000, sorting.Cut, []polymers.Symbol{"ABS", "PC"}, []float64{0.5, 0.5}, 60)
	mixed := sceneOf(t, "with pla", 1000, sorting.Cut, []polymers.Symbol{"ABS", "PLA"}, []float64{0.9, 0.1}, 60)
	of := func(s *scene) Ceiling { return Driest(s.c, 0, s.model.Candidates, s.feed.KeyOf) }
	if c := of(mixed); c.Of != "PLA" || c.Temp >= 55 || c.Temp < 35 {
		t.Errorf("with PLA: %+v", c)
	}
	if c := of(hot); c.Temp <= of(mixed).Temp || c.Temp >= 105 {
		t.Errorf("ABS and PC: %+v", c)
	}
	// a material that is in no draw sets no ceiling
	for _, g := range mixed.c.Grams {
		g[0], g[1] = g[0]+g[1], 0
	}
	if c := of(mixed); c.Of == "PLA" {
		t.Errorf("no PLA left: %+v", c)
	}
}

// Loose scrap of anything stiff at room temperature dries below its glass transition.
func TestDryingLimits(t *testing.T) {
	for _, m := range polymers.All() {
		if g := m.GlassTransition; m.Rigid && g != nil && g.Low > 40 {
			if c, ok := limit(m); !ok || float64(c) > g.Low-5 {
				t.Errorf("%s: %v °C, glass transition from %v °C", m.Symbol, c, g.Low)
			}
		}
	}
}

// A second pass against pieces that are sorted twice, one by one.
func TestSecondPassAgainstSimulation(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	b := boardOf(r, 3, 2, 1)
	root := b.leaf(0)
	root.test, root.kids = 1, [2]*node{b.leaf(3), b.leaf(6)}
	got := b.passed(root.kids[0].state, 1, 0)
	other := b.passed(root.kids[1].state, 1, 0)
	low := make([]float64, len(got))
	const pieces = 400000
	for range pieces {
		i := r.IntN(len(b.deck.key))
		below := r.Float64() < b.tests[1].low[i]
		side := func() bool { return below != (r.Float64() < b.tests[1].wrong) }
		if first, second := side(), side(); first && second {
			low[b.deck.key[i]] += b.deck.mean[b.deck.key[i]] * float64(len(b.deck.keys)) / pieces
		}
	}
	for k := range got {
		near(t, "low side of "+b.deck.keys[k], got[k], low[k], 0.01*b.deck.mean[k])
		near(t, "nothing is lost of "+b.deck.keys[k], got[k]+other[k], b.deck.mean[k], 1e-9*b.deck.mean[k])
	}
}

// split that was done and weighed: floats of a lot of 1 kg in a bath of 1.15 g/cm3.
func split(floats, sinks float64, state sorting.State) sorting.Split {
	side := func(name, outcome string, g float64) sorting.Side {
		return sorting.Side{Outcome: outcome, Lot: sorting.Lot{Name: name, Mass: quantity.Exact(quantity.Gram(g)), State: state}}
	}
	return sorting.Split{Line: 12, Lot: "done", Kind: sorting.ByFloat, Density: quantity.Exact(quantity.GramPerCm3(1.15)),
		Into: []sorting.Side{side("light", "floats", floats), side("heavy", "sinks", sinks)}}
}

// What came out as it had to is not remarked; what did not gets its likely cause, by the side that is too
// heavy, and a side that was weighed wet is named.
func TestRemarkOnSplits(t *testing.T) {
	s := sceneOf(t, "done", 1, sorting.Cut, []polymers.Symbol{"ABS", "PETG"}, []float64{0.4, 0.6}, 200)
	remark := func(sp sorting.Split) string {
		w, ok := Remark(s.c, s.model, s.feed, sp, PlanOptions{})
		if ok && (w.About != "done" || w.Line != 12 || w.Cure == "") {
			t.Errorf("%+v", w)
		}
		return w.Says
	}
	if w := remark(split(400, 600, sorting.Dry)); w != "" {
		t.Errorf("as expected, yet: %s", w)
	}
	if w := remark(split(800, 200, sorting.Dry)); !strings.Contains(w, "air") || strings.Contains(w, "wet") {
		t.Errorf("too much floats: %s", w)
	}
	if w := remark(split(50, 950, sorting.Wet)); !strings.Contains(w, "lighter") || !strings.Contains(w, "weighed wet") {
		t.Errorf("too much sinks: %s", w)
	}
	s.feed.Lot.Mass = quantity.Exact[quantity.Gram](900) // 1 kg came out of 900 g
	if w, _ := Remark(s.c, s.model, s.feed, split(800, 200, sorting.Dry), PlanOptions{}); !strings.Contains(w.Says, "salt left in the flake") || !w.Grave {
		t.Errorf("heavier than its lot: %+v", w)
	}
	s.feed.Lot.Mass = quantity.Mass{}
	// six pieces may well fall otherwise than two hundred
	if w := remark(split(16, 14, sorting.Dry)); w != "" {
		t.Errorf("a handful of pieces: %s", w)
	}
	if w := remark(split(533, 467, sorting.Dry)); w == "" {
		t.Error("two hundred pieces off by that much are not remarked")
	}
	unweighed := split(800, 200, sorting.Dry)
	unweighed.Into[0].Mass = quantity.Mass{}
	byHand := split(800, 200, sorting.Dry)
	byHand.Kind = sorting.ByHand
	if remark(unweighed) != "" || remark(byHand) != "" {
		t.Error("a split that says nothing is remarked")
	}
}

// The response model's float of one product is the partition curve with Ep 0.6745 standard deviations, to
// what the two curves differ by anywhere (error function against logistic, 0.023).
func TestPartitionIsTheWideLimit(t *testing.T) {
	cands := []sorting.Candidate{{Symbol: "PETG", Weight: 0.9}, {Symbol: polymers.Other, Weight: 0.1}}
	bin := &sorting.Bin{Known: []sorting.Known{{Name: "snippet", Material: "PETG", Density: quantity.With(quantity.GramPerCm3(1.27), 0.002)}}}
	m, err := response.New(bin, cands, response.Options{Scenarios: 256})
	if err != nil {
		t.Fatal(err)
	}
	one := false
	d := m.Products(sorting.Lot{Name: "one", Mixed: &one, Prep: sorting.Flake})
	sinks := func(x quantity.GramPerCm3) float64 {
		low := d.Lower(response.Ask{Kind: "float", Density: x, Prep: sorting.Flake}, []bool{true, false}, 1)[0]
		return 1 - sum(low)/float64(len(low))
	}
	// the curve's own cut and sharpness, from where it crosses 25, 50 and 75 %
	cross := func(p float64) quantity.GramPerCm3 {
		lo, hi := quantity.GramPerCm3(1.15), quantity.GramPerCm3(1.40)
		for range 60 {
			if mid := (lo + hi) / 2; sinks(mid) > p {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	d50, ep := cross(0.5), (cross(0.25)-cross(0.75))/2
	for x := d50 - 1.5*ep; x < d50+1.5*ep; x += ep / 4 {
		if got, want := sinks(x), Partition(d50, x, ep); math.Abs(got-want) > 0.04 {
			t.Errorf("sinks at %v: %v, partition curve %v", x, got, want)
		}
	}
}

// TestSolubleLotsAreWettedCold: where the plan reckons with soluble support, the pieces are wetted at
// 20 °C at most; warm water dissolves it faster (common practice), and it coats the rest.
func TestSolubleLotsAreWettedCold(t *testing.T) {
	hand := &Parting{Kind: sorting.ByHand, Sides: [2]Side{{Outcome: picked}}}
	float := &Parting{Kind: sorting.ByFloat}
	for name, c := range map[string]struct {
		plan LotPlan
		most string
	}{
		"picked by hand first": {LotPlan{Lot: "x", First: hand, Driest: Ceiling{Temp: 50}}, "at most 20 °C"},
		"none expected":        {LotPlan{Lot: "x", First: float, Driest: Ceiling{Temp: 50}}, "at most 45 °C"},
	} {
		found := false
		for _, s := range c.plan.beforeFloating(false) {
			found = found || strings.Contains(s.Do, c.most)
		}
		if !found {
			t.Errorf("%s: no step wets it in water of %s", name, c.most)
		}
	}
}
