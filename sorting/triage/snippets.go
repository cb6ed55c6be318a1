package triage

import (
	"math"

	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// checkedLots is how many lots a test of a known snippet is weighed on, those that doubt costs most.
const checkedLots = 6

// snippetTest is the best test of a known snippet, in a bath or in water that pieces were tested in: it
// tells how far the bath, the thermometer or the material of that spool is from what was assumed, and
// so what the readings of all lots are worth. Nil where there is none.
func (n *planner) snippetTest(baseline []float64) *Proposal {
	asks := n.settings()
	if len(n.b.bin.Known) == 0 || len(asks) == 0 {
		return nil
	}
	views := n.checked(baseline)
	var best *Proposal
	for k, snippet := range n.b.bin.Known {
		for _, s := range asks {
			if n.enough(snippet.Name, s.ask) {
				continue
			}
			gain := 0.0
			shows := n.b.model.OutlookOfKnown(k, s.ask)
			for _, v := range views {
				gain += v.gain(shows)
			}
			p := s.proposal(snippet.Name, gain, n)
			if best == nil || p.rate() > best.rate() {
				best = &p
			}
		}
	}
	return best
}

// setting is a bath or a water temperature that a lot was tested in.
type setting struct {
	ask   response.Ask
	offer sorting.Offer
}

// settings lists them in the order of the file.
func (n *planner) settings() []setting {
	var out []setting
	for i := range n.b.bin.Tests {
		o := &n.b.bin.Tests[i]
		a := response.Ask{Kind: o.Kind, Prep: sorting.Cut}
		switch o.Kind {
		case cues.Float:
			a.Density = n.b.model.StatedDensity(o)
		case cues.HotWater:
			a.Temp = o.Temp.Value
		default:
			continue
		}
		for _, offer := range n.menu.Offers {
			if offer.Kind == o.Kind && !contains(n.opt.Skip, o.Kind) && !containsAsk(out, a) {
				out = append(out, setting{a, offer})
			}
		}
	}
	return out
}

func containsAsk(list []setting, a response.Ask) bool {
	for _, s := range list {
		if s.ask == a {
			return true
		}
	}
	return false
}

// mostChecks is how often one snippet is tested in one setting.
const mostChecks = 2

func (n *planner) enough(known string, a response.Ask) bool {
	had := 0
	for i := range n.b.bin.Tests {
		o := &n.b.bin.Tests[i]
		if o.Known == known && o.Kind == a.Kind && o.Temp.Value == a.Temp && (a.Kind != cues.Float || n.b.model.StatedDensity(o) == a.Density) {
			had++
		}
	}
	return had >= mostChecks
}

func (s *setting) proposal(known string, gain float64, n *planner) Proposal {
	p := Proposal{Known: known, Piece: 1, AtOnce: 1, Kind: s.ask.Kind, Density: s.ask.Density, Temp: s.ask.Temp, Minutes: s.offer.Minutes, Cautions: s.offer.Cautions}
	for i := range n.b.bin.Tests {
		if n.b.bin.Tests[i].Known == known {
			p.Piece = max(p.Piece, n.b.bin.Tests[i].Piece+1)
		}
	}
	if s.ask.Kind == cues.Float {
		_, p.Bath = n.b.model.BathFor(s.ask.Density)
	} else if s.ask.Temp != n.lastT {
		p.NewSetting = true
		p.Minutes += s.offer.SetUp
	}
	p.Work, p.Gain = p.Minutes, gain
	p.Net = gain - p.Work/60*n.hour
	return p
}

// checkedView is a lot's points of weight with the scenarios that each leaves.
type checkedView struct {
	*ground
	scen   [][]float64
	before float64
}

// lightestChecked is the weight below which a point does not count when a snippet's test is weighed.
const lightestChecked = 2e-3

func (n *planner) checked(baseline []float64) []checkedView {
	var out []checkedView
	for _, l := range likeliest(baseline, checkedLots) {
		g, p := n.grounds[l], n.b.piles[l]
		if len(p.pieces) == 0 {
			continue
		}
		var some []int
		for i, q := range n.b.joint[l] {
			if q >= lightestChecked {
				some = append(some, i)
			}
		}
		v := checkedView{ground: g.on(p.points, n.b.joint[l], some)}
		for _, i := range some {
			v.scen = append(v.scen, p.scenariosOf(p.points[i], len(n.b.model.Scenarios)))
		}
		v.before = v.loss(v.mean, v.prob)
		out = append(out, v)
	}
	return out
}

// gain is the expected drop of a lot's loss by a test that shows its outcomes with the given
// probabilities in each scenario.
func (v *checkedView) gain(shows [][]float64) float64 {
	left, all := 0.0, 0.0
	for _, row := range shows {
		q := 0.0
		for i, p := range v.prob {
			x := 0.0
			for j, s := range v.scen[i] {
				x += s * row[j]
			}
			v.after[i] = p * x
			q += v.after[i]
		}
		if q < 1e-9 {
			continue
		}
		for i := range v.after {
			v.after[i] /= q
		}
		v.meanOf(v.after, v.then)
		left += q * v.loss(v.then, v.after)
		all += q
	}
	return math.Max(0, v.before-left/math.Max(all, 1e-300))
}
