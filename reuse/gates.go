package reuse

import (
	"fmt"
	"slices"

	"brinecut/polymers"
	"brinecut/sorting"
)

// gate is a route that is taken before any other is thought of.
type gate struct {
	route Route
	when  func(v *view) []Reason // the reasons it holds; none where it does not
}

// gates in order. A gate that holds ends the matter.
var gates = []gate{
	{SpecialWaste, flameRetardedHere},
	{SpecialWaste, halogenHere},
	{SpecialWaste, halogenPossible},
	{Disposal, neverHeatHere},
	{Disposal, solubleHere},
	{Disposal, otherHere},
}

const (
	collection = "to a collection point for hazardous or special waste, or a licensed carrier, as the local code says; not heated, ground, pressed or burnt"
	residual   = "residual waste as the local code says; never burnt"
	srcNever   = "HSE PPS 13, 2002, table 1; US EPA, backyard-burning leaflet"
)

// halogenAlert is the upper bound of halogenated plastic in scrap that is not own print above which
// it goes to a collection point instead of being kept: 5 % (judgement).
const halogenAlert = 0.05

func (v *view) gate() (Route, []Reason, bool) {
	for _, g := range gates {
		if why := g.when(v); len(why) > 0 {
			return g.route, why, true
		}
	}
	return "", nil, false
}

func flameRetardedHere(v *view) []Reason {
	bad := slices.ContainsFunc(v.f.Additives, flameRetarded) || slices.ContainsFunc(slices.Concat(v.f.Symbols, v.f.CouldBe),
		func(s polymers.Symbol) bool { return flameRetarded(string(s)) })
	if !bad {
		return nil
	}
	return []Reason{{"flame-retarded: " + collection, "INRS, Plastiques, sheets 4 and 5; " + srcNever}}
}

func halogenHere(v *view) []Reason {
	for _, s := range slices.Concat(mainSymbols(v.f), v.f.CouldBe) {
		if halogenated(s) {
			return []Reason{{fmt.Sprintf("it is or could be %s: %s", s, collection), srcNever}}
		}
	}
	return nil
}

// halogenPossible asks only where the origin was stated as something else than own print: where it was
// left out, the answer is to say it.
func halogenPossible(v *view) []Reason {
	if !v.f.OriginGiven || v.f.Origin == sorting.OwnPrint {
		return nil
	}
	for _, s := range v.f.HardStops {
		if p := v.in.Possible[s]; (halogenated(s) || s == polymers.Other) && !(p <= halogenAlert) {
			return []Reason{{fmt.Sprintf("not own print, and up to %s of it may be %s: %s", percent(p), stopWords(s), collection), ruleHeat + "; the 5 % is " + judgement}}
		}
	}
	return nil
}

func neverHeatHere(v *view) []Reason {
	for _, s := range slices.Concat(mainSymbols(v.f), v.f.CouldBe) {
		if m, ok := polymers.Find(s); ok && m.NeverHeat {
			return []Reason{{fmt.Sprintf("it is or could be %s, which is never heated: %s", s, residual), srcNever}}
		}
	}
	return nil
}

func solubleHere(v *view) []Reason {
	for _, m := range v.mats {
		if m.WaterSoluble {
			return []Reason{{string(m.Symbol) + " is a soluble support, rarely fit to print again: dry and solid to residual waste",
				practice}, {"its solution needs microbes that are not everywhere: about 61 % of it leaves a plant with the sludge, 15.7 % with the water", "Rolsky and Kelkar 2021"}}
		}
	}
	return nil
}

// otherHere disposes of what is mostly unnamed once no test is worth its minutes.
func otherHere(v *view) []Reason {
	if !v.f.Settled || v.known() {
		return nil
	}
	what := "mixed, and no test or cut is worth its minutes"
	if !v.f.Mixed {
		what = "not identified, and no test is worth its minutes"
	}
	return []Reason{{what + ": " + residual, practice + ": unknown scrap is neither pressed nor drawn"}}
}

// halogenated names the chlorinated and fluorinated plastics by their ISO 1043-1 terms.
func halogenated(s polymers.Symbol) bool {
	m, ok := polymers.Find(s)
	base := string(s)
	if ok && m.Polymer != "" {
		base = string(m.Polymer)
	}
	return len(base) >= 3 && base[:3] == "PVC" || slices.Contains([]string{"CPVC", "PVDC", "PTFE", "PVDF", "FEP", "PFA", "ETFE", "ECTFE", "PCTFE"}, base)
}
