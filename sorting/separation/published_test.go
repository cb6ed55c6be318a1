package separation

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// rows of a table under testdata/published/separation, by column; the source stands in its head.
func rows(t *testing.T, name string) []map[string]string {
	t.Helper()
	src, err := os.ReadFile("../../testdata/published/separation/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var head []string
	var out []map[string]string
	for _, line := range strings.Split(strings.TrimSpace(string(src)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "\t")
		if head == nil {
			head = cells
			continue
		}
		row := map[string]string{}
		for i, h := range head {
			row[h] = cells[i]
		}
		out = append(out, row)
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// worked asserts a figure of worked.tsv at its tolerance.
func worked(t *testing.T, id string, got float64) {
	t.Helper()
	for _, r := range rows(t, "worked.tsv") {
		if r["id"] == id {
			near(t, id+" ("+r["source"]+")", got, number(t, r["value"]), number(t, r["tolerance"]))
			return
		}
	}
	t.Errorf("no row %s", id)
}

// coal is the feed of the washability table, by class.
func coal(t *testing.T) (parts []Part, ash []float64) {
	for _, r := range rows(t, "washability_coal.tsv") {
		parts = append(parts, Part{Share: number(t, r["weight_percent"]), Density: quantity.GramPerCm3(number(t, r["centre"]))})
		ash = append(ash, number(t, r["ash_percent"]))
	}
	return parts, ash
}

func washed(t *testing.T, cut, ep quantity.GramPerCm3) (yield, floatAsh, sinkAsh float64) {
	t.Helper()
	parts, ash := coal(t)
	floats, sinks, err := Cut(parts, cut, ep)
	if err != nil {
		t.Fatal(err)
	}
	for i, a := range ash {
		floatAsh += floats.MakeUp[i] * a
		sinkAsh += sinks.MakeUp[i] * a
	}
	return 100 * floats.Share, floatAsh, sinkAsh
}

// A perfect cut at the edge of every class: the printed cumulative columns.
func TestCutAgainstTheWashabilityTable(t *testing.T) {
	for _, r := range rows(t, "washability_coal.tsv") {
		if r["up_to"] == "" {
			continue
		}
		yield, ash, _ := washed(t, quantity.GramPerCm3(number(t, r["up_to"])), 0)
		near(t, "yield at "+r["up_to"], yield, number(t, r["cumulative_weight_percent"]), 0.005)
		near(t, "ash at "+r["up_to"], ash, number(t, r["cumulative_ash_percent"]), 0.0500001)
	}
}

func TestCutThroughADenseMediumBath(t *testing.T) {
	yield, ash, sinkAsh := washed(t, 1.44, 0.02)
	worked(t, "coal-floats", yield)
	worked(t, "coal-ash", ash)
	worked(t, "coal-sink-ash", sinkAsh)
}

func TestTwoBaths(t *testing.T) {
	feed := []Part{{Share: 60, Density: 1.24}, {Share: 25, Density: 1.27}, {Share: 10, Density: 1.05}, {Share: 5, Density: 1.38}}
	first, rest, err := Cut(feed, 1.15, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	worked(t, "two-baths-first", 100*first.Share)
	worked(t, "two-baths-first-c", 100*first.MakeUp[2])
	for i := range feed {
		feed[i].Share = rest.Share * rest.MakeUp[i]
	}
	second, last, err := Cut(feed, 1.255, 0.004)
	if err != nil {
		t.Fatal(err)
	}
	worked(t, "two-baths-second", 100*second.Share*rest.Share)
	worked(t, "two-baths-second-a", 100*second.MakeUp[0])
	worked(t, "two-baths-last", 100*last.Share*rest.Share)
	worked(t, "two-baths-last-a", 100*last.MakeUp[0])
	worked(t, "two-baths-last-b", 100*last.MakeUp[1])
	worked(t, "two-baths-last-d", 100*last.MakeUp[3])
}

// The partition curve lies on a measured one: numbers from the analyses of floats and sinks agree with
// the printed ones, and the best curve through them has the cut and the sharpness reckoned elsewhere.
func TestPartitionAgainstATrompCurve(t *testing.T) {
	var rho, to []float64
	for _, r := range rows(t, "tromp.tsv") {
		sinks := 17.40 * number(t, r["sinks_percent"])
		share := 100 * sinks / (sinks + 82.60*number(t, r["floats_percent"]))
		near(t, "partition number at "+r["nominal"], share, number(t, r["partition_to_sinks_percent"]), 0.31) // printed from columns of two decimals
		if r["nominal"] != "" {
			rho, to = append(rho, number(t, r["nominal"])), append(to, share/100)
		}
	}
	miss := func(d50, ep float64) float64 {
		s := 0.0
		for i, x := range rho {
			s += math.Pow(Partition(quantity.GramPerCm3(x), quantity.GramPerCm3(d50), quantity.GramPerCm3(ep))-to[i], 2)
		}
		return s
	}
	d50, ep := 1.45, 0.2
	for step := 0.05; step > 1e-7; {
		moved := false
		for _, m := range [][2]float64{{step, 0}, {-step, 0}, {0, step}, {0, -step}} {
			if ep+m[1] > 0 && miss(d50+m[0], ep+m[1]) < miss(d50, ep) {
				d50, ep, moved = d50+m[0], ep+m[1], true
			}
		}
		if !moved {
			step /= 2
		}
	}
	worked(t, "tromp-d50", d50)
	worked(t, "tromp-ep", ep)
}

// Newton's efficiency and the overall effectiveness of one screen are two figures.
func TestEffectivenessOfAScreen(t *testing.T) {
	const feed, over, under = 0.47, 0.85, 0.195
	yield := (feed - under) / (over - under)
	recovery, rejection := yield*over/feed, 1-yield*(1-over)/(1-feed)
	worked(t, "screen-recovery", recovery)
	worked(t, "screen-rejection", rejection)
	newton, overall := Effectiveness(recovery, rejection)
	worked(t, "screen-newton", newton)
	worked(t, "screen-overall", overall)
}

// sharp is a board of materials in order with a perfect cut between each two.
func sharp(masses []float64, hour float64) *board {
	n := len(masses)
	d := &deck{piece: 1, mean: masses, total: sum(masses), feed: Feed{Lot: sorting.Lot{Prep: sorting.Cut}}}
	p := price{hour: hour}
	for k := range masses {
		d.keys = append(d.keys, fmt.Sprint(k))
		d.key, d.weight = append(d.key, k), append(d.weight, 1)
		p.ways, p.right, p.wrong = append(p.ways, k), append(p.right, 1000), append(p.wrong, 2000)
	}
	p.keys = d.keys
	var tests []test
	for c := 1; c < n; c++ {
		t := test{kind: cues.Float, split: sorting.ByFloat, each: 1, low: make([]float64, n)}
		for k := range c {
			t.low[k] = 1
		}
		tests = append(tests, t)
	}
	return newBoard(d, sorting.Cut, tests, p)
}

// group names what a pile holds.
func group(mass []float64) string {
	s := ""
	for k, m := range mass {
		if m > 0 {
			s += fmt.Sprint(k, " ")
		}
	}
	return s
}

// The piles that the search visits, and the orders that lead to every material alone, are as many as
// published for ordered cuts.
func TestOrderedCutsAreAllSeen(t *testing.T) {
	for _, r := range rows(t, "ordered_cuts.tsv") {
		n := int(number(t, r["n"]))
		masses := make([]float64, n)
		for k := range masses {
			masses[k] = 1
		}
		b := sharp(masses, 0)
		groups, splits := map[string]bool{}, map[string]bool{}
		orders := b.orders(0, groups, splits)
		if orders != int(number(t, r["orders"])) || len(splits) != int(number(t, r["splits"])) || len(groups) != int(number(t, r["groups"])) {
			t.Errorf("%d materials: %d orders, %d splits, %d groups, want %v", n, orders, len(splits), len(groups), r)
		}
	}
}

// orders counts the ways to part a state wholly, by the states the search would go through.
func (b *board) orders(state int, groups, splits map[string]bool) int {
	whole := group(b.contents(state))
	groups[whole] = true
	if strings.Count(whole, " ") == 1 {
		return 1
	}
	n := 0
	for t, unit := 0, 1; t < len(b.tests); t, unit = t+1, unit*3 {
		if state/unit%3 != 0 {
			continue
		}
		if low, high := group(b.contents(state+unit)), group(b.contents(state+2*unit)); low != "" && high != "" {
			splits[low+"|"+high] = true
			n += b.orders(state+unit, groups, splits) * b.orders(state+2*unit, groups, splits)
		}
	}
	return n
}

// With every parting paid by what enters it, the plan is the order with the least load.
func TestBestOrderOfCuts(t *testing.T) {
	feed := []float64{0.05, 0.15, 0.25, 0.20, 0.35}
	b := sharp(feed, 1)
	b.solve()
	load := 0.0
	for _, n := range inner(b.root) {
		load += sum(n.mass)
	}
	worked(t, "load-best", load)
	loads := sorted(b.loads(0))
	if len(loads) != 14 {
		t.Fatalf("%d orders", len(loads))
	}
	worked(t, "load-best", loads[0])
	worked(t, "load-second", above(loads, loads[0]))
	worked(t, "load-worst", loads[13])
}

func inner(n *node) []*node {
	if n.test < 0 {
		return nil
	}
	return append(append([]*node{n}, inner(n.kids[0])...), inner(n.kids[1])...)
}

// loads of every order that parts a state wholly.
func (b *board) loads(state int) []float64 {
	mass := b.contents(state)
	if strings.Count(group(mass), " ") == 1 {
		return []float64{0}
	}
	var out []float64
	for t, unit := 0, 1; t < len(b.tests); t, unit = t+1, unit*3 {
		if state/unit%3 != 0 || group(b.contents(state+unit)) == "" || group(b.contents(state+2*unit)) == "" {
			continue
		}
		for _, x := range b.loads(state + unit) {
			for _, y := range b.loads(state + 2*unit) {
				out = append(out, sum(mass)+x+y)
			}
		}
	}
	return out
}

func sorted(x []float64) []float64 {
	slices.Sort(x)
	return x
}

// above is the first of sorted numbers that is larger than x by more than rounding.
func above(sorted []float64, x float64) float64 {
	for _, y := range sorted {
		if y > x+1e-9 {
			return y
		}
	}
	return math.NaN()
}
