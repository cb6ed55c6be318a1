package reuse

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mathext"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// outletConditions are what an outlet asks, in order. Its own figures stand in the file; that it takes one
// material a bag, dry, is common practice, no source.
var outletConditions = []struct {
	asks, source string
	lacking      func(v *view, o sorting.Outlet) []lack
}{
	{"one named material that the outlet takes", inFile, (*view).lackAccepts},
	{"next to no possible hard stop (upper bound at 95 %)", "method.md (R1)", func(v *view, _ sorting.Outlet) []lack { return v.lackClean() }},
	{"nothing that the outlet refuses", inFile, (*view).lackRefused},
	{"dry", practice, func(v *view, _ sorting.Outlet) []lack { return lackDry(v, Recycler) }},
	{"purity demonstrated by random draws at 95 %, where the outlet asks for one", inFile + "; Clopper and Pearson 1934", (*view).lackPurity},
	{"enough of it", inFile, (*view).lackMass},
}

const inFile = "[[outlet]] in the file"

func (v *view) lackRefused(o sorting.Outlet) []lack {
	if r := v.refused(o); r != "" {
		return []lack{{by: o.Name + " refuses " + r}}
	}
	return nil
}

func (v *view) lackMass(o sorting.Outlet) []lack {
	short := float64(o.Minimum.Value) - v.mean
	if !o.Minimum.Given() || short <= 0 {
		return nil
	}
	return []lack{{by: fmt.Sprintf("%s short of the %s that %s takes", grams(short), quantity.Format(o.Minimum.Value), o.Name),
		cure: grams(short) + " more", short: short}}
}

// lackClean closes the recycler to what may hold a hard stop: 0.1 % PVC already harms PET, and no bench
// test clears it.
func (v *view) lackClean() []lack {
	if !v.f.OriginGiven {
		return []lack{{by: "where it comes from is not said", cure: v.originCure()}}
	}
	var out []lack
	for _, r := range sharesBar(v.in.Possible) {
		out = append(out, lack{by: r.Words})
	}
	return out
}

// lackAccepts asks that every material it may be is on the outlet's list, one material a bag.
func (v *view) lackAccepts(o sorting.Outlet) []lack {
	if !v.known() {
		return lackName(v, Recycler)
	}
	for _, m := range v.mats {
		if !slices.Contains(o.Accepts, m.Symbol) && (m.Filler != "" || !slices.Contains(o.Accepts, m.Base)) {
			return []lack{{by: fmt.Sprintf("%s does not take %s", o.Name, m.Symbol)}}
		}
	}
	return nil
}

// confidence, one-sided, of a demonstration that an outlet's purity is held against; a hair below 95 %
// so that a rounded 0.95 passes (95 %: common practice).
const confidence = 0.95 - 1e-9

// lackPurity holds the purity an outlet asks against what random draws demonstrate, and nothing else.
func (v *view) lackPurity(o sorting.Outlet) []lack {
	if !v.known() {
		return nil // it has no name yet, which closes the way: there is nothing to be pure of
	}
	q := float64(o.Purity.Or(0))
	if q <= 0 {
		return lackSettled(v, Recycler)
	}
	have, n, wrong := 0.0, 0, 0
	d := v.f.Demonstrated
	if d != nil && d.Confidence >= confidence {
		have = d.AtLeast
	}
	if d != nil {
		n, wrong = d.Tested, d.Wrong
	}
	if have >= q {
		return nil
	}
	l := lack{test: true, by: fmt.Sprintf("random draws demonstrate %s, %s asks %s", shown(have), o.Name, quantity.Format(o.Purity.Value))}
	if have == 0 {
		l.by = fmt.Sprintf("nothing is demonstrated by random draws at 95 %%, %s asks %s", o.Name, quantity.Format(o.Purity.Value))
	}
	if k := moreClean(n, wrong, q); k > 0 {
		l.cure = fmt.Sprintf("%d more clean random pieces", k)
		if v.main >= 0 && v.sh.mean[v.main] < q {
			l.cure = "sort it further, then " + l.cure // as it lies, so many clean ones are not to be expected
		}
	}
	return []lack{l}
}

// moreClean is how many further pieces drawn at random, all right, lift the one-sided 95 % lower limit
// of Clopper and Pearson (Biometrika 26 (1934) 404) to q; 0 where 5000 would not.
func moreClean(n, wrong int, q float64) int {
	if !(q > 0 && q < 1) || n < wrong || wrong < 0 {
		return 0
	}
	lower := func(k int) float64 {
		right := float64(n + k - wrong)
		if right <= 0 {
			return 0
		}
		return mathext.InvRegIncBeta(right, float64(wrong)+1, 0.05)
	}
	low, high := 0, 5000
	if lower(high) < q {
		return 0
	}
	for high-low > 1 {
		if mid := (low + high) / 2; lower(mid) < q {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// noOutlet stands for an outlet the file does not name.
func (v *view) noOutlet() way {
	w := way{route: Recycler, sought: true, costs: costs{currency: v.s.Currency}, worth: Worth{Currency: currencyOf(v.s.Currency)}}
	w.ask("one named material", practice, lackName(v, Recycler))
	w.ask("next to no possible hard stop (upper bound at 95 %)", "method.md (R1)", v.lackClean())
	w.ask("dry", practice, lackDry(v, Recycler))
	w.ask("tests done", "rule of this tool", lackSettled(v, Recycler))
	var neat []lack
	if len(lackNeat(v, Recycler)) > 0 {
		neat = []lack{{by: "filled: outlets take none as a rule"}}
	}
	w.ask("no fibre or filler", practice, neat)
	w.ask("an outlet", inFile, []lack{{by: "no [[outlet]] in the file takes it", cure: fmt.Sprintf("an [[outlet]] that takes %s in a bag of its own", orMixture(v.f.Material))}})
	return w
}

func orMixture(material string) string {
	if material == "" {
		return "it"
	}
	return strings.ReplaceAll(material, "/", " or ")
}
