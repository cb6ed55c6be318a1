package separation

import (
	"math"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// deck is one lot as partings meet it: the products it may hold, each with its weight within its key.
type deck struct {
	keys  []string
	feed  Feed
	model *response.Model
	mean  []float64   // g by key, expected
	grams [][]float64 // [draw][key]
	piece float64     // g
	total float64     // g, expected

	wanted []bool    // by candidate: there is some of it
	key    []int     // by product
	cand   []int     // by product
	column []int     // by product: its place in the response's tables
	scen   []int     // by product
	weight []float64 // by product: share of its key's mass
	past   []went
}

func newDeck(c *sorting.Composition, m *response.Model, f Feed, opt PlanOptions) *deck {
	K := len(c.Keys)
	d := &deck{keys: c.Keys, feed: f, model: m, mean: make([]float64, K), wanted: make([]bool, len(f.KeyOf))}
	for _, g := range c.Grams {
		row := g[f.At*K : (f.At+1)*K]
		d.grams = append(d.grams, row)
		for k, x := range row {
			d.mean[k] += x / float64(len(c.Grams))
		}
	}
	for _, x := range d.mean {
		d.total += x
	}
	d.piece = float64(opt.PieceMass)
	if f.Lot.Pieces > 0 {
		d.piece = math.Max(d.total/float64(f.Lot.Pieces), 1e-3)
	}
	d.deal()
	d.remember(f.Past)
	return d
}

// deal lists the products of every candidate there is some of.
func (d *deck) deal() {
	f := d.feed
	R := f.Drawn.Replicas()
	for c, k := range f.KeyOf {
		d.wanted[c] = d.mean[k] > 0 && f.Within[c] > 1e-3
		if !d.wanted[c] {
			continue
		}
		for j, w := range f.Scenarios {
			for r := 0; r < R; r++ {
				d.key, d.cand = append(d.key, k), append(d.cand, c)
				d.column, d.scen = append(d.column, j*R+r), append(d.scen, j)
				d.weight = append(d.weight, w*f.Within[c]/float64(R))
			}
		}
	}
	d.level()
}

// level makes the weights of each key sum to one, also where a candidate was left out.
func (d *deck) level() {
	sums := make([]float64, len(d.keys))
	for i, w := range d.weight {
		sums[d.key[i]] += w
	}
	for i, k := range d.key {
		d.weight[i] /= sums[k]
	}
}

// byProduct arranges a table of the response in the order of the deck.
func (d *deck) byProduct(t [][]float64) []float64 {
	out := make([]float64, len(d.key))
	for i := range out {
		out[i] = t[d.cand[i]][d.column[i]]
	}
	return out
}

// share is the expected part of each key that is on the lower side, before any is misplaced; only every
// n-th scenario is looked at.
func (d *deck) share(t [][]float64, every int) []float64 {
	low, sums := make([]float64, len(d.keys)), make([]float64, len(d.keys))
	for i, k := range d.key {
		if d.scen[i]%every == 0 {
			low[k] += d.weight[i] * t[d.cand[i]][d.column[i]]
			sums[k] += d.weight[i]
		}
	}
	for k := range low {
		if sums[k] > 0 {
			low[k] /= sums[k]
		}
	}
	return low
}

// density of a key, g/cm3: of the bin's known snippets where there are some, else of the handbook; the
// first material of a group stands for it. False where none is known.
func (d *deck) density(k int) (quantity.GramPerCm3, bool) {
	for c, cand := range d.model.Candidates {
		if d.feed.KeyOf[c] != k {
			continue
		}
		if x, ok := d.model.KnownDensity(cand.Symbol); ok {
			return quantity.GramPerCm3(x), true
		}
		if m, ok := polymers.Find(cand.Symbol); ok {
			return quantity.GramPerCm3(m.Density.Typical), true
		}
	}
	return 0, false
}

// soluble is the expected share of soluble support, and which keys are it.
func (d *deck) soluble() (share float64, is []bool) {
	is = make([]bool, len(d.keys))
	for c, cand := range d.model.Candidates {
		if m, ok := polymers.Find(cand.Symbol); ok && m.WaterSoluble {
			is[d.feed.KeyOf[c]] = true
		}
	}
	for k, x := range d.mean {
		if is[k] && d.total > 0 {
			share += x / d.total
		}
	}
	return share, is
}
