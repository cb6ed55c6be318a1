package triage

import (
	"math"

	"brinecut/sorting"
	"brinecut/sorting/response"
)

// The prior of a lot's make-up, judgement: how likely it is of one material, and how a mixture
// spreads (the concentration of its Dirichlet law).
const (
	pureSaid    = 0.95 // mixed = false
	pureOpen    = 0.8  // mixed left out
	pureMixed   = 0.03 // mixed = true
	spreadMix   = 2.5
	spreadChild = 5.0 // a side of a split follows what its parent was found to be
	floorAlpha  = 0.01
)

// pile is one lot with its evidence: a set of possible make-ups, each with its weight.
type pile struct {
	lot    sorting.Lot
	name   string
	mass   sorting.LotMass
	prior  []float64 // by candidate
	pure   float64
	spread float64
	pieces []response.Piece
	drawn  *response.Drawn
	tables [][]float64 // by piece: [cand*J+scenario]

	points [][]float64 // shares by candidate: first one vertex a candidate, then mixtures
	prob   []float64   // by point, given this lot's own tests; sums to one
	tested int
	scen   [][]float64 // by candidate: weights of the scenarios; filled when first asked for
}

func (p *pile) vertices() int { return len(p.prior) }

// mixtures is how many make-ups stand for a mixture; crumbs, whose make-up matters most, have more.
const (
	mixtures  = 128
	ofCrumbs  = 256
	essFactor = 3 // of the make-ups drawn from the prior a third must matter, or they are drawn anew
)

// weigh fills points and prob from the prior and the tests (method.md, triage 1-3).
func (p *pile) weigh(scenarios int) {
	C := len(p.prior)
	p.points = make([][]float64, 0, C+mixtures)
	logw := make([]float64, 0, C+mixtures)
	for c := 0; c < C; c++ {
		w := make([]float64, C)
		w[c] = 1
		p.points = append(p.points, w)
		logw = append(logw, math.Log(math.Max(p.pure*p.prior[c], 1e-12))+p.logLikelihood(w, scenarios))
	}
	alpha := p.alpha()
	s := newStream("mixtures", p.name)
	n := mixtures
	if p.crumbs() {
		n = ofCrumbs
	}
	mix := make([]float64, 0, n)
	for i := 0; i < n; i++ {
		w := s.dirichlet(alpha)
		p.points = append(p.points, w)
		mix = append(mix, p.logLikelihood(w, scenarios))
	}
	if p.mixedShare(logw, mix) > worthRefining {
		p.refine(mix, alpha, scenarios)
	}
	for _, l := range mix {
		logw = append(logw, math.Log((1-p.pure)/float64(n))+l)
	}
	p.prob = softmax(logw)
}

// worthRefining is the probability of being a mixture above which its make-ups are drawn anew.
const worthRefining = 0.02

// mixedShare is the probability that the lot is a mixture, from the log weights of its vertices and the
// log likelihoods of its mixtures.
func (p *pile) mixedShare(vertices, mix []float64) float64 {
	l := append(append([]float64(nil), vertices...), math.Log(1-p.pure)+logMean(mix))
	w := softmax(l)
	return w[len(w)-1]
}

func (p *pile) alpha() []float64 {
	a := make([]float64, len(p.prior))
	for i, w := range p.prior {
		a[i] = p.spread*w + floorAlpha
	}
	return a
}

// refine replaces mixtures drawn from the prior by draws from their posterior where too few of them
// matter; their weights then all stand for the same share of the mixtures' evidence.
func (p *pile) refine(logl, alpha []float64, scenarios int) {
	w := softmax(append([]float64(nil), logl...))
	ess := 0.0
	for _, x := range w {
		ess += x * x
	}
	if len(p.pieces) == 0 || 1/ess > float64(len(logl))/essFactor {
		return
	}
	mean := logMean(logl)
	C := len(p.prior)
	for i, q := range p.gibbs(alpha, scenarios, len(logl), p.points[C+best(w)]) {
		p.points[C+i] = q
		logl[i] = mean
	}
}

func best(w []float64) int {
	b := 0
	for i, x := range w {
		if x > w[b] {
			b = i
		}
	}
	return b
}

// gibbs draws make-ups of a mixture given its pieces: the material of every piece, the scenario, and
// the shares in turn.
func (p *pile) gibbs(alpha []float64, J, n int, start []float64) [][]float64 {
	s := newStream("mixture posterior", p.name)
	w := start
	out := make([][]float64, 0, n)
	const burn, thin = 12, 2
	for sweep := 0; len(out) < n; sweep++ {
		j := p.drawScenario(s, w, J)
		w = s.dirichlet(p.assign(s, alpha, w, j, J))
		if sweep >= burn && sweep%thin == 0 {
			out = append(out, w)
		}
	}
	return out
}

func (p *pile) drawScenario(s *stream, w []float64, J int) int {
	logp := make([]float64, J)
	p.addLog(logp, w, J)
	return s.pick(softmax(logp))
}

// assign adds the pieces to alpha, each under a material drawn for it. Many like pieces are shared
// out in proportion instead of one by one.
func (p *pile) assign(s *stream, alpha, w []float64, j, J int) []float64 {
	a := append([]float64(nil), alpha...)
	q := make([]float64, len(w))
	for g := range p.pieces {
		total := 0.0
		for c := range w {
			q[c] = w[c] * p.tables[g][c*J+j]
			total += q[c]
		}
		n := p.pieces[g].N
		for k := 0; k < min(n, 20); k++ {
			a[s.pick(q)] += float64(n) / float64(min(n, 20))
		}
	}
	return a
}

// addLog adds to out the log likelihood of the pieces in each scenario, for shares w. Products are
// gathered before a logarithm is taken: logarithms are what this costs.
func (p *pile) addLog(out, w []float64, J int) {
	mix, product := make([]float64, J), make([]float64, J)
	for j := range product {
		product[j] = 1
	}
	for g := range p.pieces {
		clear(mix)
		t := p.tables[g]
		for c, x := range w {
			if x == 0 {
				continue
			}
			for j, q := range t[c*J : (c+1)*J] {
				mix[j] += x * q
			}
		}
		if n := p.pieces[g].N; n > 1 {
			for j := range mix {
				out[j] += float64(n) * math.Log(mix[j])
			}
			continue
		}
		for j, q := range mix {
			if product[j] *= q; product[j] < 1e-200 {
				out[j] += math.Log(product[j])
				product[j] = 1
			}
		}
	}
	for j, q := range product {
		out[j] += math.Log(q)
	}
}

// logLikelihood of shares w, averaged over the scenarios.
func (p *pile) logLikelihood(w []float64, J int) float64 {
	if len(p.pieces) == 0 {
		return 0
	}
	l := make([]float64, J)
	p.addLog(l, w, J)
	return logMean(l)
}

// scenarioWeights are the probabilities of the scenarios given that the lot is of candidate c.
func (p *pile) scenarioWeights(c, J int) []float64 {
	w := make([]float64, len(p.prior))
	w[c] = 1
	return p.scenariosOf(w, J)
}

// scenariosOf are the probabilities of the scenarios given the lot's make-up.
func (p *pile) scenariosOf(w []float64, J int) []float64 {
	l := make([]float64, J)
	p.addLog(l, w, J)
	return softmax(l)
}

// mean share by candidate under the given weights of the points.
func (p *pile) mean(prob []float64) []float64 {
	m := make([]float64, len(p.prior))
	for i, w := range p.points {
		for c, x := range w {
			m[c] += prob[i] * x
		}
	}
	return m
}

func logMean(l []float64) float64 {
	top := math.Inf(-1)
	for _, x := range l {
		if x > top {
			top = x
		}
	}
	if math.IsInf(top, -1) {
		return -700
	}
	sum := 0.0
	for _, x := range l {
		sum += math.Exp(x - top)
	}
	return top + math.Log(sum/float64(len(l)))
}

// softmax turns logarithms into shares that sum to one, in place.
func softmax(l []float64) []float64 {
	top := math.Inf(-1)
	for _, x := range l {
		if x > top {
			top = x
		}
	}
	sum := 0.0
	for i, x := range l {
		if l[i] = 0; x > top-40 { // e-40 of the largest is nothing, and exp is dear
			l[i] = math.Exp(x - top)
		}
		sum += l[i]
	}
	for i := range l {
		l[i] /= sum
	}
	return l
}
