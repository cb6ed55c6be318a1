package press

import "math"

// FlowPart is one part of a blend: its melt flow rate in g/10 min and its share by mass.
type FlowPart struct{ Rate, Share float64 }

// MostFlowRatio is how far apart two melt flow rates may lie for the logarithmic rule (a trade note on rotational moulding, a weak source).
const MostFlowRatio = 3.28

// BlendFlow is the melt flow rate of a blend of ONE polymer, all rates at the same temperature and load: the
// logarithmic rule, log MFR = sum w log MFR (Nielsen 1977, Polymer Rheology). method.md (P17). It errs with a
// *Refusal on shares that do not sum to 1 and where the rates differ by more than MostFlowRatio.
func BlendFlow(parts []FlowPart) (float64, error) {
	total, low, high := 0.0, math.Inf(1), 0.0
	for _, p := range parts {
		if !(p.Rate >= 1e-3 && p.Rate <= 1e5) || !(p.Share >= 0 && p.Share <= 1) {
			return 0, refuse(NotPossible, "g/10 min, and a share of 0 to 1", "a part of %s at a share of %s cannot be", num(p.Rate), num(p.Share))
		}
		total += p.Share
		low, high = math.Min(low, p.Rate), math.Max(high, p.Rate)
	}
	switch {
	case math.Abs(total-1) > 1e-6:
		return 0, refuse(NotPossible, "shares of a blend sum to 1", "the shares sum to %s", num(total))
	case high > MostFlowRatio*low:
		return 0, refuse(NotPossible, "blend in steps, or measure the blend", "rates of %s and %s lie too far apart for a mixing rule", num(low), num(high))
	}
	return logBlend(parts), nil
}

func logBlend(parts []FlowPart) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p.Share * math.Log(p.Rate)
	}
	return math.Exp(sum)
}

// FlowShare is the share of the first of two materials that brings their blend to target:
// ln(target/second)/ln(first/second). It errs as BlendFlow does, and where target is not between them.
func FlowShare(first, second, target float64) (float64, error) {
	if _, err := BlendFlow([]FlowPart{{first, .5}, {second, .5}}); err != nil {
		return 0, err
	}
	if !(target >= math.Min(first, second) && target <= math.Max(first, second)) {
		return 0, refuse(NotPossible, "ask for one between the two", "no blend of %s and %s flows at %s", num(first), num(second), num(target))
	}
	if first == second {
		return 1, nil
	}
	return math.Log(target/second) / math.Log(first/second), nil
}

// GrindingHeat carries a measured size-reduction energy, for grinding from size a to b, to another pair of
// sizes: Kick's law (equal ratios cost alike) and Rittinger's (new surface costs alike), in the unit of
// known. Tough plastics follow neither well: the two are given as a range. It errs on sizes that do not shrink.
func GrindingHeat(known, fromA, toB, from, to float64) (kick, rittinger float64, err error) {
	for _, v := range [][2]float64{{fromA, toB}, {from, to}} {
		if !(v[0] > v[1] && v[1] > 0) || math.IsInf(v[0], 0) || !(known >= 0) || math.IsInf(known, 0) {
			return 0, 0, refuse(NotPossible, "give the larger size first", "grinding from %s to %s cannot be", num(v[0]), num(v[1]))
		}
	}
	return known * math.Log(from/to) / math.Log(fromA/toB), known * (1/to - 1/from) / (1/toB - 1/fromA), nil
}
