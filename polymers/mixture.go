package polymers

import (
	"fmt"
	"slices"
)

// FillerDensity is the particle density of a pigment or filler.
type FillerDensity struct {
	Symbol  string // ISO 1043-2 term where there is one: "GF", "KD"; else a name
	Name    string
	Density Value // g/cm3
}

// load is a share of filler in a mixture.
type load struct {
	density     Value   // particle density, g/cm3
	massPercent float64 // of the whole mixture
}

// Density of what a marking names, g/cm3, where that is one polymer of the handbook and fillers with
// stated shares whose particle densities it has: by the rule of mixtures, equation (P1) of
// docs/method.md, marked as computed. It is an upper bound for a print, which holds air. False for any
// other marking.
func (m Marking) Density() (Value, bool) {
	if len(m.Polymers) != 1 || len(m.Fillers) == 0 || len(m.FlameRetardants) > 0 || len(m.Plasticizers) > 0 {
		return Value{}, false
	}
	base, ok := Find(m.Polymers[0])
	if !ok {
		return Value{}, false
	}
	var loads []load
	for _, f := range m.Fillers {
		i := slices.IndexFunc(fillers, func(d FillerDensity) bool { return d.Symbol == f.Symbol })
		if i < 0 || f.Percent == nil {
			return Value{}, false
		}
		loads = append(loads, load{fillers[i].Density, *f.Percent})
	}
	v, err := mixture(base.Density, loads...)
	return v, err == nil
}

// mixture computes the void-free density of a polymer with fillers by the rule of mixtures, equation
// (P1) of docs/method.md: 1/rho = sum w_i/rho_i over mass shares w_i. Ends of the range come from the
// ends of the parts. The result is marked as computed. It is an upper bound for a print, which holds
// air. Error where a density is not positive or the shares are not in 0..100 and below 100 together.
func mixture(base Value, loads ...load) (Value, error) {
	rest := 100.0
	for _, l := range loads {
		if !(l.massPercent >= 0 && l.massPercent < 100) {
			return Value{}, fmt.Errorf("a filler's share of %g %% is not in 0 to 100 %%", l.massPercent)
		}
		rest -= l.massPercent
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
			if !(of(l.density) > 0) {
				return 0, fmt.Errorf("a density has to be positive")
			}
			v += l.massPercent / 100 / of(l.density)
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
