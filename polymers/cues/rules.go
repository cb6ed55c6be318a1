package cues

import (
	"fmt"
	"math"
)

// The rules by which readings count. All are judgements of ours; none is a measured frequency.
const (
	// LargestRatio is how much more probable an outcome may be for one material than for another.
	LargestRatio = 20.0
	// RowWeight is how many pieces of known material a row of the tables is worth; see Learn.
	RowWeight = 5.0
)

// Power is the exponent of the likelihood of the nth test (from 1) of one Family on one piece: tests
// of a family answer from the same property, so the second counts half and no further one counts
// (method.md, cues 5). It is not for float and weigh, whose dependence is modelled.
func Power(nth int) float64 {
	switch {
	case nth <= 1:
		return 1
	case nth == 2:
		return 0.5
	}
	return 0
}

// Learn returns P(outcome) for a material of which known pieces were tested the same way: the row p
// counts as RowWeight pieces (method.md, cues 6). Counts are in the order of p; the error is for a
// wrong length, a count below zero, or one that is no number.
func Learn(p, counts []float64) ([]float64, error) {
	if len(p) != len(counts) {
		return nil, fmt.Errorf("%d counts for %d outcomes", len(counts), len(p))
	}
	total := RowWeight
	for _, n := range counts {
		if !(n >= 0) || math.IsInf(n, 1) {
			return nil, fmt.Errorf("%v is not a count of pieces", n)
		}
		total += n
	}
	learned := make([]float64, len(p))
	for i := range p {
		learned[i] = (RowWeight*p[i] + counts[i]) / total
	}
	return learned, nil
}

// flat is the answer of a material of which nothing is known, and slip the share of readings that
// are taken to be slips of the observer, which follow it too. With M(o) the largest P(o | material)
// of any row, filled grades included, and S their sum, flat is M(o)/S and slip is S/(R-1+S): the
// smallest that holds every ratio of likelihoods to R = LargestRatio (method.md, cues 4).
func (q asked) flat() (flat []float64, slip float64) {
	flat = make([]float64, len(q.looks[0].outcomes))
	t, sum := loaded(), 0.0
	for _, name := range append(q.rowNames(), anyRow) {
		for _, filler := range []string{"", "CF", "powder"} {
			p := q.mix(func(s *sheet) []float64 {
				if row := s.row(name); row != nil {
					return t.filled(s, row, filler, "")
				}
				return nil
			})
			for o, x := range p {
				flat[o] = max(flat[o], x)
			}
		}
	}
	for _, x := range flat {
		sum += x
	}
	for o := range flat {
		flat[o] /= sum
	}
	return flat, sum / (LargestRatio - 1 + sum)
}

// Source returns what an id of the bibliography stands for, and whether it is known.
func Source(id string) (string, bool) {
	text, ok := loaded().sources[id]
	return text, ok
}
