package cues

import "slices"

// entry is a Test as it is written down here: each caution with the id of its source.
type entry struct {
	Test
	warn []caution
}

type caution struct {
	words  string
	source string // ids of the bibliography
}

// record copies the entry, so that a caller cannot change the bench.
func (b entry) record() Test {
	t := b.Test
	t.Outcomes = slices.Clone(t.Outcomes)
	t.Protocol = slices.Clone(t.Protocol)
	t.Cues = slices.Clone(t.Cues)
	t.Needs = slices.Clone(t.Needs)
	for _, w := range b.warn {
		t.Cautions = append(t.Cautions, w.words)
	}
	return t
}

// bench is in the order in which a careful person works: what needs nothing, then water, then hot
// water, then a solvent, then hot air, and a flame last if at all (notes of RECOUP and Boedeker agree
// that the flame comes last; the order within is common practice).
var bench = []entry{marked, bend, soak, float, weigh, hotWater, acetone, hotAir, flame}

// The families of tests that answer from one and the same property of a piece.
const (
	marking   = "marking"
	feel      = "feel"
	water     = "water"
	density   = "density"
	softening = "softening" // hot water and hot air
	solvent   = "solvent"
	burning   = "burning"
)
