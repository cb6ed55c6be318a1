package reuse

import (
	"slices"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// The stakes of a kilogram in the wrong bag, as multiples and floors: judgement, all of them.
const (
	maybeUsed   = 0.5 // worth of a kilogram that is only held, against one with an open way
	spoils      = 1.0 // a foreign kilogram spoils at least a kilogram of the bag it sits in
	spoilsMelt  = 5.0 // one that breaks down at the melt heat of others, such as soluble support
	hazardFloor = 100 // money per kg, where a never-heat material could end up in a hot bag
)

// StakesOf says what hangs on telling each key apart: money per kilogram where it goes its own way and
// lost where it sits in another's bag, in the file's currency, and which keys go the same way and need
// not be told apart. It supposes a clean, dry kilogram of each, own print; key order is kept.
func StakesOf(keys []string, s Situation) sorting.Stakes {
	out := sorting.Stakes{Keys: keys, SameWay: make([]int, len(keys)), Right: make([]float64, len(keys)),
		Wrong: make([]float64, len(keys)), HourValue: float64(s.Worth.Hour.Or(quantity.MoneyPerHour(benchPresets["hour"].value.mean)))}
	ends := make([]destination, len(keys))
	best := 0.0
	for i, k := range keys {
		ends[i] = destinationOf(k, s)
		out.SameWay[i] = slices.IndexFunc(ends[:i+1], ends[i].joins)
		out.Right[i] = ends[i].worth
		best = max(best, ends[i].worth)
	}
	for i := range keys {
		out.Wrong[i] = ends[i].wrong(best)
	}
	return out
}

// destination is the bag a clean kilogram of a key ends in, and what that is worth.
type destination struct {
	bag   string
	mats  []polymers.Material // none where nothing is reused
	alone bool                // an outlet wants it in a bag of its own
	worth float64             // money/kg
	stop  bool                // a hard stop
	wet   bool                // soluble support
}

func destinationOf(key string, s Situation) destination {
	v := &view{f: sorting.Fraction{Material: key, Symbols: symbolsOf(key)}, s: s}
	end := destination{bag: "residual"}
	for _, sym := range v.f.Symbols {
		m, ok := polymers.Find(sym)
		end.stop, end.wet = end.stop || ok && m.NeverHeat, end.wet || m.WaterSoluble
		if halogenated(sym) || flameRetarded(key) {
			end.bag = "special"
		}
		if !ok || m.NeverHeat || m.WaterSoluble {
			return end
		}
		v.mats = append(v.mats, m)
	}
	end.bag, end.mats = key, v.mats
	if len(lackNeat(v, Hold)) == 0 {
		end.worth = maybeUsed * max(0, benchCosts(Regrind, s).bracket())
		for _, r := range []Route{Regrind, Sheet} {
			if len(lackTools(v, r)) == 0 {
				end.worth = max(end.worth, benchCosts(r, s).bracket())
			}
		}
	}
	for _, o := range s.Outlets {
		if len(v.lackAccepts(o)) == 0 {
			end.alone, end.worth = true, max(end.worth, outletCosts(o, s).bracket())
		}
	}
	return end
}

// joins reports keys that need not be told apart: the same bag, or materials that melt as one and that
// no outlet wants alone.
func (x destination) joins(y destination) bool {
	if x.bag == y.bag {
		return true
	}
	if x.alone || y.alone || len(x.mats) == 0 || len(y.mats) == 0 {
		return false
	}
	for _, a := range x.mats {
		for _, b := range y.mats {
			if carries(a, b) < 1 || carries(b, a) < 1 || breaksDown(a, b) || breaksDown(b, a) {
				return false
			}
		}
	}
	return true
}

// wrong is its own worth, lost, and what it spoils of the best bag.
func (x destination) wrong(best float64) float64 {
	switch {
	case x.stop:
		return max(hazardFloor, best)
	case x.wet:
		return spoilsMelt * best
	}
	return x.worth + spoils*best
}
