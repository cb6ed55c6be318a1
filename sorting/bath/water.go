package bath

import "math"

// waterDensity in kg/m3 at t °C, 0 to 100 °C, 101.325 kPa, air-free.
func waterDensity(t float64) float64 {
	if t <= 40 {
		return tanaka(t)
	}
	return kell(t)
}

// tanaka is the density of water in kg/m3 from 0 to 40 °C: M. Tanaka, G. Girard, R. Davis,
// A. Peuto, N. Bignell, "Recommended table for the density of water between 0 °C and 40 °C
// based on recent experimental reports", Metrologia 38 (2001) 301-309, equation 1.
func tanaka(t float64) float64 {
	const (
		a1 = -3.983035 // °C
		a2 = 301.797   // °C
		a3 = 522528.9  // °C2
		a4 = 69.34881  // °C
		a5 = 999.974950
	)
	return a5 * (1 - (t+a1)*(t+a1)*(t+a2)/(a3*(t+a4)))
}

// kell is the density of water in kg/m3 from 0 to 150 °C: G. S. Kell, J. Chem. Eng. Data 20
// (1975) 97-105, in the digits of M. Laliberté, J. Chem. Eng. Data 54 (2009) 1725-1760, whose
// solution coefficients were fitted upon it. Temperature scale IPTS-68.
func kell(t float64) float64 {
	n := 999.83952 + t*(16.945176+t*(-0.0079870401+t*(-4.6170461e-5+t*(1.0556302e-7-t*2.8054253e-10))))
	return n / (1 + 0.01687985*t)
}

// waterViscosity in mPa s at t °C: Laliberté (2007) as used in Laliberté (2009); 0 to 100 °C.
func waterViscosity(t float64) float64 {
	return (t + 246) / ((0.05594*t+5.2842)*t + 137.37)
}

// slope is the derivative of f at x by a central difference of half-width h.
func slope(f func(float64) float64, x, h float64) float64 {
	return (f(x+h) - f(x-h)) / (2 * h)
}

// bisect finds x in [low, high] with f(x) = want for a monotone f; the caller has made sure that
// want lies between f(low) and f(high).
func bisect(f func(float64) float64, want, low, high float64) float64 {
	rising := f(high) > f(low)
	for range 80 {
		mid := (low + high) / 2
		if (f(mid) < want) == rising {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// between limits x to low..high.
func between(x, low, high float64) float64 { return math.Min(math.Max(x, low), high) }
