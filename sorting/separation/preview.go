package separation

import (
	"math"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// Bath is one float cut that is only asked about.
type Bath struct {
	Density quantity.GramPerCm3
	Ep      *quantity.GramPerCm3 // probable error of the cut itself, 0 a perfect one; nil: as the response model has it
	Prep    sorting.Prep         // empty: as the lot is
}

// Preview is what a bath would do to a lot.
type Preview struct {
	Of    Bath
	Feed  sorting.Range // g
	Sides [2]PreviewSide
}

// PreviewSide is what floats, or what sinks. Ranges hold 90 % of the probability.
type PreviewSide struct {
	Product                // expected; MakeUp by the composition's keys
	Mass     sorting.Range // g
	Main     string        // the key there is most of
	Purity   sorting.Range // share of Main
	Recovery sorting.Range // how much of all Main of the lot is on this side
}

// Float runs one bath over a lot by the response model, as a plan's partings are (method.md S7): pieces with
// the densities and the air that their products are held to have, the bath's own doubt, and what hands put
// on the wrong side. With an Ep of its own the cut has the logistic partition curve (method.md S1) over the
// same pieces, and hands err no more than that.
func Float(c *sorting.Composition, m *response.Model, f Feed, bath Bath, opt PlanOptions) Preview {
	if bath.Prep == "" {
		bath.Prep = f.Lot.Prep
	}
	d := newDeck(c, m, f, opt.withDefaults())
	t := test{kind: cues.Float, split: sorting.ByFloat, density: bath.Density, wrong: response.Misplaced(cues.Float)}
	if bath.Ep != nil {
		t.wrong = 0
	}
	t.low = d.through(t, bath)
	b := single(d, bath.Prep, t)
	w := b.play()
	out := Preview{Of: bath, Feed: w.mass(w.piles[0])}
	for i, kid := range b.root.kids {
		pile := w.piles[kid.state]
		key := largest(kid.mass)
		s := PreviewSide{Product: Product{MakeUp: make([]float64, len(d.keys))}, Mass: w.mass(pile), Main: d.keys[key]}
		for k, x := range kid.mass {
			s.MakeUp[k] = math.Max(0, x) // never below zero by a last bit
		}
		s.normalise()
		s.Mass.Mean = min(max(s.Share, s.Mass.Low), s.Mass.High) // expected; the draws' own mean scatters around it
		s.Share /= math.Max(d.total, 1e-12)
		s.Purity, s.Recovery = w.purity(pile, w.piles[0], key)
		out.Sides[i] = s
	}
	return out
}

// single is the board of one test that is made whatever it is worth, every key for itself.
func single(d *deck, prep sorting.Prep, t test) *board {
	p := price{right: make([]float64, len(d.keys)), wrong: make([]float64, len(d.keys))}
	for k := range d.keys {
		p.ways = append(p.ways, k)
	}
	b := newBoard(d, prep, []test{t}, p)
	b.root = b.leaf(0)
	b.root.test, b.root.kids = 0, [2]*node{b.leaf(1), b.leaf(2)}
	return b
}

// logits is how many steps the partition curve of a cut is taken in: judgement.
const logits = 41

// through is the share of each product that floats: below the bath, or below cuts that are spread around
// it by the logistic law, whose quartiles lie an Ep away.
func (d *deck) through(t test, bath Bath) []float64 {
	ask := t.ask(bath.Prep)
	if bath.Ep == nil || *bath.Ep == 0 {
		return d.byProduct(d.feed.Drawn.Lower(ask, d.wanted, 1))
	}
	out := make([]float64, len(d.key))
	for i := range logits {
		u := (float64(i) + 0.5) / logits
		ask.Off = *bath.Ep / ln3 * quantity.GramPerCm3(math.Log(u/(1-u)))
		for j, q := range d.byProduct(d.feed.Drawn.Lower(ask, d.wanted, 1)) {
			out[j] += q / logits
		}
	}
	return out
}
