package separation

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
)

// Partition is the share of pieces of density rho that sink in a bath that parts at cut: the logistic
// partition curve P = 1/(1 + exp(-ln 3 (rho - d50)/Ep)), method.md (S1). Ep, the probable error, is half
// the span of density from P = 25 % to P = 75 %; 0 is a perfect cut, at which a piece of just the bath's
// density goes either way. It holds for wetted pieces with time to settle.
func Partition(rho, cut, ep quantity.GramPerCm3) float64 {
	off := float64(rho - cut)
	if ep <= 0 {
		switch {
		case off > 0:
			return 1
		case off < 0:
			return 0
		}
		return 0.5
	}
	return 1 / (1 + math.Exp(-ln3*off/float64(ep)))
}

// ln3 makes P 25 % and 75 % at Ep below and above the cut: ln 3, exact.
const ln3 = 1.0986122886681098

// Part is one material of what is to be cut.
type Part struct {
	Share   float64             // above zero; shares need not sum to one
	Density quantity.GramPerCm3 // of its pieces
	Spread  quantity.GramPerCm3 // standard deviation of density between its products; 0 where all are alike
}

// Product is what one side of a cut holds: its share of the whole, and its make-up in the order of the
// parts, which sums to one; zeros where the side is empty.
type Product struct {
	Share  float64
	MakeUp []float64
}

// Cut gives what floats and what sinks in one bath (method.md S2). It errs where nothing has a positive
// share, and on figures that are none.
func Cut(parts []Part, cut, ep quantity.GramPerCm3) (floats, sinks Product, err error) {
	total := 0.0
	for _, p := range parts {
		if !(p.Share >= 0) || math.IsInf(p.Share, 0) || !(p.Density > 0) || !(p.Spread >= 0) {
			return floats, sinks, fmt.Errorf("a share of %v and a density of %v g/cm3 cannot be", p.Share, float64(p.Density))
		}
		total += p.Share
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return floats, sinks, fmt.Errorf("no material has a share above zero")
	}
	floats.MakeUp, sinks.MakeUp = make([]float64, len(parts)), make([]float64, len(parts))
	for i, p := range parts {
		down := p.sinks(cut, ep)
		sinks.MakeUp[i], floats.MakeUp[i] = p.Share/total*down, p.Share/total*(1-down)
	}
	floats.normalise()
	sinks.normalise()
	return floats, sinks, nil
}

// strata of the spread of densities that a part is cut into: judgement.
const strata = 101

// sinks is the share of a part that sinks, over its products.
func (p Part) sinks(cut, ep quantity.GramPerCm3) float64 {
	if p.Spread == 0 {
		return Partition(p.Density, cut, ep)
	}
	sum := 0.0
	for i := range strata {
		z := -math.Sqrt2 * math.Erfcinv(2*(float64(i)+0.5)/strata)
		sum += Partition(p.Density+p.Spread*quantity.GramPerCm3(z), cut, ep)
	}
	return sum / strata
}

func (p *Product) normalise() {
	for _, x := range p.MakeUp {
		p.Share += x
	}
	for i := range p.MakeUp {
		if p.Share > 0 {
			p.MakeUp[i] /= p.Share
		}
	}
}
