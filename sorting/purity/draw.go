package purity

import (
	"fmt"
	"math"
)

// Sample describes flake to be sampled by mass after Gy. Shares and densities are of the others in it.
type Sample struct {
	TopMm        float64 // size that 95 % of the flake passes
	LiberationMm float64 // size below which a flake is of one material; 0 = every flake is (liberated)
	Others       float64 // share of others by mass, expected
	OthersGCm3   float64 // density of the others
	RightGCm3    float64 // density of the right material
	RelError     float64 // one standard deviation of the share, relative to it
	Shape        float64 // 0 = 0.2, flat flake; 0.5 for grains
	SizeRange    float64 // 0 = 0.25, wide range of sizes; 0.5, 0.75 for closer, 1 for equal
}

// LeastGrams is the least mass in g that has to be drawn at random for the relative error: Gy's formula
// C d³/s² with C = f g l m (Wills & Napier-Munn, Mineral Processing Technology; shape and range factors from
// published course notes on sampling). It grows with the third power of the size: grind before drawing. It errs with a
// *Refusal on sizes, shares or densities that cannot be.
func (s Sample) LeastGrams() (float64, error) {
	if s.Shape == 0 {
		s.Shape = 0.2
	}
	if s.SizeRange == 0 {
		s.SizeRange = 0.25
	}
	inside := func(x float64) bool { return x > 0 && x < 1 }
	some := func(x float64) bool { return x > 0 && x < 1e4 }
	if !some(s.TopMm) || !some(s.OthersGCm3) || !some(s.RightGCm3) || !inside(s.Others) || !(s.RelError > 1e-4 && s.RelError < 10) ||
		!(s.LiberationMm >= 0 && s.LiberationMm < 1e4) || !inside(s.Shape) || !(s.SizeRange > 0 && s.SizeRange <= 1) {
		return 0, refuse("sizes in mm, densities in g/cm3, shares between 0 and 1", "a sample like that cannot be")
	}
	d, l := s.TopMm/10, 1.0
	if s.LiberationMm > 0 {
		l = math.Min(1, math.Sqrt(s.LiberationMm/s.TopMm))
	}
	a := s.Others
	m := (1 - a) / a * ((1-a)*s.OthersGCm3 + a*s.RightGCm3)
	return s.Shape * s.SizeRange * l * m * d * d * d / (s.RelError * s.RelError), nil
}

// DrawPieces are the steps, in plain words, to draw n pieces at random from a sack of pieces that can be
// picked up one by one.
func DrawPieces(n int) []string {
	squares := max(20, 4*int(math.Ceil(math.Sqrt(float64(n)))))
	return []string{
		"Gloves on: broken supports cut. Air the room and do not shake the sack: dust.",
		fmt.Sprintf("Fix the number before you look: %d pieces. Do not stop early, and do not go on because of what you see.", n),
		"Tip the whole sack out on a clean sheet, fines and all; a grab from the top is not a random draw, small and heavy pieces sink.",
		"Turn the heap over with a scoop three times, from the edge to the middle. More than the sheet takes in one layer: cone and quarter it first (heap it, flatten it, cut it crosswise in four, keep two opposite quarters with all their fines), until it does.",
		fmt.Sprintf("Spread it to an even layer and mark it into %d numbered squares of one size.", squares),
		"Draw a number for each piece, by dice or from a bag of slips, and put the slip back each time.",
		"Close your eyes, put a pencil down in that square, and take the piece it touches or the nearest one, whatever it looks like.",
		"Put each piece aside under a number of its own as it is drawn. Test every one; a piece lost or unclear counts as wrong.",
		"Never put a piece back because it looks odd, or leave one because it is small.",
	}
}

// DrawFlake are the steps to draw n flakes at random from a sack of flake, by way of a grab of at least
// grams (LeastGrams).
func DrawFlake(n int, grams float64) []string {
	return []string{
		"Goggles and a P2 or FFP2 mask: flake carries dust. Wipe up wet, no compressed air.",
		fmt.Sprintf("Fix the number before you look: %d flakes, from a grab of at least %.0f g.", n, math.Ceil(grams)),
		"Riffle it: pour the whole sack slowly to and fro over a row of equal cups, at least 20, two passes or more, or through a riffle splitter: this is the better way. Number the cups and draw which to keep by lot until the grab is large enough.",
		"No cups and no splitter: cone and quarter. Pour a cone, flatten it, cut it crosswise in four, throw two opposite quarters together with all their fines, heap up again; stop above the mass of the grab. This is the poorer way (common practice).",
		"Pour the grab out in one thin line, cut the line into as many equal lengths as flakes are wanted, and take from each length the flake nearest to its left end.",
		"Test every one; a flake lost or unclear counts as wrong.",
	}
}
