package reuse

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Field is one line of the hand-over sheet. Need is "required", "optional" or "recommended", and
// Basis where that comes from. Hint says what may be written where Value is NotRecorded.
type Field struct {
	Name, Value string
	Hint        string
	Need, Basis string
}

// NotRecorded is the value of a field that nobody filled in: it is left to write in by hand.
const NotRecorded = "not recorded"

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
	en15347 = "EN 15347:2007, data a supplier must give, quoted from memory; replaced by EN 15347-1:2024"
	en15opt = "EN 15347:2007, data a supplier may give, quoted from memory"
	asked   = "common practice: what recyclers usually ask, no source"
)

// HandoverFields are the lines a recycler asks for, in a fixed order. What is not known says so:
// "not classified", "not recorded". The only purity on it is what random draws demonstrate.
func HandoverFields(f sorting.Fraction, d Decision, h Handover) []Field {
	return append(whatItIs(f, d, h), furtherData(f, d, h)...)
}

// whatItIs are the fields without which no receiver takes a batch.
func whatItIs(f sorting.Fraction, d Decision, h Handover) []Field {
	marked, supplier := d.Marking, ""
	if marked == "" {
		marked = "not marked"
	}
	if h.Supplier != nil {
		supplier = strings.Trim(h.Supplier.Name+", "+h.Supplier.Contact, ", ")
	}
	return []Field{
		{"Supplier", orNot(supplier), "name and contact", "required", en15347},
		{"Date", orNot(h.Date), "year, month, day", "required", en15347},
		{"Lot", orNot(h.Lot), "name or number of the lot", "required", en15347},
		{"Batch", batch(f, h), "", "required", en15347},
		{"Main polymer", mainWords(f, d) + "; marking to ISO 11469: " + marked, "", "required", en15347},
		{"Identified by", identifiedBy(f, d) + where(f), "", "required", practice},
		{"Other polymers", others(f), "", "required", "EN 15347: a statement is needed even if it is \"not classified\""},
		{"Purity demonstrated", demonstrated(f), "", "recommended", "the tool this sheet was made with"},
		{"Colour", orNot(colour(f)), "natural, single or mixed", "required", en15347},
		{"Form", orNot(strings.Join(f.Forms, ", ")), "flake (screen size), whole parts, lumps", "required", en15347},
		{"Clean and dry", state(f), "yes or no to each", "recommended", asked},
		{"History", history(f), "", "required", en15347},
		{"Packaging", orNot(h.Packaging), "bag, box or big bag", "required", en15347},
	}
}

// furtherData are the fields that may stay open, and what is said for safety's sake.
func furtherData(f sorting.Fraction, d Decision, h Handover) []Field {
	return []Field{
		{"Flame retardant", flameRetardant(f), "", "optional", en15opt},
		{"Additives and fillers", orNot(strings.Join(f.Additives, ", ")), "glass, carbon, wood, pigment", "optional", en15opt},
		{"Contaminants", NotRecorded, "metal, paper, adhesive, soluble support", "optional", en15opt},
		{"Baths and rinses", baths(f, h), "", "recommended", practice},
		{"Laboratory figures", "not measured: moisture, volatiles, bulk density, melt flow, ash, impact and tensile strength", "", "optional", en15opt},
		{"Recycled content", contentWords(d.Route), "", "recommended", "ISO 14021, 7.8, read in secondary copies"},
		{"Waste code, a hint", "EU 12 01 05 from a workshop, 20 01 39 from a household; the local code and the receiving site decide", "", "optional",
			"European list of waste, Decision 2000/532/EC as amended; 20 01 39 from memory"},
		{"Not for", strings.TrimPrefix(NotFor, "not for "), "", "recommended", practice},
		{"Declaration", Declaration, "", "recommended", practice},
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
	words := "planned, not weighed: about " + grams(sum(masses(f, Situation{}))/float64(max(1, len(f.Grams))))
	if h.Weighed != nil && h.Weighed.Given() {
		words = quantity.Format(h.Weighed.Value) + " net, weighed"
	}
	switch h.Bags {
	case 0:
		return words
	case 1:
		return words + ", in 1 bag"
	}
	return words + ", in " + strconv.Itoa(h.Bags) + " bags"
}

// colour of the batch; one colour named does not say that there is no other.
func colour(f sorting.Fraction) string {
	if len(f.Colours) > 1 {
		return "mixed: " + strings.Join(f.Colours, ", ")
	}
	return strings.Join(f.Colours, "")
}

// state is what the lots were when they were weighed. Dry is what a bin file means where it says nothing,
// so that it is no word of the supplier's.
func state(f sorting.Fraction) string {
	switch f.State {
	case sorting.Wet:
		return "wet when weighed"
	case sorting.SurfaceDry:
		return "surface dry when weighed"
	}
	return NotRecorded
}

// testWords are the bench tests in a receiver's words.
var testWords = map[string]string{
	"bend": "bending by hand", "soak": "soaking in water", "float": "floating or sinking in a liquid of known density", "weigh": "density from weighing in air and liquid",
	"hot-water": "softening in hot water", "acetone": "touch of acetone", "hot-air": "softening in hot air", "flame": "flame test", "marked": "the marking on the part",
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
	var how []string
	for _, k := range f.HowTold {
		words, ok := testWords[k]
		if !ok {
			words = k
		}
		how = append(how, words)
	}
	words := strings.Join(how, ", ")
	if f.Tested > 0 {
		words += "; " + pieces(f.Tested)
	}
	return words
}

// where the tests were made; what is only read on a part is no test.
func where(f sorting.Fraction) string {
	if slices.ContainsFunc(f.HowTold, func(k string) bool { return k != "marked" }) {
		return ", tested at the bench, not in a laboratory"
	}
	return ""
}

// ShortFields are the words of a label's identification and purity: those of the sheet, without what a
// label has no room for.
func ShortFields(f sorting.Fraction, d Decision) (identified, purity string) {
	return identifiedBy(f, d), purityShown(f)
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
	words := purityShown(f)
	if f.Demonstrated != nil && len(f.Demonstrated.Against) > 0 {
		words += ", no other polymer was looked for"
	}
	return words
}

func purityShown(f sorting.Fraction) string {
	d := f.Demonstrated
	if d == nil {
		return "nothing demonstrated by pieces drawn at random"
	}
	words := fmt.Sprintf("at least %s of pieces, at %s confidence, one-sided (%s drawn at random, %d wrong)", shown(d.AtLeast), shown(d.Confidence), pieces(d.Tested), d.Wrong)
	if len(d.Against) > 0 {
		words += "; tested against " + strings.Join(d.Against, ", ") + " only"
	}
	return words
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
		return NotRecorded
	}
	return s
}
