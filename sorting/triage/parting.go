package triage

import (
	"math"

	"brinecut/sorting"
	"brinecut/sorting/response"
)

// Mixture is a lot as a plan for parting it needs it: the products it may hold, and what its tests
// taught of everything that tests share.
type Mixture struct {
	Lot       sorting.Lot
	Drawn     *response.Drawn
	Scenarios []float64   // weights of the model's scenarios; they sum to one
	KeyOf     []int       // by candidate: index of its key
	Within    []float64   // by candidate: its expected share of its key
	Shares    [][]float64 // equally likely draws of the mass shares by key; of BeforeSplit only
}

// Model gives the forward model of the bin.
func (b *Belief) Model() *response.Model { return b.model }

// MixtureOf gives lot l as it is believed to be now.
func (b *Belief) MixtureOf(l int) Mixture { return b.mixture(b.piles[l], b.joint[l]) }

// BeforeSplit gives the lot of a split as its own tests left it before it was divided, with draws of
// its make-up; false where the lot is not known.
func (b *Belief) BeforeSplit(s sorting.Split) (Mixture, bool) {
	lot, ok := b.bin.Lot(s.Lot)
	if !ok {
		return Mixture{}, false
	}
	p := b.newPile(lot)
	p.weigh(len(b.model.Scenarios))
	m := b.mixture(p, p.prob)
	const draws = 256
	at, cum := 0, p.prob[0]
	for d := 0; d < draws; d++ {
		for u := (float64(d) + 0.5) / draws; u > cum && at < len(p.prob)-1; {
			at++
			cum += p.prob[at]
		}
		row := make([]float64, len(b.Keys))
		for c, x := range p.points[at] {
			row[b.keyOf[c]] += x
		}
		m.Shares = append(m.Shares, row)
	}
	return m, true
}

func (b *Belief) mixture(p *pile, prob []float64) Mixture {
	m := Mixture{Lot: p.lot, Drawn: p.drawn, KeyOf: b.keyOf, Within: p.mean(prob), Scenarios: p.sharedWeights(prob, len(b.model.Scenarios))}
	total := make([]float64, len(b.Keys))
	for c, k := range b.keyOf {
		m.Within[c] += 1e-9 // a key that no point holds is shared out evenly
		total[k] += m.Within[c]
	}
	for c, k := range b.keyOf {
		m.Within[c] /= total[k]
	}
	return m
}

// sharedWeights are the probabilities of the scenarios under all make-ups of the lot together: what
// its tests say of the bath is the same for every material in it.
func (p *pile) sharedWeights(prob []float64, J int) []float64 {
	out := make([]float64, J)
	if len(p.pieces) == 0 {
		for j := range out {
			out[j] = 1 / float64(J)
		}
		return out
	}
	total := 0.0
	for i, w := range p.points {
		if prob[i] < 1e-4 {
			continue
		}
		for j, q := range p.scenariosOf(w, J) {
			out[j] += prob[i] * q
		}
		total += prob[i]
	}
	for j := range out {
		out[j] /= math.Max(total, 1e-300)
	}
	return out
}
