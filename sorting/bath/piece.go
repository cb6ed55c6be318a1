package bath

import (
	"math"

	"brinecut/polymers/quantity"
)

// bubbleLimit is the air that clings to a wetted piece, ± cm3, rectangular: common practice.
const bubbleLimit = 0.02

// PieceDensity is the density of a solid, void-free piece weighed in air and hanging in a liquid:
// rho = m_air (rho_l - rho_a)/(m_air - m_liquid) + rho_a, the relation of ISO 1183-1 method A and
// ASTM D792 with the air's buoyancy. The result carries its standard uncertainty (GUM equation
// 10): the two weighings, the liquid, and clinging bubbles (± 0.02 cm3). A weighing without an
// uncertainty is given that of a 0.1 g step. Bubbles and voids always make the result too small.
// A piece that weighs nothing or more in the liquid than in air is refused (*Refusal).
func PieceDensity(inAir, inLiquid quantity.Mass, liquid quantity.Density) (quantity.Density, error) {
	m, ml := float64(inAir.Value), float64(inLiquid.Value)
	d := m - ml
	// m_air stands in the numerator and in the displaced mass: both slopes are taken together.
	u := func(k float64) (float64, float64) {
		return k * ml / (d * d) * reading(inAir, pieceStep), k * m / (d * d) * reading(inLiquid, pieceStep)
	}
	return pieceDensity(m, d, liquid, u)
}

// DisplacedDensity is PieceDensity for a kitchen scale: a vessel of liquid is tared, the piece
// hangs in it by a thread, and the scale shows the displaced mass itself. With a sinker, displaced
// is that of both less that of the sinker alone, so that floating pieces can be weighed too.
func DisplacedDensity(inAir, displaced quantity.Mass, liquid quantity.Density) (quantity.Density, error) {
	m, d := float64(inAir.Value), float64(displaced.Value)
	u := func(k float64) (float64, float64) {
		return k / d * reading(inAir, pieceStep), k * m / (d * d) * reading(displaced, pieceStep)
	}
	return pieceDensity(m, d, liquid, u)
}

const pieceStep = 0.1 // g, of a scale that is not named: judgement

func pieceDensity(m, d float64, liquid quantity.Density, u func(k float64) (float64, float64)) (quantity.Density, error) {
	l := float64(liquid.Value)
	switch {
	case !finite(m, d, l) || m <= 0:
		return quantity.Density{}, refuse("weigh the piece dry, in air, first", "a piece of %.4g g has no density", m)
	case l < 0.6 || l > 2.5:
		return quantity.Density{}, refuse("give the density of the liquid, for water 0.998 g/cm3", "no bath has a density of %.4g g/cm3", l)
	case d <= 0:
		return quantity.Density{}, refuse("hang it fully under, free of the walls", "the piece weighs as much in the liquid as in air")
	}
	k := l - airDensity
	rho := m*k/d + airDensity
	if rho > 25 {
		return quantity.Density{}, refuse("weigh it again", "%.4g g/cm3 is no density of a solid", rho)
	}
	ua, ub := u(k)
	ul := m / d * float64(liquid.SD)
	bubble := rho * l / d * rectangle(bubbleLimit)
	sd := math.Sqrt(ua*ua + ub*ub + ul*ul + bubble*bubble)
	return quantity.With(quantity.GramPerCm3(rho), quantity.GramPerCm3(sd)), nil
}
