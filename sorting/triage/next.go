package triage

import (
	"math"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
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
	Gain        float64             // expected drop of expected loss, money
	Net         float64             // gain less the minutes' worth
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
		return p.Gain / p.Minutes
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
			case a != k && n.stakes.SameWay[a] != n.stakes.SameWay[k]:
				n.cost[a][c] = math.Max(n.stakes.Right[k], 0) + math.Max(n.stakes.Wrong[k], n.stakes.Wrong[a])
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

// proposals lists what could be tested on a lot.
func (n *planner) proposals(l int) []Proposal {
	var out []Proposal
	name := n.b.piles[l].name
	for _, o := range n.menu.Offers {
		if n.skipped(o.Kind) || contains(n.menu.Forbidden[name], o.Kind) {
			continue
		}
		switch o.Kind {
		case cues.Float:
			for _, d := range n.cuts {
				if reaches(o, d) {
					out = append(out, n.propose(l, o, d, 0))
				}
			}
		case cues.HotWater:
			for _, t := range o.Temps {
				out = append(out, n.propose(l, o, 0, t))
			}
		case cues.Weigh, cues.Marked, cues.Flame:
			// given by the user where they come up; not proposed
		default:
			out = append(out, n.propose(l, o, 0, 0))
		}
	}
	return out
}

func (n *planner) skipped(k cues.Kind) bool { return contains(n.opt.Skip, k) }

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

// propose works out one test: the probability of each outcome, and the loss that would be left.
func (n *planner) propose(l int, o sorting.Offer, d quantity.GramPerCm3, t quantity.Celsius) Proposal {
	p := n.b.piles[l]
	out := Proposal{Lot: p.name, Piece: n.freshPiece(p.name), Kind: o.Kind, Density: d, Temp: t, Minutes: o.Minutes, Cautions: o.Cautions}
	prob, before := n.b.joint[l], n.loss(l, n.mean[l], n.b.joint[l])
	left := 0.0
	for _, name := range outcomes(o.Kind) {
		r := n.b.model.Imagine(o.Kind, d, t, name)
		out.Bath = n.b.model.BathName(r)
		if o.Kind == cues.Float {
			out.Density = quantity.GramPerCm3(r.Density)
			out.NewSetting = r.Bath < 0 && math.Abs(r.Density-0.998) > 0.003
		}
		after, q := n.update(l, prob, n.b.predictive(l, n.b.model.PieceOf(r, p.lot.Prep)))
		if q < 1e-9 {
			continue
		}
		mean := p.mean(after)
		left += q * n.loss(l, mean, after)
		e := Expected{Outcome: name, Probability: q}
		e.Main, e.Share = n.main(mean)
		out.Outcomes = append(out.Outcomes, e)
	}
	out.NewSetting = out.NewSetting || (o.Kind == cues.HotWater && t != n.lastT)
	if out.NewSetting {
		out.Minutes += o.SetUp
	}
	out.Gain = math.Max(0, before-left)
	out.Net = out.Gain - out.Minutes/60*n.hour
	out.MainBefore, out.ShareBefore = n.main(n.mean[l])
	return out
}

func outcomes(k cues.Kind) []string {
	t, _ := cues.Find(k)
	return t.Outcomes
}

// predictive is P(reading | candidate) for a lot, over the scenarios that its tests so far leave.
func (b *Belief) predictive(l int, piece *responsePiece) []float64 {
	p := b.piles[l]
	J := len(b.model.Scenarios)
	if p.scen == nil {
		for c := range p.prior {
			p.scen = append(p.scen, p.scenarioWeights(c, J))
		}
	}
	t := p.drawn.Table(piece)
	out := make([]float64, len(p.prior))
	for c := range out {
		for j, w := range p.scen[c] {
			out[c] += w * t[c*J+j]
		}
	}
	return out
}

// update is Bayes' rule on the points of a lot; q is the probability of the outcome.
func (n *planner) update(l int, prob, byCand []float64) (after []float64, q float64) {
	after = make([]float64, len(prob))
	for i, w := range n.b.piles[l].points {
		if prob[i] == 0 {
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
	cuts := []quantity.GramPerCm3{0.998}
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
