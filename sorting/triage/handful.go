package triage

import (
	"math"

	"brinecut/polymers/cues"
)

// A jar takes a handful: how many pieces at once are thought of, and the bench minutes of each further
// piece as a share of those of the first; judgement.
const (
	fewAtOnce  = 5
	manyAtOnce = 10
	extraPiece = 0.25
)

// mostPoints is how many make-ups of a lot are looked at for a handful, the likeliest first.
const mostPoints = 96

// together says of a proposal how many fresh pieces of the lot are better put into one jar and counted
// than one alone, where that brings more for its minutes.
func (n *planner) together(l int, p *Proposal) {
	best := p.Net
	for _, many := range []int{fewAtOnce, manyAtOnce} {
		gain, minutes, ok := n.handful(l, p, many)
		if net := gain - minutes/60*n.hour; ok && net > best {
			best = net
			p.AtOnce, p.AtOnceTakes, p.AtOnceGains = many, minutes, gain
		}
	}
}

// handful is what many pieces of a lot in one jar would bring, and take; false where they cannot be put
// in together, or too few are left.
func (n *planner) handful(l int, p *Proposal, many int) (gain, minutes float64, ok bool) {
	g, pile := n.grounds[l], n.b.piles[l]
	jar := p.Kind == cues.Float || p.Kind == cues.HotWater || p.Kind == cues.Soak
	if !jar || p.Again || p.Whole || pile.lot.Pieces > 0 && pile.lot.Pieces-pile.tested < 2*many {
		return 0, 0, false
	}
	for i := range n.looked[l] {
		k := &n.looked[l][i]
		if k.ask.Kind == p.Kind && k.ask.Density == p.Density && k.ask.Temp == p.Temp {
			gain = math.Max(0, g.loss(g.mean, g.prob)-n.afterCounts(l, k, many))
			return gain, p.Minutes + extraPiece*k.offer.Minutes*float64(many-1), true
		}
	}
	return 0, 0, false
}

// afterCounts is the expected loss once the outcomes of many pieces are counted. The pieces share what
// their tests share: products, bath and thermometer, so the counts are weighed in every scenario.
func (n *planner) afterCounts(l int, k *look, many int) float64 {
	g, p := n.grounds[l], n.b.piles[l]
	J, O := len(n.b.model.Scenarios), len(k.names)
	some := likeliest(n.b.joint[l], mostPoints)
	logp := make([][]float64, len(some)) // by point: [scenario*O + outcome]
	scen := make([][]float64, len(some))
	shows := make([][]float64, O)
	for o, name := range k.names {
		shows[o] = p.drawn.Table(n.b.model.PieceOf(n.reading(k, name), p.lot.Prep))
	}
	for i, at := range some {
		w := p.points[at]
		logp[i] = make([]float64, J*O)
		for j := range J {
			for o := range O {
				q := 0.0
				for _, c := range g.cands {
					q += w[c] * shows[o][c*J+j]
				}
				logp[i][j*O+o] = math.Log(math.Max(q, 1e-12))
			}
		}
		scen[i] = p.scenariosOf(w, J)
	}
	return g.on(p.points, n.b.joint[l], some).expectedCounts(logp, scen, many, O)
}

// expectedCounts sums the loss over all ways in which many pieces can fall out.
func (g *ground) expectedCounts(logp, scen [][]float64, many, outcomes int) float64 {
	after, mean := make([]float64, len(g.prob)), make([]float64, len(g.cands))
	sum, all := 0.0, 0.0
	each(many, outcomes, func(counts []int) {
		ways := multinomial(counts)
		q := 0.0
		for i, p := range g.prob {
			x := 0.0
			for j, s := range scen[i] {
				if s < 1e-4 {
					continue
				}
				e := ways
				for o, c := range counts {
					e += float64(c) * logp[i][j*outcomes+o]
				}
				x += s * math.Exp(e)
			}
			after[i] = p * x
			q += after[i]
		}
		if q < 1e-9 {
			return
		}
		for i := range after {
			after[i] /= q
		}
		g.meanOf(after, mean)
		sum += q * g.loss(mean, after)
		all += q
	})
	return sum / math.Max(all, 1e-300)
}

// each calls f with every way to share n among k, in a fixed order.
func each(n, k int, f func(counts []int)) {
	counts := make([]int, k)
	var fill func(at, left int)
	fill = func(at, left int) {
		if at == k-1 {
			counts[at] = left
			f(counts)
			return
		}
		for c := 0; c <= left; c++ {
			counts[at] = c
			fill(at+1, left-c)
		}
	}
	fill(0, n)
}

// multinomial is the logarithm of the number of orders in which counts can come.
func multinomial(counts []int) float64 {
	n, l := 0, 0.0
	for _, c := range counts {
		n += c
		x, _ := math.Lgamma(float64(c) + 1)
		l -= x
	}
	x, _ := math.Lgamma(float64(n) + 1)
	return l + x
}
