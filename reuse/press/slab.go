package press

import "math"

// slab is a flat body of one material, conducting across its thickness only, with its mirror plane (or its
// insulated face) at position 0 and its heated face at 1. Biot is h L/k, +Inf for a face held at the
// temperature of the platen. L is HALF the thickness between two platens, the whole of it under one.
//
// Temperatures are theta = (T - T platen)/(T start - T platen), times Fo = a t/L². Carslaw & Jaeger 1959,
// Conduction of Heat in Solids, sections 3.4 and 3.11; Incropera & DeWitt, section 5.5. method.md (P1)-(P3).
type slab struct {
	roots []float64 // of z tan z = Bi, ascending
	coefs []float64 // 4 sin z/(2 z + sin 2 z)
}

// terms is enough for Fo >= 1e-4: the last term is then below exp(-40), so it is exact.
const terms = 201

func newSlab(biot float64) slab {
	s := slab{roots: make([]float64, terms), coefs: make([]float64, terms)}
	for n := range terms {
		z := root(n, biot)
		s.roots[n], s.coefs[n] = z, 4*math.Sin(z)/(2*z+math.Sin(2*z))
	}
	return s
}

// root is the n-th root of z tan z = Bi, which lies between n pi and n pi + pi/2.
func root(n int, biot float64) float64 {
	low, high := float64(n)*math.Pi, (float64(n)+.5)*math.Pi
	if math.IsInf(biot, 1) {
		return high
	}
	for range 80 { // z sin z - Bi cos z has no pole, unlike the tangent
		z := (low + high) / 2
		if rising := z*math.Sin(z) - biot*math.Cos(z); (rising < 0) == (n%2 == 0) {
			low = z
		} else {
			high = z
		}
	}
	return (low + high) / 2
}

// at is theta at position x (0 centre, 1 face) at Fourier number fo.
func (s slab) at(fo, x float64) float64 {
	return s.sum(fo, func(z float64) float64 { return math.Cos(z * x) })
}

// mean is theta averaged over the thickness; 1 - mean is the share of the heat that has come in.
func (s slab) mean(fo float64) float64 {
	return s.sum(fo, func(z float64) float64 { return math.Sin(z) / z })
}

func (s slab) sum(fo float64, shape func(z float64) float64) float64 {
	if fo <= 0 {
		return 1
	}
	total := 0.0
	for n, z := range s.roots {
		decay := math.Exp(-z * z * fo)
		total += s.coefs[n] * shape(z) * decay
		if decay < 1e-18 {
			break
		}
	}
	return math.Max(0, math.Min(1, total))
}

// fourier is the Fourier number at which the centre has come down to theta, 0 < theta < 1: the inverse of
// at(fo, 0), by doubling and halving on the whole series, so that it holds where one term does not.
func (s slab) fourier(theta float64) float64 {
	low, high := 0.0, 1.0
	for s.at(high, 0) > theta && high < 1e18 {
		low, high = high, 2*high
	}
	for range 200 {
		mid := (low + high) / 2
		if mid == low || mid == high {
			break
		}
		if s.at(mid, 0) > theta {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}
