package bath

import (
	"math"

	"brinecut/polymers/quantity"
)

// Wait is how long pieces need in a bath before they are read.
type Wait struct {
	Viscosity float64         // mPa s
	Speed     float64         // mm/s of a 4 mm sphere that differs from the bath by 0.010 g/cm3
	Crossing  quantity.Second // for that sphere through 150 mm of liquid
	Least     quantity.Second // what to allow
	Source    string
}

// Shortest waits, common practice, no source: flat flakes and smaller differences fall slower
// than the sphere that is reckoned with.
const (
	shortWait = 120 // s, in liquids up to 10 mPa s
	longWait  = 900 // s, in syrups
)

// Waiting is the time that pieces need in the liquid, from its viscosity: terminal speed of a
// sphere with the drag of L. Schiller and A. Naumann, Z. VDI 77 (1933) 318. Same ranges as Density.
func Waiting(l Liquid, massFraction quantity.Share, temp quantity.Celsius) (Wait, error) {
	rho, err := Density(l, massFraction, temp)
	if err != nil {
		return Wait{}, err
	}
	mu := liquids[l].viscosity(float64(massFraction), float64(temp))
	v := terminalSpeed(0.004, 10, rho.KgPerM3(), mu/1000)
	w := Wait{Viscosity: mu, Speed: 1000 * v, Crossing: quantity.Second(0.150 / v),
		Source: "Schiller and Naumann, Z. VDI 77 (1933) 318; shortest wait: " + common}
	floor := quantity.Second(shortWait)
	if mu > 10 {
		floor = longWait
	}
	w.Least = max(floor, 2*w.Crossing)
	return w, nil
}

// terminalSpeed in m/s of a sphere of diameter d m whose density differs by diff kg/m3 from a
// liquid of density rho kg/m3 and viscosity mu Pa s: the creeping speed, slowed by the drag of the
// moving liquid, v (1 + 0.15 Re^0.687) = creeping.
func terminalSpeed(d, diff, rho, mu float64) float64 {
	slowed := func(v float64) float64 { return v * (1 + 0.15*math.Pow(rho*v*d/mu, 0.687)) }
	v := creeping(d, diff, mu)
	return bisect(slowed, v, 0, v)
}

// creeping is the speed in m/s where the liquid's inertia does not count, Re well below 1: G. G. Stokes,
// Trans. Camb. Phil. Soc. 9 (1851) 8; g d2 diff/(18 mu).
func creeping(d, diff, mu float64) float64 {
	const g = 9.80665 // m/s2, standard gravity
	return g * d * d * diff / (18 * mu)
}
