package reuse

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// gate is a route that is taken before any other is thought of.
type gate struct {
	route        Route
	asks, source string
	when         func(v *view) []Reason // the reasons it holds; none where it does not
	not          func(v *view) string   // why it does not hold
}

// gates in order. A gate that holds ends the matter.
var gates = []gate{
	{SpecialWaste, "flame-retarded, as declared, marked or named", "INRS, Plastiques, sheets 4 and 5; " + srcNever, flameRetardedHere, says("nothing declared or named says so")},
	{SpecialWaste, "a chlorinated or fluorinated plastic by what it is held to be or could be", srcNever, halogenHere, says("it is held to be none, and none is named as possible")},
	{SpecialWaste, "stated as not own print, and more than 5 % of it may be one (upper bound at 95 %)", ruleHeat + "; the 5 % is " + judgement, halogenPossible, (*view).halogenBound},
	{Disposal, "another plastic that is never heated by what it is held to be or could be", srcNever, neverHeatHere, says("it is held to be none, and none is named as possible")},
	{Disposal, "a soluble support", practice, solubleHere, says("it is not soluble in water")},
	{Disposal, "mixed or not identified, and no test or cut is worth its minutes", practice, otherHere, (*view).otherNot},
}

func says(words string) func(*view) string { return func(*view) string { return words } }

// halogenBound is what the upper bound of hard stops is, where that keeps the third gate open.
func (v *view) halogenBound() string {
	switch {
	case !v.f.OriginGiven:
		return "where it comes from is not said"
	case v.f.Origin == sorting.OwnPrint:
		return "it is stated as own print"
	}
	most := 0.0
	for _, s := range v.f.HardStops {
		if halogenated(s) || s == polymers.Other {
			most = max(most, v.in.Possible[s])
		}
	}
	return "up to " + percent(most) + " of it may be one"
}

func (v *view) otherNot() string {
	if v.known() {
		return "it has a name: " + strings.ReplaceAll(v.f.Material, "/", " or ")
	}
	return stillPays
}

const (
	collection = "to a collection point for hazardous or special waste, or a licensed carrier, as the local code says; not heated, ground, pressed or burnt"
	residual   = "residual waste as the local code says; never burnt"
	srcNever   = "HSE PPS 13, 2002, table 1; US EPA, backyard-burning leaflet"
)

// halogenAlert is the upper bound of halogenated plastic in scrap that is not own print above which
// it goes to a collection point instead of being kept: 5 % (judgement).
const halogenAlert = 0.05

// gate is the first gate that holds, with its reasons; -1 where none does.
func (v *view) gate() (int, []Reason) {
	for i, g := range gates {
		if why := g.when(v); len(why) > 0 {
			return i, why
		}
	}
	return -1, nil
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
	return strings.HasPrefix(base(s), "PVC") || slices.Contains([]string{"CPVC", "PVDC", "PTFE", "PVDF", "FEP", "PFA", "ETFE", "ECTFE", "PCTFE"}, base(s))
}

// base is the polymer of a symbol by its ISO 1043-1 term; the symbol itself where the handbook has none.
func base(s polymers.Symbol) string {
	if m, ok := polymers.Find(s); ok && m.Polymer != "" {
		return string(m.Polymer)
	}
	return string(s)
}
