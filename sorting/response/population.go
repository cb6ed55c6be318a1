package response

import (
	"fmt"
	"math"

	"brinecut/polymers"
)

// population is what products of one candidate are sold: a mixture of variants.
type population struct {
	symbol   polymers.Symbol
	variants []polymers.Material
	weights  []float64 // sum to one
	other    bool      // any material that is not listed
}

// The spread of "other": anything a bin can hold, judgement.
const (
	otherDensity = 1.20
	otherSpread  = 0.12
)

// populationOf collects the variants of a candidate.
func populationOf(sym polymers.Symbol) (population, error) {
	p := population{symbol: sym}
	if sym == polymers.Other {
		p.other, p.weights = true, []float64{1}
		p.variants = []polymers.Material{{Symbol: polymers.Other, Base: polymers.Other, Polymer: polymers.Other, Rigid: true}}
		return p, nil
	}
	m, ok := polymers.Find(sym)
	if !ok {
		return p, fmt.Errorf("response: no record of %s in the handbook", sym)
	}
	p.variants, p.weights = []polymers.Material{m}, []float64{1}
	if m.Filler == "" && m.Base == m.Symbol {
		p.addVariants(m)
	}
	total := 0.0
	for _, w := range p.weights {
		total += w
	}
	for i := range p.weights {
		p.weights[i] /= total
	}
	return p, nil
}

// addVariants takes in the tough, matt, silk … grades of a base material. Their shares of what is
// sold are judgement: the plain grade 60 %, annealed prints 3 %, the others alike.
func (p *population) addVariants(base polymers.Material) {
	n := 0
	for _, v := range polymers.All() {
		if v.Base == base.Symbol && v.Symbol != base.Symbol && v.Filler == "" {
			p.variants = append(p.variants, v)
			n++
		}
	}
	if n == 0 {
		return
	}
	p.weights[0] = 0.6
	for _, v := range p.variants[1:] {
		w := 0.4 / float64(n)
		if v.Variant == "annealed" {
			w = 0.03
		}
		p.weights = append(p.weights, w)
	}
}

// product draws a spool from three uniforms: which variant, its density, its softening temperature.
func (p *population) product(uVariant, uDensity, uSoft float64) Product {
	if p.other {
		return p.otherProduct(uVariant, uDensity, uSoft)
	}
	v := 0
	for v < len(p.weights)-1 && uVariant > p.weights[v] {
		uVariant -= p.weights[v]
		v++
	}
	rest := uVariant / p.weights[v] // uniform again within the variant
	m := &p.variants[v]
	sd := spread(m) * core
	if rest < wide {
		sd = spread(m) * wideBy
	}
	return Product{Density: m.Density.Typical + sd*quantileNormal(uDensity), Softens: softens(m, uSoft), Variant: v}
}

func (p *population) otherProduct(uVariant, uDensity, uSoft float64) Product {
	out := Product{Density: otherDensity + otherSpread*quantileNormal(uDensity), Softens: math.Inf(1)}
	switch {
	case uVariant < 0.35:
		out.Softens = 45 + 60*uSoft
	case uVariant < 0.45:
		out.Softens = math.Inf(-1)
	}
	return out
}

// spread of the densities of products of a material, g/cm3; a floor where too few are declared.
func spread(m *polymers.Material) float64 {
	if m.DensitySpread > 0.008 {
		return m.DensitySpread
	}
	return math.Max((m.Density.High-m.Density.Low)/4, 0.012)
}

// softens draws the temperature at which a thin print goes limp in water, °C.
func softens(m *polymers.Material, u float64) float64 {
	switch {
	case !m.Rigid:
		return math.Inf(-1)
	case m.Softens == nil:
		return math.Inf(1)
	}
	sd := math.Max((m.Softens.High-m.Softens.Low)/4, 1.5)
	return m.Softens.Typical + sd*quantileNormal(u)
}

// densityAt is the probability density of the population's products at x, 1/(g/cm3).
func (p *population) densityAt(x float64) float64 {
	if p.other {
		return normalPDF(x, otherDensity, otherSpread)
	}
	sum := 0.0
	for i := range p.variants {
		m := &p.variants[i]
		sd := spread(m)
		sum += p.weights[i] * ((1-wide)*normalPDF(x, m.Density.Typical, core*sd) + wide*normalPDF(x, m.Density.Typical, wideBy*sd))
	}
	return sum
}

func normalPDF(x, mean, sd float64) float64 {
	z := (x - mean) / sd
	return math.Exp(-z*z/2) / (sd * math.Sqrt(2*math.Pi))
}
