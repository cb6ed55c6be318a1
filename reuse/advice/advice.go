// Package advice does the whole job: one bin in, the answer out. Every command and page goes through
// it; it holds no mathematics of its own.
package advice

import (
	"brinecut/reuse"
	"brinecut/sorting"
	"brinecut/sorting/balance"
	"brinecut/sorting/response"
	"brinecut/sorting/separation"
	"brinecut/sorting/triage"
)

// Options of Sort; the zero value is the documented default.
type Options struct {
	Skip    []Kind // test kinds not to be proposed now
	OneStep bool   // choose the next test by looking one ahead only (for comparisons)
	Trace   bool   // fill Composition.Trace: which test moved each lot how far
	Chart   bool   // fill Chart
	Claims  bool   // fill Fraction.Ground
	Cut     *Cut   // fill Answer.Preview
	Balance balance.Options
	Triage  triage.Options
	Reuse   reuse.Options
}

// Answer is everything that Sort finds out.
type Answer struct {
	Bin         *sorting.Bin
	Balance     balance.Result
	Composition sorting.Composition
	Lots        []Lot
	Next        triage.Advice
	Chart       *BenchChart          // nil unless asked for
	Partings    []separation.LotPlan // of the lots that stay mixed
	Preview     *separation.Preview  // nil unless asked for
	Steps       []Step
	Fractions   []Fraction
	Residues    []reuse.Residue
	Prevention  []string
	Warnings    []sorting.Warning
	Assumptions []sorting.Assumption
}

// Lot is what is found of one lot.
type Lot struct {
	Name   string
	Lot    sorting.Lot
	Mass   sorting.Range // g
	Shares []float64     // expected mass shares by Composition.Keys; they sum to one
	Ranges []sorting.Range
	Heat   reuse.Heat
	Tested int
	Sure   bool // no allowed test is worth its minutes
}

// Fraction is a bag to be, with its route.
type Fraction struct {
	sorting.Fraction
	Mass     sorting.Range // g
	Purity   sorting.Range // share of the main material
	Drawn    int           // pieces of its lots drawn at random, told apart or not
	Ground   *Ground       // what a claim can lean on; nil unless asked for, and for a mixture
	Decision reuse.Decision
}

// Sort does the main job. The error is for a file that cannot be reckoned with at all.
func Sort(bin *sorting.Bin, opt Options) (Answer, error) {
	a := Answer{Bin: bin}
	var err error
	if a.Balance, err = balance.Solve(bin, opt.Balance); err != nil {
		return a, err
	}
	budget := a.Balance.Budget
	menu := Menu(bin)
	opt.Triage.Alike = response.Alike(kindsOf(menu))
	belief, err := triage.Judge(bin, budget, opt.Triage)
	if err != nil {
		return a, err
	}
	a.Composition = belief.Composition
	a.Lots = lotsOf(belief, budget)
	menu.Forbidden, menu.Whole = forbidden(a.Lots), whole(a.Lots)
	situation := Situation(bin)
	stakes := reuse.StakesOf(belief.Keys, situation)
	a.Next = triage.Next(belief, menu, stakes, triage.NextOptions{Skip: opt.Skip, OneStep: opt.OneStep})
	a.Composition.Settled = a.Next.Settled
	for l := range a.Lots {
		a.Lots[l].Sure = a.Next.Settled[l]
	}
	if opt.Trace {
		a.Composition.Trace = belief.Trace()
	}
	if opt.Chart {
		a.Chart = chart(&a, belief, menu, stakes)
	}
	a.Partings = partings(&a, belief, menu, stakes)
	openPlans(&a)
	if opt.Cut != nil {
		a.Preview = preview(&a, belief, *opt.Cut)
	}
	bags := separation.Gather(&a.Composition, gathered(bin, belief, a.Lots), separation.Options{})
	if err := a.route(bags, belief, situation, opt.Reuse); err != nil {
		return a, err
	}
	for i := range a.Fractions {
		if opt.Claims {
			a.Fractions[i].Ground = ground(belief, a.Fractions[i].Fraction, menu)
		}
	}
	a.Balance = balance.Smooth(a.Balance, a.Composition)
	a.finish(belief, situation)
	return a, nil
}

// route takes the decision for every fraction.
func (a *Answer) route(bags []sorting.Fraction, belief *triage.Belief, s reuse.Situation, opt reuse.Options) error {
	apart := 0
	for _, f := range bags {
		f.Demonstrated = demonstrated(a.Bin, belief, f)
		d, err := reuse.Choose(f, s, opt)
		if err != nil {
			return err
		}
		if d.Route == reuse.SpecialWaste {
			apart++
			f.Name = numbered("set apart", apart) // never named by what it might be good for
		}
		a.Fractions = append(a.Fractions, Fraction{Fraction: f, Mass: massRange(f), Purity: purityRange(f), Decision: d, Drawn: drawn(belief, f)})
	}
	return nil
}

// finish gathers what every stage warned of and assumed, each once.
func (a *Answer) finish(belief *triage.Belief, s reuse.Situation) {
	a.Warnings = append(a.Warnings, originWarning(a.Bin, a.Lots)...)
	a.Warnings = append(a.Warnings, a.Balance.Warnings...)
	a.Warnings = append(a.Warnings, belief.Warnings...)
	a.Warnings = append(a.Warnings, belief.Carried(a.Next.Settled)...)
	a.Warnings = append(a.Warnings, splitRemarks(a.Bin, belief)...)
	a.Assumptions = append(a.Assumptions, a.Balance.Assumptions...)
	a.Assumptions = append(a.Assumptions, belief.Assumptions...)
	a.Assumptions = append(a.Assumptions, kitAssumption(a.Bin)...)
	if a.Chart != nil {
		a.Assumptions = append(a.Assumptions, a.Chart.Assumptions...)
	}
	if len(a.Partings) > 0 {
		a.Assumptions = append(a.Assumptions, separation.PlanAssumptions(a.Partings, separation.PlanOptions{})...)
	}
	for _, f := range a.Fractions {
		a.Warnings = append(a.Warnings, f.Decision.Warnings...)
		a.Assumptions = append(a.Assumptions, f.Decision.Assumptions...)
	}
	a.Steps = steps(a)
	a.Residues = residues(a, s)
	b := build(a)
	a.Prevention = reuse.Prevent(b)
	if says := reuse.WasteShare(b); says != "" {
		a.Warnings = append(a.Warnings, sorting.Warning{About: "bin", Says: says, Cure: "brinecut balance shows each weighing and counter"})
	}
	a.Warnings, a.Assumptions = onceW(a.Warnings), onceA(a.Assumptions)
}
