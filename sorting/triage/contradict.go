package triage

import (
	"fmt"

	"brinecut/sorting"
)

// surprise is the probability of a lot's tests, relative to what was to be expected, below which they
// contradict each other or the handbook; judgement.
const surprise = 0.35

// contradictions warns of lots whose tests no material on the list explains well, and of lots that
// hang on one test.
func (b *Belief) contradictions() []sorting.Warning {
	var out []sorting.Warning
	for l, p := range b.piles {
		if p.tested < 2 {
			continue
		}
		if fit := b.fit(l); fit < surprise {
			out = append(out, sorting.Warning{About: p.name, Line: p.lot.Line, Grave: true,
				Says: fmt.Sprintf("the tests of %q contradict each other, or fit no material on the list well", p.name),
				Cure: "repeat the odd one on a fresh piece cut solid and wetted; withdraw a test that was misread; say mixed = true if the lot holds several materials"})
		}
	}
	return out
}

// fit compares, for the best explanation of a lot, the mean probability of its readings with that of
// readings made where the explanation holds: one for tests that agree, small where they do not.
func (b *Belief) fit(l int) float64 {
	p := b.piles[l]
	J := len(b.model.Scenarios)
	w := p.points[best(p.prob)]
	worst := 1.0
	for g := range p.pieces {
		q := 0.0
		for c, x := range w {
			if x > 0 {
				q += x * sum(p.tables[g][c*J:(c+1)*J]) / float64(J)
			}
		}
		if q < worst {
			worst = q
		}
	}
	return worst / fitScale
}

// fitScale is the probability of a reading below which it is called odd; judgement.
const fitScale = 0.2
