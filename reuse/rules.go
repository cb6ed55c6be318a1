package reuse

import (
	"fmt"
	"slices"
	"strings"
)

const earlier = "a rule before it holds"

// rules lists every rule in the order they are asked, each with what it asks, how the fraction stands to
// it and what it lost by: the gates (at is the one that holds, or -1), the ways, then holding and giving up.
func (v *view) rules(d Decision, at int, ways []way) []Rule {
	var out []Rule
	for i, g := range gates {
		r := Rule{Route: g.route, Taken: i == at}
		holds := len(g.when(v)) > 0
		a := Asked{Asks: g.asks, Source: g.source, Met: holds}
		if !holds {
			a.By = g.not(v)
			r.By = a.By
		}
		if holds && !r.Taken {
			r.By = earlier
		}
		r.Asks = []Asked{a}
		out = append(out, r)
	}
	for _, w := range ways {
		out = append(out, v.wayRule(d, at >= 0, w))
	}
	return append(out, lastRules(d, at, ways)...)
}

// wayRule tells how a way fared: what closed it, or how much less it is worth than the one taken.
func (v *view) wayRule(d Decision, shut bool, w way) Rule {
	r := Rule{Route: w.route, Outlet: w.outlet, Asks: w.asks, Taken: !shut && w.open() && w.route == d.Route && w.outlet == d.Outlet}
	if !w.sought {
		worth := w.worth
		worth.CO2Kg = w.carbon(mainSymbols(v.f), v.mean/1000, v.grid())
		r.Worth = &worth
	}
	switch {
	case r.Taken:
	case !w.open():
		r.By = w.by()
	case shut:
		r.By = earlier
	default:
		r.By = fmt.Sprintf("worth %s %s less", sumOf(d.Worth.Value.Mean-w.worth.Value.Mean), w.worth.Currency)
	}
	return r
}

// lastRules are asked where no way is open: to hold while something can still open one, else to give up.
func lastRules(d Decision, at int, ways []way) []Rule {
	hold := Asked{Asks: "no way is open, and the bench, the file or more of it would open one", Source: "rule of this tool"}
	none := Asked{Asks: "no way can be opened", Source: "rule of this tool"}
	hold.Met, none.Met = d.Route == Hold, d.Route == Disposal && at < 0
	switch {
	case at >= 0:
		hold.By, none.By = earlier, earlier
	case hold.Met:
		none.By = "something would open one"
		if len(d.NextBetter) > 0 {
			none.By = d.NextWay() + " needs: " + strings.Join(d.NextBetter, "; ")
		}
	case none.Met:
		hold.By = "nothing at this bench or in the file would open one"
	default:
		hold.By, none.By = "a way is open", "a way is open"
	}
	if hold.Met && !slices.ContainsFunc(ways, way.curable) {
		none.By = stillPays + ", or it is not said where it comes from"
	}
	return []Rule{
		{Route: Hold, Taken: hold.Met, By: hold.By, Asks: []Asked{hold}},
		{Route: Disposal, Taken: none.Met, By: none.By, Asks: []Asked{none}},
	}
}
