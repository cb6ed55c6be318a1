package bath

import "brinecut/polymers/quantity"

// Request is a bath that is wanted. Temp left out means 20 °C; ColdestTemp left out means Temp.
type Request struct {
	Target      quantity.Density     // at Temp
	Volume      quantity.Volume      // left out = 1 litre
	Product     Product              // of ReadProduct or Propose
	Temp        quantity.Temperature // at which the bath is used
	ColdestTemp quantity.Temperature // that the bath meets between uses: decides what stays dissolved
	Beside      []string             // heat sources in the same room; an alcohol is refused beside any
}

// Options of Mix. The zero Options are the documented defaults.
type Options struct {
	ScaleStep quantity.Gram    // smallest step of the scale; 0 = 1 g
	TempLimit quantity.Celsius // the bath's temperature is within ± this; 0 = 1 K
	Drain     Drain            // of the place; "" = unknown
}

// Estimate is a density with its doubt: Low to High hold 90 % of the probability.
type Estimate struct {
	Mean, Low, High quantity.GramPerCm3
	SD              quantity.GramPerCm3 // one standard uncertainty
}

// z90 is the normal quantile of 0.95, exact to its last digit: Low to High hold 90 %.
const z90 = 1.644854

func normal(mean, sd float64) Estimate {
	return Estimate{Mean: quantity.GramPerCm3(mean), SD: quantity.GramPerCm3(sd),
		Low: quantity.GramPerCm3(mean - z90*sd), High: quantity.GramPerCm3(mean + z90*sd)}
}

// Step is one action at the bench, with the cautions that belong to it.
type Step struct {
	Do       string
	Cautions []Caution
}

// Recipe says how to mix a bath. Where Reachable is false the masses are zero and Instead says
// what would reach the target.
type Recipe struct {
	Product      Product
	Target       quantity.GramPerCm3
	Temp         quantity.Celsius
	Coldest      quantity.Celsius
	Reachable    bool
	Instead      []string
	Min, Max     quantity.GramPerCm3 // what the product reaches at Temp and keeps dissolved at Coldest
	MassFraction quantity.Share      // of anhydrous or pure solute in the bath
	Saturation   quantity.Share      // MassFraction over the solubility at Coldest; 0 where it mixes freely
	Water        quantity.Gram       // to weigh in
	Weigh        quantity.Gram       // of the product
	Volume       quantity.Milliliter // made
	Expected     Estimate            // density that this recipe gives
	Doubts       []Doubt             // what the doubt of Expected is made of
	HeatRise     quantity.Celsius    // K, upper bound without heat loss; negative where it cools, 0 where not known (alcohols, glycerol)
	Foremost     []Caution           // to be read before anything is weighed: fire, a bath at saturation; they stand beside the first step too
	Order        []Step
	Wait         Wait
	Check        Plan
	Cautions     []Caution
	NeverCombine []Caution
	Disposal     []Caution
	Warnings     []Warning
	Assumptions  []Assumption
}

// Mix makes the recipe for a bath: the mass fraction w at which the liquid has the target density
// at Temp, then product = w M / content and water = M - product for a bath of mass M = target x
// volume. Solids of the product that are not its solute count as water; the check corrects them.
// A target out of reach is not an error. Temperatures outside the published range, impossible
// numbers, and alcohol that is warm or beside a heat source are (*Refusal).
func Mix(r Request, o Options) (Recipe, error) {
	rec, err := begin(r)
	if err != nil {
		return Recipe{}, err
	}
	l := r.Product.Liquid
	if err := fireCheck(l, rec.Target, rec.Temp, r.Beside); err != nil {
		return Recipe{}, err
	}
	span, err := spanOf(r.Product, rec.Temp, rec.Coldest)
	if err != nil {
		return Recipe{}, err
	}
	rec.Min, rec.Max = span.Min, span.Max
	rec.Cautions, rec.NeverCombine, rec.Disposal = Cautions(l), NeverCombine(l), Disposal(l, o.Drain)
	switch {
	case span.isWater(rec.Target):
		rec.settled(r)
		return waterBath(rec), nil
	case l == Water || !span.reaches(rec.Target):
		rec.Instead = instead(rec, span)
		return rec, nil
	}
	rec.Reachable = true
	rec.amounts(span)
	rec.doubts(o)
	rec.HeatRise = quantity.Celsius(heatRise(r.Product, float64(rec.MassFraction)))
	rec.Wait, err = Waiting(l, rec.MassFraction, rec.Temp)
	if err != nil {
		return Recipe{}, err
	}
	rec.Check = plan(l, rec.MassFraction, rec.Target, rec.Temp)
	rec.Cautions = append(fireCautions(l, float64(rec.MassFraction), float64(rec.Temp)), append(warmCautions(float64(rec.Temp)), rec.Cautions...)...)
	rec.Foremost = foremost(rec)
	rec.Order = order(rec)
	rec.warn(r)
	return rec, nil
}

// waterSlack is how far a target may lie from plain water and still be plain water: judgement.
const waterSlack = 0.0005 // g/cm3

// begin settles the defaults and refuses numbers that cannot be.
func begin(r Request) (Recipe, error) {
	temp := r.Temp.Or(20)
	rec := Recipe{Product: r.Product, Target: r.Target.Value, Temp: temp,
		Coldest: min(temp, r.ColdestTemp.Or(temp)), Volume: r.Volume.Or(1000)}
	switch {
	case r.Product.Liquid < Water || r.Product.Liquid > Isopropanol || !(r.Product.Content > 0 && r.Product.Content <= 1):
		return rec, refuse("name one of "+nameList(), "no product is named")
	case !finite(float64(rec.Target)) || rec.Target < 0.6 || rec.Target > 2.5:
		return rec, refuse("ask for one between 0.79 and 1.57 g/cm3", "no household bath has a density of %.4g g/cm3", float64(rec.Target))
	case !finite(float64(rec.Volume)) || rec.Volume <= 0 || rec.Volume > 1e6:
		return rec, refuse("ask for a volume such as 2 l", "a bath of %.4g ml cannot be mixed", float64(rec.Volume))
	case !finite(float64(temp), float64(rec.Coldest)):
		return rec, refuse("give a temperature such as 20 °C", "the temperature is not a number")
	}
	return rec, nil
}

// fireCheck is the hard stop for alcohol; the strength is taken at 20 °C, because a warm bath may
// lie outside the published range.
func fireCheck(l Liquid, target quantity.GramPerCm3, temp quantity.Celsius, beside []string) error {
	if !l.Flammable() {
		return nil
	}
	w, err := Concentration(l, target, 20)
	if err != nil {
		w = 1
	}
	return alcoholRefusal(l, float64(w), float64(temp), beside)
}

func waterBath(rec Recipe) Recipe {
	rec.Reachable = true
	rho := waterDensity(float64(rec.Temp)) / 1000
	rec.Water = quantity.Gram(rho * float64(rec.Volume))
	rec.Expected = normal(rho, liquids[Water].doubt/1000)
	rec.Wait, _ = Waiting(Water, 0, rec.Temp)
	rec.Check = plan(Water, 0, rec.Expected.Mean, rec.Temp)
	rec.Cautions = warmCautions(float64(rec.Temp))
	rec.Order = []Step{{Do: "fill with tap water, let it stand until it has room temperature and no bubbles"}}
	return rec
}

// amounts fills in the mass fraction and what to weigh.
func (rec *Recipe) amounts(s Offer) {
	k, t := liquids[rec.Product.Liquid], float64(rec.Temp)
	w := bisect(func(w float64) float64 { return k.density(w, t) }, rec.Target.KgPerM3(), 0, float64(s.strongest))
	total := float64(rec.Target) * float64(rec.Volume)
	rec.MassFraction = quantity.Share(w)
	rec.Weigh = quantity.Gram(w * total / float64(rec.Product.Content))
	rec.Water = quantity.Gram(total) - rec.Weigh
	if s.saturated < 1 {
		rec.Saturation = rec.MassFraction / s.saturated
	}
}
