package bath

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
)

// Doubt is one contribution to a standard uncertainty of density.
type Doubt struct {
	From string
	SD   quantity.GramPerCm3
}

// combine adds independent contributions in quadrature: JCGM 100:2008 (GUM), equation 10.
func combine(ds []Doubt) float64 {
	sum := 0.0
	for _, d := range ds {
		sum += float64(d.SD) * float64(d.SD)
	}
	return math.Sqrt(sum)
}

// rectangle is the standard deviation of a rectangle of half-width a: GUM 4.3.7.
func rectangle(a float64) float64 { return a / math.Sqrt(3) }

// doubts reckons how far the mixed bath may lie from the target.
func (rec *Recipe) doubts(o Options) {
	k := liquids[rec.Product.Liquid]
	w, t := float64(rec.MassFraction), float64(rec.Temp)
	perShare := slope(func(w float64) float64 { return k.density(w, t) / 1000 }, math.Max(w, 1e-4), 1e-4)
	perKelvin := slope(func(t float64) float64 { return k.density(w, t) / 1000 }, t, 0.1)
	p := rec.Product
	content := float64(p.High-p.Low) / math.Sqrt(12) / float64(p.Content)
	step := float64(o.ScaleStep)
	if step <= 0 {
		step = 1
	}
	reading := step / math.Sqrt(12)
	share := float64(rec.Weigh / (rec.Weigh + rec.Water))
	weighing := (1 - share) * math.Hypot(reading/math.Max(float64(rec.Weigh), reading), reading/math.Max(float64(rec.Water), reading))
	limit := float64(o.TempLimit)
	if limit <= 0 {
		limit = 1
	}
	model := k.doubt / 1000
	if w > k.fitted {
		model *= 3 // beyond the fitted range: judgement
	}
	sd := func(x float64) quantity.GramPerCm3 { return quantity.GramPerCm3(math.Abs(x)) }
	rec.Doubts = []Doubt{
		{"strength of the product", sd(perShare * w * content)},
		{"weighing", sd(perShare * w * weighing)},
		{"temperature", sd(perKelvin * rectangle(limit))},
		{"density equation", sd(model)},
	}
	rec.Expected = normal(float64(rec.Target), combine(rec.Doubts))
	if o.ScaleStep <= 0 {
		rec.Assumptions = append(rec.Assumptions, Assumption{fmt.Sprintf("scale step %g g", step), "scale step", common})
	}
	if o.TempLimit <= 0 {
		rec.Assumptions = append(rec.Assumptions, Assumption{fmt.Sprintf("temperature within ± %g K", limit), "temp", common})
	}
}

// warn adds what is doubtful about the recipe, and what would remove it.
func (rec *Recipe) warn(r Request) {
	k := liquids[rec.Product.Liquid]
	if !rec.Product.Stated {
		rec.Assumptions = append(rec.Assumptions, Assumption{
			fmt.Sprintf("%s holds %.1f %% (%.1f to %.1f %%)", rec.Product.Name, 100*float64(rec.Product.Content), 100*float64(rec.Product.Low), 100*float64(rec.Product.High)),
			"the percentage behind the product's name", rec.Product.Source})
	}
	rec.settled(r)
	if float64(rec.MassFraction) > k.fitted {
		rec.Warnings = append(rec.Warnings, Warning{fmt.Sprintf("%.1f %% lies beyond the %.1f %% to which the density equation was fitted",
			100*float64(rec.MassFraction), 100*k.fitted), "weigh the bath in a bottle before use"})
	}
	if rec.Saturation > Comfort {
		rec.Warnings = append(rec.Warnings, Warning{fmt.Sprintf("the bath is at %.0f %% of saturation at %s: a little colder and crystals drop out and the density falls",
			100*float64(rec.Saturation), quantity.Format(rec.Coldest)), "keep it warm, and weigh it in a bottle again after any cold night"})
	}
	if rec.Product.Liquid == Isopropanol && math.Abs(float64(rec.Temp)-20) > 2 {
		rec.Warnings = append(rec.Warnings, Warning{"the temperature slope of 2-propanol mixtures is not verified away from 20 °C", "work at 20 ± 2 °C, or weigh the bath in a bottle"})
	}
}

// settled lists what the request left to the defaults.
func (rec *Recipe) settled(r Request) {
	add := func(says, key string) {
		rec.Assumptions = append(rec.Assumptions, Assumption{says, key, common})
	}
	if !r.Volume.Given() {
		add("1 litre is wanted", "volume")
	}
	if !r.Temp.Given() {
		add("the bath is used at 20 °C", "temp")
	}
	if !r.ColdestTemp.Given() {
		add("the bath never gets colder than "+quantity.Format(rec.Coldest), "coldest temperature")
	}
}
