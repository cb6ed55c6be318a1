package show

import (
	"fmt"

	"brinecut/reuse/advice"
	"brinecut/sorting/separation"
)

// Thing is the one thing to do next, in words.
type Thing struct {
	Do       string
	Cautions []string
	Gain     string // what it costs and brings; empty where that is not the question
}

// NextThing is what helps most now: to say where the scrap comes from, a test, the parting that gains
// most where no test pays, or bagging.
func NextThing(a advice.Answer) Thing {
	b := a.Next.Best
	switch {
	case !saidFrom(a):
		return Thing{Do: "say where the scrap comes from: nothing of it is heated or ground until that is written down (see the first note)"}
	case !a.Next.Done:
		return Thing{advice.Describe(b), b.Cautions, fmt.Sprintf("it takes %s and would gain about %s", minutes(b.Minutes), money(b.Gain, currency(a)))}
	}
	return partThing(a)
}

// partNext writes what is left to do where no test pays.
func partNext(p *Page, a advice.Answer) {
	n := partThing(a)
	p.Text(n.Do, 0)
	cautions(p, n.Cautions)
	if n.Gain != "" {
		p.Text(n.Gain, 0)
	}
}

func partThing(a advice.Answer) Thing {
	var best *separation.LotPlan
	for i, plan := range a.Partings {
		if plan.First != nil && (best == nil || plan.Value-plan.Keep > best.Value-best.Keep) {
			best = &a.Partings[i]
		}
	}
	if best == nil {
		return Thing{Do: "bag it: no test is worth its minutes now, and no parting"}
	}
	first := separation.Steps(*best, false)[0]
	return Thing{first.Do, first.Cautions, fmt.Sprintf("no further test is worth its minutes; parting %s would gain about %s for %s at the bench",
		name(best.Lot), money(best.Value-best.Keep, currency(a)), minutes(best.Minutes))}
}
