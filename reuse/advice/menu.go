package advice

import (
	"slices"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse"
	"brinecut/sorting"
	"brinecut/sorting/bath"
)

// Kind names a test kind.
type Kind = cues.Kind

// assumedKit is what a bench without a [kit] is taken to have; judgement.
var assumedKit = []string{"table salt", "sugar", "kettle", "thermometer", "scale 1 g"}

// Kit gives the kit of a bin, or the assumed one.
func Kit(bin *sorting.Bin) []string {
	if bin.Kit.Given && bin.Kit.Has != nil {
		return bin.Kit.Has
	}
	return assumedKit
}

func kitAssumption(bin *sorting.Bin) []sorting.Assumption {
	if bin.Kit.Given && bin.Kit.Has != nil {
		return nil
	}
	return []sorting.Assumption{{Says: "the bench has table salt, sugar, a kettle, a thermometer and a 1 g scale", Key: "[kit] has", Source: "judgement"}}
}

// hotWaters are the temperatures of the hot-water ladder worth a test: below PETG and above PLA, above
// PETG, below and at boiling (softening ranges of the handbook; which degrees: judgement).
var hotWaters = []quantity.Celsius{60, 63, 66, 70, 75, 80, 85, 92, 99}

// Menu is everything the bench can do: the kinds that the kit allows, that are not forbidden, and
// that need no permission or have it. What a lot's hard stops forbid comes on top.
func Menu(bin *sorting.Bin) sorting.Menu {
	kit := Kit(bin)
	var m sorting.Menu
	for _, t := range cues.All() {
		if len(t.Missing(kit)) > 0 || slices.Contains(bin.Kit.Forbid, t.Kind) {
			continue
		}
		if t.LastWay && !slices.Contains(bin.Kit.Allow, string(t.Kind)) {
			continue
		}
		if t.Solvent && heatUsed(bin) || t.Heats && solventUsed(bin) {
			continue // a solvent and a heat gun never share a session
		}
		o := sorting.Offer{Kind: t.Kind, Minutes: t.Minutes, SetUp: t.SetUpMinutes, Cautions: t.Cautions}
		if q, ok := bin.Kit.Minutes[t.Kind]; ok {
			o.Minutes = q.Value.Minutes()
		}
		switch t.Kind {
		case cues.Float:
			o.Densities = reach(kit)
		case cues.HotWater:
			o.Temps = hotWaters
		}
		m.Offers = append(m.Offers, o)
	}
	return m
}

// reach gives pairs of ends of the densities the kit can mix.
func reach(kit []string) []quantity.GramPerCm3 {
	var out []quantity.GramPerCm3
	for _, o := range bath.Reach(kit, bath.Place{}) {
		if o.Product.Liquid.Flammable() {
			continue // an alcohol bath stands beside the kettle of the next test; water does the same job
		}
		out = append(out, o.Min, o.Max)
	}
	return out
}

func heatUsed(bin *sorting.Bin) bool    { return used(bin, cues.HotAir) || used(bin, cues.Flame) }
func solventUsed(bin *sorting.Bin) bool { return used(bin, cues.Acetone) }

func used(bin *sorting.Bin, k cues.Kind) bool {
	return slices.ContainsFunc(bin.Tests, func(o sorting.Observation) bool { return o.Kind == k })
}

func kindsOf(m sorting.Menu) []cues.Kind {
	var out []cues.Kind
	for _, o := range m.Offers {
		out = append(out, o.Kind)
	}
	return out
}

// Situation is the bench as the routes see it.
func Situation(bin *sorting.Bin) reuse.Situation {
	return reuse.Situation{Kit: bin.Kit, Place: bin.Place, Worth: bin.Worth, Outlets: bin.Outlets, Currency: bin.Currency}
}
