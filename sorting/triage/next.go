package triage

import (
	"math"
	"sort"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// Proposal is one test that could be made now, with what it would bring.
type Proposal struct {
	Lot         string
	Piece       int
	Kind        cues.Kind
	Density     quantity.GramPerCm3 // float
	Bath        string              // the [[bath]] it is made in, where there is one
	Temp        quantity.Celsius    // hot water
	NewSetting  bool                // a bath to mix, or water to bring to a new temperature
	Minutes     float64             // with set-up
	Work        float64             // minutes behind Gain: with those of a second test, where it counts on one
	Gain        float64             // expected drop of expected loss, money
	Net         float64             // gain less the worth of Work
	Outcomes    []Expected
	Cautions    []string
	MainBefore  string  // the key the lot would be bagged as now
	ShareBefore float64 // its expected share
}

// Expected is one outcome of a proposal.
type Expected struct {
	Outcome     string
	Probability float64
	Main        string  // the key the lot would be bagged as then
	Share       float64 // its expected share then
}

// Advice is the answer of Next: the best test, and whether testing is done.
type Advice struct {
	Done     bool
	Why      string
	Best     *Proposal   // also when done: the test that would bring most if testing went on; nil where none is allowed
	Doubt    float64     // money: what the remaining doubt costs
	Settled  []bool      // by lot
	Baseline []float64   // money by lot: expected loss now
	ByLot    []*Proposal // the best test of each lot; nil where none is allowed
}

// NextOptions of Next; the zero value is the documented default.
type NextOptions struct {
	Skip      []cues.Kind
	OneStep   bool    // look one test ahead only (for comparisons)
	DoubtCost float64 // share of a kilogram's worth that is lost when its make-up is not known; 0.15
}

// Next chooses the test that buys the largest drop in expected loss for its bench minutes.
func Next(b *Belief, menu sorting.Menu, stakes sorting.Stakes, opt NextOptions) Advice {
	if opt.DoubtCost == 0 {
		opt.DoubtCost = 0.15
	}
	n := newPlanner(b, menu, stakes, opt)
	out := Advice{Settled: make([]bool, len(b.piles)), Baseline: make([]float64, len(b.piles)), ByLot: make([]*Proposal, len(b.piles))}
	bestRate := math.Inf(-1)
	for l := range b.piles {
		out.Settled[l] = true
		out.Baseline[l] = n.loss(l, n.mean[l], b.joint[l])
		out.Doubt += out.Baseline[l]
		for _, p := range n.proposals(l) {
			if p.Net > 0 {
				out.Settled[l] = false
			}
			if out.ByLot[l] == nil || p.rate(n.hour) > out.ByLot[l].rate(n.hour) {
				out.ByLot[l] = &p
			}
			if rate := p.rate(n.hour); out.Best == nil || rate > bestRate {
				bestRate = rate
				out.Best = &p
			}
		}
	}
	out.Done = out.Best == nil || out.Best.Net <= 0
	return out
}

// rate orders proposals: what a minute brings, as long as it brings more than it costs; else the net.
func (p *Proposal) rate(hour float64) float64 {
	if p.Net > 0 {
		return p.Gain / p.Work
	}
	return p.Net - 1e6
}

// planner holds what all proposals share.
type planner struct {
	b      *Belief
	menu   sorting.Menu
	stakes sorting.Stakes
	opt    NextOptions
	hour   float64
	cost   [][]float64 // [action key][candidate] money per kg
	mean   [][]float64 // by lot, by candidate
	cuts   []quantity.GramPerCm3
	temps  []quantity.Celsius
	lastT  quantity.Celsius
}

func newPlanner(b *Belief, menu sorting.Menu, stakes sorting.Stakes, opt NextOptions) *planner {
	n := &planner{b: b, menu: menu, stakes: stakes, opt: opt, hour: stakes.HourValue}
	for l, p := range b.piles {
		n.mean = append(n.mean, p.mean(b.joint[l]))
	}
	n.costs()
	n.cuts = n.densities()
	n.lastT = lastTemperature(b.bin)
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

// bag finds the best way to bag a lot of the given mean shares, and its expected loss a kilogram.
func (n *planner) bag(mean []float64) (action int, lossKg float64) {
	lossKg = math.Inf(1)
	for a, row := range n.cost {
		x := 0.0
		for c, w := range mean {
			x += w * row[c]
		}
		if x < lossKg {
			action, lossKg = a, x
		}
	}
	return action, lossKg
}

// loss is the expected loss of a lot, money: what is bagged wrong, and what it costs not to know the
// make-up of what is bagged (method.md, triage 6).
func (n *planner) loss(l int, mean, prob []float64) float64 {
	_, x := n.bag(mean)
	return n.b.masses[l] / 1000 * (x + n.doubt(l, mean, prob))
}

// doubt is the expected share of a lot that is not what its mean make-up says, at its price a kilogram.
func (n *planner) doubt(l int, mean, prob []float64) float64 {
	d := 0.0
	for i, w := range n.b.piles[l].points {
		if prob[i] < 1e-9 {
			continue
		}
		gap := 0.0
		for c, x := range w {
			gap += math.Abs(x - mean[c])
		}
		d += prob[i] * gap / 2
	}
	worth := 0.0
	for c, w := range mean {
		worth += w * math.Max(n.stakes.Right[n.b.keyOf[c]], 0)
	}
	return n.opt.DoubtCost * worth * d
}

// look is a test that could be made on a lot, with what it would show of each candidate.
type look struct {
	offer      sorting.Offer
	ask        response.Ask
	bath       string
	newSetting bool
	minutes    float64
	names      []string
	shows      [][]float64 // [outcome][candidate]
}

// looks lists what could be tested on a lot.
func (n *planner) looks(l int) []look {
	var out []look
	p := n.b.piles[l]
	for _, o := range n.menu.Offers {
		if contains(n.opt.Skip, o.Kind) || contains(n.menu.Forbidden[p.name], o.Kind) {
			continue
		}
		switch o.Kind {
		case cues.Float:
			for _, d := range n.cuts {
				if reaches(o, d) {
					out = append(out, n.look(l, o, response.Ask{Kind: o.Kind, Density: d}))
				}
			}
		case cues.HotWater:
			for _, t := range o.Temps {
				out = append(out, n.look(l, o, response.Ask{Kind: o.Kind, Temp: t}))
			}
		case cues.Weigh, cues.Marked, cues.Flame:
			// given by the user where they come up; not proposed
		default:
			out = append(out, n.look(l, o, response.Ask{Kind: o.Kind}))
		}
	}
	return out
}

func (n *planner) look(l int, o sorting.Offer, a response.Ask) look {
	p := n.b.piles[l]
	a.Prep = p.lot.Prep
	out := look{offer: o, minutes: o.Minutes, names: response.OutcomesOf(o.Kind)}
	switch o.Kind {
	case cues.Float:
		at, name := n.b.model.BathFor(a.Density)
		out.bath = name
		out.newSetting = at < 0 && math.Abs(float64(a.Density)-water) > 0.003
	case cues.HotWater:
		out.newSetting = a.Temp != n.lastT
	}
	if out.newSetting {
		out.minutes += o.SetUp
	}
	out.ask, out.shows = a, p.drawn.Outlook(a, n.b.scenarios(l))
	return out
}

// water is the density of plain water at room temperature, g/cm3 (Tanaka 2001: 0.998203 at 20 °C); it
// needs no mixing.
const water = 0.998

func contains[T comparable](list []T, x T) bool {
	for _, y := range list {
		if y == x {
			return true
		}
	}
	return false
}

// reaches reports whether an offer can mix a liquid of that density: its Densities are pairs of ends.
func reaches(o sorting.Offer, d quantity.GramPerCm3) bool {
	for i := 0; i+1 < len(o.Densities); i += 2 {
		if d >= o.Densities[i]-1e-9 && d <= o.Densities[i+1]+1e-9 {
			return true
		}
	}
	return false
}

// branch is one outcome of a look.
type branch struct {
	name  string
	q     float64   // its probability
	after []float64 // weights of the lot's points then
	mean  []float64
	loss  float64
}

// branches works a look out: what each outcome would leave.
func (n *planner) branches(l int, prob []float64, k *look) []branch {
	var out []branch
	p := n.b.piles[l]
	for o, name := range k.names {
		after, q := n.update(l, prob, k.shows[o])
		if q < 1e-9 {
			continue
		}
		b := branch{name: name, q: q, after: after, mean: p.mean(after)}
		b.loss = n.loss(l, b.mean, after)
		out = append(out, b)
	}
	return out
}

func expected(bs []branch) float64 {
	sum, q := 0.0, 0.0
	for _, b := range bs {
		sum += b.q * b.loss
		q += b.q
	}
	return sum / math.Max(q, 1e-300)
}

// beam is how many first tests are followed by a second in thought.
const beam = 4

// proposals are the tests worth naming for a lot: each look alone, and the best few followed by the
// best second test, whose gain and minutes then count with the first.
func (n *planner) proposals(l int) []Proposal {
	looks := n.looks(l)
	prob := n.b.joint[l]
	before := n.loss(l, n.mean[l], prob)
	all := make([][]branch, len(looks))
	out := make([]Proposal, len(looks))
	order := make([]int, len(looks))
	for i := range looks {
		all[i] = n.branches(l, prob, &looks[i])
		out[i] = n.proposal(l, &looks[i], all[i], before)
		order[i] = i
	}
	if n.opt.OneStep {
		return out
	}
	sort.SliceStable(order, func(a, b int) bool { return out[order[a]].Net > out[order[b]].Net })
	for _, i := range order[:min(beam, len(order))] {
		n.twoAhead(l, looks, i, all[i], before, &out[i])
	}
	return out
}

// twoAhead adds to a proposal the best that a second test could bring after each of its outcomes, if
// the two together are better value than the first alone.
func (n *planner) twoAhead(l int, looks []look, first int, bs []branch, before float64, p *Proposal) {
	left, minutes := 0.0, looks[first].minutes
	for _, b := range bs {
		bestLoss, bestMin := b.loss, 0.0
		for k := range looks {
			second := looks[k].minutes
			if k == first {
				second = looks[k].offer.Minutes
			}
			loss := expected(n.branches(l, b.after, &looks[k]))
			if loss+second/60*n.hour < bestLoss+bestMin/60*n.hour {
				bestLoss, bestMin = loss, second
			}
		}
		left += b.q * bestLoss
		minutes += b.q * bestMin
	}
	gain := math.Max(0, before-left)
	if net := gain - minutes/60*n.hour; net > p.Net {
		p.Gain, p.Net, p.Work = gain, net, minutes
	}
}

func (n *planner) proposal(l int, k *look, bs []branch, before float64) Proposal {
	name := n.b.piles[l].name
	out := Proposal{Lot: name, Piece: n.freshPiece(name), Kind: k.ask.Kind, Density: k.ask.Density, Bath: k.bath, Temp: k.ask.Temp,
		NewSetting: k.newSetting, Minutes: k.minutes, Work: k.minutes, Cautions: k.offer.Cautions}
	for _, b := range bs {
		e := Expected{Outcome: b.name, Probability: b.q}
		e.Main, e.Share = n.main(b.mean)
		out.Outcomes = append(out.Outcomes, e)
	}
	out.Gain = math.Max(0, before-expected(bs))
	out.Net = out.Gain - out.Work/60*n.hour
	out.MainBefore, out.ShareBefore = n.main(n.mean[l])
	return out
}

// scenarios gives, by candidate, the weights of the scenarios that a lot's tests so far leave.
func (b *Belief) scenarios(l int) [][]float64 {
	p := b.piles[l]
	if p.scen == nil {
		for c := range p.prior {
			p.scen = append(p.scen, p.scenarioWeights(c, len(b.model.Scenarios)))
		}
	}
	return p.scen
}

// update is Bayes' rule on the points of a lot; q is the probability of the outcome.
func (n *planner) update(l int, prob []float64, byCand []float64) (after []float64, q float64) {
	after = make([]float64, len(prob))
	for i, w := range n.b.piles[l].points {
		if prob[i] < 1e-9 {
			continue
		}
		x := 0.0
		for c, s := range w {
			if s != 0 {
				x += s * byCand[c]
			}
		}
		after[i] = prob[i] * x
		q += after[i]
	}
	for i := range after {
		after[i] /= math.Max(q, 1e-300)
	}
	return after, q
}

func (n *planner) main(mean []float64) (string, float64) {
	K := make([]float64, len(n.b.Keys))
	for c, x := range mean {
		K[n.b.keyOf[c]] += x
	}
	k := best(K)
	return n.b.Keys[k], K[k]
}

func (n *planner) freshPiece(lot string) int {
	top := 0
	for _, o := range n.b.bin.Tests {
		if o.Lot == lot {
			top = max(top, o.Piece)
		}
	}
	return top + 1
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
