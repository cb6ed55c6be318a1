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
			f *= weighFactor(r, d, air, s.misread())
		}
	}
	if floats {
		f *= floatFactor(w, d, air, s.misread())
	}
	return f
}

func floatFactor(w window, d, air, wrong float64) float64 {
	if w.low >= w.high {
		return wrong // the readings contradict each other: one of them is wrong
	}
	return floored(w.probability(d, air), wrong)
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

func weighFactor(r *Reading, d, air, wrong float64) float64 {
	return floored(math.Min(1, weighWidth*airyPDF(r.Mass, d, math.Hypot(pieceSD, r.MassSD), air)), wrong)
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
		return s.mishandled()
	}
	return floored(w.probability(softens), s.mishandled())
}

// categorical reports whether a reading is answered from a table.
func (r *Reading) categorical() bool {
	return r.Kind != cues.Float && r.Kind != cues.Weigh && r.Kind != cues.HotWater
}

// seenCue is one categorical sight of a piece with all that its probability needs.
type seenCue struct {
	rows   [][][]float64 // [candidate][variant]: P(outcome)
	at     int           // outcome seen
	power  float64       // softened within a family
	habits habits
}

// factor is P(sight | product i of a candidate and variant) to its power.
func (s *seenCue) factor(i, cand, variant int) float64 {
	row := s.rows[cand][variant]
	if s.at >= len(row) {
		return 1
	}
	q := row[s.at]
	if s.habits.n > 0 {
		q = s.habits.share(row, i, s.at)
	}
	if s.power == 1 {
		return q
	}
	return math.Pow(q, s.power)
}

// cuesOf prepares the categorical sights of a piece; a marking has a row of its own and no habit.
func (d *Drawn) cuesOf(p *Piece) []seenCue {
	var out []seenCue
	for i := range p.Readings {
		r := &p.Readings[i]
		if !r.categorical() {
			continue
		}
		power := cues.Power(p.nthOfFamily(i))
		if r.Kind == cues.Marked {
			out = append(out, seenCue{rows: d.m.markedRows(r.Symbol), power: power})
			continue
		}
		for _, s := range sights(r.Kind, r.Outcome, r.Flame) {
			names := cues.Seen(r.Kind, s.cue)
			at := index(names, s.outcome)
			if at < 0 {
				continue
			}
			set := r.Setting
			set.Cue = s.cue
			out = append(out, seenCue{rows: d.m.rows(r.Kind, set), at: at, power: power, habits: d.habitsOf(r.Kind, s.cue, len(names))})
		}
	}
	return out
}

// nthOfFamily counts the readings of the i-th reading's family up to it.
func (p *Piece) nthOfFamily(i int) int {
	t, _ := cues.Find(p.Readings[i].Kind)
	n := 1
	for j := 0; j < i; j++ {
		if u, _ := cues.Find(p.Readings[j].Kind); u.Family == t.Family {
			n++
		}
	}
	return n
}
