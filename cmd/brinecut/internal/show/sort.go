package show

import (
	"fmt"
	"sort"
	"strings"

	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/balance"
)

// Form is how much of an answer is written.
type Form struct {
	File  string // for the commands it names
	Short bool   // without residues, warnings and assumptions
	Steps bool   // with every step at the bench
	Trace bool   // with what each test did to each lot's answer
	Rules bool   // with every rule each bag was held against
}

// least is the share of the bin from which a material has a line of its own.
const least = 0.005

// Answer writes the whole job: what is in the bin, the bags, the one thing to do next, what must not be
// heated, where the material went, then what is doubtful and what was assumed.
func Answer(p *Page, a advice.Answer, f Form) {
	if a.Bin.Title != "" {
		p.Title(a.Bin.Title)
	}
	if len(a.Lots) > 0 && empty(a.Bin) {
		p.Section("in the bin")
		p.Text("nothing: by the weighings there is nothing in it to sort; brinecut balance "+word(f.File)+" shows where the material went", 0)
		footnotes(p, a.Warnings)
		return
	}
	if len(a.Lots) == 0 {
		p.Section("in the bin")
		p.Text("nothing: the file has neither a [bin] nor a [[lot]]; brinecut balance "+word(f.File)+" shows its streams", 0)
		return
	}
	verdict(p, a)
	contents(p, a)
	bags(p, a)
	mixtures(p, a, f)
	doNext(p, a, f)
	if f.Steps {
		steps(p, a.Steps)
	}
	if f.Trace {
		traces(p, a.Composition.Trace)
	}
	if f.Rules {
		rules(p, a.Fractions)
	}
	never(p, a)
	where(p, a.Balance, false)
	prevention(p, a.Prevention)
	if f.Short {
		graveNotes(p, a.Warnings, f.File)
		return
	}
	residues(p, a.Residues)
	footnotes(p, a.Warnings)
	assumed(p, a.Assumptions)
}

// empty reports that the scale shows nothing, neither in the bin nor in any lot.
func empty(bin *sorting.Bin) bool {
	for _, l := range bin.Lots {
		if !l.Mass.Given() && !l.Gross.Given() || l.Mass.Value > 0 || l.Gross.Value > l.Tare.Value {
			return false
		}
	}
	f := bin.Floor
	return (f == nil || f.Gross.Given() && f.Gross.Value <= f.Tare.Value) && (f != nil || len(bin.Lots) > 0)
}

// verdict says first of all where nothing in the bin pays for its time.
func verdict(p *Page, a advice.Answer) {
	if s := Verdict(a); s != "" {
		p.Section("")
		p.Title(s)
	}
}

// Verdict is the sentence for a bin in which nothing pays for its time; empty for any other.
func Verdict(a advice.Answer) string {
	if !a.Next.Done || !saidFrom(a) || len(a.Fractions) == 0 {
		return ""
	}
	var best *advice.Fraction
	for i, f := range a.Fractions {
		if f.Decision.Worth.Keep {
			return ""
		}
		kept := f.Decision.Route != reuse.Disposal && f.Decision.Route != reuse.SpecialWaste
		if kept && (best == nil || f.Decision.Worth.Value.Mean > best.Decision.Worth.Value.Mean) {
			best = &a.Fractions[i]
		}
	}
	s := "not worth your evening: "
	if best == nil {
		s += "nothing in this bin can be kept"
	} else {
		w := best.Decision.Worth
		s += fmt.Sprintf("no bag pays for its time; the best of them, %s, comes to %s", best.Name, money(w.Value.Mean, w.Currency))
		if w.BreakEvenG != nil {
			s += fmt.Sprintf(" and would need %s to break even", mass(*w.BreakEvenG))
		}
	}
	return s
}

// saidFrom reports whether it is said of every lot where it comes from.
func saidFrom(a advice.Answer) bool {
	for _, l := range a.Lots {
		if !l.Lot.OriginGiven {
			return false
		}
	}
	return true
}

func contents(p *Page, a advice.Answer) {
	p.Section("in the bin")
	p.Table("lrrr", Contents(a))
	if s := MassDoubt(a); s != "" {
		p.Text(s, 0)
	}
}

// MassDoubt is what is to be said of all masses where the weighings contradict each other; else nothing.
func MassDoubt(a advice.Answer) string {
	if agree(a.Balance) {
		return ""
	}
	return "the weighings cannot all be right: masses here and in the bags are no better than the worst of them"
}

// Contents lists all and then the materials, most first, small ones together: name, mass, its 90 %
// range, share. Where the weighings contradict each other the whole has no range.
func Contents(a advice.Answer) [][]string {
	totals, all := a.Totals(), a.TotalOf()
	order := make([]int, len(totals))
	for k := range order {
		order[k] = k
	}
	sort.SliceStable(order, func(i, j int) bool { return totals[order[i]].Mean > totals[order[j]].Mean })
	rows := [][]string{{"in all", mass(all.Mean), massSpan(all.Low, all.High), ""}}
	if !agree(a.Balance) {
		rows[0][2] = "-"
	}
	var small []int
	for _, k := range order {
		if all.Mean > 0 && totals[k].Mean < least*all.Mean {
			small = append(small, k)
			continue
		}
		rows = append(rows, contentRow(a.Composition.Keys[k], totals[k], all))
	}
	if len(small) > 0 {
		rows = append(rows, contentRow(fmt.Sprintf("%d more, each under 0.5 %%", len(small)), a.TotalOf(small...), all))
	}
	return rows
}

func contentRow(name string, r, all sorting.Range) []string {
	share := ""
	if all.Mean > 0 {
		share = percent(r.Mean / all.Mean)
	}
	return []string{Material(name), mass(r.Mean), massSpan(r.Low, r.High), share}
}

// bags lists the fractions, one reason each.
func bags(p *Page, a advice.Answer) {
	rows := [][]string{{"", "bag", "mass", "90 % range", "pure", "90 % range", "goes to"}}
	untested, whole := false, false
	for i, f := range a.Fractions {
		pure, span := percent(f.Purity.Mean), percentSpan(f.Purity)
		switch {
		case f.Material == "":
			pure, span = "-", "-"
		case allOrNone(f.Purity):
			span, whole = "all or none", true
		}
		if f.Material != "" && len(f.Untested) > 0 {
			pure, untested = pure+"*", true
		}
		rows = append(rows, []string{fmt.Sprint(i + 1), cropped(bagName(f), 26), mass(f.Mass.Mean), massSpan(f.Mass.Low, f.Mass.High), pure, span, goesTo(f.Decision)})
	}
	p.Section("the bags")
	lines := p.table("rlrrrrl", rows, width-gutter)
	p.line(lines[0])
	for i, f := range a.Fractions {
		p.line(lines[i+1])
		p.Under(3, "of "+quoteAll(f.Lots)+": "+because(f))
		switch d := f.Decision; {
		case d.Worth.Keep:
			p.Under(3, unsaid(WorthWords(d.Worth), because(f)))
		case d.Route == reuse.Hold && d.Worth.CO2Kg != nil:
			p.Under(3, "that way: "+unsaid(WorthWords(d.Worth), because(f)))
		}
	}
	if untested {
		p.Under(3, "* of some of it no piece was tested: that rests on the shelf, the weighings and what is usual")
	}
	if whole {
		p.Under(3, "all or none: one material throughout, and so likely the named one; else another altogether")
	}
}

// unsaid leaves out from which mass it pays, where the reason says so already.
func unsaid(worth, because string) string {
	if first, rest, ok := strings.Cut(worth, ", "); ok && strings.HasPrefix(first, "it pays from ") && strings.Contains(because, "it pays from ") {
		return rest
	}
	return worth
}

// allOrNone reports a purity that is a question of what the bag is, not of how much else is in it: its
// mean lies below nine tenths of its own range.
func allOrNone(r sorting.Range) bool { return r.Low >= r.Mean-1e-9 && r.Mean < 0.9995 }

func bagName(f advice.Fraction) string {
	if f.Decision.Marking != "" && !f.Mixed && f.Decision.Route != reuse.SpecialWaste {
		return f.Name + " " + f.Decision.Marking
	}
	return f.Name
}

func goesTo(d reuse.Decision) string {
	if d.Outlet != "" {
		return string(d.Route) + ": " + cropped(d.Outlet, 20)
	}
	return strings.ReplaceAll(string(d.Route), "-", " ")
}

// because is the one reason for a bag's way, and what would open a better one.
func because(f advice.Fraction) string {
	s := "no reason is stated"
	if len(f.Decision.Why) > 0 {
		s = f.Decision.Why[0].Words
	}
	if len(f.Decision.NextBetter) > 0 {
		s += "; " + Clean(f.Decision.NextWay()) + " needs: " + f.Decision.NextBetter[0]
		if f.Decision.Route == reuse.Hold && len(f.Decision.NextBetter) > 1 {
			s += ", then: " + strings.Join(f.Decision.NextBetter[1:], "; ")
		}
	}
	return s
}

func quoteAll(names []string) string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = name(n)
	}
	return list(out)
}

// doNext is the one thing to do, and what it would gain.
func doNext(p *Page, a advice.Answer, f Form) {
	p.Section("do next")
	n := NextThing(a)
	p.Text(n.Do, 0)
	cautions(p, n.Cautions)
	if n.Gain != "" {
		if !a.Next.Done {
			n.Gain += "; how it is done: brinecut next " + word(f.File)
		}
		p.Text(n.Gain, 0)
	}
	if !f.Steps && len(a.Steps) > 0 {
		total := 0.0
		for _, s := range a.Steps {
			total += s.Minutes
		}
		p.Text(fmt.Sprintf("steps at the bench: %d, about %s in all: brinecut sort %s --steps", len(a.Steps), minutes(total), word(f.File)), 0)
	}
}

// steps at the bench, each with its cautions beside it.
func steps(p *Page, list []advice.Step) {
	p.Section("the steps")
	for i, s := range list {
		p.Item(fmt.Sprintf("%d.", i+1), fmt.Sprintf("%s (%s)", s.Do, minutes(s.Minutes)))
		cautions(p, s.Cautions)
	}
}

// never says what must not be heated, and why.
func never(p *Page, a advice.Answer) {
	p.Section("never heat")
	some := false
	for _, l := range a.Lots {
		if l.Heat.May {
			continue
		}
		some = true
		why := "it is not known to be safe"
		if len(l.Heat.WhyNot) > 0 {
			why = l.Heat.WhyNot[0].Words
		}
		p.Item("-", name(l.Name)+": "+why)
	}
	if !some {
		p.Text("nothing here is barred from heat; what any single step needs stands beside it", 0)
	}
}

// where is the table of in, out and lost.
func where(p *Page, b balance.Result, full bool) {
	w := b.Where
	if len(w.Rows) == 0 {
		return
	}
	p.Section("in and out")
	rows := [][]string{{"", "", "as read", "reckoned", "90 % range"}}
	for _, side := range []string{"in", "out", "lost"} {
		for _, r := range w.Rows {
			if r.Side == side {
				row := whereRow(r)
				if r.Estimate != nil && !agree(b) {
					row[4] = "-"
				}
				rows = append(rows, row)
			}
		}
	}
	p.Table("llrrr", rows)
	if !agree(b) {
		p.Text(disagree(b), 0)
	}
	if w.Gap != nil {
		p.Text(fmt.Sprintf("unaccounted for as read: %s, give or take %s", mass(*w.Gap), mass(w.GapSD)), 0)
	}
	if full && w.Waste != nil && agree(b) {
		p.Text(fmt.Sprintf("of what was printed, %s did not become a good part", percentWith(*w.Waste)), 0)
	}
}
