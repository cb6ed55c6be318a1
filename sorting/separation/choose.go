package separation

import (
	"slices"

	"brinecut/sorting"
)

// trial is how many scenarios are passed over while settings are compared: judgement.
const trial = 4

// worthwhile is the least money that tips a choice: below it the plan with less work stands: judgement.
const worthwhile = 1e-6

// choose keeps up to n tests of one kind, one after another the one that adds most to the worth of the
// lot cut up by all that were chosen before, less its set-up (what adds anything is never left out for that). The
// sides of tests of one kind are nested, since all are answered from one property of a piece; the list
// comes in its order.
func (d *deck) choose(list []test, prep sorting.Prep, p price, n int) []test {
	tables := make([][]float64, len(list)) // by test: share of each key on the first side
	for i := range list {
		tables[i] = d.share(d.table(&list[i], prep, trial), trial)
		for k, q := range tables[i] {
			tables[i][k] = list[i].wrong + (1-2*list[i].wrong)*q
		}
	}
	var chosen []int
	worth := d.cutUp(tables, nil, p)
	for len(chosen) < n {
		best, most := -1, 0.0
		for i := range list {
			if slices.Contains(chosen, i) {
				continue
			}
			with := append(slices.Clone(chosen), i)
			slices.Sort(with)
			gain := d.cutUp(tables, with, p) - worth
			if net := gain - p.money(list[i].setUp); gain > worthwhile && (best < 0 || net > most+worthwhile) {
				best, most = i, net
			}
		}
		if best < 0 {
			break
		}
		worth += most + p.money(list[best].setUp)
		chosen = append(chosen, best)
		slices.Sort(chosen)
	}
	out := make([]test, len(chosen))
	for i, c := range chosen {
		out[i] = list[c]
		out[i].low = d.byProduct(d.table(&out[i], prep, 1))
	}
	return out
}

// cutUp is the worth of the lot cut at the chosen tests at once.
func (d *deck) cutUp(tables [][]float64, chosen []int, p price) float64 {
	below := make([]float64, len(d.mean))
	v := 0.0
	for c := 0; c <= len(chosen); c++ {
		cell := make([]float64, len(d.mean))
		for k, m := range d.mean {
			upto := 1.0
			if c < len(chosen) {
				upto = max(below[k], tables[chosen[c]][k])
			}
			cell[k] = m * (upto - below[k])
			below[k] = upto
		}
		_, x := p.bag(cell)
		v += x
	}
	return v
}
