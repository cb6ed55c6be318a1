package triage

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/sorting"
	"brinecut/sorting/response"
)

// sureEnough is the share of its main key from which a lot is taken for sure enough that it matters
// whether one piece alone says so; judgement.
const sureEnough = 0.8

// Carried warns of the lots among those given whose answer hangs on one piece: left out, the lot would
// be taken for something else. A lot of one test is open anyway and is not warned of.
func (b *Belief) Carried(settled []bool) []sorting.Warning {
	var out []sorting.Warning
	for l, p := range b.piles {
		if !settled[l] || p.tested < 2 || p.crumbs() {
			continue
		}
		key, share := b.mainOf(p.mean(b.joint[l]))
		if share < sureEnough {
			continue
		}
		if g, other := b.carrier(p, key); g >= 0 {
			out = append(out, sorting.Warning{About: p.name, Line: p.lot.Line,
				Says: fmt.Sprintf("that %q is %s hangs on one piece (%s): without it, it would be taken for %s", p.name, key, b.testsOn(p, &p.pieces[g]), other),
				Cure: "test one more fresh piece, best by another kind of test"})
		}
	}
	return out
}

func (b *Belief) mainOf(shares []float64) (string, float64) {
	byKey := make([]float64, len(b.Keys))
	for c, x := range shares {
		byKey[b.keyOf[c]] += x
	}
	k := best(byKey)
	return b.Keys[k], byKey[k]
}

// carrier is the piece without which the lot, if of one material, would be likeliest of another key;
// -1 where there is none.
func (b *Belief) carrier(p *pile, key string) (piece int, other string) {
	C := len(p.prior)
	J := len(b.model.Scenarios)
	logs := make([][]float64, C)
	for c := range logs {
		w := make([]float64, C)
		w[c] = 1
		logs[c] = make([]float64, J)
		p.addLog(logs[c], w, J)
	}
	left := make([]float64, J)
	for g := range p.pieces {
		if p.pieces[g].N != 1 {
			continue
		}
		weight := make([]float64, C)
		for c := range weight {
			for j, l := range logs[c] {
				left[j] = l - math.Log(p.tables[g][c*J+j])
			}
			weight[c] = math.Log(math.Max(p.prior[c], 1e-12)) + logMean(left)
		}
		if other, _ := b.mainOf(softmax(weight)); other != key {
			return g, other
		}
	}
	return -1, ""
}

// testsOn names the tests of a piece.
func (b *Belief) testsOn(p *pile, piece *response.Piece) string {
	var ids []string
	for _, o := range b.testsOf(p.name) {
		read := slices.ContainsFunc(piece.Readings, func(r response.Reading) bool { return r.Kind == o.Kind && r.Outcome == o.Outcome })
		if read && o.Piece == piece.Number && len(o.Counts) == 0 && (piece.Number > 0 || len(ids) == 0) {
			ids = append(ids, observed(&o))
		}
	}
	return strings.Join(ids, "; ")
}
