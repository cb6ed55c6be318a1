package show

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/reuse/advice"
)

// ruleBook is what the rules of all bags have in common and is written once: what each asks, and sources.
type ruleBook struct {
	sources []string
	gates   []string   // numbered conditions of the rules with one each
	ways    []string   // names of ways
	asks    [][]string // and what each asks, with the number of its source
}

// source is the mark of a source, counted in the order they are met.
func (b *ruleBook) source(s string) string {
	i := slices.Index(b.sources, s)
	if i < 0 {
		i = len(b.sources)
		b.sources = append(b.sources, s)
	}
	return fmt.Sprintf("[%d]", i+1)
}

// add writes down what a rule asks, where no bag before had it.
func (b *ruleBook) add(r Ruled) {
	if r.If != "" {
		if line := r.What + ", if " + r.If + " " + b.source(r.Source); !slices.Contains(b.gates, line) {
			b.gates = append(b.gates, line)
		}
		return
	}
	at := slices.Index(b.ways, r.What)
	if at < 0 {
		at = len(b.ways)
		b.ways, b.asks = append(b.ways, r.What), append(b.asks, nil)
	}
	for _, a := range r.Asks {
		if line := a.Asks + " " + b.source(a.Source); !slices.Contains(b.asks[at], line) {
			b.asks[at] = append(b.asks[at], line)
		}
	}
}

// rules writes how each bag fared under the rules: first why it goes its way and what came nearest, then
// the rules in order; at the end once what each of them asks, and by which source.
func rules(p *Page, list []advice.Fraction) {
	var book ruleBook
	for i, f := range list {
		r := RulingOf(f)
		p.Section(fmt.Sprintf("rules, %d", i+1))
		p.Text(r.Bag+" goes to "+r.Goes, 0)
		for _, w := range r.Won {
			p.Inset(0, "because:", w.Words+" ("+w.Source+")")
		}
		p.Inset(0, "nearest:", r.Nearest)
		inOrder(p, &book, r)
	}
	if len(list) > 0 {
		book.write(p)
	}
}

// inOrder writes the rules of a bag in order, those in a row that do not hold in one line.
func inOrder(p *Page, book *ruleBook, list Ruling) {
	var run []Ruled
	flush := func() {
		if len(run) > 0 {
			p.Inset(3, numbers(run), fates(run))
		}
		run = nil
	}
	for _, r := range list.Rules {
		book.add(r)
		if r.If != "" && !r.Taken {
			run = append(run, r)
			continue
		}
		flush()
		oneRule(p, r, list.Ended)
	}
	flush()
}

func numbers(run []Ruled) string {
	if len(run) == 1 {
		return fmt.Sprintf("%d.", run[0].N)
	}
	return fmt.Sprintf("%d.-%d.", run[0].N, run[len(run)-1].N)
}

// fates are the names of rules that do not hold and why, what is said twice said once.
func fates(run []Ruled) string {
	var what, why []string
	for _, r := range run {
		if !slices.Contains(what, r.What) {
			what = append(what, r.What)
		}
		if !slices.Contains(why, r.By) {
			why = append(why, r.By)
		}
	}
	return strings.Join(what, ", ") + ": no; " + strings.Join(why, "; ")
}

// oneRule writes a rule that was taken, or a way with what it lacks and what it would be worth; of a way
// behind a rule that ended the matter only what closes it first.
func oneRule(p *Page, r Ruled, ended bool) {
	mark := fmt.Sprintf("%d.", r.N)
	switch {
	case r.If != "":
		p.Inset(3, mark, r.What+", if "+r.If+": "+r.Fate)
		return
	case ended && len(r.Lacks) > 0:
		p.Inset(3, mark, fmt.Sprintf("%s: not asked any more; it would lack %d of %d, first: %s", r.What, len(r.Lacks), len(r.Asks), r.Lacks[0].By))
		return
	case len(r.Lacks) > 0:
		p.Inset(3, mark, fmt.Sprintf("%s: no; it lacks %d of the %d it asks", r.What, len(r.Lacks), len(r.Asks)))
	default:
		p.Inset(3, mark, fmt.Sprintf("%s: %s; all %d it asks are met", r.What, r.Fate, len(r.Asks)))
	}
	for _, a := range r.Lacks {
		p.Inset(6, "-", mended(a))
	}
	if r.Worth != "" {
		p.Inset(6, "-", "worth "+r.Worth)
	}
}

// write ends the rules with what each of them asks.
func (b *ruleBook) write(p *Page) {
	p.Section("they ask")
	for _, g := range b.gates {
		p.Item("-", g)
	}
	for i, w := range b.ways {
		first := slices.IndexFunc(b.asks, func(asks []string) bool { return slices.Equal(asks, b.asks[i]) })
		if first < i {
			p.Item("-", w+", if: the same as "+b.ways[first])
			continue
		}
		p.Item("-", w+", if: "+strings.Join(b.asks[i], "; "))
	}
	p.Section("by")
	for i, s := range b.sources {
		p.Item(fmt.Sprintf("[%d]", i+1), s)
	}
}
