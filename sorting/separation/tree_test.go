package separation

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/sorting"
)

// tree is a plan spelled out: the test made at its root, and what is done with both sides; nil is a bag.
type tree struct {
	test int
	kids [2]*tree
}

// trees lists every tree of the tests that are left, "bag it" included.
func trees(n int, made int) []*tree {
	out := []*tree{nil}
	for t := 0; t < n; t++ {
		if made&(1<<t) != 0 {
			continue
		}
		sub := trees(n, made|1<<t)
		for _, low := range sub {
			for _, high := range sub {
				out = append(out, &tree{t, [2]*tree{low, high}})
			}
		}
	}
	return out
}

// made is a test on the path of a pile, and the side it came out on.
type made struct{ test, side int }

// pile reckons what a path leaves, straight from the shares: a piece of a product sits at a point u of
// (0, 1) on each property, is below a test where u is less than the test's share, and is misplaced by
// chance at each test on its own.
func (b *board) pile(path []made) []float64 {
	out := make([]float64, len(b.deck.keys))
	for i, w := range b.deck.weight {
		p := w
		for _, kind := range []cues.Kind{"", cues.Float, cues.HotWater} {
			marks := []float64{0, 1}
			for _, t := range b.tests {
				if t.kind == kind {
					marks = append(marks, t.low[i])
				}
			}
			q := 0.0
			for _, lo := range marks {
				hi := 2.0
				for _, m := range marks {
					if m > lo {
						hi = math.Min(hi, m)
					}
				}
				if hi > 1 || lo >= hi {
					continue
				}
				f := distinct(marks, lo, hi)
				for _, m := range path {
					t := b.tests[m.test]
					if t.kind != kind {
						continue
					}
					right := ((lo+hi)/2 < t.low[i]) == (m.side == 0)
					if right {
						f *= 1 - t.wrong
					} else {
						f *= t.wrong
					}
				}
				q += f
			}
			p *= q
		}
		out[b.deck.key[i]] += p * b.deck.mean[b.deck.key[i]]
	}
	return out
}

// distinct is the width of an interval between marks, shared out among marks of the same height.
func distinct(marks []float64, lo, hi float64) float64 {
	n := 0
	for _, m := range marks {
		if m == lo {
			n++
		}
	}
	return (hi - lo) / float64(n)
}

// worth of a tree, money less bench time.
func (b *board) worth(t *tree, path []made) float64 {
	m := b.pile(path)
	if t == nil {
		_, v := b.price.bag(m)
		return v
	}
	v := -(b.tests[t.test].after + b.tests[t.test].each*sum(m)/b.deck.piece) / 60 * b.price.hour
	for side, kid := range t.kids {
		v += b.worth(kid, append(append([]made(nil), path...), made{t.test, side}))
	}
	return v
}

// aside is what a tree takes beside its partings: each of its baths and waters once, 3 min to weigh and
// write down, 5 to wet what is floated and 5 to dry it, as hot water does too.
func (b *board) aside(t *tree) float64 {
	if t == nil {
		return 0
	}
	seen := map[int]bool{}
	b.seen(t, seen)
	m, floats := 3+5.0, false
	for i, x := range b.tests {
		if seen[i] {
			m += x.setUp
			floats = floats || x.kind == cues.Float
		}
	}
	if floats {
		m += 5
	}
	return m
}

func (b *board) seen(t *tree, tests map[int]bool) {
	if t != nil {
		tests[t.test] = true
		b.seen(t.kids[0], tests)
		b.seen(t.kids[1], tests)
	}
}

// boardOf random materials, products and tests.
func boardOf(r *rand.Rand, materials, baths, waters int) *board {
	d := &deck{piece: 2 + 5*r.Float64(), feed: Feed{Lot: sorting.Lot{Prep: sorting.Cut}}}
	p := price{hour: []float64{0.001, 5, 10, 30}[r.IntN(4)]}
	centre, soft := make([]float64, materials), make([]float64, materials)
	for k := 0; k < materials; k++ {
		d.keys = append(d.keys, fmt.Sprint("m", k))
		d.mean = append(d.mean, 1500*r.Float64())
		d.total += d.mean[k]
		centre[k], soft[k] = 1+0.4*r.Float64(), 50+40*r.Float64()
		way := k
		if k > 0 && r.IntN(4) == 0 {
			way = r.IntN(k)
			way = p.ways[way]
		}
		p.ways = append(p.ways, way)
		p.right = append(p.right, 0.01*float64(r.IntN(3)))
		p.wrong = append(p.wrong, p.right[k]+0.01*float64(1+r.IntN(3)))
	}
	p.keys = d.keys
	const products = 3
	var rho, limp []float64
	for k := range d.keys {
		for i := 0; i < products; i++ {
			d.key = append(d.key, k)
			d.weight = append(d.weight, 1.0/products)
			rho, limp = append(rho, centre[k]+0.03*r.NormFloat64()), append(limp, soft[k]+4*r.NormFloat64())
		}
	}
	var tests []test
	for i := 0; i < baths; i++ {
		at := 1.05 + 0.3*(float64(i)+r.Float64())/float64(baths)
		t := test{kind: cues.Float, split: sorting.ByFloat, wrong: 0.015, setUp: 15 * r.Float64(), after: 5 * r.Float64(), each: 0.075}
		for _, x := range rho {
			t.low = append(t.low, 0.5*math.Erfc((x-at)/0.01))
		}
		tests = append(tests, t)
	}
	for i := 0; i < waters; i++ {
		at := 55 + 30*(float64(i)+r.Float64())/float64(waters)
		t := test{kind: cues.HotWater, split: sorting.ByHotWater, wrong: 0.03, setUp: 3, each: 0.4}
		for _, x := range limp {
			t.low = append(t.low, 0.5*math.Erfc((x-at)/3))
		}
		tests = append(tests, t)
	}
	return newBoard(d, sorting.Cut, tests, p)
}

// The plan against every tree there is, each reckoned on its own from first principles: up to five
// materials and three tests, of one kind and of two.
func TestPlanEqualsEveryTree(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	parted := 0
	for n := 0; n < 300; n++ {
		baths := r.IntN(4)
		b := boardOf(r, 2+r.IntN(4), baths, r.IntN(4-baths))
		b.solve()
		best := math.Inf(-1)
		all := trees(len(b.tests), 0)
		for _, x := range all {
			best = math.Max(best, b.worth(x, nil)-b.price.money(b.aside(x)))
		}
		if math.Abs(best-b.value) > 1e-5 {
			t.Fatalf("case %d: plan is worth %v, the best of %d trees %v", n, b.value, len(all), best)
		}
		if b.root.test >= 0 {
			parted++
		}
	}
	if parted < 60 || parted > 280 {
		t.Errorf("%d of 300 cases are parted: the test does not see both answers", parted)
	}
}

// What comes out of a parting went into it, every purity is a share, and nothing is parted whose sides
// all go the same way.
func TestPartingLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for n := 0; n < 300; n++ {
		b := boardOf(r, 2+r.IntN(5), r.IntN(4), r.IntN(3))
		b.solve()
		check(t, b, b.root)
	}
}

func check(t *testing.T, b *board, n *node) {
	t.Helper()
	if n.test < 0 {
		return
	}
	for k, m := range n.mass {
		if low, high := n.kids[0].mass[k], n.kids[1].mass[k]; low < 0 || high < 0 || math.Abs(low+high-m) > 1e-9*(1+m) {
			t.Errorf("%v g of %s became %v and %v", m, b.deck.keys[k], low, high)
		}
	}
	ends := map[int]bool{}
	for _, l := range leaves(n) {
		ends[l.way] = true
	}
	if len(ends) < 2 {
		t.Errorf("all sides of test %d end in one bag", n.test)
	}
	check(t, b, n.kids[0])
	check(t, b, n.kids[1])
}

// Four materials, light or heavy and limp or stiff, take one bath and one pan of water and three
// partings: what comes second is made on both sides of the first, and is set up once (12 min and 3 min);
// 100 g of each in pieces of 1 g, 0.075 min a piece to float and 0.4 to warm, each piece once; then the
// hand's 13 min.
func TestBathOnTwoBranchesIsSetUpOnce(t *testing.T) {
	d := &deck{piece: 1, total: 400, feed: Feed{Lot: sorting.Lot{Prep: sorting.Cut}, Scenarios: []float64{1}}}
	p := price{hour: 10}
	for k := range 4 {
		d.keys, d.mean = append(d.keys, fmt.Sprint(k)), append(d.mean, 100)
		d.key, d.weight, d.scen = append(d.key, k), append(d.weight, 1), append(d.scen, 0)
		p.ways, p.right, p.wrong = append(p.ways, k), append(p.right, 1), append(p.wrong, 2)
	}
	d.grams = [][]float64{d.mean}
	b := newBoard(d, sorting.Cut, []test{
		{kind: cues.Float, split: sorting.ByFloat, outcomes: [2]string{"floats", "sinks"}, setUp: 12, after: 5, each: 0.075, low: []float64{1, 1, 0, 0}},
		{kind: cues.HotWater, split: sorting.ByHotWater, outcomes: [2]string{"soft", "stiff"}, setUp: 3, each: 0.4, low: []float64{1, 0, 1, 0}},
	}, p)
	b.solve()
	w, plan := b.play(), LotPlan{Lot: "four", Minutes: b.once(b.uses(b.root))}
	plan.First = b.parting(b.root, w, &plan)
	list := plan.Partings()
	if len(list) != 3 || list[0].Kind != sorting.ByFloat {
		t.Fatalf("%d partings, the dear rinse is not first and once", len(list))
	}
	near(t, "minutes", plan.Minutes, 12+5+400*0.075+3+400*0.4+13, 1e-9)
	for i, want := range []float64{12, 3, 0} {
		near(t, fmt.Sprint("set-up of parting ", i+1), list[i].SetUp, want, 0)
	}
	near(t, "worth", b.value, 400-10*plan.Minutes/60, 1e-9)
	if plan.baths() != 1 {
		t.Errorf("%d baths", plan.baths())
	}
}
