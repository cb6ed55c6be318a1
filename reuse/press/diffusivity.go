package press

import (
	"math"

	"brinecut/polymers"
)

// leastDoubt is the doubt of a diffusivity made of single published values, relative: conductivity and specific
// heat of one polymer differ by more than that between room heat and melt (judgement).
const leastDoubt = 0.15

// diffusivity is k/(rho cp) in m2/s of a record that has all three. Its ends take in every value published of
// each, the solid's and the melt's alike, the other two held; the three distances add as squares of their
// logarithms, since nobody published the three together. method.md (P4).
func diffusivity(m polymers.Material) Span {
	var down, up float64
	a := 1.0
	for _, p := range []struct {
		key   string
		power float64
	}{{"conductivity_w_m_k", 1}, {"specific_heat_j_kg_k", -1}, {"density_g_cm3", -1}} {
		typical, low, high := spanned(m.Sources(p.key))
		a *= math.Pow(typical, p.power)
		below, above := math.Log(typical/low), math.Log(high/typical)
		if p.power < 0 {
			below, above = above, below
		}
		down, up = down+below*below, up+above*above
	}
	a /= 1000 // g/cm3 to kg/m3
	least := math.Log1p(leastDoubt)
	return Span{Low: a * math.Exp(-math.Max(least, math.Sqrt(down))), Typical: a, High: a * math.Exp(math.Max(least, math.Sqrt(up)))}
}

// spanned is the pick of a property and the ends of all its values.
func spanned(all []polymers.Value) (typical, low, high float64) {
	typical, low, high = all[0].Typical, all[0].Low, all[0].High
	for _, v := range all[1:] {
		low, high = math.Min(low, v.Low), math.Max(high, v.High)
	}
	return typical, low, high
}
