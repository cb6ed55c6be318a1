package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/cmd/brinecut/internal/show"
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
	Route, Class, Plan    string
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
	v.Contents, v.Doubt = show.Contents(a), show.MassDoubt(a)
	for i := range v.Contents {
		v.Contents[i][0] = strings.ReplaceAll(v.Contents[i][0], "/", "/\u200b") // a phone may break it there
	}
	for i, f := range a.Fractions {
		v.Bags = append(v.Bags, bagOf(i+1, f))
		v.Rulings = append(v.Rulings, show.RulingOf(f))
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
		Expected: "of one material: no", Shown: demonstrated(f), Route: show.GoesTo(d), Class: string(d.Route), Plan: reuse.PlanWords(d),
		Lots: quoted(f.Lots), Because: show.Because(f), Worth: worthWords(d), Stop: !d.MayBeHeated, Cautions: d.Cautions}
	if f.Material != "" {
		b.Expected = show.Percent(f.Purity.Mean) + " (" + show.PercentSpan(f.Purity) + ")"
		if f.Tested == 0 {
			b.Expected += ", no piece tested"
		}
	}
	if f.Mixed || b.Stop {
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
	return s + " " + w.Currency + " against throwing it out; " + show.WorthWords(w)
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

// sheet is a hand-over sheet with its footnotes.
type sheet struct {
	paper.Handover
	Rows  []sheetRow
	Bases []named
}

type sheetRow struct {
	Name, Value, Hint, Basis string
	Blank                    bool
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
			s.Rows = append(s.Rows, sheetRow{f.Name, f.Value, f.Hint, s.Bases[at].Name, f.Value == reuse.NotRecorded})
		}
		out = append(out, s)
	}
	return out
}
