package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/cmd/brinecut/internal/chart"
	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

// named is a line with what it is about in front.
type named struct {
	Name, Says string
}

type bag struct {
	N                     int
	Name, Marking         string
	Mass, Expected, Shown string
	Route, Class          string
	Lots, Because         string
	Worth                 string
	Stop                  bool
	Cautions              []string
}

type step struct {
	Do, Time string
	Cautions []string
}

type traced struct {
	Lot  string
	Rows [][4]string // what, mostly, share, bits
}

type residue struct {
	What, Route, Source string
	Cautions            []string
}

type note struct {
	Says, Cure, At string
}

// answer fills in what is said first.
func (v *report) answer(a advice.Answer) {
	if v.Empty {
		return
	}
	v.Verdict, v.Next, v.Why = show.Verdict(a), show.NextThing(a), show.WhyNext(a)
	v.Contents = show.Contents(a)
	for i, f := range a.Fractions {
		v.Bags = append(v.Bags, bagOf(i+1, f))
	}
	for _, l := range a.Lots {
		if l.Heat.May {
			continue
		}
		why := "it is not known to be safe"
		if len(l.Heat.WhyNot) > 0 {
			why = l.Heat.WhyNot[0].Words
		}
		v.Never = append(v.Never, named{l.Name, why})
	}
}

func bagOf(n int, f advice.Fraction) bag {
	d := f.Decision
	b := bag{N: n, Name: f.Name, Marking: d.Marking, Mass: show.Mass(f.Mass.Mean) + " (" + show.MassSpan(f.Mass.Low, f.Mass.High) + ")",
		Expected: "of one material: no", Shown: demonstrated(f), Route: show.GoesTo(d), Class: string(d.Route),
		Lots: quoted(f.Lots), Because: show.Because(f), Worth: worthWords(d), Stop: !d.MayBeHeated, Cautions: d.Cautions}
	if f.Material != "" {
		b.Expected = show.Percent(f.Purity.Mean) + " (" + show.PercentSpan(f.Purity) + ")"
		if f.Tested == 0 {
			b.Expected += ", no piece tested"
		}
	}
	if f.Mixed {
		b.Marking = ""
	}
	return b
}

func demonstrated(f advice.Fraction) string {
	if f.Demonstrated == nil {
		return "nothing"
	}
	return fmt.Sprintf("at least %s (%d random pieces, %d wrong, %s confidence)", claim(f.Demonstrated.AtLeast), f.Demonstrated.Tested, f.Demonstrated.Wrong,
		show.Percent(f.Demonstrated.Confidence))
}

// claim is a demonstrated purity, rounded down to a tenth of a percent: it is never rounded up.
func claim(x float64) string {
	return quantity.Format(quantity.Share(math.Floor(x*1000+1e-6) / 1000))
}

func worthWords(d reuse.Decision) string {
	w := d.Worth
	s := show.Money(w.Value.Mean, "")
	if w.Value.Low != w.Value.High {
		s += " (" + show.Money(w.Value.Low, "") + " to " + show.Money(w.Value.High, "") + ")"
	}
	return s + " " + w.Currency + " against throwing it out"
}

func quoted(names []string) string {
	var out []string
	for _, n := range names {
		out = append(out, `"`+n+`"`)
	}
	return show.Words(out)
}

// work fills in what is done at the bench, how lots were found out, and what comes after.
func (v *report) work(a advice.Answer) {
	for _, s := range a.Steps {
		v.Steps = append(v.Steps, step{s.Do, show.Minutes(s.Minutes), s.Cautions})
	}
	for _, t := range a.Composition.Trace {
		v.Trace = append(v.Trace, tracedOf(t))
	}
	v.Prevention = a.Prevention
	for _, r := range a.Residues {
		v.Residues = append(v.Residues, residue{r.What, strings.ReplaceAll(r.Route, "-", " "), r.Source, r.Cautions})
	}
}

func tracedOf(t sorting.Trace) traced {
	out := traced{Lot: t.Lot}
	for i, s := range t.Steps {
		bits := "–"
		if i > 0 && i < len(t.Steps)-1 {
			bits = fmt.Sprintf("%.1f", s.Bits)
		}
		out.Rows = append(out.Rows, [4]string{s.What, show.Material(s.Main), show.Percent(s.Share), bits})
	}
	return out
}

func notes(a advice.Answer) []note {
	var out []note
	for _, w := range a.Warnings {
		n := note{Says: w.Says, Cure: w.Cure}
		if w.Line > 0 {
			n.At = fmt.Sprintf("line %d of the file", w.Line)
		}
		out = append(out, n)
	}
	return out
}

// sources lists where the figures of the materials and tests of this bin come from.
func sources(a advice.Answer) []named {
	var out []named
	add := func(what, source string) {
		n := named{what, source}
		if source != "" && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	for _, sym := range present(a) {
		m, ok := polymers.Find(sym)
		if !ok {
			continue
		}
		add(string(sym)+", density", cited(m.Density))
		if m.Softens != nil {
			add(string(sym)+", softening in water", cited(*m.Softens))
		}
	}
	for _, k := range cues.Kinds() {
		if used(a, k) {
			t, _ := cues.Find(k)
			for _, id := range strings.Fields(t.Source) {
				if text, ok := cues.Source(id); ok {
					add("test "+string(k), text)
				}
			}
		}
	}
	for _, f := range a.Fractions {
		for _, r := range f.Decision.Why {
			add("bag "+f.Name, r.Source)
		}
	}
	return out
}

// cited is a value's source as the bibliography has it, or the kind of evidence where it has none.
func cited(v polymers.Value) string {
	s, ok := polymers.SourceOf(v.Source)
	if !ok || s.Read == "none" {
		return string(v.Evidence)
	}
	return strings.Trim(strings.Join([]string{s.Author, s.Title, s.Year}, ", "), ", ")
}

func used(a advice.Answer, k cues.Kind) bool {
	if slices.ContainsFunc(a.Bin.Tests, func(o sorting.Observation) bool { return o.Kind == k }) {
		return true
	}
	return a.Chart != nil && slices.ContainsFunc(a.Chart.Lines, func(l chartOf) bool { return l.Kind == k })
}

// leastShown is the expected share of the bin from which a material is drawn.
const leastShown = 0.005

// order of the keys by mass, most first; those too small to draw left out.
func order(a advice.Answer) []int {
	totals, all := a.Totals(), a.TotalOf()
	var out []int
	for k := range totals {
		if totals[k].Mean >= leastShown*all.Mean && totals[k].Mean > 0 {
			out = append(out, k)
		}
	}
	slices.SortStableFunc(out, func(i, j int) int {
		switch {
		case totals[i].Mean > totals[j].Mean:
			return -1
		case totals[i].Mean < totals[j].Mean:
			return 1
		}
		return 0
	})
	return out
}

// present lists the materials of the keys that are drawn, members of groups one by one.
func present(a advice.Answer) []polymers.Symbol {
	var out []polymers.Symbol
	for _, k := range order(a) {
		for _, s := range members(a.Composition.Keys[k]) {
			if s != polymers.Other {
				out = append(out, s)
			}
		}
	}
	return out
}

// members of a key: itself, or those of a group such as "ABS/ASA".
func members(key string) []polymers.Symbol {
	if _, ok := polymers.Find(polymers.Symbol(key)); ok {
		return []polymers.Symbol{polymers.Symbol(key)}
	}
	var out []polymers.Symbol
	for _, s := range strings.Split(key, "/") {
		out = append(out, polymers.Symbol(s))
	}
	return out
}

func marksOf(a advice.Answer) marks {
	m, n := marks{string(polymers.Other): chart.Rest()}, 0
	mark := func(k int) {
		if key := a.Composition.Keys[k]; key != string(polymers.Other) {
			if _, ok := m[key]; !ok {
				m[key] = chart.MarkOf(n)
				n++
			}
		}
	}
	for _, k := range order(a) {
		mark(k)
	}
	for k := range a.Composition.Keys {
		mark(k)
	}
	return m
}

// sheet is a hand-over sheet with its footnotes.
type sheet struct {
	paper.Handover
	Rows  []sheetRow
	Bases []named
}

type sheetRow struct {
	Name, Value, Basis string
	Blank              bool
}

func sheets(list []paper.Handover) []sheet {
	var out []sheet
	for _, h := range list {
		s := sheet{Handover: h}
		for _, f := range h.Fields {
			basis := f.Need + ": " + f.Basis
			at := slices.IndexFunc(s.Bases, func(n named) bool { return n.Says == basis })
			if at < 0 {
				at = len(s.Bases)
				s.Bases = append(s.Bases, named{string(rune('a' + at%26)), basis})
			}
			s.Rows = append(s.Rows, sheetRow{f.Name, f.Value, s.Bases[at].Name, f.Value == "not recorded"})
		}
		out = append(out, s)
	}
	return out
}
