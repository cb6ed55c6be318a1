package binfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// doubt warns of what the file says that cannot be so, where only measurements contradict each other.
func (r *reader) doubt() {
	b := r.bin
	for _, s := range b.Spools {
		if more(s.After, s.Before) {
			r.warn(s.Line, string(s.Material), "the stock is heavier after than before", "weigh it again, or write what was bought as a spool of its own")
		}
	}
	for _, k := range b.Kept {
		if more(k.Hardware, k.Mass) {
			r.warn(k.Line, k.What, "the hardware is heavier than the whole it is in", "weigh the part again without it")
		}
	}
	for _, o := range b.Tests {
		if test, _ := cues.Find(o.Kind); test.Heats && o.Lot != "" && r.originOf(o.Lot) != sorting.OwnPrint {
			r.warn(o.Line, o.Lot, fmt.Sprintf("%s heats a piece that is not known to be an own print", o.Kind),
				"do not do it again: no bench test clears PVC; say where the lot comes from if you know")
		}
		if p := r.piles[o.Lot]; p != nil && p.used != nil && p.used.t.line() < o.Line {
			r.warn(o.Line, o.Lot, fmt.Sprintf("this test was written after the lot was %s on line %d, and counts for the lot as it was before", p.used.did(), p.used.t.line()),
				"name the lot the piece was in by then")
		}
		if o.InLiquid.Given() && !more(o.InAir, o.InLiquid) {
			r.warn(o.Line, o.ID, "the piece weighs no less in the liquid than in air", "weigh it again without bubbles and off the wall")
		}
	}
	r.doubtNames()
	r.doubtBin()
	for _, s := range b.Splits {
		r.doubtSplit(s)
	}
	r.doubtTaken()
	r.doubtCounts()
	slices.SortStableFunc(r.warns, func(a, b sorting.Warning) int { return a.Line - b.Line })
}

// doubtNames warns of two lots that a reader at the bench would take for one: names that differ in
// capitals or blanks alone.
func (r *reader) doubtNames() {
	first := map[string]sorting.Lot{}
	for _, l := range r.bin.Lots {
		alike := strings.ToLower(strings.Join(strings.Fields(l.Name), " "))
		if other, ok := first[alike]; ok {
			r.warns = append(r.warns, sorting.Warning{About: l.Name, Line: l.Line, Cure: "if they are one lot, keep one of the two; else give one a name of its own",
				Says: fmt.Sprintf("it is named like %s on line %d, but for capitals or blanks", quoted(other.Name), other.Line)})
			continue
		}
		first[alike] = l
	}
}

// originOf a lot; what no lot covers comes from where the bin comes from.
func (r *reader) originOf(name string) sorting.Origin {
	if p := r.piles[name]; p != nil {
		return p.lot.Origin
	}
	return r.origin
}

// more reports that a is above b by more than their doubts explain: two standard uncertainties, about
// 95 % (GUM, JCGM 100:2008, 6.3.3).
func more(a, b quantity.Mass) bool {
	return a.Given() && b.Given() && above(sum{}.add(a), sum{}.add(b))
}

// sum of masses with the variance of what was stated about each.
type sum struct {
	value, variance float64
	n               int
}

func (s sum) add(m quantity.Mass) sum {
	return sum{s.value + float64(m.Value), s.variance + float64(m.SD*m.SD), s.n + 1}
}

func above(a, b sum) bool { return a.value-b.value > 2*math.Sqrt(a.variance+b.variance) }

// massOf a lot as it is written, with the step d of its scale as doubt, d/sqrt 12 a reading (GUM
// F.2.2.1); false where it was not weighed.
func (r *reader) massOf(l sorting.Lot) (sum, bool) {
	step := float64(l.Scale.Step.Value)
	for _, s := range r.bin.Scales {
		if s.Name == l.Scale.Name {
			step = float64(s.Step.Value)
		}
	}
	switch {
	case l.Mass.Given():
		s := sum{}.add(l.Mass)
		s.variance += step * step / 12
		return s, true
	case l.Gross.Given():
		s := sum{}.add(l.Gross).add(l.Tare)
		s.value = float64(l.Gross.Value - l.Tare.Value)
		s.variance += 2 * step * step / 12
		return s, true
	}
	return sum{}, false
}

func (r *reader) doubtBin() {
	f := r.bin.Floor
	if f == nil {
		return
	}
	whole, _ := r.massOf(sorting.Lot{Gross: f.Gross, Tare: f.Tare, Scale: f.Scale})
	if above(sum{}.add(f.Hardware).add(f.Opening), whole) {
		r.warn(f.Line, "[bin]", "the hardware and the scrap of earlier builds outweigh the whole bin", "weigh the bin again")
	}
	var lots sum
	for _, l := range r.bin.Lots {
		if m, ok := r.massOf(l); ok {
			lots = sum{lots.value + m.value, lots.variance + m.variance, lots.n + 1}
		}
	}
	if above(lots, whole) {
		r.warn(f.Line, "[bin]", fmt.Sprintf("its lots together weigh %s and the whole bin %s", grams(lots), grams(whole)), "weigh the bin and its lots again, dry")
	}
}

func grams(s sum) string { return quantity.Format(quantity.Gram(s.value)) }

func (r *reader) doubtSplit(s sorting.Split) {
	p := r.piles[s.Lot]
	whole, ok := r.massOf(*p.lot)
	if !ok {
		return
	}
	parts := sum{}.add(s.Loss)
	for _, side := range s.Into {
		if m, ok := r.massOf(side.Lot); ok {
			parts = sum{parts.value + m.value, parts.variance + m.variance, parts.n + 1}
		}
	}
	if above(parts, whole) {
		r.warn(s.Line, s.Lot, fmt.Sprintf("its sides together weigh %s and it weighed %s", grams(parts), grams(whole)), heavierCure(s.Kind))
	}
}

func (r *reader) doubtTaken() {
	taken := map[string]sum{}
	for _, t := range r.bin.Taken {
		taken[t.Lot] = taken[t.Lot].add(t.Mass)
		if p := r.piles[t.Lot]; p.used != nil && p.used.t.line() < t.Line {
			r.warn(t.Line, t.Lot, fmt.Sprintf("this was written after the lot was %s on line %d, and counts for the lot as it was before", p.used.did(), p.used.t.line()),
				"name the lot that it left by then")
		}
		whole, ok := r.massOf(*r.piles[t.Lot].lot)
		if ok && above(taken[t.Lot], whole) {
			r.warn(t.Line, t.Lot, fmt.Sprintf("%s were taken in all and it weighed %s", grams(taken[t.Lot]), grams(whole)), "weigh the lot again")
		}
	}
}

// doubtCounts warns where more pieces were tested at once than the lot is said to hold.
func (r *reader) doubtCounts() {
	for _, o := range r.bin.Tests {
		n := 0
		for _, c := range o.Counts {
			n += c.N
		}
		if p := r.piles[o.Lot]; p != nil && p.lot.Pieces > 0 && n > 2*p.lot.Pieces {
			r.warn(o.Line, o.Lot, fmt.Sprintf("%d pieces were tested of about %d", n, p.lot.Pieces), "count the pieces again")
		}
	}
}

// heavierCure is what to do where the sides of a split weigh more than their lot.
func heavierCure(k sorting.SplitKind) string {
	if k == sorting.ByFloat {
		return "rinse and dry the sides and weigh them again: water, and salt left in the flake, weigh with them"
	}
	return "dry the sides and weigh them again"
}
