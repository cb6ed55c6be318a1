package triage

import (
	"brinecut/polymers"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// TestsOf lists the tests that speak for a lot: its own and those of the lots merged into it.
func (b *Belief) TestsOf(lot string) []sorting.Observation { return b.testsOf(lot) }

// TestedOf counts the pieces of lot l that gave a reading.
func (b *Belief) TestedOf(l int) int { return b.piles[l].tested }

// apartBy is how many times likelier a piece's readings must be under one material than under another
// to count as telling them apart; judgement.
const apartBy = 3.0

// RandomPieces counts the pieces of a lot that were drawn at random and could be told, and those of
// them that are not of the given key. A piece is judged by its own readings alone, never by what its
// lot is believed to be: else a claim would rest on the belief it is meant to show. It counts as right
// where its readings are three times likelier under the key than under every rival that the file names,
// as wrong where they are three times likelier under some rival; a piece whose tests cannot tell the
// named materials apart shows nothing and is not counted. Rivals gives what the pieces were held
// against.
func (b *Belief) RandomPieces(lot, key string) (tested, wrong int, rivals []string) {
	l := -1
	for i, p := range b.piles {
		if p.name == lot {
			l = i
		}
	}
	if l < 0 {
		return 0, 0, nil
	}
	against := b.rivals(l, key)
	for k := range against {
		if against[k] {
			rivals = append(rivals, b.Keys[k])
		}
	}
	pieces := b.model.Pieces(b.randomTests(lot), b.piles[l].lot.Prep)
	for i := range pieces {
		right, told := b.told(b.piles[l].drawn, &pieces[i], key, against)
		if told {
			tested += pieces[i].N
		}
		if told && !right {
			wrong += pieces[i].N
		}
	}
	return tested, wrong, rivals
}

// told judges a piece by its own readings; told is false where they leave it open.
func (b *Belief) told(drawn *response.Drawn, p *response.Piece, key string, against []bool) (right, told bool) {
	main, rival := b.odds(drawn, p, key, against)
	right = main >= apartBy*rival
	return right, right || rival >= apartBy*main
}

// RandomDrawn counts the pieces of a lot that were drawn at random, whether or not their tests tell
// anything.
func (b *Belief) RandomDrawn(lot string) int {
	n := 0
	for _, p := range b.piles {
		if p.name != lot {
			continue
		}
		for _, piece := range b.model.Pieces(b.randomTests(lot), p.lot.Prep) {
			n += piece.N
		}
	}
	return n
}

// randomTests are the tests of pieces drawn at random; a numbered piece drawn so keeps all its tests.
func (b *Belief) randomTests(lot string) []sorting.Observation {
	tests := b.testsOf(lot)
	type piece struct {
		lot string // merged lots each count their own pieces
		n   int
	}
	numbered := map[piece]bool{}
	for _, o := range tests {
		if o.Random && o.Piece > 0 {
			numbered[piece{o.Lot, o.Piece}] = true
		}
	}
	var out []sorting.Observation
	for _, o := range tests {
		if o.Random || o.Piece > 0 && numbered[piece{o.Lot, o.Piece}] {
			out = append(out, o)
		}
	}
	return out
}

// rivals marks the keys a lot's claim is held against: what the lot could be by the file, else all that
// the file names, else, where it names nothing besides, the usual filaments.
func (b *Belief) rivals(l int, key string) []bool {
	shelf := map[string]bool{}
	for _, s := range b.piles[l].lot.CouldBe {
		shelf[string(family(s))] = true
	}
	rules := []func(c sorting.Candidate) bool{
		func(c sorting.Candidate) bool { return shelf[string(c.Symbol)] },
		func(c sorting.Candidate) bool { return c.Why != usualWhy && c.Why != foreignWhy },
		func(c sorting.Candidate) bool { return c.Why == usualWhy },
	}
	out := make([]bool, len(b.Keys))
	for _, counts := range rules {
		found := false
		for c, cand := range b.Candidates {
			if k := b.keyOf[c]; b.Keys[k] != key && cand.Symbol != polymers.Other && counts(cand) {
				out[k], found = true, true
			}
		}
		if found {
			return out
		}
	}
	return out
}

// odds gives the probability of a piece's readings under the key, and the largest under any rival.
func (b *Belief) odds(drawn *response.Drawn, p *response.Piece, key string, against []bool) (main, rival float64) {
	J := len(b.model.Scenarios)
	t := drawn.Table(p)
	for c := range b.Candidates {
		q := sum(t[c*J:(c+1)*J]) / float64(J)
		switch k := b.keyOf[c]; {
		case b.Keys[k] == key:
			main = max(main, q)
		case against[k]:
			rival = max(rival, q)
		}
	}
	return main, rival
}
