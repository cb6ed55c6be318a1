package reuse

import (
	"fmt"
	"strconv"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
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
	w := Words{Head: unidentified, Stop: doNotHeat, Lines: []string{name, "interim: testing is not done"}}
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

// Field is one line of the hand-over sheet. Need is "required", "optional" or "recommended", and
// Basis where that comes from.
type Field struct {
	Name, Value string
	Need, Basis string
}

// Handover is what the sheet says beside the fraction itself.
type Handover struct {
	Supplier  *sorting.Supplier
	Date      string // as the caller writes it; the library reads no clock
	Lot       string
	Bags      int
	Weighed   *quantity.Mass
	Packaging string
	Rinses    string // "twice in plain water"; empty: not recorded
}

const (
	en15347 = "EN 15347:2007 required data, from memory; replaced by EN 15347-1:2024"
	en15opt = "EN 15347:2007 optional data, from memory"
)

// HandoverFields are the lines a recycler asks for, in a fixed order. What is not known says so:
// "not classified", "not recorded". The only purity on it is what random draws demonstrate.
func HandoverFields(f sorting.Fraction, d Decision, h Handover) []Field {
	marked := d.Marking
	if marked == "" {
		marked = "not marked"
	}
	supplier := "not recorded"
	if h.Supplier != nil {
		supplier = strings.Trim(h.Supplier.Name+", "+h.Supplier.Contact, ", ")
	}
	return []Field{
		{"Supplier", supplier, "required", en15347},
		{"Date and lot", orNot(strings.Trim(h.Date+", "+h.Lot, ", ")), "required", en15347},
		{"Batch", batch(f, h), "required", en15347},
		{"Main polymer", mainWords(f, d) + "; marking to ISO 11469: " + marked, "required", en15347},
		{"Identified by", identifiedBy(f, d), "required", practice},
		{"Other polymers", others(f), "required", "EN 15347: a statement is needed even if not classified"},
		{"Purity demonstrated", demonstrated(f), "recommended", "this tool"},
		{"Colour", orNot(strings.Join(f.Colours, ", ")), "required", en15347},
		{"Form", orNot(strings.Join(f.Forms, ", ")), "required", en15347},
		{"History", history(f), "required", en15347},
		{"Packaging", orNot(h.Packaging), "required", en15347},
		{"Additives and fillers", orNot(strings.Join(f.Additives, ", ")), "optional", en15opt},
		{"Flame retardant", flameRetardant(f), "optional", en15opt},
		{"Contaminants", "metal, paper, adhesive, soluble support: not recorded", "optional", en15opt},
		{"Baths and rinses", baths(f, h), "recommended", practice},
		{"Moisture, melt flow, ash, strength", "not measured", "optional", en15opt},
		{"Recycled content", contentWords(d.Route), "recommended", "ISO 14021, 7.8, read in secondary copies"},
		{"Waste code, a hint", "EU 12 01 05 from a workshop, 20 01 39 from a household; the local code and the receiving site decide", "optional",
			"European list of waste, Decision 2000/532/EC as amended; 20 01 39 from memory"},
		{"Not for", NotFor, "recommended", practice},
		{"Standing", Declaration, "recommended", practice},
	}
}

// contentWords say what ISO 14021 allows to be said: material that goes back into the process that made
// it is not recycled content; what would have been waste and goes to another's process is pre-consumer.
func contentWords(r Route) string {
	switch r {
	case Regrind, Sheet:
		return "no recycled content may be claimed: own scrap used again in the process that made it"
	case Recycler:
		return "pre-consumer material, if it would otherwise be waste; failed prints never used are not post-consumer"
	}
	return "none claimed"
}

func batch(f sorting.Fraction, h Handover) string {
	mass := "planned, not weighed: about " + grams(sum(masses(f, Situation{}))/float64(max(1, len(f.Grams))))
	if h.Weighed != nil && h.Weighed.Given() {
		mass = "weighed: " + quantity.Format(h.Weighed.Value)
	}
	if h.Bags > 0 {
		mass += ", bags: " + strconv.Itoa(h.Bags)
	}
	return mass
}

// identifiedBy says what the identification rests on, and that nothing was done where there is none.
func identifiedBy(f sorting.Fraction, d Decision) string {
	if len(f.HowTold) == 0 && head(f, d) == unidentified {
		return "not identified, no test made"
	}
	return told(f)
}

func told(f sorting.Fraction) string {
	if len(f.HowTold) == 0 {
		return "the supplier's own word, no test"
	}
	words := strings.Join(f.HowTold, ", ") + " (bench tests)"
	if f.Tested > 0 {
		words += ", " + pieces(f.Tested)
	}
	return words
}

func pieces(n int) string {
	if n == 1 {
		return "1 piece"
	}
	return strconv.Itoa(n) + " pieces"
}

// others names what else the fraction may hold, without a figure: an estimate is not put on paper.
func others(f sorting.Fraction) string {
	sh := sharesOf(f)
	var names []string
	for k, key := range f.Keys {
		if key != f.Material && key != string(polymers.Other) && sh.upper[k] > 0.01 {
			names = append(names, key)
		}
	}
	if len(names) == 0 {
		return "not classified"
	}
	return "may hold " + strings.Join(names, ", ") + "; the rest not classified"
}

func demonstrated(f sorting.Fraction) string {
	d := f.Demonstrated
	if d == nil {
		return "nothing demonstrated: no pieces drawn at random"
	}
	words := fmt.Sprintf("at least %s at %s confidence, one-sided (%s at random, %d wrong)", shown(d.AtLeast), shown(d.Confidence), pieces(d.Tested), d.Wrong)
	if len(d.Against) > 0 {
		words += "; told from " + strings.Join(d.Against, ", ") + " only"
	}
	return words
}

func origin(f sorting.Fraction) string {
	if !f.OriginGiven {
		return "not said"
	}
	return strings.ReplaceAll(string(f.Origin), "-", " ")
}

func history(f sorting.Fraction) string {
	words := origin(f)
	if f.OriginGiven && f.Origin == sorting.OwnPrint {
		words = "own print scrap, never used"
	}
	if f.Heats > 0 {
		return words + ", melts seen so far: " + strconv.Itoa(f.Heats)
	}
	return words + ", number of melts not recorded"
}

func baths(f sorting.Fraction, h Handover) string {
	if len(f.Baths) == 0 {
		return "none"
	}
	return "in " + strings.Join(f.Baths, ", ") + "; rinses: " + orNot(h.Rinses)
}

func orNot(s string) string {
	if s == "" {
		return "not recorded"
	}
	return s
}
