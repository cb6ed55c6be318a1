package advice

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/bath"
	"brinecut/sorting/separation"
)

// roomTemp is what a bath is taken to stand at where its [[bath]] does not say (common practice).
const roomTemp quantity.Celsius = 20

// waits tells every float of a plan how long its pieces need in that liquid.
func waits(bin *sorting.Bin, plans []separation.LotPlan) {
	for i := range plans {
		for _, x := range plans[i].Partings() {
			if x.Kind != sorting.ByFloat {
				continue
			}
			if l, t, ok := liquidOf(bin, x); ok {
				x.Wait, x.In = waitIn(l, x.Density, t)
			}
		}
	}
}

// liquidOf is the liquid of a float: of the bath that stands, else what the kit would mix.
func liquidOf(bin *sorting.Bin, x *separation.Parting) (bath.Liquid, quantity.Celsius, bool) {
	if b, ok := bin.BathOf(x.Bath); ok && b.Salt != "" {
		p, err := bath.ReadProduct(b.Salt)
		return p.Liquid, b.Temp.Or(roomTemp), err == nil
	}
	o, err := bath.Propose(x.Density, Kit(bin), bath.Place{})
	return o.Product.Liquid, roomTemp, err == nil
}

// waitIn is the time to allow in a liquid of that density, and why; zero where the liquid cannot be it.
func waitIn(l bath.Liquid, density quantity.GramPerCm3, t quantity.Celsius) (quantity.Second, string) {
	w := quantity.Share(0)
	if l != bath.Water {
		var err error
		if w, err = bath.Concentration(l, density, t); err != nil {
			return 0, ""
		}
	}
	wait, err := bath.Waiting(l, w, t)
	if err != nil {
		return 0, ""
	}
	return wait.Least, fmt.Sprintf("%s: a 4 mm grain that is 0.010 g/cm3 off crosses 15 cm in %.0f s", l, math.Ceil(float64(wait.Crossing)))
}
