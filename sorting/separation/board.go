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
	deck  *deck
	prep  sorting.Prep
	tests []test
	axes  []axis
	price price
	may   func(test) bool // which tests may be made, in this search
	memo  []*node
	piles [][]float64 // contents by state, as far as they were reckoned
	root  *node
	value float64 // money, less all bench time
}

// node is the best that can be done with the pile of one state.
type node struct {
	state int
	mass  []float64 // g by key, expected
	value float64   // money, less the bench time from here on
	way   int       // as which it is bagged if it is not parted; -1 for a mixture
	bag   float64   // money it is worth so
	test  int       // -1: bagged
	kids  [2]*node
}

func newBoard(d *deck, prep sorting.Prep, tests []test, p price) *board {
	b := &board{deck: d, prep: prep, tests: tests, price: p}
	for i := 0; i < len(tests); {
		n := 1
		for i+n < len(tests) && nested(tests[i], tests[i+n]) {
			n++
		}
		b.axes = append(b.axes, newAxis(tests, i, n))
		i += n
	}
	return b
}

// nested reports whether two tests ask the same property of a piece.
func nested(a, b test) bool {
	return a.kind == b.kind && (a.kind == cues.Float || a.kind == cues.HotWater)
}

// solve finds the best tree. What is done once whatever is parted (see around) depends only on whether
// anything is floated, or gets wet at all: so the best tree is sought among all, among those without a
// bath, and among the dry ones.
func (b *board) solve() {
	b.root = b.leaf(0)
	b.value = b.root.bag
	for _, may := range []func(test) bool{
		func(test) bool { return true },
		func(t test) bool { return t.kind != cues.Float },
		func(t test) bool { return t.split == sorting.ByHand },
	} {
		b.may, b.memo = may, make([]*node, power3(len(b.tests)))
		root := b.search()
		if v := root.value - b.price.money(b.around(root)); v > b.value+worthwhile {
			b.root, b.value = root, v
		}
	}
}

// search for the best tree of the tests that may be made. Soluble support comes out before anything gets
// wet, or nothing is parted.
func (b *board) search() *node {
	if len(b.tests) > 0 && b.tests[0].kind == "" {
		whole := b.leaf(0)
		whole.part(0, b.best(1), b.best(2), b.minutes(0, whole.mass), b.price)
		b.memo[0] = whole
	}
	return b.best(0)
}

// best tree below a state.
func (b *board) best(state int) *node {
	if n := b.memo[state]; n != nil {
		return n
	}
	n := b.leaf(state)
	b.memo[state] = n
	ceiling := b.price.ceiling(n.mass)
	for t, unit := 0, 1; t < len(b.tests); t, unit = t+1, unit*3 {
		if state/unit%3 != 0 || b.tests[t].kind == "" || !b.may(b.tests[t]) {
			continue
		}
		minutes := b.minutes(t, n.mass)
		if ceiling-b.price.money(minutes) <= n.value+worthwhile {
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
	n := &node{state: state, mass: b.contents(state), test: -1}
	n.way, n.bag = b.price.bag(n.mass)
	n.value = n.bag
	return n
}

// contents of a state, g by key; not to be changed.
func (b *board) contents(state int) []float64 {
	if b.piles == nil {
		b.piles = make([][]float64, power3(len(b.tests)))
	}
	if b.piles[state] != nil {
		return b.piles[state]
	}
	out := make([]float64, len(b.deck.keys))
	for i, w := range b.paths(state) {
		out[b.deck.key[i]] += w
	}
	for k, m := range b.deck.mean {
		out[k] *= m
	}
	b.piles[state] = out
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

// minutes of a parting of masses: its set-up, and each piece's share of the work. A bath that is used on
// two branches bears its set-up twice.
func (b *board) minutes(t int, mass []float64) float64 {
	return b.tests[t].setUp + b.tests[t].each*sum(mass)/b.deck.piece
}

// around is what a tree takes once beside its partings, minutes: cutting the pieces small and wetting them
// where anything is floated, drying what got wet, weighing and writing down.
func (b *board) around(n *node) float64 {
	if n.test < 0 {
		return 0
	}
	m := b.cutting(n) + noteMinutes
	if b.uses(n, func(t test) bool { return t.kind == cues.Float }) {
		m += wetMinutes
	}
	if b.uses(n, func(t test) bool { return t.split != sorting.ByHand }) {
		m += dryMinutes
	}
	return m
}

// cutting is what it takes to cut the pieces small first, minutes; 0 where nothing is floated.
func (b *board) cutting(n *node) float64 {
	if b.prep == b.deck.feed.Lot.Prep || !b.uses(n, func(t test) bool { return t.kind == cues.Float }) {
		return 0
	}
	return cutEach * b.deck.total / b.deck.piece
}

// uses reports whether a tree makes any such test.
func (b *board) uses(n *node, such func(test) bool) bool {
	return n.test >= 0 && (such(b.tests[n.test]) || b.uses(n.kids[0], such) || b.uses(n.kids[1], such))
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}
