package triage

import "math"

// ground is a lot as planning sees it: the points of weight, and of each the candidates that matter.
type ground struct {
	cands  []int
	shares []float64   // [point*len(cands) + candidate]
	prob   []float64   // by point
	mean   []float64   // by candidate that matters
	cost   [][]float64 // [action][candidate] money per kg
	worth  []float64   // by candidate, money per kg in its own bag, at least 0
	kg     float64
	doubt  float64 // DoubtCost
	after  []float64
	then   []float64
}

// tiny is the expected share below which a candidate does not count in planning.
const tiny = 5e-4

// lightest is the weight below which a point does not count in planning.
const lightest = 1e-7

func (n *planner) ground(l int) *ground {
	g := &ground{kg: n.b.masses[l] / 1000, doubt: n.opt.DoubtCost}
	for c, x := range n.mean[l] {
		if x > tiny {
			g.cands = append(g.cands, c)
			g.worth = append(g.worth, math.Max(n.stakes.Right[n.b.keyOf[c]], 0))
		}
	}
	for i, w := range n.b.piles[l].points {
		if n.b.joint[l][i] < lightest {
			continue
		}
		g.prob = append(g.prob, n.b.joint[l][i])
		for _, c := range g.cands {
			g.shares = append(g.shares, w[c])
		}
	}
	for _, row := range n.cost {
		some := make([]float64, len(g.cands))
		for k, c := range g.cands {
			some[k] = row[c]
		}
		g.cost = append(g.cost, some)
	}
	g.mean, g.then, g.after = make([]float64, len(g.cands)), make([]float64, len(g.cands)), make([]float64, len(g.prob))
	g.meanOf(g.prob, g.mean)
	return g
}

// meanOf fills mean with the expected shares under the given weights of the points.
func (g *ground) meanOf(prob, mean []float64) {
	clear(mean)
	K := len(mean)
	for i, q := range prob {
		if q == 0 {
			continue
		}
		for k, x := range g.shares[i*K : (i+1)*K] {
			mean[k] += q * x
		}
	}
}

// update is Bayes' rule on the points; q is the probability of the outcome that shows has by candidate.
func (g *ground) update(prob, shows, after []float64) (q float64) {
	K := len(g.cands)
	for i, p := range prob {
		x := 0.0
		if p > 0 {
			for k, w := range g.shares[i*K : (i+1)*K] {
				x += w * shows[k]
			}
		}
		after[i] = p * x
		q += after[i]
	}
	f := 1 / math.Max(q, 1e-300)
	for i := range after {
		after[i] *= f
	}
	return q
}

// loss is the expected loss of the lot, money: what is bagged wrong, and what it costs not to know the
// make-up of what is bagged (method.md, triage 6).
func (g *ground) loss(mean, prob []float64) float64 {
	least := math.Inf(1)
	for _, row := range g.cost {
		x := 0.0
		for k, w := range mean {
			x += w * row[k]
		}
		least = math.Min(least, x)
	}
	return g.kg * (least + g.doubtOf(mean, prob))
}

// doubtOf is the expected share that is not what the mean make-up says, at its price a kilogram.
func (g *ground) doubtOf(mean, prob []float64) float64 {
	K, d, worth := len(mean), 0.0, 0.0
	for i, q := range prob {
		if q == 0 {
			continue
		}
		gap := 0.0
		for k, x := range g.shares[i*K : (i+1)*K] {
			gap += math.Abs(x - mean[k])
		}
		d += q * gap / 2
	}
	for k, w := range mean {
		worth += w * g.worth[k]
	}
	return g.doubt * worth * d
}

// expected is the expected loss once a look is made, from the given weights of the points.
func (g *ground) expected(prob []float64, k *look) float64 {
	sum, total := 0.0, 0.0
	for _, shows := range k.shows {
		q := g.update(prob, shows, g.after)
		if q < 1e-9 {
			continue
		}
		g.meanOf(g.after, g.then)
		sum += q * g.loss(g.then, g.after)
		total += q
	}
	return sum / math.Max(total, 1e-300)
}

// branchesOf works a look at a piece that was read before out: base has the probabilities of what was
// read, by candidate that matters, and the look's of that and the outcome.
func (g *ground) branchesOf(k *look, base []float64) []branch {
	var out []branch
	read := make([]float64, len(g.prob))
	K := len(g.cands)
	for i := range read {
		for c, w := range g.shares[i*K : (i+1)*K] {
			read[i] += w * base[c]
		}
	}
	for o, name := range k.names {
		b := branch{name: name, after: make([]float64, len(g.prob)), mean: make([]float64, K)}
		for i, p := range g.prob {
			x := 0.0
			for c, w := range g.shares[i*K : (i+1)*K] {
				x += w * k.shows[o][c]
			}
			b.after[i] = p * x / math.Max(read[i], 1e-300)
			b.q += b.after[i]
		}
		if b.q < 1e-9 {
			continue
		}
		for i := range b.after {
			b.after[i] /= b.q
		}
		g.meanOf(b.after, b.mean)
		b.loss = g.loss(b.mean, b.after)
		out = append(out, b)
	}
	return out
}
