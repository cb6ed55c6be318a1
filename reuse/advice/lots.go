package advice

import (
	"fmt"
	"slices"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/reuse"
	"brinecut/sorting"
	"brinecut/sorting/separation"
	"brinecut/sorting/triage"
)

func lotsOf(b *triage.Belief, budget sorting.Budget) []Lot {
	out := make([]Lot, len(budget.Lots))
	K := len(b.Keys)
	for l, lm := range budget.Lots {
		out[l] = Lot{Name: lm.Lot.Name, Lot: lm.Lot, Mass: sorting.Range{Mean: lm.Mean, Low: lm.Low, High: lm.High},
			Shares: separation.MeanShares(&b.Composition, l), Tested: b.TestedOf(l)}
		for k := 0; k < K; k++ {
			out[l].Ranges = append(out[l].Ranges, shareRange(b.Grams, l*K, K, k))
		}
		out[l].Heat = reuse.MayHeat(heatInput(b, l, out[l]))
	}
	return out
}

func heatInput(b *triage.Belief, l int, lot Lot) reuse.HeatInput {
	in := reuse.HeatInput{Origin: lot.Lot.Origin, OriginGiven: lot.Lot.OriginGiven, CouldBe: lot.Lot.CouldBe,
		Possible: map[polymers.Symbol]float64{}, Other: lot.Shares[len(lot.Shares)-1], Additives: lot.Lot.Additives}
	for i, s := range b.HardStops {
		in.Possible[s] = b.Possible[l][i]
	}
	return in
}

// forbidden lists the kinds that heat a piece above 100 °C for the lots that must not be heated.
func forbidden(lots []Lot) map[string][]cues.Kind {
	out := map[string][]cues.Kind{}
	for _, l := range lots {
		if l.Heat.May {
			continue
		}
		for _, t := range cues.All() {
			if t.Heats {
				out[l.Name] = append(out[l.Name], t.Kind)
			}
		}
	}
	return out
}

// gathered tells separation what it needs to know of the lots.
func gathered(bin *sorting.Bin, b *triage.Belief, lots []Lot) []separation.Input {
	out := make([]separation.Input, len(lots))
	for i, l := range lots {
		in := separation.Input{Lot: l.Lot, Heated: l.Heat.May, Tested: l.Tested}
		for _, o := range b.TestsOf(l.Name) {
			if !slices.Contains(in.How, string(o.Kind)) {
				in.How = append(in.How, string(o.Kind))
			}
			if x, ok := bin.BathOf(o.Bath); ok && x.Salt != "" && !slices.Contains(in.Salts, x.Salt) {
				in.Salts = append(in.Salts, x.Salt)
			}
		}
		if s, _, ok := bin.SplitOf(l.Name); ok {
			if x, ok := bin.BathOf(s.Bath); ok && x.Salt != "" && !slices.Contains(in.Salts, x.Salt) {
				in.Salts = append(in.Salts, x.Salt)
			}
		}
		out[i] = in
	}
	return out
}

// originWarning asks where lots come from, first of all: nothing is heated until it is said.
func originWarning(bin *sorting.Bin, lots []Lot) []sorting.Warning {
	var names []string
	for _, l := range lots {
		if !l.Lot.OriginGiven {
			names = append(names, fmt.Sprintf("%q", l.Name))
		}
	}
	if len(names) == 0 {
		return nil
	}
	line := 0
	if bin.Floor != nil {
		line = bin.Floor.Line
	}
	who := "lot " + names[0]
	if len(names) == len(lots) && len(lots) > 1 {
		who = "any lot"
	} else if len(names) > 1 {
		who = fmt.Sprintf("lot %s and %d more", names[0], len(names)-1)
	}
	return []sorting.Warning{{Line: line, Says: "where it comes from is not said of " + who + ": nothing of it is heated or ground until it is",
		Cure: `write origin = "own-print" under [bin] if all of it came off your own printers, or under each [[lot]]; moulded or unknown scrap stays cold`}}
}
