package polymers

import (
	"fmt"
	"strings"
)

// Marking is what stands on a piece: a marking to ISO 11469, or a resin identification code.
type Marking struct {
	Text            string     // as the standard writes it, ">PA66-GF30<"; for a resin code as it was read
	Polymers        []Symbol   // main component first; a term of the standard without a record stands as itself
	Fillers         []Filler   // in the order they stand
	FillerTotal     *float64   // percent by mass of a mixture whose parts are not stated: (GF+MD)40
	Recyclate       *Recyclate // nil where none is declared
	FlameRetardants []string   // two-digit codes of ISO 1043-4: "17"
	Plasticizers    []string   // ISO 1043-3: "DBP"
	Code            string     // resin identification code of ASTM D7611, "1" to "7", that names the same resin
	Bare            bool       // written without the angle brackets a marking stands in
	Notes           []string   // what is weak, from memory, or written the older way
}

// Filler is a filler or reinforcement after ISO 1043-2.
type Filler struct {
	Symbol  string   // "GF", "MD", "MED(Al)"
	Percent *float64 // by mass of the whole; nil where not stated
}

// Recyclate is declared recycled content, (REC) or (REC30).
type Recyclate struct {
	AtLeastPercent *float64 // by mass; nil where no amount is stated
}

// MarkingError says at which character a text stops being a marking, and what would be right.
type MarkingError struct {
	Text   string
	Column int // of the fault, counted in characters from 1; one past the end where something is missing
	Fault  string
	Right  string // what would be right; may be empty
}

func (e *MarkingError) Error() string {
	s := fmt.Sprintf("column %d: %s", e.Column, e.Fault)
	if e.Right != "" {
		s += "; " + e.Right
	}
	return s
}

// Caret gives the text with a caret under the fault, two lines.
func (e *MarkingError) Caret() string {
	return e.Text + "\n" + strings.Repeat(" ", e.Column-1) + "^"
}

// term is an abbreviated term as it is written between the brackets.
type term struct {
	text   string
	symbol Symbol
	note   string
}

// pageTerms are those of ISO 1043-1 and ISO 11469 that were seen on a page; the rest is from memory.
var pageTerms = []string{"ABS", "PC", "PP", "PA6", "PA66", "POM", "PEI", "PEEK", "TPU", "PA6/12", "PA6T/6I", "PPA"}

// moreTerms are terms that pieces carry besides those the handbook's records print.
var moreTerms = []term{
	{"PET-G", "PETG", ""},
	{"PVA", "PVA", "in the standard poly(vinyl alcohol) is PVAL; PVA alone is ambiguous"},
	{"HIPS", "HIPS", "a trade term; the standard writes PS-HI"},
	{"HDPE", "PE-HD", "a packaging term; the standard writes PE-HD"},
	{"LDPE", "PE-LD", "a packaging term; the standard writes PE-LD"},
	{"PVC", "PVC-U", "plasticised or not is not stated"},
	{"TPE", "TPE", "which elastomer is not stated"},
	{"TPS", "TPE", "which styrenic elastomer is not stated"},
	{"PA6/12", "PA6/12", ""}, {"PA6T/6I", "PA6T/6I", ""}, {"PPA", "PPA", ""}, {"PA6/66", "PA6/66", ""},
	{"PA46", "PA46", ""}, {"PA610", "PA610", ""}, {"PA612", "PA612", ""}, {"PE", "PE", ""}, {"PUR", "PUR", ""},
	{"PES", "PES", ""}, {"PPE", "PPE", ""}, {"PEKK", "PEKK", ""}, {"PHBV", "PHBV", ""}, {"EP", "EP", ""}, {"UP", "UP", ""},
}

// tradeTerms have no term in ISO 1043-1 that could be confirmed; they are printed as the trade writes them.
var tradeTerms = map[string]string{
	"PETG": "no term of ISO 1043-1 for glycol-modified PET could be confirmed, so no clause is cited; PETG and PET-G are both in use",
	"BVOH": "no term of ISO 1043-1 found; BVOH is the trade's, put the words butenediol vinyl alcohol beside it",
	"PCTG": "no term of ISO 1043-1 found; PCTG is the trade's",
	"PHA":  "no term of ISO 1043-1 found for the family; PHA is the trade's",
	"PHBH": "no term of ISO 1043-1 found; PHBH is the trade's",
	"CPE":  "no term of ISO 1043-1 found; in lists of rubbers CPE is chlorinated polyethylene, so put the word copolyester beside it",
}

// markingTerms lists every term that is read.
func markingTerms() []term {
	var out []term
	seen := map[string]bool{}
	for i := range materials {
		m := &materials[i]
		t := strings.Trim(m.Marking, "><")
		if m.Filler != "" || t == "" || strings.Contains(t, "+") || seen[t] {
			continue
		}
		seen[t] = true
		out = append(out, term{text: t, symbol: m.Base})
	}
	return append(out, moreTerms...)
}

// printed gives the term that is printed for a symbol; the symbol itself where it has no record.
func printed(sym Symbol) string {
	if m, ok := Find(sym); ok && m.Filler == "" {
		return strings.Trim(m.Marking, "><")
	}
	return string(sym)
}

func termNotes(t term) []string {
	var out []string
	if t.note != "" {
		out = append(out, t.note)
	}
	p := printed(t.symbol)
	if n, ok := tradeTerms[p]; ok {
		return append(out, n)
	}
	if p == "PVAL" {
		out = append(out, "PVAL is poly(vinyl alcohol); put the words beside it")
	}
	for _, page := range pageTerms {
		if p == page {
			return append(out, noRecord(t.symbol)...)
		}
	}
	return append(append(out, "the term "+p+" is from memory of ISO 1043-1 or ISO 18064"), noRecord(t.symbol)...)
}

func noRecord(sym Symbol) []string {
	if _, ok := Find(sym); ok {
		return nil
	}
	return []string{"the handbook has no record of " + string(sym) + ": treat it as other"}
}
