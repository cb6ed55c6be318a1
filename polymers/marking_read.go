package polymers

import (
	"slices"
	"strconv"
	"strings"
	"sync"
)

// ReadMarking reads a marking to ISO 11469 with the terms of ISO 1043-1, -2 and -4 as far as they are
// firm: blends, fillers with percent, mixtures in brackets, (REC) and (REC30), FR(17), plasticizers of
// PVC-P, and a space between a symbol and its figure as older rules write it. It also reads a resin
// identification code ("5", "PP 5"). A text without the angle brackets is read and marked Bare. The
// error is a *MarkingError with the column of the fault; an unknown symbol is refused with the nearest
// known one.
func ReadMarking(s string) (Marking, error) {
	if m, ok, err := readCode(s); ok {
		return m, err
	}
	r := reader{text: s, in: []rune(s)}
	m, err := r.marking()
	if err != nil {
		return Marking{}, err
	}
	return m, nil
}

type reader struct {
	text string
	in   []rune
	at   int
	end  int // of what stands between the brackets
	m    Marking
}

func (r *reader) fault(at int, fault, right string) error {
	return &MarkingError{Text: r.text, Column: at + 1, Fault: fault, Right: right}
}

func (r *reader) marking() (Marking, error) {
	if err := r.frame(); err != nil {
		return r.m, err
	}
	for i := r.at; i < r.end; i++ {
		if err := r.character(i); err != nil {
			return r.m, err
		}
	}
	if err := r.polymers(); err != nil {
		return r.m, err
	}
	for r.at < r.end {
		if err := r.next(); err != nil {
			return r.m, err
		}
	}
	return r.m, r.finish()
}

// frame finds the angle brackets.
func (r *reader) frame() error {
	r.end = len(r.in)
	for r.at < r.end && r.in[r.at] == ' ' {
		r.at++
	}
	for r.end > r.at && r.in[r.end-1] == ' ' {
		r.end--
	}
	if r.at == r.end {
		return r.fault(r.at, "nothing is written here", "write a marking such as >PETG<")
	}
	open, shut := r.in[r.at] == '>', r.in[r.end-1] == '<'
	switch {
	case open && !shut:
		return r.fault(r.end, "the closing < is missing", "a marking stands between > and <")
	case shut && !open:
		return r.fault(r.at, "the opening > is missing", "a marking stands between > and <")
	case open:
		r.at, r.end = r.at+1, r.end-1
	default:
		r.m.Bare = true
		r.note("written without > and <, between which a marking stands")
	}
	if r.at >= r.end {
		return r.fault(r.at, "nothing stands between the brackets", "write a marking such as >PETG<")
	}
	return nil
}

// character refuses what no marking holds, and spaces other than between a symbol and its figure.
func (r *reader) character(i int) error {
	c := r.in[i]
	switch {
	case c == ' ':
		if i == r.at || i+1 >= r.end || !isUpper(r.in[i-1]) || !isDigit(r.in[i+1]) {
			return r.fault(i, "a space has no place here", "write it without spaces")
		}
		r.note("spaces as older rules (VDA 260) write them; the standard has none")
	case c >= 'a' && c <= 'z':
		if i < 2 || r.in[i-2] != '(' || !isUpper(r.in[i-1]) { // the metal of MED(Al)
			return r.fault(i, "small letters have no place here", "write "+strings.ToUpper(r.text))
		}
	case c == ',':
		return r.fault(i, "layers of a composite product are not read", "give each layer's marking alone")
	case !isUpper(c) && !isDigit(c) && !strings.ContainsRune("+-/()", c):
		return r.fault(i, "the character "+strconv.QuoteRune(c)+" has no place in a marking", "")
	}
	return nil
}

// polymers reads the terms of the polymer or blend.
func (r *reader) polymers() error {
	for {
		t, n, err := r.term()
		if err != nil {
			return err
		}
		if slices.Contains(r.m.Polymers, t.symbol) {
			return r.fault(r.at, "a component stands twice", "name each component once, the main one first")
		}
		r.at += n
		r.m.Polymers = append(r.m.Polymers, t.symbol)
		for _, s := range termNotes(t) {
			r.note(s)
		}
		if r.peek() != '+' {
			return nil
		}
		r.at++
	}
}

// term finds the longest known term that starts here.
func (r *reader) term() (term, int, error) {
	word, at := r.squeezed()
	if t, ok := termAt(word, 0); ok {
		return t, at[len(t.text)-1] + 1 - r.at, nil
	}
	head := word
	if i := strings.IndexAny(head, "+(<"); i >= 0 {
		head = head[:i]
	}
	if i := strings.IndexByte(head, '-'); i > 0 {
		head = head[:i]
	}
	if head == "" {
		return term{}, 0, r.fault(r.at, "a polymer's symbol is missing here", "the polymer comes first, the filler after a hyphen")
	}
	if letters := strings.TrimRight(head, "0123456789"); len(r.m.Polymers) > 0 && len(letters) > 1 && isFiller(letters) {
		return term{}, 0, r.fault(r.at, head+" is a filler, and + joins polymers", "write "+string(r.in[:r.at-1])+"-"+string(r.in[r.at:]))
	}
	return term{}, 0, r.fault(r.at, "unknown symbol "+head, "nearest known is "+nearestTerm(head))
}

// squeezed gives what is left without its spaces, and where each letter of it stands.
func (r *reader) squeezed() (string, []int) {
	var b strings.Builder
	var at []int
	for i := r.at; i < r.end; i++ {
		if r.in[i] != ' ' {
			b.WriteRune(r.in[i])
			at = append(at, i)
		}
	}
	return b.String(), at
}

var sortedTerms = sync.OnceValue(func() []term {
	ts := markingTerms()
	slices.SortStableFunc(ts, func(a, b term) int { return len(b.text) - len(a.text) })
	return ts
})

// termAt finds the longest known term at a place in a text without spaces, ending at a boundary.
func termAt(s string, at int) (term, bool) {
	for _, t := range sortedTerms() {
		if !strings.HasPrefix(s[at:], t.text) {
			continue
		}
		if rest := s[at+len(t.text):]; rest == "" || strings.ContainsRune("+-(", rune(rest[0])) {
			return t, true
		}
	}
	return term{}, false
}

// next reads what follows the polymers: a group in brackets, a filler, a flame retardant.
func (r *reader) next() error {
	switch c := r.peek(); {
	case c == '(':
		return r.brackets()
	case c == '-' && r.hasPrefix(r.at+1, "FR("):
		r.at++
		return r.flameRetardant()
	case c == '-' && len(r.m.Fillers) == 0:
		r.at++
		return r.fillers()
	case r.hasPrefix(r.at, "FR(") && len(r.m.Fillers) > 0:
		return r.flameRetardant()
	}
	return r.fault(r.at, "this does not continue a marking", "after the polymer come -FILLER, -FR(nn), (REC) or the end")
}

// brackets reads (REC), (REC30) or a plasticizer.
func (r *reader) brackets() error {
	start := r.at
	word, err := r.inBrackets()
	if err != nil {
		return err
	}
	if figure, ok := strings.CutPrefix(word, "REC"); ok {
		if r.m.Recyclate != nil {
			return r.fault(start, "recyclate is declared twice", "")
		}
		r.m.Recyclate = &Recyclate{}
		if figure != "" {
			p, ok := percent(figure, 100)
			if !ok {
				return r.fault(start+4, "the recycled content has to be 1 to 100 percent", "write (REC30), or (REC) where no amount is stated")
			}
			r.m.Recyclate.AtLeastPercent = &p
		}
		return nil
	}
	last := r.m.Polymers[len(r.m.Polymers)-1]
	if last != "PVC-P" || len(r.m.Fillers) > 0 || !upperOnly(word) {
		return r.fault(start, "unknown term ("+word+")", "brackets hold REC with a figure, or the plasticizer of PVC-P")
	}
	r.m.Plasticizers = append(r.m.Plasticizers, word)
	r.note("the plasticizer's term is from memory of ISO 1043-3")
	return nil
}

// inBrackets reads from a bracket to its end and gives what stands within.
func (r *reader) inBrackets() (string, error) {
	start := r.at
	for i := r.at + 1; i < r.end; i++ {
		if r.in[i] == ')' {
			r.at = i + 1
			if i == start+1 {
				return "", r.fault(i, "the brackets are empty", "")
			}
			return strings.ReplaceAll(string(r.in[start+1:i]), " ", ""), nil
		}
	}
	return "", r.fault(r.end, "the closing ) is missing", "")
}

// flameRetardant reads FR(17) or FR(17+40).
func (r *reader) flameRetardant() error {
	r.at += 2
	at := r.at + 1
	word, err := r.inBrackets()
	if err != nil {
		return err
	}
	for code := range strings.SplitSeq(word, "+") {
		if len(code) != 2 || !isDigit(rune(code[0])) || !isDigit(rune(code[1])) {
			return r.fault(at, "a flame retardant's code has two digits", "write FR(17)")
		}
		if slices.Contains(r.m.FlameRetardants, code) {
			return r.fault(at, "a flame retardant stands twice", "")
		}
		r.m.FlameRetardants = append(r.m.FlameRetardants, code)
		r.note(flameRetardantNote(code))
	}
	return nil
}

// finish checks the whole and writes it as the standard does.
func (r *reader) finish() error {
	if len(r.m.FlameRetardants) > 0 && len(r.m.Fillers) == 0 {
		r.note("the form -FR(nn) without a filler is from memory")
	}
	if r.m.FillerTotal == nil && slices.ContainsFunc(r.m.Fillers, func(f Filler) bool { return f.Percent == nil }) {
		r.note("the filler's share is not stated; ISO 1043-2 puts its percentage by mass behind its symbol, as in -CF15 (from memory)")
	}
	if r.m.Recyclate != nil && len(r.m.Fillers)+len(r.m.FlameRetardants) > 0 {
		r.note("where (REC) stands beside a filler is not known from a page; it is written last here")
	}
	r.m.Text = r.m.write()
	r.m.Code = resinCodeOf(r.m.Polymers, len(r.m.Fillers) > 0)
	return nil
}

func (r *reader) peek() rune {
	if r.at < r.end {
		return r.in[r.at]
	}
	return 0
}

func (r *reader) hasPrefix(at int, s string) bool {
	return at < r.end && strings.HasPrefix(string(r.in[at:r.end]), s)
}

func (r *reader) note(s string) {
	if !slices.Contains(r.m.Notes, s) {
		r.m.Notes = append(r.m.Notes, s)
	}
}

func isUpper(c rune) bool { return c >= 'A' && c <= 'Z' }
func isDigit(c rune) bool { return c >= '0' && c <= '9' }

func upperOnly(s string) bool {
	for _, c := range s {
		if !isUpper(c) {
			return false
		}
	}
	return s != ""
}

// percent reads a whole number of percent from 1 to most, without a leading zero.
func percent(s string, most int) (float64, bool) {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > most || s[0] == '0' || s[0] == '+' {
		return 0, false
	}
	return float64(n), true
}
