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

// handfuls proposes to put several fresh pieces of a lot into one jar and to count what they do, for
// the looks that bring most on one piece.
func (n *planner) handfuls(l int) []Proposal {
	g, p := n.grounds[l], n.b.piles[l]
	if n.menu.Whole[p.name] {
		return nil
	}
	before := g.loss(g.mean, g.prob)
	var out []Proposal
	for _, k := range n.bestLooks(l, before) {
		if k.ask.Kind != cues.Float && k.ask.Kind != cues.HotWater && k.ask.Kind != cues.Soak {
			continue
		}
		single := n.proposal(l, &k, g.branches(&k), before)
		for _, many := range []int{fewAtOnce, manyAtOnce} {
			if p.lot.Pieces > 0 && p.lot.Pieces-p.tested < 2*many {
				continue // what is left of a small lot is not spent on one jar
			}
			h := single
			h.AtOnce = many
			h.Minutes += extraPiece * k.offer.Minutes * float64(many-1)
			h.Work = h.Minutes
			h.Gain = math.Max(0, before-n.afterCounts(l, &k, many))
			h.Net = h.Gain - h.Work/60*n.hour
			out = append(out, h)
		}
		return out // the best look of a jar; another would be another jar
	}
	return out
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
	small := &ground{cands: g.cands, cost: g.cost, worth: g.worth, kg: g.kg, doubt: g.doubt}
	total := 0.0
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
		small.prob = append(small.prob, n.b.joint[l][at])
		total += n.b.joint[l][at]
		for _, c := range g.cands {
			small.shares = append(small.shares, w[c])
		}
	}
	for i := range small.prob {
		small.prob[i] /= total
	}
	return small.expectedCounts(logp, scen, many, O)
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
