package triage

import (
	"brinecut/sorting"
)

// RandomMasses gives the masses in g of the numbered pieces of a lot that were drawn at random, could be
// told and were weighed in air: those of the key, and those of another material (see RandomPieces).
func (b *Belief) RandomMasses(lot, key string) (right, wrong []float64) {
	for l, p := range b.piles {
		if p.name != lot {
			continue
		}
		against := b.rivals(l, key)
		for _, tests := range numbered(b.randomTests(lot)) {
			mass := weighedIn(tests)
			pieces := b.model.Pieces(tests, p.lot.Prep)
			if mass <= 0 || len(pieces) != 1 {
				continue
			}
			switch own, told := b.told(p.drawn, &pieces[0], key, against); {
			case own:
				right = append(right, mass)
			case told:
				wrong = append(wrong, mass)
			}
		}
	}
	return right, wrong
}

// numbered lists the tests of each numbered piece together, in the order of their first test.
func numbered(tests []sorting.Observation) [][]sorting.Observation {
	type piece struct {
		lot string
		n   int
	}
	var out [][]sorting.Observation
	at := map[piece]int{}
	for _, o := range tests {
		if o.Piece == 0 || len(o.Counts) > 0 {
			continue
		}
		j, seen := at[piece{o.Lot, o.Piece}]
		if !seen {
			j = len(out)
			at[piece{o.Lot, o.Piece}] = j
			out = append(out, nil)
		}
		out[j] = append(out[j], o)
	}
	return out
}

func weighedIn(tests []sorting.Observation) float64 {
	for _, o := range tests {
		if o.InAir.Given() {
			return float64(o.InAir.Value)
		}
	}
	return 0
}
