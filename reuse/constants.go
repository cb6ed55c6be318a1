package reuse

import (
	"fmt"
	"math"
	"strings"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// constant is a number of the worth inequality with its doubt: mean and standard deviation, evenly
// spread between two ends where flat is true, normal otherwise.
type constant struct {
	mean, sd float64
	flat     bool
}

// between is a constant evenly spread between its ends.
func between(low, high float64) constant {
	return constant{(low + high) / 2, (high - low) / math.Sqrt(12), true}
}

func exactly(x float64) constant { return constant{mean: x} }

func constantOf[U quantity.Unit](q quantity.Of[U]) constant {
	return constant{float64(q.Value), float64(q.SD), q.Shape == quantity.Rectangular}
}

// at is the value below which a part u of the probability lies, 0 < u < 1.
func (c constant) at(u float64) float64 {
	if c.flat {
		return c.mean + c.sd*math.Sqrt(3)*(2*u-1)
	}
	return c.mean + c.sd*math.Sqrt2*math.Erfinv(2*u-1)
}

// low and high hold 90 % of the probability, neither below zero.
func (c constant) low() float64  { return max(0, c.at(0.05)) }
func (c constant) high() float64 { return max(0, c.at(0.95)) }

// spread takes n evenly placed values of a constant, none below zero.
func spread(c constant, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = max(0, c.at((float64(i)+0.5)/float64(n)))
	}
	return out
}

// costs are the constants of the worth inequality for one way, method.md (R2).
type costs struct {
	price, good, yield     constant // money/kg of what is displaced, 0..1, 0..1
	energy, tariff         constant // kWh/kg, money/kWh
	consumables, fee       constant // money/kg
	hours, wage, fixed     constant // h, money/h, money
	assumed                []sorting.Assumption
	currency, priceMeaning string
}

// preset is the default of one constant and where it comes from.
type preset struct {
	value constant
	from  string
}

const (
	practice  = "common practice, no source"
	judgement = "judgement"
)

// The presets by [worth] key. The means are those of the worked break-even of method.md (R3); the
// spreads are what a reader may well disagree about.
var (
	benchPresets = map[string]preset{
		"replaces":    {between(15, 25), practice + ": filament sells for about 15 to 30 a kg in EUR or USD"},
		"as_good_as":  {between(0.25, 0.75), judgement},
		"yield":       {between(0.75, 0.95), judgement},
		"energy":      {between(0.5, 2.5), "between the sum of single steps (granulator 0.03-0.15, drying 0.1-0.5, extruder 0.15-0.55, common practice and trade pages) and 2.87 kWh/kg, the mean of European plastics sites (survey of 165 processors, 2005-6)"},
		"electricity": {between(0.20, 0.40), practice},
		"consumables": {between(0.2, 0.4), practice},
		"disposal":    {between(0.1, 0.3), practice},
		"hours":       {between(1, 3), judgement},
		"hour":        {exactly(10), judgement},
		"fixed":       {between(3, 7), judgement},
	}
	sheetReplaces = preset{between(5, 15), practice + ": plain sheet stock"}
	outletPresets = map[string]preset{
		"disposal": {between(0.1, 0.3), practice},
		"hours":    {between(0.25, 0.75), judgement + ": weigh, bag, label, hand over"},
		"hour":     {exactly(10), judgement},
		"fixed":    {exactly(0), judgement + ": carriage left out"},
	}
)

// benchCosts are the constants of a route at the bench, each from [worth] or its preset.
func benchCosts(r Route, s Situation) costs {
	w, c := s.Worth, costs{currency: s.Currency, priceMeaning: "what it stands in for"}
	replaces := benchPresets["replaces"]
	if r == Sheet {
		replaces = sheetReplaces
	}
	c.price = pick(&c, "replaces", w.Replaces, replaces, c.money("/kg"))
	c.good = pick(&c, "as_good_as", w.AsGoodAs, benchPresets["as_good_as"], "%")
	c.yield = pick(&c, "yield", w.Yield, benchPresets["yield"], "%")
	c.energy = pick(&c, "energy", w.Energy, benchPresets["energy"], "kWh/kg")
	c.tariff = pick(&c, "electricity", w.Electricity, benchPresets["electricity"], c.money("/kWh"))
	c.consumables = pick(&c, "consumables", w.Consumables, benchPresets["consumables"], c.money("/kg"))
	c.shared(w, benchPresets)
	return c
}

// outletCosts are the constants of handing over: what is handed over is paid for as it is, so nothing
// is lost, melted or bought for it.
func outletCosts(o sorting.Outlet, s Situation) costs {
	c := costs{currency: s.Currency, priceMeaning: "what " + o.Name + " pays", good: exactly(1), yield: exactly(1)}
	c.price = constantOf(o.Pays) // nothing where it says nothing
	c.shared(s.Worth, outletPresets)
	return c
}

func (c *costs) shared(w sorting.Worth, from map[string]preset) {
	c.fee = pick(c, "disposal", w.Disposal, from["disposal"], c.money("/kg"))
	c.wage = pick(c, "hour", w.Hour, from["hour"], c.money("/h"))
	c.fixed = pick(c, "fixed", w.Fixed, from["fixed"], c.money(""))
	c.hours = pick(c, "hours", w.Hours, from["hours"], "h")
	if w.Hours.Given() {
		c.hours = constant{c.hours.mean / 3600, c.hours.sd / 3600, c.hours.flat}
	}
}

func (c *costs) money(per string) string { return currencyOf(c.currency) + per }

// pick takes the constant the file gives, or the preset, which it then notes as an assumption.
func pick[U quantity.Unit](c *costs, key string, given quantity.Of[U], p preset, unit string) constant {
	if given.Given() {
		return constantOf(given)
	}
	c.assumed = append(c.assumed, assumed(key, unit))
	return p.value
}

// assumed states a preset with all the values it has, whichever way asks: so it stands in an answer once.
func assumed(key, unit string) sorting.Assumption {
	p := benchPresets[key]
	a := sorting.Assumption{Says: strings.ReplaceAll(key, "_", " ") + ": " + p.value.text(unit), Key: "[worth] " + key, Source: p.from}
	other, where := sheetReplaces, [2]string{" as filament, ", " as sheet"}
	if key != "replaces" {
		other, where = outletPresets[key], [2]string{" at the bench, ", " to hand it over"}
	}
	if other.from == "" || other.value == p.value {
		return a
	}
	a.Says += where[0] + other.value.text(unit) + where[1]
	a.Source += "; " + other.from
	return a
}

func (c constant) text(unit string) string {
	k := 1.0
	if unit == "%" {
		k = 100
	}
	if !c.flat {
		return fmt.Sprintf("%.4g %s", c.mean*k, unit)
	}
	return fmt.Sprintf("%.4g %s (%.4g to %.4g)", c.mean*k, unit, (c.mean-c.sd*math.Sqrt(3))*k, (c.mean+c.sd*math.Sqrt(3))*k)
}

func currencyOf(c string) string {
	if c == "" {
		return "EUR"
	}
	return c
}
