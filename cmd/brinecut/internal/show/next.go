package show

import (
	"fmt"
	"math"
	"strings"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting/triage"
)

type next struct {
	Done     bool       `json:"done"`
	Lot      *string    `json:"lot"`
	Known    *string    `json:"known,omitempty"`
	AtOnce   int        `json:"pieces_at_once,omitempty"`
	Takes    number     `json:"at_once_minutes,omitempty"`
	Piece    int        `json:"piece"`
	Test     *test      `json:"test"`
	Outcomes []string   `json:"outcomes"`
	Expected []expected `json:"expected"`
	Why      string     `json:"why"`
	Gain     number     `json:"gain"`
	Currency string     `json:"currency"`
	Minutes  number     `json:"minutes"`
	Cautions []string   `json:"cautions"`
}

type test struct {
	Kind    string  `json:"kind"`
	Density *number `json:"density_g_cm3"`
	TempC   *number `json:"temp_c"`
	Bath    *string `json:"bath"`
}

type expected struct {
	Outcome     string `json:"outcome"`
	Probability number `json:"probability"`
	Main        string `json:"then_mostly"`
	Share       number `json:"then_share"`
}

// NextJSON is the wire form of the test to do next.
func NextJSON(a advice.Answer) any { return nextOf(a) }

func nextOf(a advice.Answer) next {
	out := next{Done: a.Next.Done, Outcomes: []string{}, Expected: []expected{}, Why: whyNext(a), Currency: currency(a), Cautions: []string{}}
	p := a.Next.Best
	if p == nil {
		return out
	}
	out.Piece, out.Gain, out.Minutes, out.Cautions = p.Piece, number(p.Gain), number(p.Minutes), nonNil(p.Cautions)
	out.Lot, out.Known = text(p.Lot), text(p.Known)
	if p.AtOnce > 1 {
		out.AtOnce, out.Takes = p.AtOnce, number(p.AtOnceTakes)
	}
	out.Test = &test{Kind: string(p.Kind), Bath: text(p.Bath)}
	switch p.Kind {
	case cues.Float:
		d := number(p.Density)
		out.Test.Density = &d
	case cues.HotWater:
		t := number(p.Temp)
		out.Test.TempC = &t
	}
	t, _ := cues.Find(p.Kind)
	out.Outcomes = append(append(out.Outcomes, t.Outcomes...), cues.Unclear)
	for _, e := range p.Outcomes {
		out.Expected = append(out.Expected, expected{e.Outcome, number(e.Probability), e.Main, number(e.Share)})
	}
	return out
}

// whyNext is the reason in a sentence.
func whyNext(a advice.Answer) string {
	p := a.Next.Best
	switch {
	case a.Next.Why != "":
		return a.Next.Why
	case p == nil:
		return "no test that the kit allows is left for any lot"
	case a.Next.Done:
		return fmt.Sprintf("testing is done: the best test left would gain %s and take %s", money(p.Gain, currency(a)), minutes(p.Minutes))
	case p.Known != "":
		return whyKnown(p)
	}
	s := fmt.Sprintf("%s would now be bagged as %s (%s)", name(p.Lot), p.MainBefore, percent(p.ShareBefore))
	for _, e := range p.Outcomes {
		s += fmt.Sprintf("; %s (%s likely) makes that %s (%s)", e.Outcome, percent(e.Probability), e.Main, percent(e.Share))
	}
	return s
}

// whyKnown is the reason to test a known snippet.
func whyKnown(p *triage.Proposal) string {
	off := "how far the thermometer and the softening of that spool are off"
	if p.Kind == cues.Float {
		off = "how far this bath and the density of that spool are off"
	}
	return fmt.Sprintf("%s is known to be what it is: what it does shows %s, and so what the readings of the lots are worth", name(p.Known), off)
}

// doubtNow says what the remaining doubt costs.
func doubtNow(a advice.Answer) string {
	return fmt.Sprintf("what is still in doubt costs about %s: scrap that may go the wrong way, and worth that is lost where the make-up is not known", money(a.Next.Doubt, currency(a)))
}

// currency of the file, or the one that routes reckon in where it names none.
func currency(a advice.Answer) string {
	if a.Bin.Currency == "" && len(a.Fractions) > 0 {
		return a.Fractions[0].Decision.Worth.Currency
	}
	return a.Bin.Currency
}

// name is a name of the user's in a sentence.
func name(s string) string { return `"` + Clean(s) + `"` }

// Next writes the test to do next; where testing is done, what is left to do.
func Next(p *Page, a advice.Answer, file string) {
	b := a.Next.Best
	if empty(a.Bin) {
		p.Title("nothing to test: by the weighings there is nothing in the bin")
		return
	}
	if a.Next.Done || b == nil {
		p.Title("testing is done: no test is worth its minutes now")
		p.Section("do")
		partNext(p, a)
		p.Section("why")
		p.Text(whyNext(a), 0)
		p.Text(doubtNow(a), 0)
		p.Title("next: brinecut sort " + word(file) + " --steps")
		return
	}
	p.Section("do")
	p.Text(advice.Describe(b), 0)
	cautions(p, b.Cautions)
	p.Section("why")
	if b.Known != "" {
		p.Text(whyKnown(b), 0)
	} else {
		p.Text(fmt.Sprintf("%s would now be bagged as %s, %s of it by expectation", name(b.Lot), b.MainBefore, percent(b.ShareBefore)), 0)
		if b.AtOnce > 1 {
			p.Text("one piece more or less hardly moves what this lot is taken for; how many of a handful do one thing shows how much of each it holds. For each piece:", 0)
		}
		p.Table("lrl", outcomeRows(b))
	}
	p.Section("gain")
	gain, takes := b.Gain, b.Minutes
	if b.AtOnce > 1 {
		gain, takes = b.AtOnceGains, b.AtOnceTakes
	}
	p.Line(fmt.Sprintf("about %s of what doubt costs now, for %s at the bench", money(gain, currency(a)), minutes(takes)))
	if t, ok := cues.Find(b.Kind); ok {
		if b.Whole {
			t = t.OnWhole()
		}
		how(p, t)
	}
	p.Section("then")
	p.Command(recordLine(b, file))
}

// outcomeRows say what each outcome would make of the lot.
func outcomeRows(b *triage.Proposal) [][]string {
	rows := [][]string{{"if it", "likely", "then"}}
	for _, e := range b.Outcomes {
		rows = append(rows, []string{e.Outcome, percent(e.Probability), e.Main + ", " + percent(e.Share)})
	}
	return rows
}

// how is the protocol.
func how(p *Page, t cues.Test) {
	p.Section("how")
	if t.PieceMust != "" {
		p.Item("-", "the piece: "+t.PieceMust)
	}
	for i, s := range t.Protocol {
		p.Item(fmt.Sprintf("%d.", i+1), s)
	}
}

// recordLine is the command that records the test, with OUTCOME to be filled in.
func recordLine(b *triage.Proposal, file string) string {
	s := fmt.Sprintf("brinecut record %s --lot %s --piece %d %s OUTCOME", word(file), word(b.Lot), b.Piece, b.Kind)
	switch {
	case b.Known != "":
		s = fmt.Sprintf("brinecut record %s --known %s %s OUTCOME", word(file), word(b.Known), b.Kind)
	case b.AtOnce > 1:
		s = fmt.Sprintf("brinecut record %s --lot %s %s --counts %s", word(file), word(b.Lot), b.Kind, countsOf(b.Kind))
	}
	switch {
	case b.Kind == cues.Float && b.Bath != "":
		s += " --bath " + word(b.Bath)
	case b.Kind == cues.Float:
		s += fmt.Sprintf(` --density "%s"`, quantity.Format(quantity.GramPerCm3(math.Round(float64(b.Density)*1e4)/1e4)))
	case b.Kind == cues.HotWater:
		s += fmt.Sprintf(` --temp "%s"`, quantity.Format(b.Temp))
	}
	return s
}

// countsOf is how counts are written, to be filled in.
func countsOf(k cues.Kind) string {
	t, _ := cues.Find(k)
	var out []string
	for _, o := range t.Outcomes {
		out = append(out, o+"=N")
	}
	return strings.Join(out, ",")
}

// Word is a word of a command line, in quotes where it needs them.
func Word(s string) string { return word(s) }

// Then names the next sensible command.
func Then(p *Page, command string) { p.Title("next: " + command) }

// word is a word of a command line, in quotes where it needs them.
func word(s string) string {
	s = Clean(s)
	if s != "" && !strings.ContainsAny(s, " \t\"'\\$`*?[](){}<>|&;#!~") {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
