package triage

import (
	"fmt"
	"math"

	"brinecut/polymers"
	"brinecut/sorting"
)

// information is what the weighings say of the totals by candidate: exp(-(T-mean)' P (T-mean) / 2).
type information struct {
	mean      []float64
	precision [][]float64
	max       []float64 // g by candidate; +Inf where nothing bounds it
	any       bool
}

// boundSD softens an upper bound on a total, as a share of it; judgement.
const boundSD = 0.05

// budgetOn carries the budget over to the candidate list. Materials that share a candidate (variants)
// are not expected: the budget speaks in base symbols.
func budgetOn(cands []sorting.Candidate, b sorting.Budget, ignore bool) information {
	n := len(cands)
	info := information{mean: make([]float64, n), precision: make([][]float64, n), max: make([]float64, n)}
	for i := range info.precision {
		info.precision[i] = make([]float64, n)
		info.max[i] = math.Inf(1)
	}
	if ignore {
		return info
	}
	at := make([]int, len(b.Materials))
	for k, s := range b.Materials {
		at[k] = candidateOf(cands, s)
		if at[k] >= 0 && k < len(b.Max) {
			info.max[at[k]] = b.Max[k]
		}
		if at[k] >= 0 {
			info.mean[at[k]] = b.Mean[k]
		}
	}
	for k, i := range at {
		for l, j := range at {
			if i < 0 || j < 0 || k >= len(b.Precision) || b.Precision[k][l] == 0 {
				continue
			}
			info.precision[i][j] = b.Precision[k][l]
			info.any = true
		}
	}
	for _, m := range info.max {
		info.any = info.any || !math.IsInf(m, 1)
	}
	return info
}

func candidateOf(cands []sorting.Candidate, s polymers.Symbol) int {
	f := family(s)
	for i, c := range cands {
		if c.Symbol == f {
			return i
		}
	}
	return -1
}

// soften adds to the variance of every total what the set of possible make-ups cannot resolve: the
// make-ups of mixed lots are a finite set, and a total known more sharply than they lie apart would
// leave no make-up at all (method.md, triage 4). P' = (1 + P D)^-1 P for a diagonal D.
func (f *information) soften(piles []*pile, mass []float64) {
	D := 0.0
	for l, p := range piles {
		mixed := 0.0
		for _, x := range p.prob[p.vertices():] {
			mixed += x
		}
		g := resolution * mass[l] * mixed
		D += g * g
	}
	if D == 0 {
		return
	}
	n := len(f.mean)
	a := make([][]float64, n)
	for i := range a {
		a[i] = make([]float64, 2*n)
		for j := 0; j < n; j++ {
			a[i][j] = f.precision[i][j] * D
			a[i][n+j] = f.precision[i][j]
		}
		a[i][i]++
	}
	eliminate(a)
	for i := range a {
		for j := 0; j < n; j++ {
			f.precision[i][j] = (a[i][n+j] + a[j][n+i]) / 2
		}
	}
}

// resolution is how far apart the make-ups of a mixed lot lie, as a share of it: 128 points in the two
// or three directions that matter.
const resolution = 0.04

// eliminate solves the linear systems written side by side in a (Gauss-Jordan with pivots); the left
// block becomes the unit matrix. It is 1 + P D with both factors positive semidefinite: never singular.
func eliminate(a [][]float64) {
	n := len(a)
	for k := 0; k < n; k++ {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		a[k], a[p] = a[p], a[k]
		for j := len(a[k]) - 1; j >= k; j-- {
			a[k][j] /= a[k][k]
		}
		for i := range a {
			if i == k || a[i][k] == 0 {
				continue
			}
			for j := len(a[i]) - 1; j >= k; j-- {
				a[i][j] -= a[i][k] * a[k][j]
			}
		}
	}
}

// logDensity of totals T, up to a constant.
func (f *information) logDensity(T []float64) float64 {
	q := 0.0
	for i, row := range f.precision {
		di := T[i] - f.mean[i]
		for j, p := range row {
			if p != 0 {
				q += p * di * (T[j] - f.mean[j])
			}
		}
		if over := T[i] - f.max[i]; over > 0 {
			sd := boundSD*f.max[i] + 5
			q += over * over / (sd * sd)
		}
	}
	return -q / 2
}

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
	pairPoints = 14
	burnIn     = 40
)

// drawJoint draws the point of every lot, draws times, and gives the weights of each lot's points
// under all the evidence. Two chains that disagree are warned of.
func drawJoint(piles []*pile, mass []float64, info information, draws int) (chosen [][]int, weights [][]float64, warn []sorting.Warning) {
	if len(piles) == 0 {
		return nil, nil, nil
	}
	if !info.any {
		chosen, weights = independent(piles, draws)
		return chosen, weights, nil
	}
	if len(piles) == 1 {
		info.soften(piles, mass)
		chosen, weights = exactOne(piles[0], mass[0], info, draws)
		return chosen, weights, nil
	}
	info.soften(piles, mass)
	var means [2][]float64
	weights = make([][]float64, len(piles))
	for chain := range means {
		sm := newSampler(piles, mass, info, fmt.Sprint("chain ", chain), chain)
		got := sm.run(draws / 2)
		chosen = append(chosen, got...)
		means[chain] = sm.meanTotals(got)
		for l := range piles {
			weights[l] = addTo(weights[l], sm.rao[l], 1/float64(2*(draws/2)))
		}
	}
	return chosen, weights, disagreement(means, mass)
}

func addTo(a, b []float64, f float64) []float64 {
	if a == nil {
		a = make([]float64, len(b))
	}
	for i := range b {
		a[i] += f * b[i]
	}
	return a
}

// chainGap is how far the mean totals of two chains may lie apart, as a share of all mass; judgement.
const chainGap = 0.12

func disagreement(means [2][]float64, mass []float64) []sorting.Warning {
	gap := 0.0
	for i := range means[0] {
		gap += math.Abs(means[0][i]-means[1][i]) / 2
	}
	if gap <= chainGap*sum(mass) {
		return nil
	}
	return []sorting.Warning{{Says: fmt.Sprintf("two runs of the calculation differ by %.0f %% of the bin: the weighings fit several quite different answers", 100*gap/sum(mass)),
		Cure: "test one piece of the largest lot that is not settled"}}
}

// independent draws every lot on its own: the weighings say nothing of materials.
func independent(piles []*pile, draws int) (chosen [][]int, weights [][]float64) {
	chosen = make([][]int, draws)
	for i := range chosen {
		chosen[i] = make([]int, len(piles))
	}
	for l, p := range piles {
		for i, at := range systematic(p.prob, draws, newStream("draws", p.name)) {
			chosen[i][l] = at
		}
		weights = append(weights, p.prob)
	}
	return chosen, weights
}

// exactOne weighs the points of a single lot with the weighings, without sampling noise.
func exactOne(p *pile, mass float64, info information, draws int) (chosen [][]int, weights [][]float64) {
	logw := make([]float64, len(p.points))
	T := make([]float64, len(p.prior))
	for i, w := range p.points {
		for c := range T {
			T[c] = mass * w[c]
		}
		logw[i] = math.Log(math.Max(p.prob[i], 1e-300)) + info.logDensity(T)
	}
	w := softmax(logw)
	for _, at := range systematic(w, draws, newStream("draws", p.name)) {
		chosen = append(chosen, []int{at})
	}
	return chosen, [][]float64{w}
}

// systematic resampling of n indices from weights that sum to one, in shuffled order.
func systematic(w []float64, n int, s *stream) []int {
	out := make([]int, n)
	u, cum, at := s.uniform(), w[0], 0
	for i := range out {
		x := (float64(i) + u) / float64(n)
		for cum < x && at < len(w)-1 {
			at++
			cum += w[at]
		}
		out[i] = at
	}
	for i := n - 1; i > 0; i-- {
		j := int(s.next() % uint64(i+1))
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// negligible is the weight below which a point is never drawn.
const negligible = 1e-7

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
		for k := 0; k < max(1, len(sm.piles)/4); k++ {
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

// pair draws two lots together among their likeliest points; a lot whose point is not among them
// keeps still, which leaves the law unchanged.
func (sm *sampler) pair() {
	a := int(sm.s.next() % uint64(len(sm.piles)))
	b := int(sm.s.next() % uint64(len(sm.piles)))
	if a == b || indexOf(sm.top[a], sm.at[a]) < 0 || indexOf(sm.top[b], sm.at[b]) < 0 {
		return
	}
	sm.shift(a, sm.at[a], -1)
	sm.shift(b, sm.at[b], -1)
	sm.gradient()
	logw := make([]float64, 0, pairPoints*pairPoints)
	sumG := make([]float64, len(sm.dims))
	for _, i := range sm.top[a] {
		gi := sm.grams(a, i)
		pi := sm.pulled(gi)
		for _, j := range sm.top[b] {
			cross := 0.0
			for k, g := range sm.grams(b, j) {
				sumG[k] = gi[k] + g
				cross += pi[k] * g
			}
			logw = append(logw, sm.logp[a][i]+sm.logp[b][j]+sm.logAdd(sumG, sm.quad[a][i]+sm.quad[b][j]+cross))
		}
	}
	k := sm.s.pick(softmax(logw))
	sm.at[a], sm.at[b] = sm.top[a][k/len(sm.top[b])], sm.top[b][k%len(sm.top[b])]
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
