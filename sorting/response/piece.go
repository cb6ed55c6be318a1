package response

import (
	"math"

	"brinecut/polymers/cues"
	"brinecut/sorting"
)

// Piece is what was read of one piece, or of N fresh pieces that all read alike.
type Piece struct {
	N        int
	Number   int // 0 for fresh pieces
	Readings []Reading
	Air      float64 // mean air share of its preparation
}

// Reading is one test of a piece, made or imagined.
type Reading struct {
	Kind    cues.Kind
	Outcome string
	Bath    int     // index of a bath of the bin, NewBath for one still to be mixed
	Density float64 // g/cm3, stated density of the liquid
	Temp    float64 // °C
	Mass    float64 // weigh: density found, g/cm3
	MassSD  float64
	Setting cues.Setting
	Flame   *sorting.FlameCues
	Symbol  string
}

// NewBath marks a reading in a bath that no test was made in yet.
const NewBath = -1

// densityFactor is P(float and weigh readings | product density d, scenario).
func (p *Piece) densityFactor(d float64, s *Shared) float64 {
	w := window{math.Inf(-1), math.Inf(1)}
	f, floats := 1.0, false
	air := p.Air * s.Air
	for i := range p.Readings {
		r := &p.Readings[i]
		switch r.Kind {
		case cues.Float:
			floats = true
			w.narrow(r, s)
		case cues.Weigh:
			f *= weighFactor(r, d, air)
		}
	}
	if floats {
		f *= floatFactor(w, d, air)
	}
	return f
}

func floatFactor(w window, d, air float64) float64 {
	if w.low >= w.high {
		return wrongRead // the readings contradict each other: one of them is wrong
	}
	return floored(w.probability(d, air), wrongRead)
}

// narrow puts a float reading on the window, in true density.
func (w *window) narrow(r *Reading, s *Shared) {
	b := r.Density + s.NewBath
	if r.Bath >= 0 {
		b = r.Density + s.Bath[r.Bath]
	}
	switch r.Outcome {
	case "sinks":
		w.low = math.Max(w.low, b+hover)
	case "floats":
		w.high = math.Min(w.high, b-hover)
	case "hovers":
		w.low, w.high = math.Max(w.low, b-hover), math.Min(w.high, b+hover)
	}
}

// weighWidth makes a probability of the density of a weighed piece: what falls within it is alike.
const weighWidth = 0.01 // g/cm3

func weighFactor(r *Reading, d, air float64) float64 {
	return floored(math.Min(1, weighWidth*airyPDF(r.Mass, d, math.Hypot(pieceSD, r.MassSD), air)), wrongRead)
}

// heatFactor is P(hot-water readings | softening temperature, scenario).
func (p *Piece) heatFactor(softens float64, s *Shared) float64 {
	w := heatWindow{math.Inf(-1), math.Inf(1)}
	any := false
	for i := range p.Readings {
		r := &p.Readings[i]
		if r.Kind != cues.HotWater {
			continue
		}
		any = true
		if r.Outcome == "soft" {
			w.high = math.Min(w.high, r.Temp+s.Thermo)
		} else {
			w.low = math.Max(w.low, r.Temp+s.Thermo)
		}
	}
	switch {
	case !any:
		return 1
	case w.low >= w.high:
		return wrongHeat
	}
	return floored(w.probability(softens), wrongHeat)
}

// categorical reports whether a reading is answered from a table.
func (r *Reading) categorical() bool {
	return r.Kind != cues.Float && r.Kind != cues.Weigh && r.Kind != cues.HotWater
}

// cueFactor is P(categorical readings | product), softened within a family.
func (m *Model) cueFactor(p *Piece, cand int, pr *Product) float64 {
	f := 1.0
	for i := range p.Readings {
		r := &p.Readings[i]
		if !r.categorical() {
			continue
		}
		q := m.cues.probability(r, m.pops[cand].variants[pr.Variant], pr)
		f *= math.Pow(q, cues.Power(p.nthOfFamily(i)))
	}
	return f
}

// nthOfFamily counts the readings of the i-th reading's family up to it.
func (p *Piece) nthOfFamily(i int) int {
	t, _ := cues.Find(p.Readings[i].Kind)
	n := 1
	for j := 0; j < i; j++ {
		if u, _ := cues.Find(p.Readings[j].Kind); p.Readings[j].categorical() && u.Family == t.Family {
			n++
		}
	}
	return n
}

func (p *Piece) anyCue() bool {
	for i := range p.Readings {
		if p.Readings[i].categorical() {
			return true
		}
	}
	return false
}
