package balance

import (
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// This file is the only one that speaks to gonum.

// inverseOf returns the inverse of the symmetric positive definite n by n matrix a (row major) and
// whether it is well enough conditioned to trust.
func inverseOf(n int, a []float64) ([]float64, bool) {
	if n == 0 {
		return nil, true
	}
	var chol mat.Cholesky
	if !chol.Factorize(mat.NewSymDense(n, a)) || chol.Cond() > 1e15 {
		return nil, false
	}
	var inv mat.SymDense
	if err := chol.InverseTo(&inv); err != nil {
		return nil, false
	}
	raw := inv.RawSymmetric()
	for i := 0; i < n; i++ {
		for j := 0; j < i; j++ {
			raw.Data[i*raw.Stride+j] = raw.Data[j*raw.Stride+i]
		}
	}
	return raw.Data, true
}

// lowerOf is the lower triangle L of a correlation matrix, L L'. Where lots sum to a bin the matrix is
// singular, so a little is added to its diagonal.
func lowerOf(correlation [][]float64) [][]float64 {
	n := len(correlation)
	var chol mat.Cholesky
	for little := 1e-9; ; little *= 10 {
		m := mat.NewSymDense(n, nil)
		for i, row := range correlation {
			for j, r := range row[:i] {
				m.SetSym(i, j, r)
			}
			m.SetSym(i, i, 1+little)
		}
		if chol.Factorize(m) {
			break
		}
	}
	var t mat.TriDense
	chol.LTo(&t)
	out := make([][]float64, n)
	for i := range out {
		for j := range i + 1 {
			out[i] = append(out[i], t.At(i, j))
		}
	}
	return out
}

// chiSquareLimit is the value that chi-square of dof exceeds with probability 1 - p.
func chiSquareLimit(p float64, dof int) float64 {
	return distuv.ChiSquared{K: float64(dof)}.Quantile(p)
}

// chiSquareTail is the probability that chi-square of dof exceeds x.
func chiSquareTail(x float64, dof int) float64 {
	return distuv.ChiSquared{K: float64(dof)}.Survival(x)
}

// normalQuantile of the standard normal distribution.
func normalQuantile(p float64) float64 { return distuv.UnitNormal.Quantile(p) }
