package press

import (
	"fmt"
	"strings"

	"brinecut/polymers"
)

// dryFor is the record's drying for a form; another form's where the record has none for it.
func dryFor(m polymers.Material, form string) (polymers.Drying, bool) {
	for _, d := range m.Dry {
		if d.Form == form {
			return d, true
		}
	}
	return polymers.Drying{}, false
}

// driest is the most water the record allows in the melt, percent by mass, of any form; nil where none is published.
func driest(m polymers.Material) *polymers.Value {
	var least *polymers.Value
	for _, d := range m.Dry {
		if v := d.MaxMoisturePercent; v != nil && (least == nil || v.High < least.High) {
			least = v
		}
	}
	return least
}

// ovenLimit keeps loose amorphous scrap from gluing together: 5 K under the lowest glass transition; ok is
// false where that is no limit.
func ovenLimit(m polymers.Material) (float64, bool) {
	if m.GlassTransition == nil || m.GlassTransition.Low < 40 {
		return 0, false
	}
	return m.GlassTransition.Low - 5, true
}

// dryingWords say how a form is dried. Scrap is amorphous whatever the pellet was: a record that has drying
// for pellets only is capped below the glass transition, with more time.
func dryingWords(m polymers.Material, form string) string {
	d, ok := dryFor(m, form)
	capped := ""
	if !ok {
		if d, ok = dryFor(m, "pellet"); !ok {
			return "no drying is published for " + string(m.Symbol) + "; surface water has to go: spread thin, warm room, overnight (common practice)"
		}
		capped = " (published for pellets)"
	}
	most := d.TempC.High
	if limit, on := ovenLimit(m); on && form != "pellet" && most > limit {
		most = limit
		capped += fmt.Sprintf("; no warmer than %s, where loose scrap begins to stick, and for longer than the hours say", temp(limit))
	}
	words := fmt.Sprintf("%s at %s%s", span(d.Hours, "h"), temp(min(most, d.TempC.Typical)), capped)
	if v := d.MaxMoisturePercent; v != nil {
		words += fmt.Sprintf(", to %s %% of water", num(v.Typical))
	}
	return words
}

func span(v polymers.Value, unit string) string {
	if v.Low == v.High {
		return num(v.Low) + " " + unit
	}
	return strings.Join([]string{num(v.Low), num(v.High)}, "-") + " " + unit
}

// waterMolar is the molar mass of water in g/mol (CIAAW standard atomic weights).
const waterMolar = 18.015

// ChainAfterWater is the number-average molar mass in g/mol left of molar after the share water (by mass)
// has been used up by hydrolysis, one cut a molecule: 1/Mn' = 1/Mn + w/M(H2O). It is a stoichiometric
// bound: the water that stays or boils off cuts nothing. Polyesters, PC, PA and TPU only. method.md (P16). It errs
// on values that cannot be.
func ChainAfterWater(molar, water float64) (float64, error) {
	if !(molar >= 100 && molar <= 1e8) || !(water >= 0 && water <= 1) {
		return 0, refuse(NotPossible, "g/mol, and a share by mass", "%s g/mol with a share of %s of water cannot be", num(molar), num(water))
	}
	return 1 / (1/molar + water/waterMolar), nil
}
