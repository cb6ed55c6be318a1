package separation

import (
	"slices"

	"brinecut/sorting"
)

// report writes the solved board down as a plan.
func (b *board) report(c *sorting.Composition, f Feed) LotPlan {
	p := LotPlan{Lot: f.Lot.Name, Keep: b.root.bag, Value: b.value, Driest: Driest(c, f.At, b.deck.model.Candidates, f.KeyOf),
		ByColour: slices.ContainsFunc(b.tests, func(t test) bool { return t.kind == byColour })}
	if b.root.test < 0 {
		p.Why = "do not part it: " + b.whyNot()
		return p
	}
	if b.floats(b.root) {
		p.Cutting = b.cutting()
	}
	p.Minutes = b.once(b.uses(b.root))
	p.Why = "parting it is worth more than its bench time"
	w := b.play()
	p.First = b.parting(b.root, w, &p)
	for i, x := range p.Partings() {
		x.N = i + 1
	}
	p.Bags = b.bags(w)
	return p
}

func (b *board) whyNot() string {
	switch {
	case len(b.tests) == 0:
		return "nothing the bench has in reach tells apart what is in it"
	case b.root.way >= 0:
		return "bagged as mostly " + b.deck.keys[largest(b.root.mass)] + " it is worth as much as after any parting, less the time that takes"
	}
	return "no parting makes bags that are worth the time it takes"
}

func (b *board) parting(n *node, w *walk, p *LotPlan) *Parting {
	t := &b.tests[n.test]
	p.Minutes += b.minutes(n.test, n.mass)
	out := &Parting{Kind: t.split, Density: t.density, Bath: t.bath, Temp: t.temp, Feed: w.mass(w.piles[n.state]),
		SetUp: w.setUp(n.test), Cautions: slices.Clone(t.cautions), Second: b.secondPass(n)}
	out.Minutes = out.SetUp + b.minutes(n.test, n.mass)
	out.Newton, out.Overall = b.efficiency(n)
	for s, kid := range n.kids {
		out.Sides[s] = b.side(n, kid, t.outcomes[s], w)
	}
	for s, kid := range n.kids {
		if kid.test >= 0 {
			out.Sides[s].Next = b.parting(kid, w, p)
		}
	}
	return out
}

func (b *board) side(n, kid *node, outcome string, w *walk) Side {
	pile := w.piles[kid.state]
	main := w.main(pile)
	s := Side{Outcome: outcome, Mass: w.mass(pile), Main: b.deck.keys[main]}
	s.Purity, s.Recovery = w.purity(pile, w.piles[n.state], b.price.ways[main])
	if kid.test < 0 && kid.way >= 0 {
		s.Bag = s.Main
	}
	return s
}

// efficiency of a node for what there is most of on its first side.
func (b *board) efficiency(n *node) (newton, overall float64) {
	low := n.kids[0].mass
	way := b.price.ways[largest(low)]
	var own, ownLow, rest, restHigh float64
	for k, x := range n.mass {
		if b.price.ways[k] == way {
			own += x
			ownLow += low[k]
		} else {
			rest += x
			restHigh += x - low[k]
		}
	}
	if own <= 0 || rest <= 0 {
		return 0, 0
	}
	return Effectiveness(ownLow/own, restHigh/rest)
}

// Effectiveness gives two figures for one parting, from the recovery of the wanted and the rejection of
// the unwanted, both 0 to 1: Newton's efficiency, recovery + rejection - 1, and the overall screen
// effectiveness, recovery x rejection (W. L. McCabe, J. C. Smith, Unit Operations of Chemical
// Engineering). They are not the same: method.md (S5).
func Effectiveness(recovery, rejection float64) (newton, overall float64) {
	return recovery + rejection - 1, recovery * rejection
}

// bags puts the leaves that go the same way together, largest first.
func (b *board) bags(w *walk) []Bag {
	var out []Bag
	var ways []int
	piles := map[int][]float64{}
	for _, l := range leaves(b.root) {
		if !slices.Contains(ways, l.way) {
			ways = append(ways, l.way)
			piles[l.way] = make([]float64, len(w.piles[l.state]))
		}
		for i, m := range w.piles[l.state] {
			piles[l.way][i] += m
		}
	}
	for _, way := range ways {
		bag := Bag{Mass: w.mass(piles[way])}
		main := w.main(piles[way])
		if way >= 0 {
			bag.Main = b.deck.keys[main]
		}
		bag.Purity, bag.Recovery = w.purity(piles[way], w.piles[b.root.state], b.price.ways[main])
		out = append(out, bag)
	}
	slices.SortStableFunc(out, func(a, b Bag) int { return order(b.Mass.Mean, a.Mass.Mean) })
	return out
}

// Partings lists the plan's partings in bench order.
func (p *LotPlan) Partings() []*Parting {
	var out []*Parting
	var add func(*Parting)
	add = func(x *Parting) {
		if x == nil {
			return
		}
		out = append(out, x)
		add(x.Sides[0].Next)
		add(x.Sides[1].Next)
	}
	add(p.First)
	return out
}

// DryFirst is how many of the plan's steps, 0 or 1, come before anything gets wet: soluble support that
// is picked out.
func (p *LotPlan) DryFirst() int {
	if p.First != nil && p.First.Kind == sorting.ByHand && p.First.Sides[0].Outcome == picked {
		return 1
	}
	return 0
}
