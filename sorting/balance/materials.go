package balance

import "brinecut/polymers"

// baseOf is the symbol under which the shares of a material are summed.
func baseOf(m polymers.Symbol) polymers.Symbol {
	if x, ok := polymers.Find(m); ok && x.Base != "" {
		return x.Base
	}
	return m
}

// densityOf a material in g/cm3 with the spread between products and where it is from. A material that
// is not in the handbook gets the middle of what printers use, with a spread that covers it.
func densityOf(m polymers.Symbol) (rho, spread float64, source string) {
	x, ok := polymers.Find(m)
	if !ok {
		return 1.2, 0.1, "judgement"
	}
	spread = x.DensitySpread
	if spread == 0 {
		spread = (x.Density.High - x.Density.Low) / 4
	}
	source = string(x.Density.Evidence)
	if from, ok := polymers.SourceOf(x.Density.Source); ok {
		source = from.Title
	}
	return x.Density.Typical, spread, source
}
