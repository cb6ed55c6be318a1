package response

import "math"

// airyCDF is the probability that a piece of a product is less dense than x: product density d,
// normal scatter sd, less d times an exponential air share of the given mean (method.md, response 1).
func airyCDF(x, d, sd, air float64) float64 {
	scale := air * d // mean loss of density by air
	if scale < 1e-6 {
		return phi((x - d) / sd)
	}
	z, r := (d-x)/sd, sd/scale
	// P(sd Z - E > x - d) = Phi(z) - exp(r^2/2 - r z) Phi(z - r)
	tail := math.Exp(r*r/2-r*z) * phi(z-r)
	return clamp(1 - (phi(z) - tail))
}

// airyPDF is the density of the same law, in 1/(g/cm3).
func airyPDF(x, d, sd, air float64) float64 {
	scale := air * d
	if scale < 1e-6 {
		z := (x - d) / sd
		return math.Exp(-z*z/2) / (sd * math.Sqrt(2*math.Pi))
	}
	z, r := (d-x)/sd, sd/scale
	return math.Exp(math.Min(r*r/2-r*z, 700)) * phi(z-r) / scale
}

// phi is the standard normal distribution function.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

func clamp(p float64) float64 { return math.Min(math.Max(p, 0), 1) }

// window is what float tests of one piece leave of its density: above Low, below High.
type window struct{ low, high float64 }

// probability that a piece of the product lies in the window.
func (w window) probability(d, air float64) float64 {
	p := 1.0
	if !math.IsInf(w.high, 1) {
		p = airyCDF(w.high, d, pieceSD, air)
	}
	if !math.IsInf(w.low, -1) {
		p -= airyCDF(w.low, d, pieceSD, air)
	}
	return clamp(p)
}
