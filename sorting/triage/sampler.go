package triage

import (
	"math"
)

// sampler draws make-ups of all lots together: Gibbs over single lots, and over pairs of lots, since
// single moves stick where the totals are tight. It keeps the totals in the few directions the
// weighings speak of, and only the points that carry weight.
type sampler struct {
	piles []*pile
	mass  []float64
	info  information
	s     *stream
	dims  []int       // candidates that the weighings speak of
	live  [][]int     // by lot: its points with weight
	logp  [][]float64 // by lot and live point: log weight
	gram  [][]float64 // by lot: [live point * dims]: grams in those directions
	quad  [][]float64 // by lot and live point: gram' P gram / 2
	at    []int       // current live point of each lot
	total []float64   // current grams by dim
	top   [][]int     // by lot: its likeliest live points, for pair moves
	cond  []float64   // scratch
	pull  []float64   // scratch: P (total - mean)
	rao   [][]float64 // by lot and point: summed conditional weights
}

const (
	pairPoints = 6
	burnIn     = 30
)

// negligible is the weight below which a point is never drawn.
const negligible = 1e-6

func newSampler(piles []*pile, mass []float64, info information, seed string, chain int) *sampler {
	sm := &sampler{piles: piles, mass: mass, info: info, s: newStream("joint", seed)}
	for c := range info.mean {
		if info.speaks(c) {
			sm.dims = append(sm.dims, c)
		}
	}
	sm.total = make([]float64, len(sm.dims))
	sm.pull = make([]float64, len(sm.dims))
	for l, p := range piles {
		sm.load(l, p)
		start := best(p.prob)
		if chain > 0 {
			start = sm.s.pick(p.prob)
		}
		sm.at = append(sm.at, max(0, indexOf(sm.live[l], start)))
		sm.rao = append(sm.rao, make([]float64, len(p.points)))
		sm.shift(l, sm.at[l], 1)
	}
	return sm
}

func indexOf(list []int, x int) int {
	for i, y := range list {
		if y == x {
			return i
		}
	}
	return -1
}

// speaks reports whether the weighings say something of candidate c.
func (f *information) speaks(c int) bool {
	return f.precision[c][c] != 0 || !math.IsInf(f.max[c], 1)
}

// load works out what does not change for lot l.
func (sm *sampler) load(l int, p *pile) {
	var live []int
	var logp, gram, quad, weights []float64
	for i, w := range p.points {
		if p.prob[i] < negligible {
			continue
		}
		live, logp, weights = append(live, i), append(logp, math.Log(p.prob[i])), append(weights, p.prob[i])
		q := 0.0
		for _, c := range sm.dims {
			gram = append(gram, sm.mass[l]*w[c])
			for _, d := range sm.dims {
				q += sm.info.precision[c][d] * sm.mass[l] * sm.mass[l] * w[c] * w[d] / 2
			}
		}
		quad = append(quad, q)
	}
	sm.live, sm.logp, sm.gram, sm.quad = append(sm.live, live), append(sm.logp, logp), append(sm.gram, gram), append(sm.quad, quad)
	sm.top = append(sm.top, likeliest(weights, pairPoints))
}

// likeliest gives the indices of the n largest weights, in order of weight.
func likeliest(w []float64, n int) []int {
	var top []int
	for i := range w {
		at := len(top)
		for at > 0 && w[top[at-1]] < w[i] {
			at--
		}
		if at < n {
			top = append(top, 0)
			copy(top[at+1:], top[at:])
			top[at] = i
			top = top[:min(len(top), n)]
		}
	}
	return top
}

func (sm *sampler) grams(l, i int) []float64 {
	D := len(sm.dims)
	return sm.gram[l][i*D : (i+1)*D]
}

func (sm *sampler) shift(l, i int, sign float64) {
	for k, g := range sm.grams(l, i) {
		sm.total[k] += sign * g
	}
}

// gradient fills pull with P (total - mean).
func (sm *sampler) gradient() {
	for a, c := range sm.dims {
		x := 0.0
		for b, d := range sm.dims {
			x += sm.info.precision[c][d] * (sm.total[b] - sm.info.mean[d])
		}
		sm.pull[a] = x
	}
}

// logAdd is the change of the log density when g is added to the totals, whose quadratic part is quad.
func (sm *sampler) logAdd(g []float64, quad float64) float64 {
	x := -quad
	for k, v := range g {
		x -= sm.pull[k] * v
	}
	return x - sm.info.over(sm.dims, sm.total, g)
}

// over is the penalty on totals above their upper bound.
func (f *information) over(dims []int, total, g []float64) float64 {
	q := 0.0
	for k, c := range dims {
		if over := total[k] + g[k] - f.max[c]; over > 0 {
			sd := boundSD*f.max[c] + 5
			q += over * over / (2 * sd * sd)
		}
	}
	return q
}

func (sm *sampler) run(draws int) [][]int {
	out := make([][]int, 0, draws)
	for sweep := 0; len(out) < draws; sweep++ {
		keep := sweep >= burnIn
		for l := range sm.piles {
			sm.single(l, keep)
		}
		for k := 0; k < 3+len(sm.piles)/8; k++ {
			sm.pair()
		}
		if keep {
			points := make([]int, len(sm.at))
			for l, i := range sm.at {
				points[l] = sm.live[l][i]
			}
			out = append(out, points)
		}
	}
	return out
}

// single draws one lot's point given all others.
func (sm *sampler) single(l int, keep bool) {
	if len(sm.live[l]) == 1 {
		if keep {
			sm.rao[l][sm.live[l][0]]++
		}
		return
	}
	sm.shift(l, sm.at[l], -1)
	sm.gradient()
	sm.cond = sm.cond[:0]
	for i := range sm.live[l] {
		sm.cond = append(sm.cond, sm.logp[l][i]+sm.logAdd(sm.grams(l, i), sm.quad[l][i]))
	}
	w := softmax(sm.cond)
	if keep {
		for i, x := range w {
			sm.rao[l][sm.live[l][i]] += x
		}
	}
	sm.at[l] = sm.s.pick(w)
	sm.shift(l, sm.at[l], 1)
}

// pair draws two lots together: one among its likeliest points, the other among all of its own. A lot
// whose point is not among the likeliest keeps still, which leaves the law unchanged.
func (sm *sampler) pair() {
	a := int(sm.s.Next() % uint64(len(sm.piles)))
	b := int(sm.s.Next() % uint64(len(sm.piles)-1))
	if b >= a {
		b++
	}
	if indexOf(sm.top[a], sm.at[a]) < 0 {
		return
	}
	sm.shift(a, sm.at[a], -1)
	sm.shift(b, sm.at[b], -1)
	sm.gradient()
	sm.cond = sm.cond[:0]
	sumG := make([]float64, len(sm.dims))
	n := len(sm.live[b])
	for _, i := range sm.top[a] {
		gi := sm.grams(a, i)
		pi := sm.pulled(gi)
		for j := 0; j < n; j++ {
			cross := 0.0
			for k, g := range sm.grams(b, j) {
				sumG[k] = gi[k] + g
				cross += pi[k] * g
			}
			sm.cond = append(sm.cond, sm.logp[a][i]+sm.logp[b][j]+sm.logAdd(sumG, sm.quad[a][i]+sm.quad[b][j]+cross))
		}
	}
	k := sm.s.pick(softmax(sm.cond))
	sm.at[a], sm.at[b] = sm.top[a][k/n], k%n
	sm.shift(a, sm.at[a], 1)
	sm.shift(b, sm.at[b], 1)
}

// pulled is P g.
func (sm *sampler) pulled(g []float64) []float64 {
	out := make([]float64, len(g))
	for a, c := range sm.dims {
		for b, d := range sm.dims {
			out[a] += sm.info.precision[c][d] * g[b]
		}
	}
	return out
}

func (sm *sampler) meanTotals(got [][]int) []float64 {
	m := make([]float64, len(sm.info.mean))
	for _, at := range got {
		for l, i := range at {
			for c, x := range sm.piles[l].points[i] {
				m[c] += sm.mass[l] * x / float64(len(got))
			}
		}
	}
	return m
}
