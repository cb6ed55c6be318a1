package bath

import (
	"fmt"

	"brinecut/polymers/quantity"
)

// Scale is what a hydrometer's figures mean.
type Scale uint8

// The scales.
const (
	Density20   Scale = iota // g/cm3, adjusted at 20 °C
	Relative20               // relative density 20/20 °C
	Relative60F              // relative density 60/60 °F
)

// fahrenheit60 is 60 °F in °C, exact.
const fahrenheit60 = quantity.Celsius(140.0 / 9)

// unit is the density that a scale's figure 1 stands for, and its reference temperature.
func (s Scale) unit() (quantity.GramPerCm3, quantity.Celsius) {
	switch s {
	case Relative20:
		return quantity.GramPerCm3(tanaka(20) / 1000), 20
	case Relative60F:
		return quantity.GramPerCm3(tanaka(float64(fahrenheit60)) / 1000), fahrenheit60
	}
	return 1, 20
}

// FromRelative is the density in g/cm3 that a figure on the scale stands for: times the density of
// water at the reference temperature (Tanaka et al. 2001).
func FromRelative(figure float64, s Scale) quantity.GramPerCm3 {
	unit, _ := s.unit()
	return quantity.GramPerCm3(figure) * unit
}

// ToRelative is the figure on the scale for a density in g/cm3: FromRelative turned around.
func ToRelative(d quantity.GramPerCm3, s Scale) float64 {
	unit, _ := s.unit()
	return float64(d / unit)
}

// glassExpansion is the cubic expansion of hydrometer glass per K: ISO 1768:1975, clause 3.
const glassExpansion = 25e-6

// Reading is one hydrometer reading in a bath.
type Reading struct {
	Figure  float64
	Scale   Scale
	Temp    quantity.Temperature // of the bath; left out = the scale's reference
	Target  quantity.Density
	Product Product
	Bath    quantity.Mass // all of the bath; left out = 1 kg
}

// CheckHydrometer is the density of a bath, at the bath's temperature, from a hydrometer that may
// be read away from its reference temperature: figure x unit x (1 - 25e-6 (t - t_ref)) for the
// glass's expansion (ISO 1768:1975). Read before any detergent is added: the scale is adjusted for
// a surface tension (ISO 649-1:1981).
func CheckHydrometer(r Reading, o CheckOptions) (Checked, error) {
	_, ref := r.Scale.unit()
	temp := r.Temp.Or(ref)
	if _, err := Water.at(temp); err != nil {
		return Checked{}, err
	}
	if !finite(r.Figure) || r.Figure < 0.7 || r.Figure > 2 {
		return Checked{}, refuse("read it at the liquid line, for example 1.252", "a hydrometer does not show %.4g in a bath", r.Figure)
	}
	limit := o.Hydrometer
	if limit <= 0 {
		limit = 0.002
	}
	rho := float64(FromRelative(r.Figure, r.Scale)) * (1 - glassExpansion*float64(temp-ref))
	c := Checked{Temp: temp, Doubts: []Doubt{{"hydrometer", quantity.GramPerCm3(rectangle(limit))}}}
	c.Density = normal(rho, combine(c.Doubts))
	c.relate()
	if o.Hydrometer <= 0 {
		c.Assumptions = append(c.Assumptions, Assumption{fmt.Sprintf("hydrometer right within ± %g", limit), "hydrometer limit", common})
	}
	if !r.Temp.Given() {
		c.Assumptions = append(c.Assumptions, Assumption{"the bath has the temperature that the hydrometer is marked for, " + quantity.Format(temp), "temp", common})
	}
	if r.Target.Given() {
		c.Add = adjust(c, r.Target.Value, r.Product, r.Bath, 1000)
	}
	return c, nil
}
