package response

import (
	"math"

	"brinecut/polymers/cues"
)

// habitSD is how far products of one material differ in what bending, a soak or a solvent shows, as
// the standard deviation of a log probability; judgement. Without it, ten strips of one spool would
// count as ten independent witnesses.
const habitSD = 0.7

// habit is P(outcome o) of a categorical test for one product: the material's row, tilted by what this
// product tends to show.
func (p *Product) habit(k cues.Kind, row []float64, o int) float64 {
	if len(row) == 0 {
		return 1
	}
	total := 0.0
	for i, q := range row {
		total += q * p.tilt(k, i)
	}
	return row[o] * p.tilt(k, o) / total
}

// tilt is fixed for a product, kind and outcome.
func (p *Product) tilt(k cues.Kind, o int) float64 {
	s := stream{p.Seed ^ uint64(len(k))*0x9e3779b97f4a7c15 ^ uint64(k[0])<<40 ^ uint64(o+1)<<20}
	return math.Exp(habitSD * quantileNormal(s.uniform()))
}
