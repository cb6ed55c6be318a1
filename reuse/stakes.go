package reuse

import (
	"strings"

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
	numbers := map[string]int{}
	best := 0.0
	for i, k := range keys {
		name, right := destination(k, s)
		if _, ok := numbers[name]; !ok {
			numbers[name] = len(numbers)
		}
		out.SameWay[i], out.Right[i] = numbers[name], right
		best = max(best, right)
	}
	for i, k := range keys {
		out.Wrong[i] = wrongCost(k, out.Right[i], best)
	}
	return out
}

// destination names the bag a clean kilogram of a key ends in, and what that is worth.
func destination(key string, s Situation) (string, float64) {
	syms := symbolsOf(key)
	mats := make([]polymers.Material, 0, len(syms))
	for _, sym := range syms {
		m, ok := polymers.Find(sym)
		switch {
		case !ok || sym == polymers.Other:
			return "residual", 0
		case halogenated(sym):
			return "special", 0
		case m.NeverHeat || m.WaterSoluble:
			return "residual", 0
		}
		mats = append(mats, m)
	}
	v := &view{f: sorting.Fraction{Material: key, Symbols: syms}, s: s, mats: mats}
	best, bag := maybeUsed*max(0, benchCosts(Regrind, s).bracket()), "own bag "+key
	if mats[0].Filler != "" {
		best = 0
	}
	for _, r := range []Route{Regrind, Sheet} {
		if mats[0].Filler == "" && len(lackTools(v, r)) == 0 {
			best = max(best, benchCosts(r, s).bracket())
		}
	}
	taken := false
	for _, o := range s.Outlets {
		if v.main = 0; len(v.lackAccepts(o)) == 0 {
			best, taken = max(best, outletCosts(o, s).bracket()), true
		}
	}
	if !taken {
		bag = "own bag " + family(mats[0])
	}
	return bag, best
}

// family joins what is melted together without limit, where no outlet asks for one alone.
func family(m polymers.Material) string {
	for _, b := range blends {
		if asa := b.b == m.Base; asa && b.up == 1 && strings.HasPrefix(string(b.a), "ABS") && string(b.b) == "ASA" {
			return string(b.a)
		}
	}
	if m.Filler != "" {
		return string(m.Symbol)
	}
	return string(m.Base)
}

// wrongCost is its own worth, lost, and what it spoils of the best bag.
func wrongCost(key string, right, best float64) float64 {
	cost := right + spoils*best
	for _, sym := range symbolsOf(key) {
		switch m, ok := polymers.Find(sym); {
		case ok && m.NeverHeat:
			cost = max(cost, hazardFloor)
		case ok && m.WaterSoluble:
			cost = max(cost, spoilsMelt*best)
		}
	}
	return cost
}
