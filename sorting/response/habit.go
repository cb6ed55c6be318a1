package response

import (
	"math"

	"brinecut/polymers/cues"
)

// habitSD is how far products of one material differ in what bending, a soak or a solvent shows, as
// the standard deviation of a log probability; judgement. Without it, ten strips of one spool would
// count as ten independent witnesses.
const habitSD = 0.7

// habits holds, for one kind of categorical test, what every drawn product tends to show more or less
// than its material: [product*outcomes + outcome], factors.
type habits struct {
	n     int
	tilts []float64
}

// habitsOf draws the habits of a lot's products once for each kind and cue.
func (d *Drawn) habitsOf(k cues.Kind, cue string, n int) habits {
	name := string(k) + cue
	if h, ok := d.habit[name]; ok {
		return h
	}
	h := habits{n, make([]float64, n*len(d.products))}
	salt := NewStream("habit", name).state
	for i := range d.products {
		s := Stream{d.products[i].Seed ^ salt}
		for o := 0; o < n; o++ {
			h.tilts[i*n+o] = math.Exp(habitSD * quantileNormal(s.Uniform()))
		}
	}
	if d.habit == nil {
		d.habit = map[string]habits{}
	}
	d.habit[name] = h
	return h
}

// share is P(outcome o) for product i: the material's row, tilted by the product's habit.
func (h habits) share(row []float64, i, o int) float64 {
	t := h.tilts[i*h.n : (i+1)*h.n]
	total := 0.0
	for k, q := range row {
		total += q * t[k]
	}
	return row[o] * t[o] / total
}
