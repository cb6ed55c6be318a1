package balance

import (
	"math"
)

// combo is a linear combination in the measured columns, with what is needed for its covariances.
type combo struct {
	h    vec
	w    vec // G V h'
	mean float64
	sd   float64
	of   []int // the unknowns whose bounds it stands for
}

func (s *Solution) combine(h vec) combo {
	c := combo{h: h, mean: h.rhs + h.dot(s.free)}
	var terms []Term
	for i, col := range h.cols {
		for k, row := range s.gcol[col].cols {
			terms = append(terms, Term{row, h.vals[i] * s.r.v[col] * s.gcol[col].vals[k]})
		}
	}
	c.w = makeVec(terms, 0)
	v := 0.0
	for i, col := range h.cols {
		v += h.vals[i] * h.vals[i] * s.r.v[col]
	}
	if left := v - s.quadratic(c.w); left > 1e-11*v {
		c.sd = math.Sqrt(left)
	}
	return c
}

// quadratic returns w' S^-1 w.
func (s *Solution) quadratic(w vec) float64 {
	q, d := 0.0, s.DoF
	for i, a := range w.cols {
		for j, b := range w.cols {
			q += w.vals[i] * w.vals[j] * s.sInv[a*d+b]
		}
	}
	return q
}

// across returns the covariances of one combination with many.
func (s *Solution) across(one combo, many []combo) []float64 {
	if len(many) == 0 {
		return nil
	}
	d := s.DoF
	t := make([]float64, d)
	for k, b := range one.w.cols {
		for i := range d {
			t[i] += s.sInv[i*d+b] * one.w.vals[k]
		}
	}
	own := make([]float64, len(s.r.v))
	for i, c := range one.h.cols {
		own[c] = one.h.vals[i] * s.r.v[c]
	}
	out := make([]float64, len(many))
	for j, m := range many {
		out[j] = m.h.dot(own) - m.w.dot(t)
	}
	return out
}

// terms writes a linear combination of unknowns in measured columns; determined is false where an
// undetermined direction is left in it.
func (s *Solution) terms(ts []Term) (h vec, determined bool) {
	h = s.r.inMeasured(makeVec(ts, 0))
	for _, c := range h.cols {
		if s.r.loose[c] {
			return h, false
		}
	}
	return h, true
}

func (s *Solution) activeCombos() []combo {
	out := make([]combo, len(s.active))
	for i, b := range s.active {
		out[i] = s.bounds[b]
	}
	return out
}

// alone is a correlation that is taken for none: judgement.
const alone = 1e-3

// correlation of the errors of several combinations, without bounds; nil where they have nothing in
// common. One that is undetermined, or exact, has nothing in common with any. Method.md (B16).
func (s *Solution) correlation(list [][]Term) [][]float64 {
	combos := make([]combo, len(list))
	for i, ts := range list {
		if h, determined := s.terms(ts); determined {
			combos[i] = s.combine(h)
		}
	}
	out, tied := square(len(list)), false
	for i, c := range combos {
		out[i][i] = 1
		if c.sd == 0 {
			continue
		}
		for j, cov := range s.across(c, combos[:i]) {
			if combos[j].sd == 0 {
				continue
			}
			r := math.Max(-1, math.Min(cov/(c.sd*combos[j].sd), 1))
			out[i][j], out[j][i] = r, r
			tied = tied || math.Abs(r) > alone
		}
	}
	if !tied {
		return nil
	}
	return out
}
