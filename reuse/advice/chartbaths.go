package advice

import (
	"fmt"
	"math"
	"slices"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/bath"
	"brinecut/sorting/triage"
)

// plainWater is how far from the density of water a line is still made in plain water, g/cm3: no bench
// mixes closer (judgement).
const plainWater = 0.005

// bathsToMix is how each bath is mixed that the lines ask for and the bin does not have yet: a liter at
// 20 °C of the mildest product of the kit that reaches it. Cautions of a product stand at its first bath.
func bathsToMix(bin *sorting.Bin, lines []triage.ChartLine) []Step {
	var out []Step
	var done []quantity.GramPerCm3
	var said []bath.Liquid
	for _, l := range lines {
		if l.Kind != cues.Float || l.Bath != "" || slices.Contains(done, l.Density) || math.Abs(float64(l.Density)-0.998) < plainWater {
			continue
		}
		done = append(done, l.Density)
		offer, err := bath.Propose(l.Density, Kit(bin), bath.Place{})
		if err != nil {
			continue // the menu named a liquid that mixes to it; how is not known here
		}
		r, err := bath.Mix(bath.Request{Target: quantity.Exact(l.Density), Product: offer.Product}, bath.Options{Drain: bath.Drain(bin.Place.Drain)})
		if err != nil || !r.Reachable {
			continue
		}
		s := Step{Do: fmt.Sprintf("bath of %s: %.0f g %s in %.0f g water makes a liter at 20 °C; weigh a full bottle of it and one of water to check it",
			quantity.Format(l.Density), r.Weigh, r.Product.Name, r.Water)}
		for _, c := range r.Foremost {
			s.Cautions = append(s.Cautions, c.Says)
		}
		if !slices.Contains(said, r.Product.Liquid) {
			said = append(said, r.Product.Liquid)
			for _, c := range r.Cautions {
				if !slices.Contains(s.Cautions, c.Says) {
					s.Cautions = append(s.Cautions, c.Says)
				}
			}
		}
		out = append(out, s)
	}
	return out
}
