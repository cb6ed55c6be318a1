package reuse

import (
	"fmt"
	"slices"
	"strings"
)

const (
	keptAs    = "kept dry, closed and labelled" // what holding means
	stillPays = "a test or a cut still pays"
)

// nearest is the way at hand, then one that pays, then of two at hand the one with fewest lacks, then
// the one worth most: where no way is at hand, the dearest tells whether any of them would pay.
func nearest(ways []way) way {
	better := func(a, b way) bool {
		switch {
		case a.real != b.real:
			return a.real
		case a.worth.Keep != b.worth.Keep:
			return a.worth.Keep
		case a.real && len(a.lacks) != len(b.lacks):
			return len(a.lacks) < len(b.lacks)
		}
		return a.worth.Value.Mean > b.worth.Value.Mean
	}
	best := ways[0]
	for _, w := range ways[1:] {
		if better(w, best) {
			best = w
		}
	}
	return best
}

// target is the way that a hold is worth as: the nearest that something can still open, at hand before
// all; else one at hand that only its worth closes; else the nearest of the others. None where only an
// outlet is left to be found.
func target(ways []way) (way, bool) {
	var open, dear []way
	for _, w := range ways {
		switch {
		case w.sought:
		case w.curable():
			open = append(open, w)
		case w.real && w.onlyWorth():
			dear = append(dear, w)
		}
	}
	if len(open) > 0 && (len(dear) == 0 || nearest(open).real) {
		return nearest(open), true
	}
	if len(dear) > 0 {
		return nearest(dear), true
	}
	return way{}, false
}

// held is the hold itself, worth what its target is worth.
func (v *view) held(ways []way) way {
	t, _ := target(ways)
	return way{route: Hold, held: t.route, outlet: t.outlet, worth: t.worth, costs: t.costs}
}

// next says what would open the nearest of the closed ways that something at the bench can open, if it
// is worth more than what was taken.
func (v *view) next(d *Decision, w way, ways []way) {
	if w.route == SpecialWaste || w.route == Disposal {
		return
	}
	var closed []way
	for _, o := range ways {
		if !o.open() && o.curable() && (w.route == Hold || o.worth.Value.Mean > w.worth.Value.Mean) {
			closed = append(closed, o)
		}
	}
	if len(closed) == 0 {
		return
	}
	n := nearest(closed)
	needs := v.needs(n)
	if len(needs) == 0 {
		return
	}
	d.NextRoute, d.NextOutlet, d.NextBetter = n.route, n.outlet, needs
	if slices.ContainsFunc(n.lacks, func(l lack) bool { return l.damp }) {
		d.Drying = v.dryIt(n.route)
	}
	if w.route != Hold {
		d.NextBetter[0] += "; with all it needs it would be worth " + moneyRange(n.worth) + n.paysFrom()
	}
}

// NextWay names the way that NextBetter opens: by its outlet where it has one, else by its route.
func (d Decision) NextWay() string {
	if d.NextOutlet != "" {
		return d.NextOutlet
	}
	return strings.ReplaceAll(string(d.NextRoute), "-", " ")
}

// needs are the cures of what a way lacks: mass first, which no test cures, then what the bench or its
// owner can do, and tests last. None of these is a test where the bag would not pay at its purest.
func (v *view) needs(w way) []string {
	var bench, tests []string
	for _, l := range w.lacks {
		switch {
		case l.short > 0 || slices.Contains(bench, l.cure) || slices.Contains(tests, l.cure):
		case l.test:
			tests = append(tests, l.cure)
		default:
			bench = append(bench, l.cure)
		}
	}
	if v.hopeless(w) {
		tests = nil
	}
	return slices.Concat(v.more(w), bench, tests)
}

// hopeless reports a bag that does not pay that way however pure it were. What is still to be parted is
// no such bag: its parts may join others.
func (v *view) hopeless(w way) bool { return v.known() && !w.sought && !w.worth.Keep }

// more is the mass that is lacking, for the way to be taken and for it to pay.
func (v *view) more(w way) []string {
	takes, pays := 0.0, 0.0
	for _, l := range w.lacks {
		if !l.worth {
			takes = max(takes, l.short)
		}
	}
	if b := w.worth.BreakEvenG; v.hopeless(w) && b != nil {
		pays = max(1, *b-v.mean)
	}
	switch {
	case takes == 0 && pays == 0:
		return nil
	case takes == 0:
		return []string{grams(pays) + " more before it pays"}
	case pays > takes:
		return []string{fmt.Sprintf("%s more before it pays (%s more and %s takes it, at a loss)", grams(pays), grams(takes), w.outlet)}
	}
	return []string{grams(takes) + " more"}
}

// whyHeld says first what the way in sight would be worth and until when the bag is kept, then what
// stands against that way, then what would pay with tools that are not at hand.
func (v *view) whyHeld(ways []way) []Reason {
	t, ok := target(ways)
	n := nearest(slices.DeleteFunc(slices.Clone(ways), func(w way) bool { return !w.curable() }))
	if ok && t.real {
		n = t
	}
	first := keptAs + " until " + v.until(n)
	switch {
	case !v.known() && !v.f.Settled:
		first = stillPays + ": " + first
		if ok {
			first += "; whole, " + v.prospect(t)
		}
	case ok:
		first = v.prospect(t) + "; " + first
	default:
		first = "no way at hand at this bench: " + first
	}
	why := []Reason{{first, "method.md (R2), (R3); " + sourceOf(n)}}
	if against := v.against(n); against != "" {
		why = append(why, Reason{against, sourceOf(n)})
	}
	for _, w := range ways {
		if ok && t.real && !t.worth.Keep && !w.real && w.curable() && w.worth.Keep {
			why = append(why, Reason{v.prospect(w), "method.md (R2), (R3)"})
		}
	}
	return why
}

// prospect says what a way would be worth, and first what this bench lacks for it.
func (v *view) prospect(w way) string {
	as, sum := w.asWhat(), moneyRange(w.worth)
	if w.worth.Keep {
		sum = "it would gain " + sum
	}
	if len(w.tools) > 0 {
		lacks := "this bench lacks"
		if !v.s.Kit.Given {
			lacks = "[kit] does not list"
		}
		as = "with a " + strings.Join(w.tools, " and a ") + ", which " + lacks + ", " + as
	}
	words := as + " " + sum + w.paysFrom()
	if v.hopeless(w) && w.asksDraws() {
		words += ", even after the random draws it asks for"
	}
	if !w.worth.Keep {
		words = "not worth your evening in money: " + words
	}
	return words
}

// asksDraws reports an outlet whose purity random draws have yet to demonstrate.
func (w way) asksDraws() bool {
	return w.route == Recycler && slices.ContainsFunc(w.lacks, func(l lack) bool { return l.test && l.by != stillPays })
}

// until is what a held bag waits for.
func (v *view) until(w way) string {
	switch {
	case !v.known() && !v.f.Settled:
		return "it is tested and parted"
	case w.sought:
		return "some outlet can take it"
	case v.hopeless(w) && w.worth.BreakEvenG == nil:
		return "an outlet is found that pays for it"
	case v.hopeless(w):
		return "there is enough of it to pay"
	case w.route.Hot():
		return "it can go to " + string(w.route)
	}
	return w.outlet + " can take it"
}

// against is all that closes a way but its worth, and what the tests that would mend it are worth.
func (v *view) against(w way) string {
	var by, tests []string
	for _, l := range w.lacks {
		if !l.worth {
			by = append(by, l.by)
		}
		if l.test && !slices.Contains(tests, l.cure) {
			tests = append(tests, l.cure)
		}
	}
	if len(by) == 0 {
		return ""
	}
	words := "not yet: " + strings.Join(by, "; ")
	if v.hopeless(w) && len(tests) > 0 {
		what := "tests"
		if w.asksDraws() {
			what = "draws"
		}
		words += fmt.Sprintf("; to mend that: %s; even then it would cost %s %s more than it brings: not worth the %s",
			strings.Join(tests, ", "), sumOf(-w.worth.Value.Mean), w.worth.Currency, what)
	}
	return words
}

func sourceOf(w way) string {
	if w.route.Hot() {
		return "conditions of " + string(w.route) + "; " + practice
	}
	return "what outlets ask: " + practice
}
