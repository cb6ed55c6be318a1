package separation

import (
	"math"

	"brinecut/sorting"
)

// price values what is on one side of a parting, money.
type price struct {
	keys  []string
	ways  []int     // by key: what goes the same way
	right []float64 // money a gram, where it goes its own way
	wrong []float64 // money a gram, lost where it sits in another's bag
	hour  float64
}

func newPrice(keys []string, s sorting.Stakes) price {
	p := price{keys: keys, ways: s.SameWay, hour: s.HourValue}
	for k := range keys {
		p.right = append(p.right, math.Max(s.Right[k], 0)/1000)
		p.wrong = append(p.wrong, math.Max(s.Wrong[k], 0)/1000)
	}
	return p
}

// bag is the best that can be made of masses in hand, at their expected make-up (method.md S4): one bag,
// or a mixture, which brings nothing. The worth is linear in the masses, so that two piles that are
// bagged alike are worth together what they are worth apart: nothing is gained by parting them. way is -1
// for a mixture.
func (p *price) bag(m []float64) (way int, money float64) {
	way = -1
	for w := range m {
		if v := p.as(w, m); v > money {
			way, money = w, v
		}
	}
	return way, money
}

// as is the worth of masses bagged as a way: each gram is worth what it brings, less what it spoils
// where it does not belong.
func (p *price) as(way int, m []float64) float64 {
	v := 0.0
	for k, x := range m {
		v += x * p.right[k]
		if p.ways[k] != way {
			v -= x * p.wrong[k]
		}
	}
	return v
}

// ceiling is more than any tree of partings can make of the masses.
func (p *price) ceiling(m []float64) float64 {
	v := 0.0
	for k, x := range m {
		v += x * p.right[k]
	}
	return v
}

// money of bench minutes.
func (p *price) money(minutes float64) float64 { return minutes / 60 * p.hour }
