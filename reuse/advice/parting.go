package advice

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/sorting"
	"brinecut/sorting/separation"
	"brinecut/sorting/triage"
)

// partings plans how to part what stays mixed. What is set apart unidentified stays apart, and what no
// lot covers is sorted into lots by eye first.
func partings(a *Answer, b *triage.Belief, menu sorting.Menu, stakes sorting.Stakes) []separation.LotPlan {
	var feeds []separation.Feed
	for l, lot := range a.Lots {
		if a.Balance.Budget.Lots[l].Unsorted || !lot.Heat.May && lot.Lot.OriginGiven {
			continue
		}
		f := feedOf(a.Bin, b, b.MixtureOf(l), l)
		f.NoCutting = !lot.Heat.May
		feeds = append(feeds, f)
	}
	plans := separation.Plan(&a.Composition, b.Model(), feeds, menu, stakes, separation.PlanOptions{})
	waits(a.Bin, plans)
	return plans
}

func feedOf(bin *sorting.Bin, b *triage.Belief, m triage.Mixture, at int) separation.Feed {
	return separation.Feed{At: at, Lot: m.Lot, Drawn: m.Drawn, Scenarios: m.Scenarios, KeyOf: m.KeyOf, Within: m.Within,
		Past: separation.PastOf(bin, b.Model(), m.Lot.Name), Known: bin.Known}
}

// Cut is one float of one lot that is only asked about.
type Cut struct {
	Lot string
	separation.Bath
}

// preview of a cut; nil where there is no such lot.
func preview(a *Answer, b *triage.Belief, cut Cut) *separation.Preview {
	at := slices.Index(a.Composition.Lots, cut.Lot)
	if at < 0 {
		return nil
	}
	out := separation.Float(&a.Composition, b.Model(), feedOf(a.Bin, b, b.MixtureOf(at), at), cut.Bath, separation.PlanOptions{})
	return &out
}

// splitRemarks holds every split that was done and weighed against what was to be expected of it.
func splitRemarks(bin *sorting.Bin, b *triage.Belief) []sorting.Warning {
	var out []sorting.Warning
	for _, s := range bin.Splits {
		m, ok := b.BeforeSplit(s)
		if !ok {
			continue
		}
		before := sorting.Composition{Lots: []string{s.Lot}, Keys: b.Keys, Grams: m.Shares}
		if w, ok := separation.Remark(&before, b.Model(), feedOf(bin, b, m, 0), s, separation.PlanOptions{}); ok {
			out = append(out, w)
		}
	}
	return out
}

// openPlans keeps a lot open that is worth parting: it is not yet what it will be bagged as.
func openPlans(a *Answer) {
	for _, p := range a.Partings {
		if at := slices.Index(a.Composition.Lots, p.Lot); p.First != nil && at >= 0 {
			a.Composition.Settled[at] = false
		}
	}
}

// partingSteps are the bench steps of all plans but what comes out dry before anything else.
func partingSteps(a *Answer) []Step {
	var out []Step
	for _, p := range a.Partings {
		steps := separation.Steps(p, slices.Contains(Kit(a.Bin), "sieve"))
		for _, s := range steps[min(p.DryFirst(), len(steps)):] {
			out = append(out, Step{Do: s.Do, Lot: p.Lot, Minutes: s.Minutes, Cautions: s.Cautions})
		}
	}
	return out
}

// pickStep is how a lot's plan takes the soluble support out; false where it has none.
func pickStep(a *Answer, lot string) (Step, bool) {
	for _, p := range a.Partings {
		if p.Lot == lot && p.DryFirst() > 0 {
			s := separation.Steps(p, false)[0]
			return Step{Do: s.Do, Lot: lot, Minutes: s.Minutes, Cautions: s.Cautions}, true
		}
	}
	return Step{}, false
}

// bagSides is what is done instead of bagging a lot that is parted first; false for any other fraction.
func bagSides(a *Answer, f Fraction) (Step, bool) {
	for _, p := range a.Partings {
		if p.First == nil || len(f.Lots) != 1 || f.Lots[0] != p.Lot {
			continue
		}
		var bags []string
		for _, b := range p.Bags {
			what := b.Main
			if what == "" {
				what = "what stays mixed"
			}
			bags = append(bags, fmt.Sprintf("%s, about %.2g kg", what, b.Mass.Mean/1000))
		}
		return Step{Do: fmt.Sprintf("bag what the parting of %q gave each by itself (%s), weigh the bags, run the sort again for their routes, and write the labels at once", p.Lot, strings.Join(bags, "; ")),
			Lot: p.Lot, Minutes: minutesBag * float64(len(bags))}, true
	}
	return Step{}, false
}
