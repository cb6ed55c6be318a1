package show

import (
	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

type answer struct {
	Title       string       `json:"title"`
	Verdict     *string      `json:"verdict"`
	Composition object       `json:"composition"`
	Lots        []lot        `json:"lots"`
	Steps       []benchStep  `json:"steps"`
	Fractions   []fraction   `json:"fractions"`
	Next        next         `json:"next"`
	Partings    []plan       `json:"partings"`
	Residues    []residue    `json:"residues"`
	Prevention  []string     `json:"prevention"`
	Warnings    []warning    `json:"warnings"`
	Assumptions []assumption `json:"assumptions"`
}

type lot struct {
	Name         string      `json:"name"`
	MassG        number      `json:"mass_g"`
	Mass         grams       `json:"mass"`
	Materials    object      `json:"materials"`
	NotToldApart [][]string  `json:"not_told_apart"`
	MayBeHeated  bool        `json:"may_be_heated"`
	WhyNot       []string    `json:"why_not"`
	Settled      bool        `json:"settled"`
	Tested       int         `json:"pieces_tested"`
	Trace        []traceStep `json:"trace"`
}

// benchStep is a step with the lot it is done to; null where it is of the whole bin.
type benchStep struct {
	N        int      `json:"n"`
	Do       string   `json:"do"`
	Lot      *string  `json:"lot"`
	Minutes  number   `json:"minutes"`
	Cautions []string `json:"cautions"`
}

type fraction struct {
	Name         string   `json:"name"`
	Material     string   `json:"material"`
	Lots         []string `json:"lots"`
	Mass         grams    `json:"mass"`
	Purity       estimate `json:"purity"`
	Demonstrated *number  `json:"demonstrated"`
	Marking      *string  `json:"marking"`
	MayBeHeated  bool     `json:"may_be_heated"`
	WhyNot       []string `json:"why_not"`
	Route        string   `json:"route"`
	Outlet       *string  `json:"outlet"`
	Why          []string `json:"why"`
	Reasons      []reason `json:"reasons"`
	Rules        []rule   `json:"rules"`
	NextRoute    *string  `json:"next_route"`
	NextBetter   []string `json:"next_better"`
	Cautions     []string `json:"cautions"`
	Worth        worth    `json:"worth"`
}

type worth struct {
	Keep      bool      `json:"keep"`
	Value     estimate  `json:"value"`
	Currency  string    `json:"currency"`
	BreakEven *number   `json:"break_even_g"`
	Hours     *number   `json:"hours_per_kg"`
	Energy    estimate  `json:"energy_kwh"`
	CO2       *estimate `json:"co2_kg"`
}

type residue struct {
	What     string   `json:"what"`
	Route    string   `json:"route"`
	Cautions []string `json:"cautions"`
	Source   string   `json:"source"`
}

// AnswerJSON is the wire form of the whole job.
func AnswerJSON(a advice.Answer) any {
	out := answer{Title: a.Bin.Title, Verdict: text(Verdict(a)), Composition: object{}, Lots: []lot{}, Steps: []benchStep{}, Fractions: []fraction{}, Next: nextOf(a), Partings: []plan{}, Residues: []residue{},
		Prevention: nonNil(a.Prevention), Warnings: warningsOf(a.Warnings), Assumptions: assumptionsOf(a.Assumptions)}
	for k, r := range a.Totals() {
		out.Composition = append(out.Composition, member{a.Composition.Keys[k], gramsOf(r)})
	}
	for _, l := range a.Lots {
		out.Lots = append(out.Lots, lotOf(a, l))
	}
	for i, s := range a.Steps {
		out.Steps = append(out.Steps, benchStep{N: i + 1, Do: s.Do, Lot: text(s.Lot), Minutes: number(s.Minutes), Cautions: nonNil(s.Cautions)})
	}
	for _, f := range a.Fractions {
		out.Fractions = append(out.Fractions, fractionOf(f))
	}
	for _, p := range a.Partings {
		out.Partings = append(out.Partings, planOf(p))
	}
	for _, r := range a.Residues {
		out.Residues = append(out.Residues, residue{r.What, r.Route, nonNil(r.Cautions), r.Source})
	}
	return out
}

func lotOf(a advice.Answer, l advice.Lot) lot {
	out := lot{Name: l.Name, MassG: number(l.Mass.Mean), Mass: gramsOf(l.Mass), Materials: object{}, NotToldApart: [][]string{},
		MayBeHeated: l.Heat.May, WhyNot: reasons(l.Heat.WhyNot), Settled: l.Sure, Tested: l.Tested, Trace: traceOf(a.Composition.Trace, l.Name)}
	for k, x := range shares(l.Shares) {
		out.Materials = append(out.Materials, member{a.Composition.Keys[k], x})
	}
	out.NotToldApart = append(out.NotToldApart, a.Composition.NotTold...)
	return out
}

func fractionOf(f advice.Fraction) fraction {
	d := f.Decision
	out := fraction{Name: f.Name, Material: f.Material, Lots: nonNil(f.Lots), Mass: gramsOf(f.Mass), Purity: estimateOf(f.Purity), Marking: text(d.Marking),
		MayBeHeated: d.MayBeHeated, WhyNot: nonNil(d.WhyNot), Route: string(d.Route), Outlet: text(d.Outlet), Why: reasons(d.Why),
		Reasons: []reason{}, Rules: rulesOf(d.Rules), NextRoute: text(string(d.NextRoute)), NextBetter: nonNil(d.NextBetter), Cautions: nonNil(d.Cautions), Worth: worthOf(d.Worth)}
	for _, r := range d.Why {
		out.Reasons = append(out.Reasons, reason{r.Words, r.Source})
	}
	if out.Material == "" {
		out.Material = "mixed"
	}
	if f.Demonstrated != nil {
		out.Demonstrated = some(&f.Demonstrated.AtLeast)
	}
	return out
}

// text is null for none.
func text(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func reasons(list []reuse.Reason) []string {
	out := []string{}
	for _, r := range list {
		out = append(out, r.Words)
	}
	return out
}

func warningsOf(list []sorting.Warning) []warning {
	out := []warning{}
	for _, w := range list {
		out = append(out, warning{w.About, w.Line, w.Says, w.Cure})
	}
	return out
}

func assumptionsOf(list []sorting.Assumption) []assumption {
	out := []assumption{}
	for _, x := range list {
		out = append(out, assumption{x.Says, x.Key, x.Source})
	}
	return out
}
