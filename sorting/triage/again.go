package triage

import (
	"math"

	"brinecut/polymers/cues"
	"brinecut/sorting/response"
)

// again proposes tests of a numbered piece that was tested before: the one whose material is least
// settled, by the kinds that bring most on a fresh piece.
func (n *planner) again(l int) []Proposal {
	p, g := n.b.piles[l], n.grounds[l]
	at := p.leastSettled(g)
	if at < 0 || len(p.mass.Parts) > 0 {
		return nil // the pieces of a merged lot bear the numbers of the lots it was put together from
	}
	before := g.loss(g.mean, g.prob)
	var out []Proposal
	for _, k := range n.looked[l][:min(beam, len(n.looked[l]))] {
		if had(&p.pieces[at], k.ask) {
			continue
		}
		look, base := n.onPiece(l, at, k)
		next := n.proposal(l, &look, g.branches(g.less(base), &look), before)
		next.Piece, next.Again = p.pieces[at].Number, true
		out = append(out, next)
	}
	return out
}

// leastSettled is the piece that could be tested again and whose material is most in doubt; -1 where
// none is.
func (p *pile) leastSettled(g *ground) int {
	at, most := -1, math.Log(1.2) // below the doubt of 1 in 30 there is nothing to gain
	for i := range p.pieces {
		if p.pieces[i].Number == 0 || p.pieces[i].N != 1 || spoilt(&p.pieces[i]) {
			continue
		}
		J := len(p.tables[i]) / len(p.prior)
		q := make([]float64, len(g.cands))
		for k, c := range g.cands {
			q[k] = g.mean[k] * sum(p.tables[i][c*J:(c+1)*J])
		}
		if h := entropy(normalise(q)); h > most {
			at, most = i, h
		}
	}
	return at
}

func entropy(q []float64) float64 {
	h := 0.0
	for _, x := range q {
		if x > 0 {
			h -= x * math.Log(x)
		}
	}
	return h
}

// spoilt reports whether a test of the piece used it up.
func spoilt(p *response.Piece) bool {
	for _, r := range p.Readings {
		if t, ok := cues.Find(r.Kind); ok && t.UsesUp {
			return true
		}
	}
	return false
}

// had reports whether a piece was put through a test before.
func had(p *response.Piece, a response.Ask) bool {
	for _, r := range p.Readings {
		if r.Kind == a.Kind && math.Abs(r.Density-float64(a.Density)) < 5e-4 && r.Temp == float64(a.Temp) {
			return true
		}
	}
	return false
}

// reading is one outcome of a look.
func (n *planner) reading(k *look, outcome string) response.Reading {
	r := response.Reading{Kind: k.ask.Kind, Outcome: outcome, Bath: response.NewBath, Density: float64(k.ask.Density), Temp: float64(k.ask.Temp)}
	if k.ask.Kind == cues.Float {
		r.Bath, _ = n.b.model.BathFor(k.ask.Density)
	}
	return r
}

// onPiece is a look at piece i of a lot again: the probabilities of its readings with each outcome, and
// without any, by candidate that matters. What the lot's other pieces say of the scenarios counts;
// what the piece itself said does so once.
func (n *planner) onPiece(l, i int, k look) (look, []float64) {
	p, g := n.b.piles[l], n.grounds[l]
	J := len(n.b.model.Scenarios)
	weights := make([][]float64, len(g.cands))
	for at, c := range g.cands {
		w := make([]float64, len(p.prior))
		w[c] = 1
		logl := make([]float64, J)
		p.addLog(logl, w, J)
		for j := range logl {
			logl[j] -= math.Log(p.tables[i][c*J+j])
		}
		weights[at] = softmax(logl)
	}
	mean := func(table []float64) []float64 {
		out := make([]float64, len(g.cands))
		for at, c := range g.cands {
			for j, q := range table[c*J : (c+1)*J] {
				out[at] += weights[at][j] * q
			}
		}
		return out
	}
	piece := p.pieces[i]
	had := len(piece.Readings)
	piece.Readings = append(piece.Readings[:had:had], n.reading(&k, ""))
	k.shows = nil
	for _, name := range k.names {
		piece.Readings[had].Outcome = name
		k.shows = append(k.shows, mean(p.drawn.Table(&piece)))
	}
	base := mean(p.tables[i])
	for c, q := range base {
		total := 0.0
		for _, row := range k.shows {
			total += row[c]
		}
		for _, row := range k.shows {
			row[c] *= q / total // readings that contradict each other are weighed by the error floor alone
		}
	}
	return k, base
}
