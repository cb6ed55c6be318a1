package bath

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
)

// Specific heat of calcium chloride brine at 0, 10, 20 and 30 %, kJ/kg/K: Å. Melinder, Properties
// of Secondary Working Fluids (IIR, 2010); other liquids are given that of their water alone.
var brineHeat = monotone([]float64{0, 0.10, 0.20, 0.30}, []float64{4.18, 3.6, 3.1, 2.8})

// heatRise is the greatest rise in K, without any loss of heat, when product dissolves to a mass
// fraction w; negative where it cools. Dilution heat at high strength makes the real rise smaller.
func heatRise(p Product, w float64) float64 {
	specific := 4.18 * (1 - w)
	if p.Liquid == CalciumChloride {
		specific = brineHeat.Predict(between(w, 0, 0.30))
	}
	return p.heat / liquids[p.Liquid].molar * 1000 * w / specific
}

// hot is the rise from which mixing carries the caution: judgement, a hand notices it.
const hot = 8 // K

// cold is the fall from which mixing says so: judgement.
const cold = 2 // K

// order is the mixing order: nine tenths of the water first, then the product into it, and the rest
// of the water only against the check.
func order(rec Recipe) []Step {
	first := math.Round(0.9 * float64(rec.Water))
	rest := float64(rec.Water) - first
	name, cautions := rec.Product.Name, rec.Cautions
	pour := Step{Do: fmt.Sprintf("add %.0f g %s in portions, stirring until each has dissolved", float64(rec.Weigh), name), Cautions: cautions}
	settle := Step{Do: fmt.Sprintf("let it come to %s", quantity.Format(rec.Temp))}
	if rec.HeatRise > hot {
		pour.Cautions = append([]Caution{{fmt.Sprintf("it gets hot, by up to %.0f K: always solids into cool water, never water onto solids; goggles and gloves", float64(rec.HeatRise)), heatSource}}, cautions...)
		settle.Cautions = []Caution{{"a warm bath reads too light and softens PLA: do not use it, and close no bottle, before it is cool", chemistry}}
	}
	if rec.HeatRise < -cold {
		settle.Do += fmt.Sprintf(" (dissolving cools it, by up to %.0f K)", -float64(rec.HeatRise))
	}
	l := rec.Product.Liquid
	vessel := fmt.Sprintf("weigh %.0f g of the water into an open vessel that stands heat", first)
	switch {
	case l.Flammable():
		vessel = fmt.Sprintf("weigh %.0f g of the water into a vessel with a lid, by an open window", first)
	case l == PotassiumCarbonate:
		vessel += ", not of aluminium"
	}
	if l == Glycerol || l.Flammable() {
		pour.Do = fmt.Sprintf("pour in %.0f g %s, stirring until no streaks are seen", float64(rec.Weigh), name)
	}
	return []Step{{Do: vessel}, pour, settle,
		{Do: fmt.Sprintf("stir in about half of the last %.0f g of water; let haze settle or filter it", rest)},
		{Do: rec.Check.Bottle},
		{Do: "stir in what is left of the water bit by bit until the bottle agrees; a bath that is too light takes a little more of the product"},
	}
}
