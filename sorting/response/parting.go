package response

import (
	"math"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Replicas is how many products a lot holds of each candidate in one scenario.
func (d *Drawn) Replicas() int { return d.replicas }

// Misplaced is the share of pieces that a split by this kind simply puts on the wrong side; where a
// kind is answered from tables, the tables hold it already and it is 0.
func Misplaced(k cues.Kind) float64 {
	switch k {
	case cues.Float:
		return wrongRead
	case cues.HotWater:
		return wrongHeat
	}
	return 0
}

// Lower is how a float or hot-water split divides the pieces of each product before any is misplaced:
// the share lighter than the bath, or limp in the water, [candidate][scenario*Replicas + replica].
// Candidates that are not wanted are nil; of the scenarios only every n-th is filled in. The floats of
// several baths belong to one density of the piece, so shares are nested, not independent.
func (d *Drawn) Lower(a Ask, wanted []bool, every int) [][]float64 {
	bath, _ := d.m.BathFor(a.Density)
	out := make([][]float64, len(d.m.pops))
	for c := range out {
		if !wanted[c] {
			continue
		}
		out[c] = make([]float64, d.block())
		for j := 0; j < len(d.m.Scenarios); j += every {
			for r := j * d.replicas; r < (j+1)*d.replicas; r++ {
				out[c][r] = d.m.lower(a, bath, j, &d.products[c*d.block()+r])
			}
		}
	}
	return out
}

func (m *Model) lower(a Ask, bath, j int, pr *Product) float64 {
	s := &m.Scenarios[j]
	if a.Kind == cues.HotWater {
		return heatWindow{math.Inf(-1), float64(a.Temp) + s.Thermo}.probability(pr.Softens)
	}
	b := float64(a.Density) + s.NewBath
	if bath >= 0 {
		b = m.baths[bath].density + s.Bath[bath]
	}
	return airyCDF(b+float64(a.Off), pr.Density, pieceSD, meanAir(a.Prep)*s.Air)
}

// Sharpness is the probable error of a float as the model has it, before air: half the span of density
// from one to three quarters of the pieces of one product (0.6745 standard deviations of a normal law).
func Sharpness() quantity.GramPerCm3 { return 0.6745 * pieceSD }

// Showing is the share of the pieces that show one of the outcomes in a test answered from tables,
// arranged as Lower's.
func (d *Drawn) Showing(k cues.Kind, prep sorting.Prep, outcomes ...string) [][]float64 {
	J := len(d.m.Scenarios)
	out := make([][]float64, len(d.m.pops))
	for c := range out {
		out[c] = make([]float64, d.block())
	}
	for _, o := range outcomes {
		t := d.Table(d.m.PieceOf(Reading{Kind: k, Outcome: o, Bath: NewBath}, prep))
		for c := range out {
			for i := range out[c] {
				out[c][i] += t[c*J+i/d.replicas]
			}
		}
	}
	return out
}
