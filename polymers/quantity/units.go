package quantity

import (
	"fmt"
	"sort"
	"strings"
)

// scale turns a number in some written unit into the unit of the type: v*factor + offset.
type scale struct {
	factor, offset float64
}

// kind is what the parser knows of one unit type.
type kind struct {
	name     string // "mass"
	canon    string // the unit of the type, as printed
	example  string // a right way to write one
	units    map[string]scale
	money    string // "" or the tail after the currency: "", "/kg", "/kWh", "/h"
	signed   bool   // negative values have a meaning
	interval bool   // zero is a convention, not nothing: temperature
}

const (
	lb     = 453.59237    // g, exact: international pound, NIST SP 811 appendix B.8
	oz     = 28.349523125 // g, exact: avoirdupois ounce, NIST SP 811 appendix B.8
	galUS  = 3785.411784  // ml, exact: US gallon of 231 cubic inches, NIST SP 811 appendix B.8
	inch   = 25.4         // mm, exact, NIST SP 811 appendix B.8
	psi    = 0.0689475729 // bar: pound-force per square inch, NIST SP 811 appendix B.8 (6.894 757 E+03 Pa)
	isMass = "mass"

	ouncesInPound = 16 // NIST Handbook 44, appendix C
)

// kinds have the prefixes of the SI, exact, beside the units above.
var kinds = map[string]kind{
	isMass:        {name: isMass, canon: "g", example: "6.52 kg ± 20 g", units: linear("g", 1, "kg", 1000, "lb", lb, "oz", oz, "mg", 0.001)},
	"volume":      {name: "volume", canon: "ml", example: "2 l", units: linear("ml", 1, "l", 1000, "gal", galUS, "mL", 1, "L", 1000)},
	"temperature": {name: "temperature", canon: "°C", example: "62 °C", units: map[string]scale{"°C": {1, 0}, "C": {1, 0}, "°F": {5. / 9, -160. / 9}, "F": {5. / 9, -160. / 9}}, signed: true, interval: true},
	"density":     {name: "density", canon: "g/cm3", example: "1.250 g/cm3 ± 0.003", units: linear("g/cm3", 1, "g/ml", 1, "kg/m3", 0.001, "g/cm³", 1, "kg/m³", 0.001, "g/mL", 1)},
	"length":      {name: "length", canon: "mm", example: "1.75 mm", units: linear("mm", 1, "cm", 10, "m", 1000, "in", inch)},
	"area":        {name: "area", canon: "m2", example: "900 cm2", units: linear("m2", 1, "cm2", 1e-4, "m²", 1, "cm²", 1e-4)},
	"time":        {name: "time", canon: "s", example: "3 min", units: linear("s", 1, "min", 60, "h", 3600, "d", 86400)},
	"pressure":    {name: "pressure", canon: "bar", example: "10 bar", units: linear("bar", 1, "MPa", 10, "psi", psi)},
	"force":       {name: "force", canon: "N", example: "20 kN", units: linear("N", 1, "kN", 1000)},
	"energy":      {name: "energy", canon: "kWh", example: "1.5 kWh", units: linear("kWh", 1, "kJ", 1./3600)},
	"share":       {name: "share", canon: "%", example: "15 %", units: linear("%", 0.01)},
	"energy rate": {name: "energy rate", canon: "kWh/kg", example: "1.5 kWh/kg", units: linear("kWh/kg", 1, "kJ/kg", 1./3600)},
	"money":       {name: "money", example: "5 EUR", money: ""},
	"price":       {name: "price", example: "20 EUR/kg", money: "/kg", signed: true},
	"tariff":      {name: "tariff", example: "0.32 EUR/kWh", money: "/kWh"},
	"wage":        {name: "wage", example: "12 EUR/h", money: "/h"},
}

func linear(pairs ...any) map[string]scale {
	m := map[string]scale{}
	for i := 0; i < len(pairs); i += 2 {
		var f float64
		switch v := pairs[i+1].(type) {
		case int:
			f = float64(v)
		case float64:
			f = v
		}
		m[pairs[i].(string)] = scale{factor: f}
	}
	return m
}

// kindOf finds the parser's knowledge of the unit type U.
func kindOf[U Unit]() kind {
	var u U
	name := ""
	switch any(u).(type) {
	case Gram:
		name = isMass
	case Milliliter:
		name = "volume"
	case Celsius:
		name = "temperature"
	case GramPerCm3:
		name = "density"
	case Millimeter:
		name = "length"
	case SquareMeter:
		name = "area"
	case Second:
		name = "time"
	case Bar:
		name = "pressure"
	case Newton:
		name = "force"
	case KilowattHour:
		name = "energy"
	case Share:
		name = "share"
	case Money:
		name = "money"
	case MoneyPerKg:
		name = "price"
	case MoneyPerKWh:
		name = "tariff"
	case MoneyPerHour:
		name = "wage"
	case KilowattHoursKg:
		name = "energy rate"
	}
	return kinds[name]
}

// isCurrency reports whether s can be a currency: three capital letters.
func isCurrency(s string) bool {
	if len(s) != 3 {
		return false
	}
	for _, r := range s {
		if r < 'A' || r > 'Z' {
			return false
		}
	}
	return true
}

// find looks a written unit up: its scale, its currency (money only), and whether it is one of this kind.
func (k kind) find(unit string) (scale, string, bool) {
	if k.units != nil {
		s, ok := k.units[unit]
		return s, "", ok
	}
	cur, ok := strings.CutSuffix(unit, k.money)
	if ok && isCurrency(cur) {
		return scale{factor: 1}, cur, true
	}
	if cur, ok = strings.CutSuffix(unit, "/lb"); ok && k.money == "/kg" && isCurrency(cur) {
		return scale{factor: 1000 / lb}, cur, true
	}
	return scale{}, "", false
}

// whose names the kind that a unit of another kind belongs to, "" where it is no unit at all.
func whose(unit string) string {
	names := make([]string, 0, len(kinds))
	for n := range kinds {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		if _, _, ok := kinds[n].find(unit); ok {
			return n
		}
	}
	return ""
}

// list writes the units a kind can be given in.
func (k kind) list() string {
	if k.units == nil {
		return "a three-letter currency, as EUR" + strings.Replace(k.money, "/kg", "/kg or USD/lb", 1)
	}
	var us []string
	for u := range k.units {
		if !strings.ContainsAny(u, "³²") && u != "mL" && u != "L" && u != "g/mL" && u != "mg" {
			us = append(us, u)
		}
	}
	sort.Strings(us)
	return fmt.Sprintf("one of %s", strings.Join(us, ", "))
}
