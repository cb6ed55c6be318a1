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
// of the water only against the check. Where nine tenths could not dissolve the product, all of the
// water comes first.
func order(rec Recipe) []Step {
	first := math.Round(0.9 * float64(rec.Water))
	if rec.crowded() {
		first = float64(rec.Water)
	}
	vessel := vesselStep(rec, first)
	return append([]Step{vessel, pourStep(rec), settleStep(rec)}, rec.finish(float64(rec.Water)-first)...)
}

func vesselStep(rec Recipe, first float64) Step {
	amount := fmt.Sprintf("weigh %.0f g of the water", first)
	if rec.crowded() {
		amount = fmt.Sprintf("weigh all of the water, %.0f g,", first)
	}
	s := Step{Do: amount + " into an open vessel that stands heat", Cautions: rec.Foremost}
	switch l := rec.Product.Liquid; {
	case l.Flammable():
		s.Do = amount + " into a vessel with a lid, by an open window"
	case l == PotassiumCarbonate:
		s.Do += ", not of aluminium"
	}
	if warm := rec.warmWater(); warm > 0 {
		s.Do += fmt.Sprintf("; take it warm, at %.0f °C, because the product cools it and would not all dissolve cold", warm)
		s.Cautions = append(s.Cautions[:len(s.Cautions):len(s.Cautions)], Caution{
			"hot water scalds: mix hot and cold by the thermometer before it is carried, no children or pets near (docs/safety.md, section 6)", common})
	}
	return s
}

func pourStep(rec Recipe) Step {
	name, l := rec.Product.Name, rec.Product.Liquid
	s := Step{Do: fmt.Sprintf("add %.0f g %s in portions, stirring until each has dissolved", float64(rec.Weigh), name), Cautions: rec.Cautions}
	if l == Glycerol || l.Flammable() {
		s.Do = fmt.Sprintf("pour in %.0f g %s, stirring until no streaks are seen", float64(rec.Weigh), name)
	}
	if rec.HeatRise > hot {
		s.Cautions = append([]Caution{{fmt.Sprintf("it gets hot, by up to %.0f K: always solids into cool water, never water onto solids; goggles and gloves (docs/safety.md, section 8)", float64(rec.HeatRise)), heatSource}}, rec.Cautions...)
	}
	return s
}

func settleStep(rec Recipe) Step {
	s := Step{Do: fmt.Sprintf("let it come to %s", quantity.Format(rec.Temp))}
	if rec.HeatRise > hot || rec.warmWater() > 0 {
		s.Cautions = []Caution{{"a warm bath reads too light and softens PLA: do not use it, and close no bottle, before it is cool", chemistry}}
	}
	if rec.HeatRise < -cold {
		s.Do += fmt.Sprintf(" (dissolving cools it, by up to %.0f K)", -float64(rec.HeatRise))
	}
	return s
}

// finish is how the bath is brought to its density; rest is the water held back in g.
func (rec Recipe) finish(rest float64) []Step {
	if rec.crowded() {
		return []Step{
			{Do: "stir until no grain is left on the bottom; let haze settle or filter it"},
			{Do: rec.Check.Bottle},
			{Do: "stir in more water bit by bit where the bottle is too heavy; where it is too light, a little more of the product as far as it dissolves, or mix a bath of another liquid"},
		}
	}
	return []Step{
		{Do: fmt.Sprintf("stir in about half of the last %.0f g of water; let haze settle or filter it", rest)},
		{Do: rec.Check.Bottle},
		{Do: "stir in what is left of the water bit by bit until the bottle agrees; a bath that is too light takes a little more of the product"},
	}
}
