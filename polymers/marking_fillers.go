package polymers

import (
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
)

// Letters of ISO 1043-2. G, M and the forms F and D are confirmed by a page, as are GCM and MED(Al);
// the rest is from memory.
const (
	fillerMaterials = "BCDEGKLMNPQRSTWXZ"
	fillerForms     = "BCDFGHKLMNPRSTVWXYZ"
)

var pageFillers = []string{"GF", "MD", "GCM", "MED"}

// fillers reads a filler or a mixture in brackets, each with or without its percentage.
func (r *reader) fillers() error {
	if r.peek() != '(' {
		f, err := r.filler()
		r.m.Fillers = append(r.m.Fillers, f)
		return err
	}
	open := r.at
	r.at++
	for {
		at := r.at
		f, err := r.filler()
		if err != nil {
			return err
		}
		if slices.ContainsFunc(r.m.Fillers, func(x Filler) bool { return x.Symbol == f.Symbol }) {
			return r.fault(at, "a filler stands twice", "")
		}
		r.m.Fillers = append(r.m.Fillers, f)
		if r.peek() != '+' {
			break
		}
		r.at++
	}
	if r.peek() != ')' {
		return r.fault(r.at, "the closing ) is missing here", "join the parts of a mixture with + inside the brackets")
	}
	r.at++
	if len(r.m.Fillers) < 2 {
		return r.fault(open, "brackets hold a mixture of two fillers or more", "write the filler without brackets")
	}
	return r.total(open)
}

// total reads the percentage behind a mixture and checks that the parts leave a polymer.
func (r *reader) total(open int) error {
	r.note("the form of a filler mixture with figures is weak: an unsigned page and memory")
	at := r.at
	digits := r.digits()
	sum, stated := 0.0, 0
	for _, f := range r.m.Fillers {
		if f.Percent != nil {
			sum += *f.Percent
			stated++
		}
	}
	if sum >= 100 {
		return r.fault(open, "the fillers leave no polymer", "the percentages have to add up to less than 100")
	}
	if digits == "" {
		return nil
	}
	p, ok := percent(digits, 99)
	switch {
	case !ok:
		return r.fault(at, "a filler's share has to be 1 to 99 percent", "")
	case stated > 0:
		return r.fault(at, "the mixture has shares of its parts and a total", "write (GF25+MD15) or (GF+MD)40")
	}
	r.m.FillerTotal = &p
	return nil
}

// filler reads one symbol and its percentage.
func (r *reader) filler() (Filler, error) {
	at := r.at
	for r.at < r.end && isUpper(r.in[r.at]) && !r.hasPrefix(r.at, "FR(") {
		r.at++
	}
	word := string(r.in[at:r.at])
	if word == "" {
		return Filler{}, r.fault(at, "a filler's symbol is missing here", "write a symbol of ISO 1043-2 such as GF or MD")
	}
	if !isFiller(word) {
		return Filler{}, r.fault(at, word+" is no filler of ISO 1043-2", "nearest known is "+nearestFiller(word))
	}
	r.fillerNotes(word)
	if strings.HasPrefix(word, "ME") && r.peek() == '(' {
		metal, err := r.inBrackets()
		if err != nil {
			return Filler{}, err
		}
		word += "(" + metal + ")"
	}
	f := Filler{Symbol: word}
	if r.peek() == ' ' {
		r.at++
	}
	start := r.at
	if digits := r.digits(); digits != "" {
		p, ok := percent(digits, 99)
		if !ok {
			return Filler{}, r.fault(start, "a filler's share has to be 1 to 99 percent", "")
		}
		f.Percent = &p
	}
	return f, nil
}

func (r *reader) fillerNotes(word string) {
	switch {
	case len(word) == 1:
		r.note("the form of the filler " + word + " is not stated; talc powder is written both T20 and TD20")
	case !slices.Contains(pageFillers, word):
		r.note("the filler's symbol " + word + " is from memory of ISO 1043-2")
	}
}

func (r *reader) digits() string {
	at := r.at
	for r.at < r.end && isDigit(r.in[r.at]) {
		r.at++
	}
	return string(r.in[at:r.at])
}

// isFiller reports whether a word is made of a material letter (ME for metal) and a form.
func isFiller(word string) bool {
	if word == "GCM" {
		return true
	}
	rest, metal := strings.CutPrefix(word, "ME")
	if !metal {
		if !strings.ContainsRune(fillerMaterials, rune(word[0])) {
			return false
		}
		rest = word[1:]
	}
	switch {
	case rest == "":
		return !metal
	case rest == "LF":
		return true
	}
	return len(rest) == 1 && strings.Contains(fillerForms, rest)
}

func nearestFiller(word string) string {
	best, at := "GF", 1<<30
	for _, k := range []string{"GF", "CF", "MD", "TD", "KD", "WD", "GB", "MED", "GCM", "NF", "RF"} {
		if d := levenshtein.ComputeDistance(word, k); d < at {
			best, at = k, d
		}
	}
	return best
}

// nearestTerm is fewest edits away; a never-heat material only where that is one.
func nearestTerm(word string) string {
	best, at := "", 1<<30
	for _, t := range markingTerms() {
		m, _ := Find(t.symbol)
		if d := edits(word, t.text); d < at && (d <= 1 || !m.NeverHeat) {
			best, at = t.text, d
		}
	}
	return nearestWords(best, isFar(word, at))
}
