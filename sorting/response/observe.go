package response

import (
	"fmt"
	"math"

	"brinecut/polymers/cues"
	"brinecut/sorting"
)

// Pieces groups tests into pieces: the tests of a numbered piece belong together, fresh pieces that
// read alike are counted. Outcomes that were unclear carry nothing and are left out.
func (m *Model) Pieces(tests []sorting.Observation, prep sorting.Prep) []Piece {
	var out []Piece
	at := map[string]int{}
	for i := range tests {
		o := &tests[i]
		for _, c := range outcomesOf(o) {
			r, ok := m.reading(o, c.Outcome)
			if !ok {
				continue
			}
			air := meanAir(prepOf(o, prep))
			key := fmt.Sprintf("fresh|%s|%s|%s|%v|%v|%v|%v|%s|%v", r.Kind, bathKey(o), r.Outcome, r.Temp, r.Mass, air, r.Setting, r.Symbol, o.Flame != nil)
			if o.Piece > 0 && len(o.Counts) == 0 {
				key = fmt.Sprintf("piece|%s|%d", o.Lot, o.Piece) // merged lots each count their own pieces
			}
			j, seen := at[key]
			switch {
			case seen && o.Piece > 0 && len(o.Counts) == 0:
				out[j].Readings = append(out[j].Readings, r)
				out[j].Air = math.Min(out[j].Air, air)
			case seen && o.Flame == nil:
				out[j].N += c.N
			default:
				at[key] = len(out)
				out = append(out, Piece{N: c.N, Number: o.Piece, Readings: []Reading{r}, Air: air})
			}
		}
	}
	return out
}

func prepOf(o *sorting.Observation, lot sorting.Prep) sorting.Prep {
	if o.Prep != "" {
		return o.Prep
	}
	return lot
}

func outcomesOf(o *sorting.Observation) []sorting.Count {
	if len(o.Counts) > 0 {
		return o.Counts
	}
	return []sorting.Count{{Outcome: o.Outcome, N: 1}}
}

// reading turns one outcome of a test into what the model reads; false where it says nothing.
func (m *Model) reading(o *sorting.Observation, outcome string) (Reading, bool) {
	r := Reading{Kind: o.Kind, Outcome: outcome, Bath: NewBath, Flame: o.Flame, Symbol: o.Symbol,
		Setting: cues.Setting{Time: o.Time, Temp: o.Temp}}
	if outcome == cues.Unclear {
		return r, false
	}
	if key := bathKey(o); key != "" {
		r.Bath = m.bath(key)
		r.Density = m.baths[r.Bath].density
	}
	switch o.Kind {
	case cues.HotWater:
		r.Temp = float64(o.Temp.Value)
	case cues.Weigh:
		return m.weighed(r, o)
	}
	return r, true
}

// weighed is the density of a piece from its weight in air and in a liquid (Archimedes; buoyancy of
// air neglected: below 0.0002 g/cm3 here). Method.md, response 2.
func (m *Model) weighed(r Reading, o *sorting.Observation) (Reading, bool) {
	air, sunk := float64(o.InAir.Value), float64(o.InLiquid.Value)
	liquid, liquidSD := float64(o.Liquid.Value), float64(o.Liquid.SD)
	if !o.Liquid.Given() && r.Bath >= 0 {
		liquid, liquidSD = m.baths[r.Bath].density, m.baths[r.Bath].sd
	}
	lost := air - sunk
	if lost <= 0 || air <= 0 || liquid <= 0 {
		return r, false
	}
	r.Mass = air * liquid / lost
	da := r.Mass * (1/air - 1/lost) * scaleSD(float64(o.InAir.SD))
	ds := r.Mass / lost * scaleSD(float64(o.InLiquid.SD))
	r.MassSD = math.Sqrt(da*da + ds*ds + math.Pow(r.Mass/liquid*math.Max(liquidSD, 0.001), 2))
	return r, true
}

// scaleSD is the doubt of one small weighing where none was given: a scale of 0.01 g, GUM F.2.2.1
// doubled for the air bubbles and threads that a hanging piece brings (judgement).
func scaleSD(sd float64) float64 {
	if sd > 0 {
		return sd
	}
	return 2 * 0.01 / math.Sqrt(12)
}
