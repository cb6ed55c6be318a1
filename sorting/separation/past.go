package separation

import (
	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// Past is a test that every piece of a lot went through when the lot was split off, and the side it came
// out on.
type Past struct {
	response.Ask
	Outcome string
}

// went is a past test as it bears on the products of a deck.
type went struct {
	kind  cues.Kind
	side  int // 0: the lower one
	wrong float64
	low   []float64 // by product: share on the lower side, before chance
}

// chance is the probability that a piece of which the lower (0) or the upper (1) side is the right one
// came out where the lot did.
func (w went) chance(right int) float64 {
	if right == w.side {
		return 1 - w.wrong
	}
	return w.wrong
}

// remember (method.md (S12)) weighs each product by how much of it came out of the past tests where the lot did. What it is
// made of by key is in the composition already; what is learnt here is which of a key's products and
// pieces are in the lot: what floated in a bath, air and all, floats in it again.
func (d *deck) remember(past []Past) {
	every := make([]bool, len(d.wanted))
	copy(every, d.wanted)
	for _, p := range past {
		w := went{kind: p.Kind, wrong: response.Misplaced(p.Kind), low: d.byProduct(d.feed.Drawn.Lower(p.Ask, every, 1))}
		if !lower(p.Outcome) {
			w.side = 1
		}
		d.past = append(d.past, w)
	}
	for _, kind := range []cues.Kind{cues.Float, cues.HotWater} {
		if of := d.pastOf(kind); len(of) > 0 {
			for i := range d.weight {
				d.weight[i] *= left(of, i, 0, 1)
			}
		}
	}
	if len(past) > 0 {
		d.level()
	}
}

// pastOf lists the past tests of a kind.
func (d *deck) pastOf(k cues.Kind) []went {
	var out []went
	for _, w := range d.past {
		if w.kind == k {
			out = append(out, w)
		}
	}
	return out
}

// PastOf lists the floats and hot waters that the lot of that name came out of, the last first. A merge
// ends the list: its pieces have more than one past.
func PastOf(bin *sorting.Bin, m *response.Model, lot string) []Past {
	var out []Past
	for {
		s, side, ok := bin.SplitOf(lot)
		if !ok {
			return out
		}
		if t, ok := testOf(m, s); ok && (t.kind == cues.Float || t.kind == cues.HotWater) && side.Outcome != "" {
			parent, _ := bin.Lot(s.Lot)
			out = append(out, Past{Ask: t.ask(parent.Prep), Outcome: side.Outcome})
		}
		lot = s.Lot
	}
}
