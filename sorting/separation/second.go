package separation

// secondPass weighs running one side of a node through its parting again: the better side, or nil where
// it takes nothing back (method.md S9).
func (b *board) secondPass(n *node) *SecondPass {
	if b.tests[n.test].wrong == 0 {
		return nil
	}
	var best *SecondPass
	for side := range n.kids {
		p := b.again(n, side)
		if best == nil || p.Gain-b.price.money(p.Minutes) > best.Gain-b.price.money(best.Minutes) {
			best = &p
		}
	}
	best.Pays = best.Gain > b.price.money(best.Minutes)+worthwhile
	return best
}

// again reckons with pieces that are misplaced anew, each time by chance; the bath, the pieces and their
// air stay what they are.
func (b *board) again(n *node, side int) SecondPass {
	p := SecondPass{Side: side, Minutes: b.tests[n.test].each * sum(n.kids[side].mass) / b.deck.piece}
	for s, kid := range n.kids {
		for _, leaf := range leaves(kid) {
			mass := b.passed(leaf.state, n.test, side)
			_, v := b.price.bag(mass)
			p.Gain += v - leaf.bag
		}
		if s == side {
			mass := b.passed(kid.state, n.test, side)
			way := b.price.ways[largest(mass)]
			for k, x := range mass {
				if b.price.ways[k] == way {
					p.Purity += x / sum(mass)
				}
			}
		}
	}
	return p
}

func leaves(n *node) []*node {
	if n.test < 0 {
		return []*node{n}
	}
	return append(leaves(n.kids[0]), leaves(n.kids[1])...)
}

// passed is what a state holds when one side of a test on its path went through twice: what is on that
// side came out there both times, the other side has the rest.
func (b *board) passed(state, t, side int) []float64 {
	out := make([]float64, len(b.deck.keys))
	weights := append([]float64(nil), b.deck.weight...)
	for i := range b.axes {
		a := &b.axes[i]
		made := state / power3(a.first) % power3(a.n)
		for j := range weights {
			switch {
			case made == 0:
			case t >= a.first && t < a.first+a.n:
				weights[j] *= a.twice(made, j, t-a.first, side)
			default:
				weights[j] *= a.table[made][j]
			}
		}
	}
	for j, w := range weights {
		out[b.deck.key[j]] += w * b.deck.mean[b.deck.key[j]]
	}
	return out
}

// twice is the path's probability for product j with a second pass of one side of test t.
func (a *axis) twice(made, j, t, side int) float64 {
	p := 0.0
	for c, q := range a.cells[j] {
		once := a.outcome(t, side, c)
		f := once * once
		took := made/power3(t)%3 - 1
		if took != side {
			f = 1 - f
		}
		p += q * f * a.factor(made-(took+1)*power3(t), c)
	}
	return p
}
