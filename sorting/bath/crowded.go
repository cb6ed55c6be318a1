package bath

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
)

// Shares of saturation: judgement. From crowding on nine tenths of the water are too few to
// dissolve the product in; from the brim on a colder hour, or a strong product, spoils the bath.
const (
	crowding = 0.85
	brim     = 0.97
)

// dissolves is the mass fraction that stays dissolved while the bath is mixed, at its temperature
// less what dissolving cools it by; 1 where it mixes freely.
func (rec Recipe) dissolves() float64 {
	sat, err := Solubility(rec.Product.Liquid, max(0, rec.Temp+min(0, rec.HeatRise)))
	if err != nil {
		return 1
	}
	return float64(sat)
}

// crowded reports whether all of the water has to go in before the product.
func (rec Recipe) crowded() bool {
	part := rec.Weigh + 0.9*rec.Water
	early := float64(rec.Weigh*quantity.Gram(rec.Product.Content)) / float64(part)
	return rec.Saturation > crowding || early > rec.dissolves()
}

// warmest that water is taken for mixing: judgement, below what scalds at once.
const warmest = 60 // °C

// warmWater is the temperature in °C at which to take the water where the product, cooling it,
// would not dissolve: the bath's, plus what it is cooled by, plus 10 K in hand, in steps of 5 °C
// (judgement). 0 where the water may be as it is.
func (rec Recipe) warmWater() float64 {
	if rec.HeatRise >= -cold || float64(rec.MassFraction) < 0.95*rec.dissolves() {
		return 0
	}
	return math.Max(float64(rec.Temp), math.Min(warmest, 5*math.Ceil(float64(rec.Temp-rec.HeatRise+10)/5)))
}

// foremost is what is to be known before anything is weighed.
func foremost(rec Recipe) []Caution {
	out := fireCautions(rec.Product.Liquid, float64(rec.MassFraction), float64(rec.Temp))
	if rec.Product.Liquid.Flammable() {
		out = append(out, alcoholCautions[0], Caution{"often no such bath is needed: of common plastics only polypropylene, polyethylene and what is foamed or hollow float on plain water, " +
			"and hand, marking or hot water in another room tell those apart", fromMemory})
	}
	if rec.Saturation > brim {
		says := fmt.Sprintf("this bath is at %.0f %% of saturation at %s: some of the product may stay on the bottom, and a little colder crystals drop out and the density falls",
			100*float64(rec.Saturation), quantity.Format(rec.Coldest))
		if o, ok := roomier(rec); ok {
			says += "; " + o.Product.Name + " reaches it with room to spare"
		}
		out = append(out, Caution{says, "CRC Handbook 98th ed., Aqueous Solubility; judgement"})
	}
	return out
}

// roomier is the first household liquid by rank that reaches the target clear of saturation.
func roomier(rec Recipe) (Offer, bool) {
	for _, o := range offers(everything()[1:], rec.Temp, rec.Coldest) {
		if o.easily(rec.Target) && !o.Product.Liquid.Flammable() {
			return o, true
		}
	}
	return Offer{}, false
}

// Strength says what the mass fraction is a fraction of, and what was weighed where that differs:
// "22.5 % by mass of anhydrous MgSO4 (46.0 % by mass of epsom salt as weighed)".
func (rec Recipe) Strength() string {
	if rec.MassFraction == 0 {
		return "plain water"
	}
	l, of := rec.Product.Liquid, "pure "
	if _, salt := solubilities[l]; salt && l != Sugar {
		of = "anhydrous "
	}
	name := l.Formula()
	if l == Sugar || l == Glycerol || l.Flammable() {
		name = l.String()
	}
	s := fmt.Sprintf("%.1f %% by mass of %s%s", 100*float64(rec.MassFraction), of, name)
	if weighed := 100 * float64(rec.Weigh/(rec.Weigh+rec.Water)); weighed-100*float64(rec.MassFraction) >= 0.05 {
		s += fmt.Sprintf(" (%.1f %% by mass of %s as weighed)", weighed, rec.Product.Name)
	}
	return s
}
