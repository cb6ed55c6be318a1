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

// ground of all points of a lot that have weight.
func (n *planner) ground(l int) *ground {
	g := &ground{kg: n.b.masses[l] / 1000, doubt: n.opt.DoubtCost}
	for c, x := range n.mean[l] {
		if x > tiny {
			g.cands = append(g.cands, c)
			g.worth = append(g.worth, math.Max(n.stakes.Right[n.b.keyOf[c]], 0))
		}
	}
	for _, row := range n.cost {
		some := make([]float64, len(g.cands))
		for k, c := range g.cands {
			some[k] = row[c]
		}
		g.cost = append(g.cost, some)
	}
	var heavy []int
	for i, q := range n.b.joint[l] {
		if q >= lightest {
			heavy = append(heavy, i)
		}
	}
	return g.on(n.b.piles[l].points, n.b.joint[l], heavy)
}

// on is the ground of the same lot that knows some of its points alone, their weights given.
func (g *ground) on(points [][]float64, prob []float64, some []int) *ground {
	s := &ground{cands: g.cands, cost: g.cost, worth: g.worth, kg: g.kg, doubt: g.doubt}
	total := 0.0
	for _, i := range some {
		total += prob[i]
	}
	for _, i := range some {
		s.prob = append(s.prob, prob[i]/total)
		for _, c := range g.cands {
			s.shares = append(s.shares, points[i][c])
		}
	}
	s.mean, s.then, s.after = make([]float64, len(g.cands)), make([]float64, len(g.cands)), make([]float64, len(s.prob))
	s.meanOf(s.prob, s.mean)
	return s
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
	return g.kg * (leastCost(g.cost, mean) + g.doubtOf(mean, prob))
}

// leastCost is the expected loss a kilogram in the best way to bag what has the given shares.
func leastCost(cost [][]float64, shares []float64) float64 {
	least := math.Inf(1)
	for _, row := range cost {
		x := 0.0
		for k, w := range shares {
			x += w * row[k]
		}
		least = math.Min(least, x)
	}
	return least
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

// less takes out of the weights of the points what a piece showed before: base has the probabilities of
// that, by candidate that matters. A look that shows the same and its outcome then counts it once.
func (g *ground) less(base []float64) []float64 {
	out := make([]float64, len(g.prob))
	K := len(base)
	for i, p := range g.prob {
		read := 0.0
		for c, w := range g.shares[i*K : (i+1)*K] {
			read += w * base[c]
		}
		out[i] = p / math.Max(read, 1e-300)
	}
	return out
}
