package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Densities a float or weighing liquid can have. No bath of the ten liquids lies outside of those that
// a bath reaches (2-propanol 0.785, potassium carbonate near saturation 1.55 g/cm3: docs/method.md,
// Baths); outside of the wider ones there is no liquid but fuels and heavy-liquid suspensions; judgement.
const (
	lightestBath, densestBath     quantity.GramPerCm3 = 0.78, 1.60
	lightestLiquid, densestLiquid quantity.GramPerCm3 = 0.60, 3.00
)

// leastPiece is the lightest piece that anybody tests, in g; judgement.
const leastPiece = 0.05

// possible refuses what cannot have happened: a test that used up more than its lot weighs, a symbol
// that is no marking, a liquid that there is none of, a time that is none.
func possible(bin *sorting.Bin, o sorting.Observation) error {
	if o.Symbol != "" {
		if _, err := polymers.ReadMarking(o.Symbol); err != nil {
			f := faultOf(markFault(err))
			return wrongUse("--symbol: "+f.says+" (read "+quote(o.Symbol)+")", strings.TrimPrefix(f.hint+`; write it as it stands on the piece, as ">PETG<"; what cannot be read belongs in --note`, "; "))
		}
	}
	if !isTime(o.At) {
		return wrongUse("--at: this is no date (read "+quote(o.At)+")", `write it as "2031-05-04" or "2031-05-04 20:15"; left out: now`)
	}
	for i, d := range []quantity.Density{o.Density, o.Liquid} {
		if d.Given() && (d.Value < lightestLiquid || d.Value > densestLiquid) {
			return wrongUse([]string{"--density", "--liquid"}[i]+": no liquid at a bench has this density (read "+quote(d.Text)+")", `write it as "1.250 g/cm3"`)
		}
	}
	l, ok := bin.Lot(o.Lot)
	if weighs, known := massOf(l); ok && known && o.UsedUp.Value > weighs {
		return wrongUse("--used-up: more than the whole lot weighs (read "+quote(o.UsedUp.Text)+", the lot has "+quantity.Format(weighs)+")", "give the mass of the piece")
	}
	return nil
}

// isTime reports whether a text is a date, with or without a time of day (RFC 3339, a blank for its T).
func isTime(s string) bool {
	s = strings.Replace(s, " ", "T", 1)
	return slices.ContainsFunc([]string{time.DateOnly, "2006-01-02T15:04", "2006-01-02T15:04:05", time.RFC3339},
		func(layout string) bool { _, err := time.Parse(layout, s); return err == nil })
}

// massOf a lot as written; false where it was not weighed.
func massOf(l sorting.Lot) (quantity.Gram, bool) {
	if l.Gross.Given() {
		return l.Gross.Value - l.Tare.Value, true
	}
	return l.Mass.Value, l.Mass.Given()
}

// odd tells what is recorded all the same: seen is seen, but it may be a slip of the pen.
func (a *app) odd(bin *sorting.Bin, o sorting.Observation) {
	for _, d := range []quantity.Density{o.Density, o.Liquid} {
		if d.Given() && (d.Value < lightestBath || d.Value > densestBath) {
			a.say("warning", fmt.Sprintf("no bath reaches %s; withdraw it if it was misread", quantity.Format(d.Value)))
		}
	}
	n := 0
	for _, c := range o.Counts {
		n += c.N
	}
	if l, ok := bin.Lot(o.Lot); ok && n > 0 {
		if m, known := massOf(l); known && float64(m) < leastPiece*float64(n) {
			a.say("warning", fmt.Sprintf("%d pieces of %s in all would weigh less than %g g each; withdraw it if it was miscounted", n, quantity.Format(m), leastPiece))
		}
	}
	if t, _ := cues.Find(o.Kind); t.LastWay && !slices.Contains(bin.Kit.Allow, string(o.Kind)) {
		for _, c := range t.Cautions {
			a.say("caution", c)
		}
	}
}
