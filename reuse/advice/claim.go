package advice

import (
	"fmt"

	"brinecut/polymers"
	"brinecut/sorting"
	"brinecut/sorting/balance"
	"brinecut/sorting/purity"
	"brinecut/sorting/response"
	"brinecut/sorting/triage"
)

// Ground is what a claim for a bag can lean on beside the count of its pieces.
type Ground struct {
	Trials  purity.Trials // the bin's known snippets, tested as the drawn pieces were
	Right   []float64     // g, of counted pieces that were weighed: those of the material
	Wrong   []float64     // g, those of another
	Seconds []triage.Second
}

// Known is the test's errors as the known snippets show them; nil where they show none that could be
// reckoned with: both kinds have to be tried, and to tell something apart.
func (g *Ground) Known() *purity.Trials {
	if _, err := purity.Claim(purity.Counts{}, purity.Options{Trials: &g.Trials}); err != nil {
		return nil
	}
	return &g.Trials
}

// Grabs are the weighed pieces as ByMass takes them.
func (g *Ground) Grabs() []purity.Grab {
	var out []purity.Grab
	for _, m := range g.Right {
		out = append(out, purity.Grab{Mass: m})
	}
	for _, m := range g.Wrong {
		out = append(out, purity.Grab{Mass: m, Others: m})
	}
	return out
}

// ground of a fraction's claim.
func ground(b *triage.Belief, f sorting.Fraction, menu sorting.Menu) *Ground {
	if f.Material == "" || len(f.Lots) == 0 {
		return nil
	}
	t := b.Trials(f.Lots, f.Material)
	g := &Ground{Trials: purity.Trials{Found: t.Found, Others: t.Others, Passed: t.Passed, Right: t.Right}}
	for _, lot := range f.Lots {
		right, wrong := b.RandomMasses(lot, f.Material)
		g.Right, g.Wrong = append(g.Right, right...), append(g.Wrong, wrong...)
	}
	g.Seconds = b.Seconds(f.Lots[0], f.Material, menu)
	return g
}

// Seconds lists what could be done to a piece that a first test called wrong, for a sack of one material
// that may hold the others, at the bench that is assumed where there is no bin file. Kinds that the
// first test was of are left out. It errs where no test tells the materials apart.
func Seconds(material polymers.Symbol, others []polymers.Symbol, first []Kind) ([]triage.Second, error) {
	lot := sorting.Lot{Name: "sack", CouldBe: append([]polymers.Symbol{material}, others...), Prep: sorting.Cut, Origin: sorting.OwnPrint, OriginGiven: true}
	bin := &sorting.Bin{Lots: []sorting.Lot{lot}, Kit: sorting.Kit{Forbid: first}}
	menu := Menu(bin)
	r, err := balance.Solve(bin, balance.Options{})
	if err != nil {
		return nil, err
	}
	b, err := triage.Judge(bin, r.Budget, triage.Options{Alike: response.Alike(kindsOf(menu))})
	if err != nil {
		return nil, err
	}
	key, ok := b.KeyOf(material)
	if !ok {
		return nil, fmt.Errorf("%s is not told apart from anything by the tests of a bench", material)
	}
	for _, o := range others {
		if k, _ := b.KeyOf(o); k == key {
			return nil, fmt.Errorf("no test of the bench tells %s from %s", material, o)
		}
	}
	return b.Seconds(lot.Name, key, menu), nil
}
