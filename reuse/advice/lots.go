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
		m := readMarkings(b.TestsOf(out[l].Name))
		out[l].Lot.CouldBe = join(out[l].Lot.CouldBe, m.hardStops)
		out[l].Lot.Additives = join(out[l].Lot.Additives, m.additives)
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

// markings is what markings read on a lot's pieces say beyond its tests: they bar heat whatever the
// other tests say.
type markings struct {
	hardStops []polymers.Symbol
	additives []string
}

func readMarkings(tests []sorting.Observation) markings {
	var out markings
	for _, o := range tests {
		m, err := polymers.ReadMarking(o.Symbol)
		if o.Symbol == "" || err != nil {
			continue
		}
		if len(m.FlameRetardants) > 0 {
			out.additives = join(out.additives, []string{"flame retardant (marked " + o.Symbol + ")"})
		}
		for _, s := range m.Polymers {
			if rec, ok := polymers.Find(s); ok && rec.NeverHeat {
				out.hardStops = join(out.hardStops, []polymers.Symbol{s})
			}
		}
	}
	return out
}

// join adds what is not there yet; the list given is left as it is.
func join[T comparable](list, more []T) []T {
	out := slices.Clone(list)
	for _, x := range more {
		if !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	return out
}

// forbidden lists the test kinds barred for the lots that must not be heated: those that heat a piece
// above 100 °C, and bending, which splinters or needs a strip cut. A lot that a name, a marking or an
// additive bars goes to special waste whatever a test shows: nothing but reading it is proposed.
func forbidden(lots []Lot) map[string][]cues.Kind {
	out := map[string][]cues.Kind{}
	for _, l := range lots {
		if l.Heat.May {
			continue
		}
		for _, t := range cues.All() {
			if t.Heats || t.Kind == cues.Bend || decided(l) && t.Kind != cues.Marked {
				out[l.Name] = append(out[l.Name], t.Kind)
			}
		}
	}
	return out
}

// whole lists the lots whose pieces are never cut: what they are made of may be in the dust.
func whole(lots []Lot) map[string]bool {
	out := map[string]bool{}
	for _, l := range lots {
		out[l.Name] = !l.Heat.May
	}
	return out
}

// numbered is a name with its number from the second on.
func numbered(name string, n int) string {
	if n < 2 {
		return name
	}
	return fmt.Sprintf("%s %d", name, n)
}

// decided reports a lot that no test could free: the heat rule bars it by a name or an additive alone.
func decided(l Lot) bool {
	return !reuse.MayHeat(reuse.HeatInput{Origin: sorting.OwnPrint, OriginGiven: true, CouldBe: l.Lot.CouldBe,
		Possible: map[polymers.Symbol]float64{polymers.Other: 0}, Additives: l.Lot.Additives}).May
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
	return []sorting.Warning{{Line: line, Grave: true, Says: "where it comes from is not said of " + who + ": nothing of it is heated or ground until it is",
		Cure: `write origin = "own-print" under [bin] if all of it came off your own printers, or under each [[lot]]; moulded or unknown scrap stays cold`}}
}
