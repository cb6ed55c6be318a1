package triage

import (
	"math"
	"slices"
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
	alone [][]float64 // by lot and live point: log weight less gram' P gram / 2
	gram  [][]float64 // by lot: [live point * dims]: grams in those directions
	most  [][]float64 // by lot and dim: the most grams of any live point
	at    []int       // current live point of each lot
	total []float64   // current grams by dim
	top   [][]int     // by lot: its likeliest live points, for pair moves
	cond  []float64   // scratch
	pull  []float64   // scratch: P (total - mean)
	both  []float64   // scratch: totals with the first lot of a pair
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
	sm.both = make([]float64, len(sm.dims))
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
	var alone, gram, weights []float64
	most := make([]float64, len(sm.dims))
	for i, w := range p.points {
		if p.prob[i] < negligible {
			continue
		}
		live, weights = append(live, i), append(weights, p.prob[i])
		q := 0.0
		for k, c := range sm.dims {
			g := sm.mass[l] * w[c]
			gram, most[k] = append(gram, g), math.Max(most[k], g)
			for _, d := range sm.dims {
				q += sm.info.precision[c][d] * g * sm.mass[l] * w[d] / 2
			}
		}
		alone = append(alone, math.Log(p.prob[i])-q)
	}
	sm.live, sm.alone, sm.gram, sm.most = append(sm.live, live), append(sm.alone, alone), append(sm.gram, gram), append(sm.most, most)
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

// conditional appends to cond the log density of every live point of lot l, up to a constant, added to
// the given totals of the other lots; slope is P (totals - mean), and plus is added to each.
func (sm *sampler) conditional(l int, totals, slope []float64, plus float64) {
	D, gram := len(sm.dims), sm.gram[l]
	from := len(sm.cond)
	for i, x := range sm.alone[l] {
		x += plus
		for k, g := range gram[i*D : (i+1)*D] {
			x -= slope[k] * g
		}
		sm.cond = append(sm.cond, x)
	}
	for k, c := range sm.dims {
		if totals[k]+sm.most[l][k] <= sm.info.max[c] {
			continue
		}
		for i := range sm.alone[l] {
			sm.cond[from+i] -= sm.info.over(c, totals[k]+gram[i*D+k])
		}
	}
}

// over is the penalty on a total of candidate c above its upper bound.
func (f *information) over(c int, total float64) float64 {
	over := total - f.max[c]
	if over <= 0 {
		return 0
	}
	sd := boundSD*f.max[c] + 5
	return over * over / (2 * sd * sd)
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
	sm.conditional(l, sm.total, sm.pull, 0)
	w, total := relative(sm.cond)
	if keep {
		for i, x := range w {
			sm.rao[l][sm.live[l][i]] += x / total
		}
	}
	sm.at[l] = sm.s.pick(w)
	sm.shift(l, sm.at[l], 1)
}

// pair draws two lots together: one among its likeliest points and a few others, the other among all of
// its own.
func (sm *sampler) pair() {
	a := int(sm.s.Next() % uint64(len(sm.piles)))
	b := int(sm.s.Next() % uint64(len(sm.piles)-1))
	if b >= a {
		b++
	}
	some, bonus := sm.some(a)
	sm.shift(a, sm.at[a], -1)
	sm.shift(b, sm.at[b], -1)
	sm.gradient()
	sm.cond = sm.cond[:0]
	for x, i := range some {
		gi := sm.grams(a, i)
		slope, plus := sm.pulled(gi), sm.alone[a][i]
		if x >= len(sm.top[a]) {
			plus += bonus
		}
		for k, g := range gi {
			plus -= sm.pull[k] * g
			slope[k] += sm.pull[k]
			sm.both[k] = sm.total[k] + g
		}
		sm.conditional(b, sm.both, slope, plus)
	}
	n := len(sm.live[b])
	w, _ := relative(sm.cond)
	k := sm.s.pick(w)
	sm.at[a], sm.at[b] = some[k/n], k%n
	sm.shift(a, sm.at[a], 1)
	sm.shift(b, sm.at[b], 1)
}

// others is how many points beside the likeliest a pair move offers.
const others = 3

// some gives the likeliest points of a lot and a few of the others, drawn at random but so that the
// present one is among them. A point outside the likeliest is offered more often when it is the present
// one; bonus, the logarithm of how much, makes up for it.
func (sm *sampler) some(l int) (points []int, bonus float64) {
	points = append(points, sm.top[l]...)
	var rest []int
	for i := range sm.live[l] {
		if indexOf(sm.top[l], i) < 0 {
			rest = append(rest, i)
		}
	}
	n := min(others, len(rest))
	if n == 0 {
		return points, 0
	}
	if at := indexOf(rest, sm.at[l]); at >= 0 {
		rest[0], rest[at] = rest[at], rest[0]
	} else {
		sm.swapIn(rest, 0)
	}
	for k := 1; k < n; k++ {
		sm.swapIn(rest, k)
	}
	return append(points, rest[:n]...), math.Log(float64(len(rest)) / float64(n))
}

func (sm *sampler) swapIn(list []int, k int) {
	j := k + int(sm.s.Next()%uint64(len(list)-k))
	list[k], list[j] = list[j], list[k]
}

// relative turns logarithms into weights relative to the largest, in place, and gives their sum. What
// is below e-18 of the largest is nothing in 400 draws, and exp is dear.
func relative(l []float64) (w []float64, total float64) {
	top := slices.Max(l)
	for i, x := range l {
		if l[i] = 0; x > top-18 {
			l[i] = math.Exp(x - top)
			total += l[i]
		}
	}
	return l, total
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
