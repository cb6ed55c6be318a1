package cues_test

import (
	"fmt"

	"brinecut/polymers"
	"brinecut/polymers/cues"
)

// ABS is soluble in ketones (INRS, Plastiques, risque et analyse thermique, sheet 4), and
// poly(ethylene terephthalate) does not react with acetone (D. A. Katz, Identification of Polymers,
// 1998): one drop tells them apart.
func ExampleLikelihood() {
	seen := cues.Seen(cues.Acetone, "")
	for _, symbol := range []polymers.Symbol{"ABS", "PET"} {
		p, err := cues.Likelihood(cues.Acetone, cues.Setting{}, polymers.Material{Symbol: symbol, Base: symbol, Polymer: symbol})
		if err != nil {
			fmt.Println(err)
			return
		}
		best := 0
		for i := range p {
			if p[i] > p[best] {
				best = i
			}
		}
		fmt.Println(symbol, seen[best])
	}
	// Output:
	// ABS dissolves
	// PET unchanged
}
