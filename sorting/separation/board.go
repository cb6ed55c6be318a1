package separation

import (
	"slices"

	"brinecut/polymers/cues"
	"brinecut/sorting"
)

// board is the search for the best tree of partings of one lot.
//
// What a pile holds depends on which tests it went through and on which side it came out, not on their
// order. So each state is the outcome of every test, or that it was not made: a number in base 3, and
// the best tree below each state is found once (method.md S6).
type board struct {
	deck   *deck
	prep   sorting.Prep
	tests  []test
	axes   []axis
	price  price
	set    int     // which tests may be made, in this search: bit t for test t
	memo   []*node // by state, in this search
	leaves []*node // by state, as far as they were reckoned
	root   *node
	value  float64 // money, less all bench time
}

// node is the best that can be done with the pile of one state.
type node struct {
	state   int
	mass    []float64 // g by key, expected
	value   float64   // money, less the bench time from here on
	way     int       // as which it is bagged if it is not parted; -1 for a mixture
	bag     float64   // money it is worth so
	ceiling float64   // money no tree below it reaches
	test    int       // -1: bagged
	kids    [2]*node
}

func newBoard(d *deck, prep sorting.Prep, tests []test, p price) *board {
	b := &board{deck: d, prep: prep, tests: tests, price: p}
	for i := 0; i < len(tests); {
		n := 1
		for i+n < len(tests) && nested(tests[i], tests[i+n]) {
			n++
		}
		b.axes = append(b.axes, newAxis(tests, i, n, d.pastOf(tests[i].kind)))
		i += n
	}
	return b
}

// nested reports whether two tests ask the same property of a piece.
func nested(a, b test) bool {
	return a.kind == b.kind && (a.kind == cues.Float || a.kind == cues.HotWater)
}

// solve finds the best tree. What is done once whatever is parted, and each bath that is mixed once for
// all its cuts, depends only on which tests are made at all: so the best tree is sought for every set of
// tests with these costs taken off at the end (method.md (S6)). A set that uses less than it may is no
// better than the smaller set it uses.
func (b *board) solve() {
	b.root = b.leaf(0)
	b.value = b.root.bag
	b.memo = make([]*node, power3(len(b.tests)))
	pick := len(b.tests) > 0 && b.tests[0].kind == ""
	for set := range 1 << len(b.tests) {
		if pick && set&1 == 0 {
			continue // soluble support comes out before anything gets wet, or nothing is parted
		}
		cost := b.price.money(b.once(set))
		if b.price.ceiling(b.root.mass)-cost <= b.value+worthwhile {
			continue
		}
		b.set = set
		clear(b.memo)
		root := b.search(pick)
		if v := root.value - cost; root.test >= 0 && v > b.value+worthwhile {
			b.root, b.value = root, v
		}
	}
}

// search for the best tree of the tests that may be made.
func (b *board) search(pick bool) *node {
	if !pick {
		return b.best(0)
	}
	n := b.leaf(0)
	n.part(0, b.best(1), b.best(2), b.minutes(0, n.mass), b.price)
	return n
}

// best tree below a state.
func (b *board) best(state int) *node {
	if n := b.memo[state]; n != nil {
		return n
	}
	n := b.leaf(state)
	b.memo[state] = n
	for t, unit := 0, 1; t < len(b.tests); t, unit = t+1, unit*3 {
		if b.set>>t&1 == 0 || state/unit%3 != 0 || b.tests[t].kind == "" {
			continue
		}
		minutes := b.minutes(t, n.mass)
		if n.ceiling-b.price.money(minutes) <= n.value+worthwhile {
			continue // could not bring more even if it parted everything
		}
		n.part(t, b.best(state+unit), b.best(state+2*unit), minutes, b.price)
	}
	return n
}

// part takes a parting if it is better than what the node has.
func (n *node) part(t int, low, high *node, minutes float64, p price) {
	if v := low.value + high.value - p.money(minutes); v > n.value+worthwhile {
		n.test, n.kids, n.value = t, [2]*node{low, high}, v
	}
}

// leaf is a state bagged as it is.
func (b *board) leaf(state int) *node {
	if b.leaves == nil {
		b.leaves = make([]*node, power3(len(b.tests)))
	}
	if b.leaves[state] == nil {
		n := &node{state: state, mass: b.contents(state), test: -1}
		n.way, n.bag = b.price.bag(n.mass)
		n.value, n.ceiling = n.bag, b.price.ceiling(n.mass)
		b.leaves[state] = n
	}
	n := *b.leaves[state]
	return &n
}

// contents of a state, g by key.
func (b *board) contents(state int) []float64 {
	out := make([]float64, len(b.deck.keys))
	for i, w := range b.paths(state) {
		out[b.deck.key[i]] += w
	}
	for k, m := range b.deck.mean {
		out[k] *= m
	}
	return out
}

// paths is the share of its key that each product puts into a state.
func (b *board) paths(state int) []float64 {
	p := slices.Clone(b.deck.weight)
	for i := range b.axes {
		a := &b.axes[i]
		size := power3(a.n)
		if made := state % size; made > 0 {
			for j, q := range a.table[made] {
				p[j] *= q
			}
		}
		state /= size
	}
	return p
}

// minutes of a parting of masses, beside the set-up of its bath: each piece's share of the work, and the
// rinsing after it.
func (b *board) minutes(t int, mass []float64) float64 {
	return b.tests[t].after + b.tests[t].each*sum(mass)/b.deck.piece
}

// once is what a set of tests takes once, however often each is made, minutes: setting up each bath or
// pan of water, cutting the pieces small and wetting them where anything is floated, drying what got wet,
// weighing and writing down.
func (b *board) once(set int) float64 {
	m, floats, wet := float64(noteMinutes), false, false
	for t, x := range b.tests {
		if set>>t&1 == 0 {
			continue
		}
		m += x.setUp
		floats, wet = floats || x.kind == cues.Float, wet || x.split != sorting.ByHand
	}
	if floats {
		m += b.cutting() + wetMinutes
	}
	if wet {
		m += dryMinutes
	}
	return m
}

// cutting is what it takes to cut the pieces small before they are floated, minutes; 0 where they go as
// they are.
func (b *board) cutting() float64 {
	if b.prep == b.deck.feed.Lot.Prep {
		return 0
	}
	return cutEach * b.deck.total / b.deck.piece
}

// uses is the set of tests that a tree makes.
func (b *board) uses(n *node) int {
	if n.test < 0 {
		return 0
	}
	return 1<<n.test | b.uses(n.kids[0]) | b.uses(n.kids[1])
}

// floats reports whether a tree floats anything.
func (b *board) floats(n *node) bool {
	return n.test >= 0 && (b.tests[n.test].kind == cues.Float || b.floats(n.kids[0]) || b.floats(n.kids[1]))
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}
