package triage

import (
	"math"
	"sort"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// look is a test that could be made on a lot, with what it would show of each candidate.
type look struct {
	offer      sorting.Offer
	ask        response.Ask
	bath       string
	newSetting bool
	minutes    float64
	names      []string
	shows      [][]float64 // [outcome][candidate that matters]
}

// looks lists what could be tested on a lot.
func (n *planner) looks(l int, g *ground) []look {
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
					out = append(out, n.look(l, g, o, response.Ask{Kind: o.Kind, Density: d}))
				}
			}
		case cues.HotWater:
			for _, t := range o.Temps {
				out = append(out, n.look(l, g, o, response.Ask{Kind: o.Kind, Temp: t}))
			}
		case cues.Weigh, cues.Marked, cues.Flame:
			// given by the user where they come up; not proposed
		default:
			out = append(out, n.look(l, g, o, response.Ask{Kind: o.Kind}))
		}
	}
	return out
}

func (n *planner) look(l int, g *ground, o sorting.Offer, a response.Ask) look {
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
	out.ask = a
	for _, all := range p.drawn.Outlook(a, n.scenarios(l)) {
		some := make([]float64, len(g.cands))
		for k, c := range g.cands {
			some[k] = all[c]
		}
		out.shows = append(out.shows, some)
	}
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

// branches works a look out: what each outcome would leave of the given weights of the points.
func (g *ground) branches(prob []float64, k *look) []branch {
	var out []branch
	for o, name := range k.names {
		b := branch{name: name, after: make([]float64, len(g.prob)), mean: make([]float64, len(g.cands))}
		if b.q = g.update(prob, k.shows[o], b.after); b.q < 1e-9 {
			continue
		}
		g.meanOf(b.after, b.mean)
		b.loss = g.loss(b.mean, b.after)
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
	g := n.grounds[l]
	looks := n.looks(l, g)
	before := g.loss(g.mean, g.prob)
	all := make([][]branch, len(looks))
	out := make([]Proposal, len(looks))
	order := make([]int, len(looks))
	for i := range looks {
		all[i] = g.branches(g.prob, &looks[i])
		out[i] = n.proposal(l, &looks[i], all[i], before)
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return out[order[a]].Net > out[order[b]].Net })
	n.looked[l] = nil
	for _, i := range order {
		n.looked[l] = append(n.looked[l], looks[i])
	}
	if n.opt.OneStep {
		return out
	}
	for _, i := range order[:min(beam, len(order))] {
		n.twoAhead(g, looks, i, all[i], before, &out[i])
	}
	return out
}

// twoAhead adds to a proposal the best that a second test could bring after each of its outcomes, if
// the two together are better value than the first alone.
func (n *planner) twoAhead(g *ground, looks []look, first int, bs []branch, before float64, p *Proposal) {
	left, minutes := 0.0, looks[first].minutes
	for _, b := range bs {
		bestLoss, bestMin := b.loss, 0.0
		for k := range looks {
			second := looks[k].minutes
			if k == first {
				second = looks[k].offer.Minutes
			}
			if b.loss <= second/60*n.hour {
				continue // no test is worth more than all there is to lose
			}
			loss := g.expected(b.after, &looks[k])
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
	out := Proposal{Lot: name, Piece: max(1, n.fresh[name]), AtOnce: 1, Kind: k.ask.Kind, Density: k.ask.Density, Bath: k.bath, Temp: k.ask.Temp,
		NewSetting: k.newSetting, Whole: n.menu.Whole[name], Minutes: k.minutes, Work: k.minutes, Cautions: k.offer.Cautions}
	for _, b := range bs {
		e := Expected{Outcome: b.name, Probability: b.q}
		e.Main, e.Share = n.main(n.grounds[l].cands, b.mean)
		out.Outcomes = append(out.Outcomes, e)
	}
	out.Gain = math.Max(0, before-expected(bs))
	out.Net = out.Gain - out.Work/60*n.hour
	out.MainBefore, out.ShareBefore = n.main(n.grounds[l].cands, n.grounds[l].mean)
	return out
}

// scenarios gives, by candidate, the weights of the scenarios that a lot's tests so far leave; nil for
// a candidate that no point of weight holds.
func (n *planner) scenarios(l int) [][]float64 {
	p := n.b.piles[l]
	if p.scen == nil {
		p.scen = make([][]float64, len(p.prior))
		for c := range p.prior {
			if n.mean[l][c] > tiny {
				p.scen[c] = p.scenarioWeights(c, len(n.b.model.Scenarios))
			}
		}
	}
	return p.scen
}
