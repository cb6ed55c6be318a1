package bath

import (
	"sort"

	"brinecut/polymers/quantity"
)

// Offer is a liquid that could be mixed, and the densities it would reach.
type Offer struct {
	Product  Product
	Min, Max quantity.GramPerCm3 // at the bath's temperature, dissolved at the coldest
	Easy     quantity.GramPerCm3 // the far end up to which it mixes easily (90 % of saturation)
	InKit    bool

	strongest quantity.Share // mass fraction at the far end
	saturated quantity.Share // solubility at the coldest temperature, 1 where it mixes freely
	byContent bool           // the product's own strength is what ends the reach
}

func (o Offer) reaches(d quantity.GramPerCm3) bool { return d >= o.Min && d <= o.Max }

// easily reports whether the density keeps clear of saturation.
func (o Offer) easily(d quantity.GramPerCm3) bool {
	return o.reaches(d) && d <= o.Easy
}

// spanOf reckons what a product reaches at temp when the bath may cool to coldest.
func spanOf(p Product, temp, coldest quantity.Celsius) (Offer, error) {
	k, err := p.Liquid.at(temp)
	if err != nil {
		return Offer{}, err
	}
	sat, err := Solubility(p.Liquid, coldest)
	if err != nil {
		return Offer{}, err
	}
	o := Offer{Product: p, saturated: sat}
	o.strongest = min(sat, quantity.Share(k.limit), p.Content)
	o.byContent = p.Content < min(sat, quantity.Share(k.limit))
	at := func(w quantity.Share) quantity.GramPerCm3 {
		return quantity.GramPerCm3(k.density(float64(w), float64(temp)) / 1000)
	}
	near, far, easy := at(0), at(o.strongest), o.strongest
	if sat < 1 {
		easy = min(o.strongest, Comfort*sat)
	}
	o.Min, o.Max, o.Easy = min(near, far), max(near, far), max(near, at(easy))
	if p.Liquid == Glycerol { // above 90 % it is too thick to settle in: see Waiting
		o.Easy = at(min(o.strongest, Comfort))
	}
	return o, nil
}

// rank orders the liquids by price and harm, least first: judgement, from usual household prices
// and the hazards in Cautions. Sugar and glycerol come late for their slow, sticky baths, sodium
// bromide for its price, alcohol last for fire.
var rank = map[Liquid]int{Water: 0, TableSalt: 1, EpsomSalt: 2, CalciumChloride: 3, MagnesiumChloride: 4, Sugar: 5,
	PotassiumCarbonate: 6, SodiumBromide: 7, Glycerol: 8, Ethanol: 9, Isopropanol: 10}

// everything is each liquid in its usual household grade.
func everything() []Product {
	var all []Product
	for _, l := range Liquids() {
		p, err := ReadProduct(l.String())
		if err != nil {
			panic("bath: no household grade of " + l.String())
		}
		all = append(all, p)
	}
	return all
}

// offers keeps the products whose densities are published at temp, by rank.
func offers(products []Product, temp, coldest quantity.Celsius) []Offer {
	var out []Offer
	for _, p := range products {
		if alcoholRefusal(p.Liquid, 1, float64(temp), nil) != nil {
			continue
		}
		if o, err := spanOf(p, temp, coldest); err == nil {
			out = append(out, o)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return rank[out[i].Product.Liquid] < rank[out[j].Product.Liquid] })
	return out
}

// Place is where the bath is used. The zero Place is 20 °C throughout, without heat sources.
type Place struct {
	Temp    quantity.Temperature // left out = 20 °C
	Coldest quantity.Temperature // left out = Temp
	Beside  []string             // heat sources in the same room
}

func (p Place) temps() (temp, coldest quantity.Celsius) {
	temp = p.Temp.Or(20)
	return temp, min(temp, p.Coldest.Or(temp))
}

// flame reports whether alcohol has no place there.
func (p Place) flame(kit []string) bool { return len(p.Beside) > 0 || len(heatSourcesOf(kit)) > 0 }

// Reach lists what a kit can mix, cheapest and least harmful first; plain water is always there.
// Names in the kit that are no bath liquid (kettle, scale) are passed over, and so are liquids
// without published densities at that temperature. No alcohol is offered beside a heat source, nor
// from a kit that holds a flame or a heat gun.
func Reach(kit []string, at Place) []Offer {
	temp, coldest := at.temps()
	products := everything()[:1]
	for _, name := range kit {
		p, err := ReadProduct(name)
		if err != nil || p.Liquid == Water || p.Liquid.Flammable() && at.flame(kit) {
			continue
		}
		products = append(products, p)
	}
	out := offers(products, temp, coldest)
	for i := range out {
		out[i].InKit = true
	}
	return out
}

// Propose chooses the liquid for a target density: of what the kit has and what reaches the
// target, the first by rank that stays clear of saturation, else the first that reaches it; where
// the kit has none, the same among the usual household grades, with InKit false. It is an error
// (*Refusal) where none of the ten reaches the target.
func Propose(target quantity.GramPerCm3, kit []string, at Place) (Offer, error) {
	temp, coldest := at.temps()
	if !finite(float64(target), float64(temp), float64(coldest)) {
		return Offer{}, refuse("ask for a density such as 1.150 g/cm3", "the density or the temperature is not a number")
	}
	if o, ok := best(Reach(kit, at), target); ok {
		return o, nil
	}
	var others []Product
	for _, p := range everything() {
		if !p.Liquid.Flammable() || !at.flame(kit) {
			others = append(others, p)
		}
	}
	if o, ok := best(offers(others, temp, coldest), target); ok {
		return o, nil
	}
	return Offer{}, refuse("weigh the piece in water instead, use another kind of test, or work at 20 °C away from heat sources",
		"none of the ten liquids reaches %.3f g/cm3 at %s (coldest %s)", float64(target), quantity.Format(temp), quantity.Format(coldest))
}

func best(offered []Offer, target quantity.GramPerCm3) (Offer, bool) {
	for _, easy := range []bool{true, false} {
		for _, o := range offered {
			if o.isWater(target) || o.Product.Liquid != Water && (easy && o.easily(target) || !easy && o.reaches(target)) {
				return o, true
			}
		}
	}
	return Offer{}, false
}

// isWater reports whether plain water is the bath.
func (o Offer) isWater(target quantity.GramPerCm3) bool {
	return o.Product.Liquid == Water && target >= o.Min-waterSlack && target <= o.Max+waterSlack
}
