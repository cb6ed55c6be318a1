package triage

import (
	"math"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Proposal is one test that could be made now, with what it would bring.
type Proposal struct {
	Lot         string // empty where a known snippet is to be tested
	Known       string // name of the known snippet
	Piece       int
	Again       bool    // the piece was tested before
	AtOnce      int     // fresh pieces that may be put in together and counted; 1 where it is one piece
	AtOnceTakes float64 // minutes of all of them, with set-up
	AtOnceGains float64 // as Gain, of all of them
	Kind        cues.Kind
	Density     quantity.GramPerCm3 // float
	Bath        string              // the [[bath]] it is made in, where there is one
	Temp        quantity.Celsius    // hot water
	Whole       bool                // the piece is tested as it is, never cut
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
	DoubtCost float64 // share of a kilogram's worth that is lost when its make-up is not known; 0.3
}

// Next chooses the test that buys the largest drop in expected loss for its bench minutes.
func Next(b *Belief, menu sorting.Menu, stakes sorting.Stakes, opt NextOptions) Advice {
	if opt.DoubtCost == 0 {
		opt.DoubtCost = 0.3
	}
	n := newPlanner(b, menu, stakes, opt)
	out := Advice{Settled: make([]bool, len(b.piles)), Baseline: make([]float64, len(b.piles)), ByLot: make([]*Proposal, len(b.piles))}
	all := make([][]Proposal, len(b.piles))
	parallel(len(b.piles), func(l int) { all[l] = n.proposals(l) })
	for l, g := range n.grounds {
		out.Baseline[l] = g.loss(g.mean, g.prob)
		out.Doubt += out.Baseline[l]
		out.ByLot[l] = bestOf(all[l])
	}
	n.further(out.ByLot, out.Baseline)
	for l, p := range out.ByLot {
		out.Settled[l] = p == nil || p.Net <= 0
		if p != nil && (out.Best == nil || p.rate() > out.Best.rate()) {
			out.Best = p
		}
	}
	if k := n.snippetTest(out.Baseline); k != nil && (out.Best == nil || k.rate() > out.Best.rate()) {
		out.Best = k
	}
	out.Done = out.Best == nil || out.Best.Net <= 0
	return out
}

// bestOf is the proposal with the best rate, the first of several; nil of none.
func bestOf(list []Proposal) *Proposal {
	var best *Proposal
	for i := range list {
		if best == nil || list[i].rate() > best.rate() {
			best = &list[i]
		}
	}
	return best
}

// closer is how many lots are looked at closely: whether a piece tested before, or several pieces at
// once, would bring more than one fresh piece.
const closer = 2

// further puts in place of a lot's best proposal a better one on a piece tested before or on several at
// once, for the lots with the best proposals and those that doubt costs most.
func (n *planner) further(byLot []*Proposal, baseline []float64) {
	rates, costs := make([]float64, len(byLot)), make([]float64, len(byLot))
	for l, p := range byLot {
		rates[l], costs[l] = math.Inf(-1), math.Inf(-1)
		if p != nil {
			rates[l], costs[l] = p.rate(), baseline[l]
		}
	}
	lots := likeliest(rates, closer)
	for _, l := range likeliest(costs, closer) {
		if indexOf(lots, l) < 0 {
			lots = append(lots, l)
		}
	}
	parallel(len(lots), func(i int) {
		l := lots[i]
		if byLot[l] == nil {
			return
		}
		if p := bestOf(n.again(l)); p != nil && p.rate() > byLot[l].rate() {
			byLot[l] = p
		}
		if byLot[l].Net > 0 { // a handful is a better way to go on, never a reason to
			n.together(l, byLot[l])
		}
	})
}

// handling is the time to fetch a piece and write the reading down, which comes with every test,
// min; judgement. It orders tests; what a test costs is its bench minutes.
const handling = 0.7

// rate orders proposals: what a minute brings. Tests that cost more than they bring come after all
// others.
func (p *Proposal) rate() float64 {
	r := p.Gain / (p.Work + handling)
	if p.Net <= 0 {
		r -= 1e6
	}
	return r
}
