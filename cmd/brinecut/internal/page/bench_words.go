package page

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

// sights say in a few words what each outcome looks like: what stands on a button is read at arm's
// length. The protocol of the test says it in full.
var sights = map[cues.Kind]map[string]string{
	cues.Float:    {"floats": "comes up", "hovers": "does neither for two minutes", "sinks": "goes down"},
	cues.HotWater: {"stiff": "springs back", "soft": "folds or hangs limp"},
	cues.Soak:     {"unchanged": "as it went in", "slimy": "slippery, sticky or gel", "dissolves": "out of shape, or gone"},
	cues.Bend:     {"snaps": "breaks clean", "whitens": "fold turns white", "bends": "folds or springs back", "rubbery": "limp, springs back at once"},
	cues.Acetone:  {"unchanged": "as it was", "whitens": "white or cracked, dry", "tacky": "sticks, or has gone dull", "dissolves": "slime or strings"},
	cues.HotAir: {"no-change": "still firm", "shrinks": "curls or draws together", "rubbery": "soft and dull", "clear-melt": "sags glossy, or runs",
		"milky-melt": "turns white as it softens", "bubbles": "froths", "chars": "browns"},
}

// benchChoice is one outcome as a button.
type benchChoice struct {
	Word, Sight string
	Count       string // as it was filled in, where the form comes back
}

// choices are the outcomes of a kind as buttons, unclear last; none for a kind that gives a figure.
func choices(t cues.Test) []benchChoice {
	var out []benchChoice
	for _, o := range t.Outcomes {
		out = append(out, benchChoice{Word: o, Sight: sights[t.Kind][o]})
	}
	if len(out) > 0 {
		out = append(out, benchChoice{Word: cues.Unclear, Sight: "could not tell"})
	}
	return out
}

// kindName is a kind as a person says it.
func kindName(k cues.Kind) string { return strings.ReplaceAll(string(k), "-", " ") }

// sayTest says an observation in a few words: "white gloss, piece 3: float at 1.250 g/cm3, sinks".
func sayTest(o sorting.Observation) string {
	s := o.Lot + o.Known
	if o.Piece > 0 {
		s += fmt.Sprintf(", piece %d", o.Piece)
	}
	s += ": " + kindName(o.Kind)
	switch {
	case o.Bath != "":
		s += " in bath " + o.Bath
	case o.Density.Given():
		s += " at " + o.Density.Text
	case o.Temp.Given():
		s += " at " + o.Temp.Text
	}
	switch {
	case o.Outcome != "":
		s += ", " + o.Outcome
	case len(o.Counts) > 0:
		for _, c := range o.Counts {
			s += fmt.Sprintf(", %d %s", c.N, c.Outcome)
		}
	case o.InAir.Given():
		s += ", " + o.InAir.Text + " in air"
	case o.Symbol != "":
		s += ", " + o.Symbol
	case o.Flame != nil:
		s += ", cues noted"
	}
	return s
}

// whyThis is the reason for a step in a sentence: what the lot goes as now, and what would change that.
// It gives no figures: a person at the bench is to look at the piece, not at a favourite.
func whyThis(p *triage.Proposal) string {
	if p.Known != "" {
		return "“" + p.Known + "” is known to be what it is: what it does here shows what the readings of the lots are worth."
	}
	quoted := "“" + p.Lot + "”"
	s := "As things stand " + quoted + " goes with " + bagged(p.MainBefore)
	byMain := map[string][]string{}
	var order []string
	for _, e := range p.Outcomes {
		if e.Main == p.MainBefore || e.Main == "" || e.Outcome == cues.Unclear {
			continue
		}
		if byMain[e.Main] == nil {
			order = append(order, e.Main)
		}
		byMain[e.Main] = append(byMain[e.Main], e.Outcome)
	}
	if len(order) == 0 {
		return s + "; this makes that surer for the least work."
	}
	var turns []string
	for _, m := range order {
		turns = append(turns, strings.Join(byMain[m], " or ")+" would turn that to "+bagged(m))
	}
	return s + "; " + strings.Join(turns, ", ") + "."
}

func bagged(key string) string {
	switch key {
	case "":
		return "nothing named"
	case "other":
		return "what is not identified"
	}
	return key
}

// takeLine says what to pick up.
func takeLine(lot string, known bool, piece, atOnce int, again bool, must string) string {
	s := "a fresh piece of “" + lot + "”"
	switch {
	case known:
		s = "the known snippet “" + lot + "”"
	case atOnce > 1:
		s = fmt.Sprintf("%d fresh pieces of “%s”, picked blind", atOnce, lot)
	case again:
		s = fmt.Sprintf("piece %d of “%s” again", piece, lot)
	}
	if piece > 0 && !known && !again && atOnce < 2 {
		s += fmt.Sprintf("; it is piece %d", piece)
	}
	switch {
	case must != "" && atOnce > 1:
		s += ". Each must " + must
	case must != "":
		s += ". It must " + must
	}
	return s + "."
}

// doLine says what to do with it.
func doLine(p *triage.Proposal) string { return sentence(advice.Describe(p)) }

// sentence gives words a capital and a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	r, n := utf8.DecodeRuneInString(s)
	s = string(unicode.ToUpper(r)) + s[n:]
	if strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		return s
	}
	return s + "."
}

// pauses are the times that are waited for in a test, to be started with one tap, in seconds. They stand
// in its protocol.
var pauses = map[cues.Kind][]int{
	cues.Float: {120}, cues.HotWater: {30, 120, 180}, cues.Soak: {3600}, cues.Acetone: {60}, cues.HotAir: {20},
}

func timeWords(seconds int) string { return quantity.Format(quantity.Second(seconds)) }
