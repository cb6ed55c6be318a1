package balance

import (
	"math"
)

// tight is the part of h in measured columns.
func tight(h vec, loose []bool) vec {
	out := vec{rhs: h.rhs}
	for i, c := range h.cols {
		if !loose[c] {
			out.cols, out.vals = append(out.cols, c), append(out.vals, h.vals[i])
		}
	}
	return out
}

// gaussian is what is known of some totals: a mean and a covariance, and directions of which nothing
// is known.
type gaussian struct {
	mean  []float64
	cov   [][]float64
	loose map[int][]float64 // by loose column: how it enters each total
	order []int
}

func (g *gaussian) free(k, n int, h vec, loose []bool) {
	for i, c := range h.cols {
		if !loose[c] {
			continue
		}
		if g.loose == nil {
			g.loose = map[int][]float64{}
		}
		if g.loose[c] == nil {
			g.loose[c] = make([]float64, n)
			g.order = append(g.order, c)
		}
		g.loose[c][k] = h.vals[i]
	}
}

// precision is the inverse covariance on what is known and zero along what is not:
// Q (Q' C Q)^-1 Q' with Q a basis of all directions at right angles to the unknown ones. A direction
// known better than a gram is held to a gram.
func (g *gaussian) precision() [][]float64 {
	n := len(g.mean)
	var unknown, basis [][]float64
	for _, c := range g.order {
		if v := apart(g.loose[c], unknown); v != nil {
			unknown = append(unknown, v)
		}
	}
	for k := range n {
		e := make([]float64, n)
		e[k] = 1
		if v := apart(apart2(e, unknown), basis); v != nil {
			basis = append(basis, v)
		}
	}
	m := len(basis)
	a := make([]float64, m*m)
	for i := range m {
		for j := range m {
			for k := range n {
				for l := range n {
					a[i*m+j] += basis[i][k] * g.cov[k][l] * basis[j][l]
				}
			}
		}
		a[i*m+i] += 1
	}
	out := square(n)
	inv, ok := inverseOf(m, a)
	if !ok {
		return out
	}
	for k := range n {
		for l := range n {
			for i := range m {
				for j := range m {
					out[k][l] += basis[i][k] * inv[i*m+j] * basis[j][l]
				}
			}
			if math.Abs(out[k][l]) < 1e-15 {
				out[k][l] = 0
			}
		}
	}
	return out
}

// apart is v less its parts along an orthonormal basis, scaled to one; nil where nothing is left.
func apart(v []float64, basis [][]float64) []float64 {
	if v == nil {
		return nil
	}
	out := apart2(v, basis)
	norm := 0.0
	for _, x := range out {
		norm += x * x
	}
	if norm < 1e-12 {
		return nil
	}
	for i := range out {
		out[i] /= math.Sqrt(norm)
	}
	return out
}

func apart2(v []float64, basis [][]float64) []float64 {
	out := append([]float64(nil), v...)
	for _, b := range basis {
		dot := 0.0
		for i, x := range b {
			dot += x * v[i]
		}
		for i, x := range b {
			out[i] -= dot * x
		}
	}
	return out
}

func square(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	return out
}
