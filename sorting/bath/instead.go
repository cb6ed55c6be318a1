package bath

import (
	"fmt"

	"brinecut/polymers/quantity"
)

// instead says what would reach the target.
func instead(rec Recipe, s Offer) []string {
	var out []string
	if rec.Target > rec.Max && rec.Coldest < rec.Temp {
		if warm, err := spanOf(rec.Product, rec.Temp, rec.Temp); err == nil && warm.Max >= rec.Target {
			out = append(out, fmt.Sprintf("the same product, if the bath never gets colder than %s (it would reach %.3f g/cm3)",
				quantity.Format(rec.Temp), float64(warm.Max)))
		}
	}
	if s.byContent {
		if pure, err := spanOf(purest(rec.Product), rec.Temp, rec.Coldest); err == nil && pure.reaches(rec.Target) {
			out = append(out, "a stronger grade of "+rec.Product.Liquid.String())
		}
	}
	for _, o := range offers(everything(), rec.Temp, rec.Coldest) {
		if o.Product.Liquid != rec.Product.Liquid && o.reaches(rec.Target) {
			out = append(out, fmt.Sprintf("%s (%.3f to %.3f g/cm3)", o.Product.Name, float64(o.Min), float64(o.Max)))
		}
	}
	if len(out) == 0 {
		out = append(out, "no household liquid of the ten: weigh the piece in water instead, or use another kind of test")
	}
	return out
}

func purest(p Product) Product {
	p.Content, p.Low, p.High = 1, 1, 1
	return p
}
