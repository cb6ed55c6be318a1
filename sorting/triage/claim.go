package triage

import (
	"brinecut/sorting"
)

// TestsOf lists the tests that speak for a lot: its own and those of the lots merged into it.
func (b *Belief) TestsOf(lot string) []sorting.Observation { return b.testsOf(lot) }

// TestedOf counts the pieces of lot l that gave a reading.
func (b *Belief) TestedOf(l int) int { return b.piles[l].tested }

// RandomPieces counts the pieces of a lot that were drawn at random, and those of them whose own
// readings speak for another key than the given one, or for none. A piece is judged by its readings
// and the prior shares of the bin alone, never by what its lot is believed to be: else a claim would
// rest on the belief it is meant to show.
func (b *Belief) RandomPieces(lot, key string) (tested, wrong int) {
	l := -1
	for i, p := range b.piles {
		if p.name == lot {
			l = i
		}
	}
	if l < 0 {
		return 0, 0
	}
	var random []sorting.Observation
	numbered := map[int]bool{}
	for _, o := range b.testsOf(lot) {
		if o.Random && o.Piece > 0 {
			numbered[o.Piece] = true
		}
	}
	for _, o := range b.testsOf(lot) {
		if o.Random || (o.Piece > 0 && numbered[o.Piece]) {
			random = append(random, o)
		}
	}
	pieces := b.model.Pieces(random, b.piles[l].lot.Prep)
	J := len(b.model.Scenarios)
	for i := range pieces {
		byKey := make([]float64, len(b.Keys))
		t := b.piles[l].drawn.Table(&pieces[i])
		for c, cand := range b.Candidates {
			byKey[b.keyOf[c]] += cand.Weight * sum(t[c*J:(c+1)*J])
		}
		tested += pieces[i].N
		if b.Keys[best(byKey)] != key {
			wrong += pieces[i].N
		}
	}
	return tested, wrong
}
