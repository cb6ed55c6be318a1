package separation

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"brinecut/sorting"
)

// walk is the plan played through on every draw of the composition: what each pile would hold.
type walk struct {
	b     *board
	scen  []int             // by draw
	base  []float64         // [key*J + scenario]: weight of the scenario in the deck
	rng   *rand.Rand        // fixed by the lot's name
	piles map[int][]float64 // by state: [draw*K + key], g
	stand int               // the tests whose bath or water stands by now
}

// setUp is what a test's bath takes before this parting, minutes: nothing once it stands.
func (w *walk) setUp(t int) float64 {
	if w.stand>>t&1 == 1 {
		return 0
	}
	w.stand |= 1 << t
	return w.b.tests[t].setUp
}

// play draws, for each make-up, a scenario of what the tests share, and lets each piece fall on its side
// (method.md S7).
func (b *board) play() *walk {
	w := &walk{b: b, rng: seeded("parting", b.deck.feed.Lot.Name), piles: map[int][]float64{}}
	w.scen = scenarios(w.rng, b.deck.feed.Scenarios, len(b.deck.grams))
	w.base = b.byScenario(0)
	var whole []float64
	for _, g := range b.deck.grams {
		whole = append(whole, g...)
	}
	w.piles[b.root.state] = whole
	w.part(b.root)
	return w
}

// seeded is a generator of random numbers fixed by names.
func seeded(names ...string) *rand.Rand {
	h := fnv.New64a()
	for _, n := range names {
		h.Write([]byte(n))
		h.Write([]byte{0})
	}
	return rand.New(rand.NewPCG(h.Sum64(), 0))
}

// scenarios picks n scenarios in proportion to their weights, in random order.
func scenarios(r *rand.Rand, weights []float64, n int) []int {
	out := make([]int, n)
	j, cum := 0, weights[0]
	for i := range out {
		for u := (float64(i) + 0.5) / float64(n); u > cum && j < len(weights)-1; {
			j++
			cum += weights[j]
		}
		out[i] = j
	}
	r.Shuffle(n, func(a, b int) { out[a], out[b] = out[b], out[a] })
	return out
}

// byScenario is the weight that each key puts into a state, scenario by scenario: [key*J + scenario].
func (b *board) byScenario(state int) []float64 {
	J := len(b.deck.feed.Scenarios)
	out := make([]float64, len(b.deck.keys)*J)
	for i, w := range b.paths(state) {
		out[b.deck.key[i]*J+b.deck.scen[i]] += w
	}
	return out
}

// part divides the pile of a node, piece by piece.
func (w *walk) part(n *node) {
	if n.test < 0 {
		return
	}
	K, J := len(w.b.deck.keys), len(w.b.deck.feed.Scenarios)
	feed, low := w.b.byScenario(n.state), w.b.byScenario(n.kids[0].state)
	from := w.piles[n.state]
	lows, highs := make([]float64, len(from)), make([]float64, len(from))
	for i, m := range from {
		at := i%K*J + w.scen[i/K]
		if m <= 0 || feed[at] <= 0 {
			highs[i] = m
			continue
		}
		lows[i] = m * w.fallen(m, min(low[at]/feed[at], 1))
		highs[i] = m - lows[i]
	}
	w.piles[n.kids[0].state], w.piles[n.kids[1].state] = lows, highs
	w.part(n.kids[0])
	w.part(n.kids[1])
}

// fallen is the share of m grams that falls on a side each piece falls on with probability p.
func (w *walk) fallen(m, p float64) float64 {
	n := int(math.Round(m / w.b.deck.piece))
	if n == 0 {
		return p // crumbs of a piece
	}
	return float64(binomial(w.rng, n, p)) / float64(n)
}

// binomial draws how many of n come out with probability p; from many, by the normal law (Moivre).
func binomial(r *rand.Rand, n int, p float64) int {
	if v := float64(n) * p * (1 - p); v > 25 {
		x := math.Round(float64(n)*p + math.Sqrt(v)*r.NormFloat64())
		return int(min(max(x, 0), float64(n)))
	}
	if p > 0.5 {
		return n - binomial(r, n, 1-p)
	}
	// the gaps between hits are geometric
	if p <= 0 {
		return 0
	}
	k, at := 0, 0
	for step := math.Log1p(-p); ; k++ {
		gap := math.Log(1-r.Float64()) / step
		if gap > float64(n) {
			return k
		}
		at += int(gap) + 1
		if at > n {
			return k
		}
	}
}

// mass is the range of what a pile weighs.
func (w *walk) mass(pile []float64) sorting.Range {
	K := len(w.b.deck.keys)
	x := make([]float64, len(pile)/K)
	for i, m := range pile {
		x[i/K] += m
	}
	return rangeOf(x)
}

// belonging is, draw by draw, what goes the given way in a pile, g.
func (w *walk) belonging(pile []float64, way int) []float64 {
	K := len(w.b.deck.keys)
	x := make([]float64, len(pile)/K)
	for i, m := range pile {
		if w.b.price.ways[i%K] == way {
			x[i/K] += m
		}
	}
	return x
}

// main key of a pile, by expected mass.
func (w *walk) main(pile []float64) int {
	K := len(w.b.deck.keys)
	m := make([]float64, K)
	for i, x := range pile {
		m[i%K] += x
	}
	return largest(m)
}

// purity of a pile in what goes the given way, and how much of that in feed is in the pile.
func (w *walk) purity(pile, feed []float64, way int) (purity, recovery sorting.Range) {
	K := len(w.b.deck.keys)
	own, there := w.belonging(pile, way), w.belonging(feed, way)
	var p, r []float64
	for d := range own {
		if total := sum(pile[d*K : (d+1)*K]); total > 0 {
			p = append(p, min(own[d]/total, 1))
		}
		if there[d] > 0 {
			r = append(r, min(own[d]/there[d], 1))
		}
	}
	return rangeOf(p), rangeOf(r)
}

// rangeOf draws: their mean, and the ends between which 90 % of them lie.
func rangeOf(x []float64) sorting.Range {
	if len(x) == 0 {
		return sorting.Range{}
	}
	s := slices.Clone(x)
	slices.Sort(s)
	r := sorting.Range{Mean: sum(s) / float64(len(s)), Low: quantile(s, 0.05), High: quantile(s, 0.95)}
	r.Low, r.High = min(r.Low, r.Mean), max(r.High, r.Mean)
	return r
}

// quantile of sorted numbers, linear between them.
func quantile(sorted []float64, q float64) float64 {
	at := q * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
