package balance

import (
	"math"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// pinDoubt is the doubt, g, to which the totals are held while the streams are read off given them: judgement.
const pinDoubt = 0.01

// Smooth carries what the tests taught about the materials in the bin back to the streams, method.md
// (B19): the streams given the totals T, averaged over the composition: x' = E[x | T'] and
// var x' = var[x | T] + A C' A' with A = dx/dT and T', C' the mean and covariance of the totals in the
// composition. It is the smoother's gain of Rauch, Tung & Striebel 1965. The composition already holds
// the weighings, so it is no second measurement: what is left of the weighings once T is given is all
// that enters, Smooth always starts from them, and the same composition sent twice changes nothing.
// What was taken out or lost since the bin was weighed is taken to be made up as what is left. Mean,
// SD, Low, High of the streams change and Tested is set; Reconciled stays what the weighings say.
func Smooth(r Result, comp sorting.Composition) Result {
	s := r.sheet
	if s == nil || !s.made || len(comp.Grams) < 2 {
		return r
	}
	g, ok := s.gain(r.solution, comp)
	if !ok {
		return r
	}
	streams := append([]Stream(nil), r.Streams...)
	for i, f := range s.flows {
		g.carry(&streams[i], f)
	}
	r.Streams = streams
	return r
}

// gain is what carries a change of the totals to a stream.
type gain struct {
	d    *Solution // given the totals
	aims []combo
	cov  [][]float64 // C'
}

func (s *sheet) gain(sol *Solution, comp sorting.Composition) (*gain, bool) {
	groups, draws := s.totalsOf(sol, comp)
	if len(groups) == 0 {
		return nil, false
	}
	mean, cov := moments(draws)
	p := s.p
	p.Readings = append([]Reading(nil), s.p.Readings...)
	for i, t := range groups {
		p.Readings = append(p.Readings, Reading{Name: "composition", Terms: t, Value: mean[i], SD: pinDoubt})
	}
	d, err := reconcileFree(p, nil)
	if err != nil {
		return nil, false
	}
	g := &gain{d: d, cov: cov}
	for _, t := range groups {
		h, _ := d.terms(t)
		g.aims = append(g.aims, d.combine(h))
	}
	return g, true
}

// totalsOf pairs the keys of a composition with the totals of the sheet, and gives the draws of each,
// scaled from what is left to what the bin held.
func (s *sheet) totalsOf(sol *Solution, comp sorting.Composition) (groups [][]Term, draws [][]float64) {
	k := len(comp.Keys)
	scale := s.sinceWeighed(sol)
	for j, key := range comp.Keys {
		var terms []Term
		for _, name := range strings.Split(key, "/") {
			if i := s.index(polymers.Symbol(name)); i >= 0 {
				terms = append(terms, Term{s.whole[i], 1})
			}
		}
		if len(terms) == 0 {
			continue
		}
		x := make([]float64, len(comp.Grams))
		for d, row := range comp.Grams {
			for l := range comp.Lots {
				x[d] += scale * row[l*k+j]
			}
		}
		groups, draws = append(groups, terms), append(draws, x)
	}
	return groups, draws
}

// sinceWeighed is the mass of the bin over the mass of the lots that are left.
func (s *sheet) sinceWeighed(sol *Solution) float64 {
	var left []Term
	for _, p := range s.lots.piles {
		if !p.gone {
			left = append(left, Term{p.now, 1})
		}
	}
	now, whole := sol.At(left), sol.At(sumOf(s.whole))
	if !now.Determined || !whole.Determined || now.Value <= 0 || whole.Value <= 0 {
		return 1
	}
	return whole.Value / now.Value
}

func moments(draws [][]float64) (mean []float64, cov [][]float64) {
	n := len(draws)
	mean, cov = make([]float64, n), square(n)
	for i, x := range draws {
		for _, v := range x {
			mean[i] += v / float64(len(x))
		}
	}
	for i := range n {
		for j := range n {
			for d := range draws[i] {
				cov[i][j] += (draws[i][d] - mean[i]) * (draws[j][d] - mean[j]) / float64(len(draws[i])-1)
			}
		}
	}
	return mean, cov
}

// carry moves one stream.
func (g *gain) carry(out *Stream, f flow) {
	h, ok := g.d.terms(f.terms)
	if !ok || f.kind == IsLot || f.kind == IsBag {
		return
	}
	c := g.d.combine(h)
	a := g.d.across(c, g.aims)
	moved := false
	for i := range a {
		a[i] /= pinDoubt * pinDoubt
		moved = moved || math.Abs(a[i]) > 1e-6
	}
	if !moved {
		return
	}
	v := c.sd * c.sd
	for i := range a {
		for j := range a {
			v += a[i] * g.cov[i][j] * a[j]
		}
	}
	z, sd := normalQuantile(0.95), sqrt(v)
	out.Mean, out.SD, out.Tested = math.Max(0, c.mean), sd, true
	out.Low, out.High = math.Max(0, c.mean-z*sd), math.Max(0, c.mean+z*sd)
}
