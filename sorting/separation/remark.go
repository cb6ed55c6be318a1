package separation

import (
	"fmt"
	"slices"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// The ends of what was to be expected of a split: 98 % of the draws lie between them. Judgement.
const (
	unlikely = 0.01
	likely   = 0.99
)

// Remark compares a split that was done and weighed with what its lot was held to be before it: the
// composition holds that belief, as equally likely draws of the mass shares of one lot (f.At) by key.
// It gives a warning with the likely cause where less than 2 % of the draws would have come out like
// this, and nothing where the split says nothing or not all sides were weighed.
func Remark(c *sorting.Composition, m *response.Model, f Feed, split sorting.Split, opt PlanOptions) (sorting.Warning, bool) {
	low, total, wet, ok := weighed(split)
	if !ok {
		return sorting.Warning{}, false
	}
	t, ok := testOf(m, split)
	if !ok {
		return sorting.Warning{}, false
	}
	feed := *c
	feed.Grams = nil
	for _, g := range c.Grams {
		row := slices.Clone(g)
		for k := range row {
			row[k] *= total
		}
		feed.Grams = append(feed.Grams, row)
	}
	x := expected(newDeck(&feed, m, f, opt.withDefaults()), t)
	from, to := quantile(x, unlikely), quantile(x, likely)
	found := low / total
	if m := f.Lot.Mass; m.Given() && total > 1.01*float64(m.Value) {
		wet = true // the sides weigh more than the lot did
	}
	if found >= from && found <= to {
		return sorting.Warning{}, false
	}
	return sorting.Warning{About: split.Lot, Line: split.Line, Grave: true,
		Says: fmt.Sprintf("%s of %q %s, where %s to %s were to be expected: %s", percent(found), split.Lot, verb(t), percent(from), percent(to), cause(t, found > to, wet)),
		Cure: cure(t, wet)}, true
}

// expected draws of the share on the first side, in order.
func expected(d *deck, t test) []float64 {
	t.low = d.byProduct(d.table(&t, d.feed.Lot.Prep, 1))
	b := single(d, d.feed.Lot.Prep, t)
	w := b.play()
	K := len(d.keys)
	var x []float64
	for i := range d.grams {
		if all := sum(d.grams[i]); all > 0 {
			x = append(x, sum(w.piles[1][i*K:(i+1)*K])/all)
		}
	}
	slices.Sort(x)
	return x
}

// weighed sums up the sides: the first side, all, and whether one was weighed wet. False where a side
// has no mass or no outcome.
func weighed(s sorting.Split) (low, total float64, wet, ok bool) {
	for _, side := range s.Into {
		g := float64(side.Mass.Value)
		if side.Gross.Given() {
			g = float64(side.Gross.Value - side.Tare.Value)
		}
		if !(g > 0) || side.Outcome == "" {
			return 0, 0, false, false
		}
		total += g
		if lower(side.Outcome) {
			low += g
		}
		wet = wet || side.State != sorting.Dry
	}
	return low, total, wet, total > 0
}

func lower(outcome string) bool {
	return slices.Contains([]string{"floats", "soft", "slimy", "dissolves"}, outcome)
}

// testOf is the test that a split made of every piece; false where it tells no materials apart.
func testOf(m *response.Model, s sorting.Split) (test, bool) {
	r, ok := m.SideReading(s, s.Into[0])
	if !ok {
		return test{}, false
	}
	return test{kind: r.Kind, split: s.Kind, density: quantity.GramPerCm3(r.Density), temp: quantity.Celsius(r.Temp), wrong: response.Misplaced(r.Kind)}, true
}

func verb(t test) string {
	switch t.kind {
	case cues.Float:
		return "floated at " + quantity.Format(t.density)
	case cues.HotWater:
		return "went limp at " + quantity.Format(t.temp)
	}
	return "went slimy"
}

// cause names what most often lies behind such a difference (liquids and wetting: method.md, S8).
func cause(t test, more, wet bool) string {
	var words string
	switch {
	case t.kind == cues.Float && more:
		words = "air in or on the pieces, or a bath denser than it was said to be (an open one loses water)"
	case t.kind == cues.Float:
		words = "a bath lighter than it was said to be (rinse water carried in, salt on the bottom, still warm), or another make-up than was thought"
	case t.kind == cues.HotWater && more:
		words = "water hotter than read, or another make-up than was thought"
	case t.kind == cues.HotWater:
		words = "pieces too thick or too short in the water, or water cooler than read"
	default:
		words = "another make-up than was thought, or a soak that was longer or shorter than an hour"
	}
	if wet {
		words += "; a side was weighed wet or not rinsed, and water or salt left in the flake weighs with it"
	}
	return words
}

func cure(t test, wet bool) string {
	words := "take ten pieces of each side and run them through once more"
	if t.kind == cues.Float && !plain(t.density) {
		words = "check the bath with a bottle weighed full, push ten pieces of each side under once more in it"
	}
	if wet {
		words += ", and weigh the sides again when they are dry"
	}
	return words
}
