package press

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers"
)

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

// dryingWords say how print scrap is dried. Scrap is amorphous whatever the pellet was: a record that has
// drying for pellets only is capped below the glass transition, with more time.
func dryingWords(m polymers.Material) string {
	d, ok := m.Drying("print scrap")
	warm, capped := d.TempC.Typical, ""
	if !ok {
		if d, ok = m.Drying("pellet"); !ok {
			return "no drying is published for " + string(m.Symbol) + "; surface water has to go: spread thin, warm room, overnight (common practice)"
		}
		warm, capped = d.TempC.Typical, " (published for pellets)"
		if limit, on := ovenLimit(m); on && warm > limit {
			warm = limit
			capped += "; no warmer, loose scrap begins to stick, and for longer than the hours say"
		}
	}
	words := fmt.Sprintf("%s at %s%s", span(d.Hours, "h"), temp(warm), capped)
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
// bound: the water that stays or boils off cuts nothing. Polyesters, PC and TPU only. method.md (P16). It errs
// on values that cannot be.
func ChainAfterWater(molar, water float64) (float64, error) {
	if !(molar >= 100 && molar <= 1e8) || !(water >= 0 && water <= 1) {
		return 0, refuse(NotPossible, "g/mol, and a share by mass", "%s g/mol with a share of %s of water cannot be", num(molar), num(water))
	}
	return 1 / (1/molar + water/waterMolar), nil
}

// chains is the number-average molar mass in g/mol, from and to, that a polymer is worked at and whose chains
// water cuts in the melt: from memory. Polyamides are left out: their melt stands near the balance of
// condensation and hydrolysis, so that a little water is no plain loss.
type chains struct {
	symbol   polymers.Symbol
	from, to float64
}

// hydrolyses are those that water cuts, from memory.
var hydrolyses = []chains{
	{"PLA", 60000, 100000}, {"PETG", 20000, 30000}, {"PCTG", 20000, 30000}, {"CPE", 20000, 30000}, {"PET", 20000, 30000},
	{"PBT", 20000, 40000}, {"PBAT", 30000, 60000}, {"PC", 10000, 18000}, {"PC+ABS", 10000, 18000}, {"TPU", 30000, 80000},
	{"PHA", 100000, 300000}, {"PHB", 100000, 300000}, {"PHBH", 100000, 300000},
}

// hydrolysisWords say what the water still allowed can do to the chains at most: the longer they are, the more
// one cut counts. Empty where water does not cut, or no limit is published. method.md (P16).
func hydrolysisWords(m polymers.Material) string {
	most := driest(m)
	at := slices.IndexFunc(hydrolyses, func(c chains) bool { return c.symbol == polymer(m) })
	if most == nil || at < 0 {
		return ""
	}
	c, water := hydrolyses[at], most.High/100
	short, err := ChainAfterWater(c.from, water)
	long, err2 := ChainAfterWater(c.to, water)
	if err != nil || err2 != nil {
		return ""
	}
	return fmt.Sprintf("water cuts its chains in the melt: %s %%, the most that is allowed, shortens them by %.0f to %.0f %% at each pass at the very most (stoichiometric upper bound, every molecule of water used up; usual chains of %s to %s g/mol, from memory), and undried scrap is far worse",
		num(most.High), 100*(1-short/c.from), 100*(1-long/c.to), num(c.from), num(c.to))
}
