package bath

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
)

// Addition brings a bath to its target.
type Addition struct {
	What  string        // "water", the product's name, "nothing", "start anew" where it would take too much, or "another liquid" where nothing added would do
	Mass  quantity.Gram // to add
	To    quantity.Gram // to so much bath
	Note  string
	Least bool // Mass is the least it can be, because the product is not named
}

// closeEnough is a difference that no household check shows: judgement.
const closeEnough = 0.0005 // g/cm3

// tooMuch is the addition, over the bath it goes into, from which a new bath is less work and less
// waste: judgement.
const tooMuch = 2

// adjust says what to add to a bath measured as c to reach the target. Where the mass of the bath
// is not given it is taken as held.
func adjust(c Checked, target quantity.GramPerCm3, p Product, bath quantity.Mass, held quantity.Gram) Addition {
	a := Addition{What: "nothing", To: bath.Or(held)}
	rho, water, goal := c.density(), waterDensity(float64(c.Temp))/1000, float64(target)
	if math.Abs(goal-float64(c.Density.Mean)) < closeEnough {
		return a
	}
	if !bath.Given() {
		a.Note = fmt.Sprintf("as much again for each further %.0f g", float64(held))
	}
	var b Addition
	var err error
	switch {
	case !finite(goal) || goal < 0.6 || goal > 2.5 || !finite(float64(a.To)) || a.To <= 0:
		err = refuse("give a density such as 1.250 g/cm3 and the mass of the bath", "%.4g g/cm3 is no target for a bath", goal)
	case math.Abs(goal-water) <= closeEnough:
		err = refuse("take plain water", "no amount of water makes a bath plain water")
	case (goal-water)*(rho-water) < 0:
		err = refuse("mix the other kind of liquid", "a bath of %.3f g/cm3 cannot be brought across water to %.3f", rho, goal)
	case math.Abs(goal-water) < math.Abs(rho-water):
		b, err = a.thin(c, target, p)
	default:
		b, err = a.strengthen(c, target, p)
	}
	if err != nil {
		return Addition{What: "another liquid", To: a.To, Note: err.Error()}
	}
	if b.Mass > tooMuch*b.To {
		return Addition{What: "start anew", To: b.To, Note: fmt.Sprintf("it would take %.3g kg of %s to %.3g kg of bath: mix a new bath, and keep this one for what needs %.3f g/cm3",
			float64(b.Mass)/1000, b.What, float64(b.To)/1000, float64(c.Density.Mean))}
	}
	if math.Abs(goal-rho) < float64(c.Density.SD) {
		b.Note += "; the difference is within the doubt of the check, so measure once more before adding"
	}
	return b
}

// density is the measured one in g/cm3, or that of water where the check cannot tell them apart.
func (c Checked) density() float64 {
	water := waterDensity(float64(c.Temp)) / 1000
	if math.Abs(float64(c.Density.Mean)-water) < 2*float64(c.Density.SD) {
		return water
	}
	return float64(c.Density.Mean)
}

// fraction is the mass fraction of the bath if it is of the liquid l.
func (c Checked) fraction(l Liquid) (quantity.Share, error) {
	rho := c.density()
	if rho == waterDensity(float64(c.Temp))/1000 {
		return 0, nil
	}
	return Concentration(l, quantity.GramPerCm3(rho), c.Temp)
}

// thin reckons the water to add. With the product named: M (w / w_target - 1). Without: volumes
// are taken as additive, which is never too much and at most a tenth too little for the salts,
// sugar and glycerol.
func (a Addition) thin(c Checked, target quantity.GramPerCm3, p Product) (Addition, error) {
	a.What = "water"
	if p.Liquid <= Water {
		water, rho, goal := waterDensity(float64(c.Temp))/1000, c.density(), float64(target)
		a.Mass = a.To * quantity.Gram((rho-goal)/rho/(goal/water-1))
		a.Least = true
		a.Note += "; the product is not named, so volumes are taken as additive: add it, measure, and go on"
		return a, nil
	}
	now, err := c.fraction(p.Liquid)
	if err != nil {
		return a, err
	}
	then, err := Concentration(p.Liquid, target, c.Temp)
	if err != nil {
		return a, err
	}
	a.Mass = a.To * quantity.Gram(now/then-1)
	return a, nil
}

// strengthen reckons the product to add: M (w_target - w) / (content - w_target). Without a
// product it gives the least that any of the ten would need.
func (a Addition) strengthen(c Checked, target quantity.GramPerCm3, p Product) (Addition, error) {
	if p.Liquid > Water {
		return a.from(c, target, p)
	}
	var least Addition
	for _, o := range offers(everything()[1:], c.Temp, c.Temp) {
		if b, err := a.from(c, target, o.Product); err == nil && (least.What == "" || b.Mass < least.Mass) {
			least = b
		}
	}
	if least.What == "" {
		return a, refuse("use another kind of test", "none of the ten liquids reaches %.3f g/cm3", float64(target))
	}
	least.What, least.Least = "the product it was mixed from", true
	least.Note += "; the product is not named, so this is the least that any of the ten would need: add it, measure, and go on"
	return least, nil
}

func (a Addition) from(c Checked, target quantity.GramPerCm3, p Product) (Addition, error) {
	s, err := spanOf(p, c.Temp, c.Temp)
	if err != nil {
		return a, err
	}
	now, err := c.fraction(p.Liquid)
	if err != nil {
		return a, err
	}
	then, err := Concentration(p.Liquid, target, c.Temp)
	if err != nil || !s.reaches(target) || then >= p.Content {
		return a, refuse("choose a stronger product or another liquid", "%s reaches only %.3f to %.3f g/cm3, not %.3f", p.Name, float64(s.Min), float64(s.Max), float64(target))
	}
	a.What, a.Mass = p.Name, a.To*quantity.Gram((then-now)/(p.Content-then))
	return a, nil
}
