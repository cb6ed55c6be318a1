package triage

import (
	"slices"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// key is a chart being made.
type key struct {
	*planner
	opt    ChartOptions
	looks  []look
	before float64 // money a kilogram, without any test
	root   *leaf
	open   []*leaf
	nodes  []*node // in the order they were added
}

// leaf is where a path ends for now; node is the line that took its place.
type leaf struct {
	path  []response.Reading
	prob  []float64 // by candidate
	reach float64
	line  *node
	next  *node // the best line for it, found when first asked for
	asked bool
}

type node struct {
	look    int
	names   []string
	leaves  []*leaf
	saves   float64 // money a kilogram of the bin
	minutes float64
	number  int
}

// newKey plans for one pretended lot that holds a piece of anything the bin holds.
func newKey(b *Belief, menu sorting.Menu, stakes sorting.Stakes, opt ChartOptions) *key {
	any := sorting.Lot{Name: "any piece of the bin", Prep: sorting.Cut}
	p := &pile{lot: any, name: any.Name, prior: b.blind(), drawn: b.model.Products(any)}
	for c := range p.prior {
		w := make([]float64, len(p.prior))
		w[c] = 1
		p.points = append(p.points, w)
	}
	p.prob = p.prior
	whole := *b
	whole.piles, whole.joint, whole.masses = []*pile{p}, [][]float64{p.prior}, []float64{1000}
	k := &key{planner: newPlanner(&whole, onOneChart(menu), stakes, NextOptions{OneStep: true}), opt: opt}
	k.looks = k.planner.looks(0, k.grounds[0])
	k.before = leastCost(k.cost, p.prior)
	k.root = &leaf{prob: p.prior, reach: 1}
	k.open = []*leaf{k.root}
	return k
}

// leftSoluble is how much soluble support is still there once it was picked out dry by hand; judgement.
const leftSoluble = 0.1

// blind is the expected make-up of the bin by mass, by candidate, once soluble support was picked out.
func (b *Belief) blind() []float64 {
	out := make([]float64, len(b.Candidates))
	for l, p := range b.piles {
		for c, x := range p.mean(b.joint[l]) {
			out[c] += (b.masses[l] + 1e-6) * x
		}
	}
	for c := range out {
		if m, ok := polymers.Find(b.Candidates[c].Symbol); ok && m.WaterSoluble {
			out[c] *= leftSoluble
		}
		out[c] += 1e-9
	}
	return normalise(out)
}

// onOneChart leaves out of a menu what some lot must not be put through: a chart does not ask which lot
// a piece is of.
func onOneChart(menu sorting.Menu) sorting.Menu {
	out := sorting.Menu{}
	for _, o := range menu.Offers {
		barred := false
		for _, kinds := range menu.Forbidden {
			barred = barred || contains(kinds, o.Kind)
		}
		if !barred {
			out.Offers = append(out.Offers, o)
		}
	}
	return out
}

// grow adds the line that saves most; false where none is worth it.
func (k *key) grow() bool {
	var at *leaf
	best := 0.0
	for _, l := range k.open {
		if !l.asked && len(l.path) < k.opt.Depth {
			l.next, l.asked = k.line(l), true
		}
		if l.next != nil && k.worth(l.next) > best && k.allowed(l.next) {
			best, at = k.worth(l.next), l
		}
	}
	if at == nil {
		return false
	}
	at.line = at.next
	k.nodes = append(k.nodes, at.line)
	k.open = slices.DeleteFunc(k.open, func(l *leaf) bool { return l == at })
	k.open = append(k.open, at.line.leaves...)
	for _, l := range k.open {
		if l.next != nil && !k.allowed(l.next) {
			l.asked = false // another way to go on may be left
		}
	}
	return true
}

// worth orders lines: what they save for each minute.
func (k *key) worth(n *node) float64 { return n.saves / (n.minutes + handling) }

// allowed keeps solvents and heat above 100 °C off one chart.
func (k *key) allowed(n *node) bool { return k.joins(k.looks[n.look].ask.Kind) }

func (k *key) joins(kind cues.Kind) bool {
	t, _ := cues.Find(kind)
	for _, n := range k.nodes {
		u, _ := cues.Find(k.looks[n.look].ask.Kind)
		if t.Solvent && u.Heats || t.Heats && u.Solvent {
			return false
		}
	}
	return true
}

// perSetting is how many pieces share a new bath or a new water temperature; judgement.
const perSetting = 20

// line finds the best test for the pieces of a leaf; nil where none saves enough.
func (k *key) line(l *leaf) *node {
	var out *node
	now := k.table(l.path)
	for i := range k.looks {
		if !k.joins(k.looks[i].ask.Kind) || done(l.path, k.looks[i].ask) {
			continue
		}
		n := k.try(l, i, now)
		if n.saves >= k.opt.Least*k.before && (out == nil || k.worth(n) > k.worth(out)) {
			out = n
		}
	}
	return out
}

// done reports whether a piece has been through a test: the same again would teach little that the model
// can vouch for.
func done(path []response.Reading, a response.Ask) bool {
	return slices.ContainsFunc(path, func(r response.Reading) bool {
		return r.Kind == a.Kind && r.Density == float64(a.Density) && r.Temp == float64(a.Temp)
	})
}

// try works out what test i would save at a leaf.
func (k *key) try(l *leaf, i int, now []float64) *node {
	look := &k.looks[i]
	n := &node{look: i, minutes: look.offer.Minutes * l.reach}
	if look.newSetting && !k.uses(look.ask) {
		n.minutes += look.offer.SetUp / perSetting
	}
	n.saves = leastCost(k.cost, l.prob)
	shows, total := k.shows(l.path, look, now)
	for o, name := range look.names {
		after, q := make([]float64, len(l.prob)), 0.0
		for c, p := range l.prob {
			if total[c] > 0 {
				after[c] = p * shows[o][c] / total[c]
			}
			q += after[c]
		}
		if q < 1e-6 {
			continue
		}
		n.saves -= q * leastCost(k.cost, normalise(after))
		n.names = append(n.names, name)
		path := append(slices.Clone(l.path), k.reading(look, name))
		n.leaves = append(n.leaves, &leaf{path: path, prob: after, reach: l.reach * q})
	}
	n.saves *= l.reach
	return n
}

// shows gives P(readings so far and this outcome | candidate), and its sum over the outcomes.
func (k *key) shows(path []response.Reading, look *look, now []float64) (shows [][]float64, total []float64) {
	total = make([]float64, len(now))
	for _, name := range look.names {
		row := k.table(append(slices.Clone(path), k.reading(look, name)))
		for c, x := range row {
			total[c] += x
		}
		shows = append(shows, row)
	}
	return shows, total
}

// table is P(readings of one piece | candidate), averaged over the scenarios.
func (k *key) table(path []response.Reading) []float64 {
	p := k.b.piles[0]
	piece := response.Piece{N: 1, Readings: path, Air: k.b.model.PieceOf(response.Reading{}, p.lot.Prep).Air}
	t := p.drawn.Table(&piece)
	J := len(k.b.model.Scenarios)
	out := make([]float64, len(p.prior))
	for c := range out {
		out[c] = sum(t[c*J:(c+1)*J]) / float64(J)
	}
	return out
}

// uses reports whether the chart has a line at that setting already.
func (k *key) uses(a response.Ask) bool {
	return slices.ContainsFunc(k.nodes, func(n *node) bool {
		b := k.looks[n.look].ask
		return a.Kind == b.Kind && a.Density == b.Density && a.Temp == b.Temp
	})
}
