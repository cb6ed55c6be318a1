package advice

import (
	"slices"

	"brinecut/polymers"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

// BenchChart is the key for this bin on paper: what is settled first, then the numbered lines.
type BenchChart struct {
	triage.BenchChart
	First []Step // in order, without minutes; each stands ahead of line 1
	Baths []Step // how the baths of its lines are mixed that the bin does not have yet
}

// chart compiles the key of a bin and puts what can hurt ahead of it.
func chart(a *Answer, b *triage.Belief, menu sorting.Menu, stakes sorting.Stakes) *BenchChart {
	c := triage.Chart(b, menu, stakes, triage.ChartOptions{})
	return &BenchChart{c, beforeChart(a), bathsToMix(a.Bin, c.Lines)}
}

// beforeChart lists what no test on the chart may be made on.
func beforeChart(a *Answer) []Step {
	first := []Step{
		{Do: "not surely off your own printer: stop; into a closed bag marked NOT IDENTIFIED, DO NOT HEAT",
			Cautions: []string{"no cutting, sanding or heating: no bench test clears poly(vinyl chloride)"}},
		{Do: "metal, magnets, wire, batteries, circuit boards: out by hand, before anything is cut or wetted",
			Cautions: []string{"a battery or a circuit board goes to the collection point for electronics"}},
		{Do: "fibre-filled or said to be flame-retarded: stop; into a bag marked NOT IDENTIFIED, DO NOT HEAT",
			Cautions: []string{"do not break, cut or sand fibre-filled pieces dry: loose fibres get on skin and into the air"}},
	}
	if slices.ContainsFunc(a.Composition.Keys, isSoluble) {
		first = append(first, Step{Do: "breaks away tacky and is soluble support: pick it out dry, into a closed dry bag of its own",
			Cautions: []string{"keep it dry: in water it turns to glue on everything else"}})
	}
	return first
}

func isSoluble(key string) bool {
	m, ok := polymers.Find(polymers.Symbol(key))
	return ok && m.WaterSoluble
}
