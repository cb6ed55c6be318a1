package reuse

import (
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// Words are what a label says, the head largest.
type Words struct {
	Head  string   // the marking, or what stands in for it
	Stop  string   // "DO NOT HEAT", or empty
	Lines []string // one fact a line, most needed first
}

const (
	unidentified = "NOT IDENTIFIED"
	doNotHeat    = "DO NOT HEAT"
	// NotFor is what nothing made of sorted scrap is for (common practice: unknown additives, no
	// traceability).
	NotFor = "not for food contact, toys, medical, load-bearing or electrical safety parts"
	// Declaration says what the words on paper are.
	Declaration = "own declaration of the supplier, not a certificate or test report"
)

// InterimWords are for a lot whose sorting is not done: it is named by what it is called at the bench,
// and counts as not identified and not to be heated.
func InterimWords(name string, heat Heat) Words {
	w := Words{Head: unidentified, Stop: doNotHeat, Lines: []string{name, "Interim: testing is not done. Add nothing, melt nothing, grind nothing of it until it is"}}
	for _, r := range heat.WhyNot {
		w.Lines = append(w.Lines, r.Words)
	}
	return w
}

// LabelWords are for the bag of a fraction. A fraction that is not marked, or goes where nothing is
// reused, is headed NOT IDENTIFIED or by its words; what may not be heated says so.
func LabelWords(f sorting.Fraction, d Decision) Words {
	w := Words{Head: head(f, d)}
	if !d.MayBeHeated || w.Head == unidentified {
		w.Stop = doNotHeat
	}
	w.Lines = append(w.Lines, mainWords(f, d), "told by: "+identifiedBy(f, d), "others: "+others(f), "origin: "+origin(f))
	if d.Route == Recycler {
		w.Lines = append(w.Lines, "for: "+d.Outlet)
	} else {
		w.Lines = append(w.Lines, "route: "+strings.ReplaceAll(string(d.Route), "-", " "))
	}
	if len(f.Baths) > 0 {
		w.Lines = append(w.Lines, "has been in: "+strings.Join(f.Baths, ", "))
	}
	w.Lines = append(w.Lines, "flame retardant: "+flameRetardant(f), NotFor, Declaration)
	return w
}

func head(f sorting.Fraction, d Decision) string {
	switch {
	case d.Marking != "":
		return d.Marking
	case strings.Contains(f.Material, "/"):
		return strings.ReplaceAll(f.Material, "/", " or ")
	}
	return unidentified
}

// mainWords name the main material; where the head says that it is not identified, they do not say the
// contrary.
func mainWords(f sorting.Fraction, d Decision) string {
	words := materialWords(f)
	if head(f, d) == unidentified && f.Material != "" && f.Material != string(polymers.Other) {
		return "not established; perhaps mostly " + words
	}
	return words
}

// origin of a fraction, in words.
func origin(f sorting.Fraction) string {
	if !f.OriginGiven {
		return "not said"
	}
	return strings.ReplaceAll(string(f.Origin), "-", " ")
}

// PlanWords say in a receiver's words where the batch is meant to go, and by whom.
func PlanWords(d Decision) string {
	switch d.Route {
	case Regrind:
		return "ground and drawn to filament by the sender"
	case Sheet:
		return "pressed into sheet by the sender"
	case Recycler:
		return "handed to " + d.Outlet
	case Disposal:
		return "residual waste, as the local code says"
	case SpecialWaste:
		return "collection point for special waste, or a licensed carrier"
	}
	return "kept by the sender until more is known"
}
