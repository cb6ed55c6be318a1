package reuse

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// marking is the string to print for the main material: only one material, named by the handbook, with
// an expected share of at least 90 % (judgement), and not one that may hold a hard stop. A group not
// told apart gets none.
func (v *view) marking() string {
	if len(v.mats) == 1 && !v.mats[0].NeverHeat && len(sharesBar(v.in.Possible)) > 0 {
		return ""
	}
	if len(v.mats) == 1 && v.mats[0].Filler == "" && slices.ContainsFunc(v.f.Additives, isFilled) {
		return "" // declared filled: ISO 11469 asks for the filler and its share, which nobody gave
	}
	if !v.known() || len(v.mats) != 1 || v.sh.mean[v.main] < float64(orShare(v.o.MarkingAboveMean, 0.9)) {
		return ""
	}
	return v.mats[0].Marking
}

func (v *view) whyTaken(w way) []Reason {
	if w.route == Recycler {
		return v.whyOutlet(w)
	}
	verb := map[Route]string{Regrind: "granulated and drawn to filament", Sheet: "pressed into sheet"}[w.route]
	why := []Reason{{fmt.Sprintf("own print, one material, others about %s: %s it gains %s over throwing it out", percent(v.foreign()), verb, moneyRange(w.worth)), "method.md (R2)"}}
	if w.route == Regrind {
		why = append(why, Reason{v.feedWords(), "20-25 % is the usual moulding ceiling (trade pages); 1-2 % others " + practice})
	}
	return why
}

func (v *view) feedWords() string {
	return fmt.Sprintf("let down to %s in new material or less; the others then stay below %s of the feed",
		percent(float64(orShare(v.o.LetDown, 0.25))), percent(float64(orShare(v.o.OthersInFeed, 0.01))))
}

func (v *view) whyOutlet(w way) []Reason {
	var why []Reason
	if !w.worth.Keep {
		why = append(why, notWorth(w))
	}
	words := fmt.Sprintf("%s takes %s in a bag of its own", w.outlet, orMixture(v.f.Material))
	if d := v.f.Demonstrated; d != nil {
		words += fmt.Sprintf(", and %d random pieces with %d wrong demonstrate %s at %s confidence", d.Tested, d.Wrong, shown(d.AtLeast), shown(d.Confidence))
	}
	return append(why, Reason{words, "[[outlet]] in the file"})
}

// notWorth is said first where it is the answer.
func notWorth(w way) Reason {
	return Reason{"not worth your evening in money: " + w.asWhat() + " " + moneyRange(w.worth) + w.paysFrom(), "method.md (R2), (R3)"}
}

func (w way) asWhat() string {
	return map[Route]string{Regrind: "as filament", Sheet: "as sheet", Recycler: "handed to " + w.outlet}[w.route]
}

func (w way) paysFrom() string {
	if b := w.worth.BreakEvenG; b != nil {
		return ", it pays from " + grams(*b)
	}
	return ", and no mass would change that"
}

func (v *view) assumptions(w way) []sorting.Assumption {
	out := slices.Clone(w.costs.assumed)
	if !v.s.Kit.Given {
		out = append(out, sorting.Assumption{Says: "no granulator, filament extruder or sheet press at the bench", Key: "[kit] has", Source: "not said in the file"})
	}
	if w.route == Regrind {
		out = append(out, sorting.Assumption{Says: fmt.Sprintf("others at most %s of it: %s", percent(v.o.foreignLimit(Regrind)), v.feedWords()), Source: practice})
	}
	if w.route == Sheet {
		out = append(out, sorting.Assumption{Says: fmt.Sprintf("others at most %s of a sheet", percent(v.o.foreignLimit(Sheet))), Source: practice})
	}
	if v.f.Origin == sorting.OwnPrint && v.f.OriginGiven {
		out = append(out, sorting.Assumption{Says: "own print as declared: none of it moulded, pipe, cable or sheet", Key: "[bin] origin", Source: "the file"})
	}
	return out
}

func (v *view) warnings(d Decision) []sorting.Warning {
	var out []sorting.Warning
	if c := currencyOf(v.s.Currency); c != "EUR" && c != "USD" && slices.ContainsFunc(d.Assumptions, inMoney) {
		out = append(out, sorting.Warning{About: v.f.Name, Says: "sums that were assumed are typical in EUR or USD, and are read as " + c,
			Cure: "[worth] replaces, electricity, consumables, disposal, hour and fixed in " + c})
	}
	if d.Route == Recycler && !v.declaredFR() {
		out = append(out, sorting.Warning{About: v.f.Name, Says: "flame retardant: not declared, so the sheet says unknown", Cure: "additives = [\"no flame retardant\"] on its lots, if the spools say so"})
	}
	return out
}

func inMoney(a sorting.Assumption) bool {
	return slices.Contains([]string{"[worth] replaces", "[worth] electricity", "[worth] consumables", "[worth] disposal", "[worth] hour", "[worth] fixed"}, a.Key)
}

func (v *view) declaredFR() bool { return flameRetardant(v.f) != "unknown" }

// materialWords names the main material for a reader: the group as "ABS or ASA, not told apart".
func materialWords(f sorting.Fraction) string {
	switch {
	case f.Material == "" || f.Material == string(polymers.Other):
		return "not identified"
	case strings.Contains(f.Material, "/") && len(mainSymbols(f)) > 1:
		return strings.ReplaceAll(f.Material, "/", " or ") + ", not told apart"
	}
	if m, ok := polymers.Find(polymers.Symbol(f.Material)); ok && m.Name != "" {
		return f.Material + ", " + m.Name
	}
	return f.Material
}

func celsius(t float64) string { return quantity.Format(quantity.Celsius(t)) }
