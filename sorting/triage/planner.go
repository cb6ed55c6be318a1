package triage

import (
	"math"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// planner holds what all proposals share.
type planner struct {
	b       *Belief
	menu    sorting.Menu
	stakes  sorting.Stakes
	opt     NextOptions
	hour    float64
	cost    [][]float64 // [action key][candidate] money per kg
	mean    [][]float64 // by lot, by candidate
	grounds []*ground   // by lot
	looked  [][]look    // by lot: what could be tested on a fresh piece, what nets most first
	cuts    []quantity.GramPerCm3
	lastT   quantity.Celsius
	fresh   map[string]int // by lot: the next piece number
}

func newPlanner(b *Belief, menu sorting.Menu, stakes sorting.Stakes, opt NextOptions) *planner {
	n := &planner{b: b, menu: menu, stakes: stakes, opt: opt, hour: stakes.HourValue}
	for l, p := range b.piles {
		n.mean = append(n.mean, p.mean(b.joint[l]))
	}
	n.costs()
	for l := range b.piles {
		n.grounds = append(n.grounds, n.ground(l))
	}
	n.looked = make([][]look, len(b.piles))
	n.cuts = n.densities()
	n.lastT = lastTemperature(b.bin)
	n.fresh = freshPieces(b.bin)
	return n
}

// costs of a kilogram of candidate c in a bag of key a: nothing in its own bag or in one that goes the
// same way, else what it would have brought and what it spoils. The last action is to bag the lot as a
// mixture, which loses what every kilogram would have brought.
func (n *planner) costs() {
	K := len(n.b.Keys)
	n.cost = make([][]float64, K+1)
	for a := range n.cost {
		n.cost[a] = make([]float64, len(n.b.Candidates))
		for c, k := range n.b.keyOf {
			switch {
			case a == K:
				n.cost[a][c] = n.stakes.Right[k]
			case a == k || n.stakes.SameWay[a] == n.stakes.SameWay[k]:
			case n.stakes.Right[a] > 0:
				n.cost[a][c] = n.stakes.Wrong[k]
			default:
				n.cost[a][c] = n.stakes.Right[k] // nothing to spoil in a worthless bag
			}
		}
	}
}

// main is the key with the largest expected share, from the shares of the given candidates.
func (n *planner) main(cands []int, mean []float64) (string, float64) {
	K := make([]float64, len(n.b.Keys))
	for k, x := range mean {
		K[n.b.keyOf[cands[k]]] += x
	}
	k := best(K)
	return n.b.Keys[k], K[k]
}

// freshPieces gives, by lot name, a piece number that no test of the lot has used.
func freshPieces(bin *sorting.Bin) map[string]int {
	next := map[string]int{}
	for i := range bin.Tests {
		o := &bin.Tests[i]
		next[o.Lot] = max(next[o.Lot], o.Piece+1)
	}
	return next
}

// lastTemperature is that of the last hot-water test: the water may still stand there.
func lastTemperature(bin *sorting.Bin) quantity.Celsius {
	for i := len(bin.Tests) - 1; i >= 0; i-- {
		if bin.Tests[i].Kind == cues.HotWater {
			return bin.Tests[i].Temp.Value
		}
	}
	return math.MaxFloat32
}

// maxCuts is how many densities of a float test are tried.
const maxCuts = 7

// densities are the cuts worth trying: baths that exist, plain water, and the middles between the
// materials that matter in this bin, most weight first.
func (n *planner) densities() []quantity.GramPerCm3 {
	cuts := []quantity.GramPerCm3{water}
	for _, d := range n.b.model.Baths() {
		cuts = addCut(cuts, d)
	}
	limit := len(cuts) + maxCuts
	for _, p := range n.pairs() {
		if len(cuts) < limit {
			cuts = addCut(cuts, p.cut)
		}
	}
	return cuts
}

func addCut(cuts []quantity.GramPerCm3, d float64) []quantity.GramPerCm3 {
	d = math.Round(d*200) / 200
	for _, c := range cuts {
		if math.Abs(float64(c)-d) < 0.0045 {
			return cuts
		}
	}
	return append(cuts, quantity.GramPerCm3(d))
}
