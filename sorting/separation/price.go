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
	clean float64
	hour  float64
}

func newPrice(keys []string, s sorting.Stakes, opt PlanOptions) price {
	p := price{keys: keys, ways: s.SameWay, clean: opt.Clean, hour: s.HourValue}
	for k := range keys {
		p.right = append(p.right, math.Max(s.Right[k], 0)/1000)
		p.wrong = append(p.wrong, math.Max(s.Wrong[k], 0)/1000)
	}
	return p
}

// bag is the best that can be made of masses in hand (method.md S4): a bag of one way that is clean
// enough brings the worth of what belongs in it, less what the rest spoils; a mixture brings nothing.
// way is -1 for a mixture.
func (p *price) bag(m []float64) (way int, money float64) {
	ways, total, way := make([]float64, len(m)), 0.0, -1
	for k, x := range m {
		ways[p.ways[k]] += x
		total += x
	}
	for w, x := range ways {
		if x <= 0 || x < p.clean*total {
			continue
		}
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

// linear is the worth without the demand for clean bags; it ranks partings before trees are built.
func (p *price) linear(m []float64) float64 {
	best := 0.0
	for w := range m {
		best = math.Max(best, p.as(w, m))
	}
	return best
}

// money of bench minutes.
func (p *price) money(minutes float64) float64 { return minutes / 60 * p.hour }
