package bath

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
)

// airDensity in g/cm3 at sea level and 20 °C, for the buoyancy of what is weighed (the conventional value of OIML D 28, 2004; from memory).
const airDensity = 0.0012

// Plan is how to check a bath that was just mixed.
type Plan struct {
	Ratio       float64 // mass of bath over mass of water in the same bottle at the same temperature
	Relative20  float64 // relative density 20/20 °C that a hydrometer shows at 20 °C; 0 where not published
	Relative60F float64 // relative density 60/60 °F that a hydrometer shows at 60 °F; 0 where not published
	Bottle      string
	Hydrometer  string
}

// plan says what a bottle and a hydrometer should show.
func plan(l Liquid, w quantity.Share, target quantity.GramPerCm3, temp quantity.Celsius) Plan {
	water := waterDensity(float64(temp)) / 1000
	p := Plan{Ratio: (float64(target) - airDensity) / (water - airDensity)}
	p.Bottle = fmt.Sprintf("weigh one bottle empty, filled with water and filled with the bath, both at %s: the bath must weigh %.4f times the water (%.0f g where the water weighs 500 g)",
		quantity.Format(temp), p.Ratio, 500*p.Ratio)
	if rho, err := Density(l, w, 20); err == nil {
		p.Relative20 = ToRelative(rho, Relative20)
		p.Hydrometer = fmt.Sprintf("a hydrometer marked 20/20 °C must show %.4f at 20 °C", p.Relative20)
	}
	if rho, err := Density(l, w, fahrenheit60); err == nil {
		p.Relative60F = ToRelative(rho, Relative60F)
		p.Hydrometer += fmt.Sprintf("; one marked 60/60 °F must show %.4f at 60 °F", p.Relative60F)
	}
	return p
}

// Weighings are one bottle, weighed three times on one scale.
type Weighings struct {
	Empty, Water, Filled quantity.Mass        // each with the bottle
	Temp                 quantity.Temperature // of water and bath alike; left out = 20 °C
	Target               quantity.Density     // left out: nothing is said of what to add
	Product              Product              // what the bath is mixed from; zero = not named
	Bath                 quantity.Mass        // all of the bath; left out = what the bottle holds
}

// CheckOptions of Check and CheckHydrometer. The zero value is the documented default.
type CheckOptions struct {
	ScaleStep  quantity.Gram       // smallest step; 0 = 1 g. A weighing with an uncertainty of its own keeps that
	Fill       quantity.Milliliter // standard uncertainty of filling to the same mark; 0 = 0.3 ml
	TempLimit  quantity.Celsius    // water and bath differ by at most ± this; 0 = 0.5 K
	Hydrometer float64             // hydrometer's limit of error in relative density; 0 = 0.002
}

// Checked is a bath as measured.
type Checked struct {
	Density     Estimate
	Temp        quantity.Celsius
	Relative20  float64 // the same density over that of water at 20 °C
	Relative60F float64 // the same density over that of water at 60 °F
	Doubts      []Doubt
	Add         Addition // what brings it to the target; zero where no target is given
	Warnings    []Warning
	Assumptions []Assumption
}

// Check is the density of a bath from one bottle weighed empty, with water and with the bath:
// rho = ratio (rho_water - rho_air) + rho_air. Volume and span of the scale cancel. Its standard
// uncertainty follows GUM equation 10, with the empty weighing common to both differences.
// Impossible weighings and temperatures are refused (*Refusal).
func Check(w Weighings, o CheckOptions) (Checked, error) {
	temp := w.Temp.Or(20)
	water, err := Density(Water, 0, temp)
	if err != nil {
		return Checked{}, err
	}
	empty, full, filled := float64(w.Empty.Value), float64(w.Water.Value), float64(w.Filled.Value)
	if err := plausible(empty, full, filled); err != nil {
		return Checked{}, err
	}
	net, ratio := full-empty, (filled-empty)/(full-empty)
	scale := float64(water) - airDensity
	rho := ratio*scale + airDensity
	c := Checked{Temp: temp}
	c.Doubts = bottleDoubts(w, o, net, ratio, scale, rho)
	c.Density = normal(rho, combine(c.Doubts))
	c.relate()
	c.Assumptions = o.assumptions(w)
	if w.Target.Given() {
		c.Add = adjust(c, w.Target.Value, w.Product, w.Bath, quantity.Gram(filled-empty))
	}
	if net < 100 {
		c.Warnings = append(c.Warnings, Warning{fmt.Sprintf("the bottle holds only %.0f g of water", net), "use one of half a litre: the doubt falls with its size"})
	}
	return c, nil
}

// plausible refuses weighings that no bath can give.
func plausible(empty, full, filled float64) error {
	switch {
	case !finite(empty, full, filled) || empty < 0:
		return refuse("weigh the bottle again", "the weighings are not numbers")
	case full <= empty:
		return refuse("weigh the bottle empty, then filled with water", "the bottle weighs no more with water (%.6g g) than empty (%.6g g)", full, empty)
	case filled <= empty:
		return refuse("weigh the same bottle filled with the bath to the same mark", "the bottle weighs no more with the bath (%.6g g) than empty (%.6g g)", filled, empty)
	}
	if r := (filled - empty) / (full - empty); r < 0.7 || r > 2 {
		return refuse("fill the same bottle to the same mark both times", "a bath %.3g times as heavy as water is none of the ten liquids", r)
	}
	return nil
}

// reading is the standard uncertainty of one weighing.
func reading(q quantity.Mass, step quantity.Gram) float64 {
	if q.SD > 0 {
		return float64(q.SD)
	}
	if step <= 0 {
		step = 1
	}
	return float64(step) / math.Sqrt(12)
}

// bottleDoubts are the contributions to the doubt of a bottle check.
func bottleDoubts(w Weighings, o CheckOptions, net, ratio, scale, rho float64) []Doubt {
	fill := float64(o.Fill)
	if fill <= 0 {
		fill = 0.3
	}
	limit := float64(o.TempLimit)
	if limit <= 0 {
		limit = 0.5
	}
	k := scale / net
	weighing := math.Hypot(k*reading(w.Filled, o.ScaleStep), math.Hypot(k*ratio*reading(w.Water, o.ScaleStep), k*(ratio-1)*reading(w.Empty, o.ScaleStep)))
	const perKelvin = 0.0005 // g/cm3/K, the steepest of the salt baths near 1.25 (Laliberté 2009, CaCl2)
	sd := func(x float64) quantity.GramPerCm3 { return quantity.GramPerCm3(x) }
	return []Doubt{
		{"weighing", sd(weighing)},
		{"filling to the same mark", sd(rho * fill / net * math.Sqrt2)},
		{"temperature", sd(perKelvin * rectangle(limit))},
	}
}

func (o CheckOptions) assumptions(w Weighings) []Assumption {
	var out []Assumption
	if o.ScaleStep <= 0 && w.Empty.SD == 0 && w.Water.SD == 0 && w.Filled.SD == 0 {
		out = append(out, Assumption{"scale step 1 g", "± behind a weighing", common})
	}
	if o.Fill <= 0 {
		out = append(out, Assumption{"the bottle is filled alike within 0.3 ml (one standard deviation)", "fill", common})
	}
	if o.TempLimit <= 0 {
		out = append(out, Assumption{"water and bath have the same temperature within ± 0.5 K", "temp", common})
	}
	if !w.Temp.Given() {
		out = append(out, Assumption{"the bath has 20 °C", "temp", common})
	}
	return out
}

func (c *Checked) relate() {
	c.Relative20 = ToRelative(c.Density.Mean, Relative20)
	c.Relative60F = ToRelative(c.Density.Mean, Relative60F)
}
