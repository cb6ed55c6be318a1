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

// Imagine is the reading that a test still to be made would give: kind, the liquid's density or the
// water's temperature where it takes one, and the outcome. A bath of the bin at that density is used
// again, with its error.
func (m *Model) Imagine(k cues.Kind, density quantity.GramPerCm3, temp quantity.Celsius, outcome string) Reading {
	r := Reading{Kind: k, Outcome: outcome, Bath: NewBath, Density: float64(density), Temp: float64(temp)}
	for i, b := range m.baths {
		if k == cues.Float && math.Abs(b.density-r.Density) < 5e-4 {
			r.Bath, r.Density = i, b.density
		}
	}
	return r
}

// BathName gives the name of the [[bath]] behind a reading, "" where it is not one of the file's.
func (m *Model) BathName(r Reading) string {
	if r.Bath < 0 {
		return ""
	}
	const prefix = "bath "
	if n := m.baths[r.Bath].name; len(n) > len(prefix) && n[:len(prefix)] == prefix {
		return n[len(prefix):]
	}
	return ""
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
