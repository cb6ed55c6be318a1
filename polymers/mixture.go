package polymers

import "fmt"

// FillerDensity is the particle density of a pigment or filler.
type FillerDensity struct {
	Symbol  string // ISO 1043-2 term where there is one: "GF", "KD"; else a name
	Name    string
	Density Value // g/cm3
}

// FillerDensities lists the pigments and fillers whose particle density the handbook has.
func FillerDensities() []FillerDensity { return append([]FillerDensity(nil), fillers...) }

// Load is a share of filler in a mixture.
type Load struct {
	Density     Value   // particle density, g/cm3
	MassPercent float64 // of the whole mixture
}

// Mixture computes the void-free density of a polymer with fillers by the rule of mixtures, equation
// (P1) of docs/method.md: 1/rho = sum w_i/rho_i over mass shares w_i. Ends of the range come from the
// ends of the parts. The result is marked as computed. It is an upper bound for a print, which holds
// air. Error where a density is not positive or the shares are not in 0..100 and below 100 together.
func Mixture(base Value, loads ...Load) (Value, error) {
	rest := 100.0
	for _, l := range loads {
		if !(l.MassPercent >= 0 && l.MassPercent < 100) {
			return Value{}, fmt.Errorf("a filler's share of %g %% is not in 0 to 100 %%", l.MassPercent)
		}
		rest -= l.MassPercent
	}
	if !(rest > 0) {
		return Value{}, fmt.Errorf("the fillers leave no polymer")
	}
	mix := func(of func(Value) float64) (float64, error) {
		v := rest / 100 / of(base)
		if !(of(base) > 0) {
			return 0, fmt.Errorf("a density has to be positive")
		}
		for _, l := range loads {
			if !(of(l.Density) > 0) {
				return 0, fmt.Errorf("a density has to be positive")
			}
			v += l.MassPercent / 100 / of(l.Density)
		}
		return 1 / v, nil
	}
	out := Value{Source: "mixture-rule", Evidence: Computed, Note: "void-free, rule of mixtures"}
	var err error
	for _, end := range []struct {
		to *float64
		of func(Value) float64
	}{
		{&out.Low, func(v Value) float64 { return v.Low }},
		{&out.Typical, func(v Value) float64 { return v.Typical }},
		{&out.High, func(v Value) float64 { return v.High }},
	} {
		if *end.to, err = mix(end.of); err != nil {
			return Value{}, err
		}
	}
	return out, nil
}
