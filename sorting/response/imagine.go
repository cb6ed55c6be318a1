package response

import (
	"math"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// PieceOf is a fresh piece with one imagined reading.
func (m *Model) PieceOf(r Reading, prep sorting.Prep) *Piece {
	return &Piece{N: 1, Readings: []Reading{r}, Air: meanAir(prep)}
}

// SideReading is the test that a split made of every piece on one of its sides; false where the split
// was made by something that tells no materials apart (hand, sieve, magnet).
func (m *Model) SideReading(split sorting.Split, side sorting.Side) (Reading, bool) {
	r := Reading{Outcome: side.Outcome, Bath: NewBath}
	switch split.Kind {
	case sorting.ByFloat:
		r.Kind = cues.Float
		r.Density = float64(split.Density.Value)
		if i := m.bath("bath " + split.Bath); split.Bath != "" && i >= 0 {
			r.Bath, r.Density = i, m.baths[i].density
		}
		if r.Density <= 0 || r.Outcome == "" {
			return r, false
		}
	case sorting.ByHotWater:
		r.Kind, r.Temp = cues.HotWater, float64(split.Temp.Value)
		if !split.Temp.Given() || r.Outcome == "" {
			return r, false
		}
	case sorting.BySoak:
		r.Kind = cues.Soak
		if r.Outcome == "" {
			return r, false
		}
	default:
		return r, false
	}
	return r, true
}

// Ask is a test still to be made on a fresh piece: its kind, and the liquid's density or the water's
// temperature where it takes one.
type Ask struct {
	Kind    cues.Kind
	Density quantity.GramPerCm3
	Temp    quantity.Celsius
	Prep    sorting.Prep
	Off     quantity.GramPerCm3 // Lower: the cut lies so much above the liquid's own density
}

// BathFor finds the bath of the bin at that density: its index, and the name of its [[bath]] where it
// has one. NewBath where there is none.
func (m *Model) BathFor(density quantity.GramPerCm3) (at int, name string) {
	const prefix = "bath "
	for i, b := range m.baths {
		if math.Abs(b.density-float64(density)) < 5e-4 {
			if len(b.name) > len(prefix) && b.name[:len(prefix)] == prefix {
				name = b.name[len(prefix):]
			}
			return i, name
		}
	}
	return NewBath, ""
}

// Outlook is what an ask would show: P(outcome | candidate), [outcome][candidate], averaged over the
// scenarios with the weights given by candidate; every second scenario is enough to plan with.
// Outcomes are in the order of the kind. A candidate whose weights are nil is left at zero.
func (d *Drawn) Outlook(a Ask, weights [][]float64) [][]float64 {
	names := OutcomesOf(a.Kind)
	out := make([][]float64, len(names))
	for o := range out {
		out[o] = make([]float64, len(d.m.pops))
	}
	show := d.shower(a, len(names))
	p := make([]float64, len(names))
	for c := range d.m.pops {
		if weights[c] == nil {
			continue
		}
		total := 0.0
		for j := 0; j < len(d.m.Scenarios); j += 2 {
			w := weights[c][j]
			if w < 1e-6 {
				continue
			}
			show(c, j, c*d.block()+j*d.replicas, p)
			for o := range p {
				out[o][c] += w * p[o]
			}
			total += w
		}
		for o := range p {
			if total > 0 {
				out[o][c] /= total
			}
		}
	}
	return out
}

func (d *Drawn) block() int { return len(d.m.Scenarios) * d.replicas }

// shower returns what fills p with P(outcome) of an ask for product i of candidate c in scenario j.
func (d *Drawn) shower(a Ask, n int) func(c, j, i int, p []float64) {
	m := d.m
	if a.Kind == cues.Float || a.Kind == cues.HotWater {
		bath, _ := m.BathFor(a.Density)
		return func(_, j, i int, p []float64) { m.shown(a, bath, &m.Scenarios[j], &d.products[i], p) }
	}
	rows, h := m.rows(a.Kind, cues.Setting{}), d.habitsOf(a.Kind, "", n)
	return func(c, _, i int, p []float64) {
		for o := range p {
			p[o] = h.share(rows[c][d.products[i].Variant], i, o)
		}
	}
}

// shown fills p with P(outcome) of a float or hot-water test of a fresh piece of a product: floats,
// hovers, sinks; or stiff, soft.
func (m *Model) shown(a Ask, bath int, s *Shared, pr *Product, p []float64) {
	if a.Kind == cues.HotWater {
		w := heatWindow{math.Inf(-1), float64(a.Temp) + s.Thermo}
		p[1] = floored(w.probability(pr.Softens), s.mishandled())
		p[0] = 1 - p[1]
		return
	}
	b := float64(a.Density) + s.NewBath
	if bath >= 0 {
		b = m.baths[bath].density + s.Bath[bath]
	}
	air := meanAir(a.Prep) * s.Air
	low, high := airyCDF(b-hover, pr.Density, pieceSD, air), airyCDF(b+hover, pr.Density, pieceSD, air)
	wrong := s.misread()
	p[0], p[1], p[2] = floored(low, wrong), floored(high-low, wrong), floored(1-high, wrong)
	for o := range p {
		p[o] /= 1 + wrong // three outcomes with a floor each
	}
}

// OutlookOfKnown is what a float or hot-water test of the k-th known snippet would show in every
// scenario: [outcome][scenario]. Nil where known snippets are left out.
func (m *Model) OutlookOfKnown(k int, a Ask) [][]float64 {
	if k >= len(m.snips) {
		return nil
	}
	out := make([][]float64, len(OutcomesOf(a.Kind)))
	for o := range out {
		out[o] = make([]float64, len(m.Scenarios))
	}
	bath, _ := m.BathFor(a.Density)
	p := make([]float64, len(out))
	for j := range m.Scenarios {
		m.shown(a, bath, &m.Scenarios[j], &m.Scenarios[j].Known[k], p)
		for o := range out {
			out[o][j] = p[o]
		}
	}
	return out
}

// StatedDensity is that of the liquid of a float test: its own, or its bath's.
func (m *Model) StatedDensity(o *sorting.Observation) quantity.GramPerCm3 {
	if i := m.bath(bathKey(o)); i >= 0 {
		return quantity.GramPerCm3(m.baths[i].density)
	}
	return 0
}

// OutcomesOf lists what a kind can show, for kinds that a next test may be.
func OutcomesOf(k cues.Kind) []string {
	t, _ := cues.Find(k)
	return t.Outcomes
}

// KnownDensity is the mean density of the known snippets of a material, over the scenarios; false
// where there is none.
func (m *Model) KnownDensity(s polymers.Symbol) (float64, bool) {
	sum, n := 0.0, 0
	for i := range m.snips {
		if k, ok := polymers.Find(m.snips[i].known.Material); !ok || (k.Base != s && k.Symbol != s) {
			continue
		}
		for j := range m.Scenarios {
			sum += m.Scenarios[j].Known[i].Density
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / float64(n), true
}
