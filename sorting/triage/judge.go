// Package triage finds out what a lot is, and which test to make next.
//
// Each lot gets a set of possible make-ups, weighed once by its own tests; the lots are then drawn
// together under what the weighings say of the bin (method.md, triage).
package triage

import (
	"slices"

	"brinecut/polymers"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// Options of Judge; the zero value is the documented default.
type Options struct {
	Draws        int  // joint draws; 400
	IgnoreBudget bool // leave the weighings out (for comparisons)
	Response     response.Options

	// Alike reports materials that no allowed test tells apart; they are answered under one key. Nil:
	// everything can be told apart.
	Alike func(a, b polymers.Symbol) bool
}

func (o Options) withDefaults() Options {
	if o.Draws == 0 {
		o.Draws = 400
	}
	return o
}

// Belief is what is known of every lot: the composition, and what the choice of the next test needs.
type Belief struct {
	sorting.Composition
	Candidates []sorting.Candidate

	bin    *sorting.Bin
	opt    response.Options
	model  *response.Model
	piles  []*pile
	joint  [][]float64 // by lot: weights of its points under all the evidence
	keyOf  []int       // by candidate: index of its key
	masses []float64   // g, expected, by lot
}

// Judge weighs all evidence on the lots of a bin. The budget gives the lots and what the weighings say
// of the totals; the tests come from the bin. An error means that a material has no record.
func Judge(bin *sorting.Bin, budget sorting.Budget, opt Options) (*Belief, error) {
	opt = opt.withDefaults()
	cands := Candidates(bin, opt.Alike)
	model, err := response.New(bin, cands, opt.Response)
	if err != nil {
		return nil, err
	}
	b := &Belief{Candidates: cands, bin: bin, opt: opt.Response, model: model}
	b.piles, b.masses = make([]*pile, len(budget.Lots)), make([]float64, len(budget.Lots))
	parallel(len(budget.Lots), func(l int) {
		b.piles[l], b.masses[l] = b.pileOf(budget.Lots[l]), budget.Lots[l].Mean
	})
	b.learn()
	b.tieCrumbs()
	info := budgetOn(cands, budget, opt.IgnoreBudget)
	chosen, weights, warn := drawJoint(b.piles, b.masses, info, opt.Draws)
	b.joint = weights
	b.compose(chosen, budget, opt)
	b.Warnings = append(b.Warnings, warn...)
	b.Warnings = append(b.Warnings, b.contradictions()...)
	b.Assumptions = append(b.Assumptions, b.assumptions()...)
	return b, nil
}

// pileOf gathers a lot's evidence: its own tests, those of the lots merged into it, and what its
// parent was found to be before a split.
func (b *Belief) pileOf(lm sorting.LotMass) *pile {
	lot := lm.Lot
	p := b.newPile(lot)
	p.mass = lm
	if lm.Unsorted {
		p.pure = min(p.pure, 0.15) // what no lot covers was not sorted by eye
	}
	p.weigh(len(b.model.Scenarios))
	return p
}

// baseCounts is how many lots the prior shares of the bin are worth, when other lots' tests are set
// against them; judgement.
const baseCounts = 3.0

// learn moves the prior shares of every lot towards what the other lots were found to be by their own
// tests: what is found in one lot is likelier in the next, and a material that no test has met grows
// less likely everywhere. A lot's own tests never enter its own prior (method.md, triage 1).
func (b *Belief) learn() {
	C := len(b.Candidates)
	found := make([][]float64, len(b.piles))
	total := make([]float64, C)
	for l, p := range b.piles {
		if p.tested == 0 || !b.learns(p) {
			continue
		}
		found[l] = p.mean(p.prob)
		for c, x := range found[l] {
			total[c] += x
		}
	}
	parallel(len(b.piles), func(l int) {
		p := b.piles[l]
		if !b.learns(p) {
			return
		}
		prior := make([]float64, C)
		for c := range prior {
			prior[c] = baseCounts*p.prior[c] + total[c]
			if found[l] != nil {
				prior[c] -= found[l][c]
			}
		}
		p.prior = normalise(prior)
		p.weigh(len(b.model.Scenarios))
	})
}

// learns reports whether a lot's prior is that of the bin at large: not a shelf of its own, not scrap
// from elsewhere, not the side of a split.
func (b *Belief) learns(p *pile) bool {
	outside := p.lot.OriginGiven && p.lot.Origin != sorting.OwnPrint
	return len(p.lot.CouldBe) == 0 && !outside && p.mass.From == ""
}

// Crumbs come from the same prints as the rest: how far a lot that is said to be mixed, or that no lot
// covers, follows what the other lots were found to be by their own tests; judgement.
const (
	tieShare  = 0.65
	tieSpread = 3.0
)

// tieCrumbs gives mixed lots a prior that follows the other lots. It looks at the other lots' own
// tests alone, not at the weighings, which enter once, when all lots are drawn together.
func (b *Belief) tieCrumbs() {
	rest := make([]float64, len(b.Candidates))
	total := 0.0
	for l, p := range b.piles {
		if p.crumbs() {
			continue
		}
		for c, x := range p.mean(p.prob) {
			rest[c] += b.masses[l] * x
		}
		total += b.masses[l]
	}
	if total <= 0 {
		return
	}
	for _, p := range b.piles {
		if !p.crumbs() || len(p.lot.CouldBe) > 0 {
			continue
		}
		for c := range p.prior {
			p.prior[c] = (1-tieShare)*p.prior[c] + tieShare*rest[c]/total
		}
		p.spread = tieSpread
		p.weigh(len(b.model.Scenarios))
	}
}

// crumbs reports a lot that holds a bit of everything.
func (p *pile) crumbs() bool {
	return p.mass.Unsorted || (p.mass.From == "" && p.lot.Mixed != nil && *p.lot.Mixed)
}

func (b *Belief) newPile(lot sorting.Lot) *pile {
	p := &pile{lot: lot, name: lot.Name, prior: lotWeights(b.Candidates, lot), spread: spreadMix}
	switch {
	case lot.Mixed == nil:
		p.pure = pureOpen
	case *lot.Mixed:
		p.pure = pureMixed
	default:
		p.pure = pureSaid
	}
	b.inherit(p)
	tests := b.testsOf(lot.Name)
	p.pieces = b.model.Pieces(tests, lot.Prep)
	p.drawn = b.model.Products(lot)
	for i := range p.pieces {
		p.tables = append(p.tables, p.drawn.Table(&p.pieces[i]))
		p.tested += p.pieces[i].N
	}
	return p
}

// testsOf collects the tests of a lot and of the lots that were merged into it.
func (b *Belief) testsOf(name string) []sorting.Observation {
	var out []sorting.Observation
	for i := range b.bin.Tests {
		if b.bin.Tests[i].Lot == name {
			out = append(out, b.bin.Tests[i])
		}
	}
	if _, _, side := b.bin.SplitOf(name); !side {
		for _, part := range b.bin.Parents(name) {
			out = append(out, b.testsOf(part)...)
		}
	}
	return out
}

// inherit gives the side of a split the prior that its parent's tests and the split itself leave: the
// parent's mean shares, each weighted with how probable that side is for the material.
func (b *Belief) inherit(p *pile) {
	split, side, ok := b.bin.SplitOf(p.lot.Name)
	if !ok {
		return
	}
	parentLot, ok := b.bin.Lot(split.Lot)
	if !ok {
		return
	}
	parent := b.newPile(parentLot)
	parent.weigh(len(b.model.Scenarios))
	mean := parent.mean(parent.prob)
	if len(side.CouldBe) > 0 && !slices.Equal(side.CouldBe, parentLot.CouldBe) {
		mean = slices.Clone(p.prior) // what is said of the side itself, not what it has from its parent
	}
	if r, ok := b.sideReading(split, side); ok {
		// the whole side reads alike: its probability by candidate
		for c, q := range b.meanTable(parent, r) {
			mean[c] *= q
		}
		p.pure = 0.3
	} else if parentLot.Mixed != nil && *parentLot.Mixed {
		p.pure = 0.4 // picked out by hand, sieve or magnet from a mixture
	}
	total := sum(mean)
	for c := range mean {
		mean[c] = 0.97*mean[c] + 0.03*p.prior[c]*total
	}
	p.prior = normalise(mean)
	p.spread = spreadChild
}

// sideReading is the test that a split made of every piece on one side.
func (b *Belief) sideReading(split sorting.Split, side sorting.Side) (response.Reading, bool) {
	return b.model.SideReading(split, side)
}

// meanTable is P(reading | candidate), averaged over the scenarios.
func (b *Belief) meanTable(p *pile, r response.Reading) []float64 {
	t := p.drawn.Table(b.model.PieceOf(r, p.lot.Prep))
	J := len(b.model.Scenarios)
	out := make([]float64, len(b.Candidates))
	for c := range out {
		out[c] = sum(t[c*J:(c+1)*J]) / float64(J)
	}
	return out
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}

// assumptions names the priors the answer leans on.
func (b *Belief) assumptions() []sorting.Assumption {
	out := b.model.Assumptions()
	var names []string
	for _, c := range b.Candidates {
		if c.Why == usualWhy {
			names = append(names, string(c.Symbol))
		}
	}
	slices.Sort(names)
	out = append(out, sorting.Assumption{Says: "a lot is of one material with probability 0.95 where mixed = false, 0.8 where it is left out, 0.03 where true",
		Key: "[[lot]] mixed", Source: "judgement"})
	out = append(out, sorting.Assumption{Says: "before any test, 4 % is left for usual filaments that the file does not name and 1.5 % for anything else",
		Key: "[[lot]] could_be", Source: "judgement"})
	return out
}
