package response

import (
	"math"

	"brinecut/polymers"
	"brinecut/polymers/cues"
)

// Two materials count as told apart when a test separates them this far; judgement. For tables it is
// the total variation distance of the outcomes, for densities the gap over the joint spread of
// products, for softening the gap in °C.
const (
	apartByTable   = 0.35
	apartByDensity = 1.5
	apartByHeat    = 10.0
)

// Alike returns the relation "no test of these kinds tells a from b" on symbols of the handbook. It
// looks at what tests could show, not at what was tested: ABS and ASA are alike for every bench test.
func Alike(kinds []cues.Kind) func(a, b polymers.Symbol) bool {
	memo := map[[2]polymers.Symbol]bool{}
	return func(a, b polymers.Symbol) bool {
		if a > b {
			a, b = b, a
		}
		key := [2]polymers.Symbol{a, b}
		if v, ok := memo[key]; ok {
			return v
		}
		ma, okA := polymers.Find(a)
		mb, okB := polymers.Find(b)
		v := okA && okB && a != b && !apart(kinds, ma, mb)
		memo[key] = v
		return v
	}
}

func apart(kinds []cues.Kind, a, b polymers.Material) bool {
	if a.NeverHeat != b.NeverHeat || a.WaterSoluble != b.WaterSoluble || a.Filler != b.Filler {
		return true // never put a hard stop, a soluble support or a filled grade under one key with others
	}
	for _, k := range kinds {
		switch k {
		case cues.Float, cues.Weigh:
			if math.Abs(a.Density.Typical-b.Density.Typical) >= apartByDensity*math.Hypot(ofProducts(&a), ofProducts(&b)) {
				return true
			}
		case cues.HotWater:
			if heatGap(softens(&a, 0.5), softens(&b, 0.5)) >= apartByHeat {
				return true
			}
		case cues.Marked:
		default:
			if tableGap(k, a, b) >= apartByTable {
				return true
			}
		}
	}
	return false
}

// ofProducts is the spread of a material's products, without the few wild declarations that widen it.
func ofProducts(m *polymers.Material) float64 { return math.Min(spread(m), 0.03) }

// heatGap between two softening temperatures as far as hot water reaches, °C.
func heatGap(a, b float64) float64 {
	const boiling, cold = 105, 0
	return math.Abs(math.Min(math.Max(a, cold), boiling) - math.Min(math.Max(b, cold), boiling))
}

func tableGap(k cues.Kind, a, b polymers.Material) float64 {
	pa, errA := cues.Likelihood(k, cues.Setting{}, a)
	pb, errB := cues.Likelihood(k, cues.Setting{}, b)
	if errA != nil || errB != nil {
		return 0
	}
	gap := 0.0
	for i := range pa {
		gap += math.Abs(pa[i]-pb[i]) / 2
	}
	return gap
}
