// Package quantity holds measured values: a number in a unit fixed by its type,
// the standard uncertainty that was stated with it, and the text it was read from.
//
// Every kind of quantity is a type of its own (Gram, Celsius, GramPerCm3, …), so a
// temperature cannot be handed over as a mass. A value with its doubt is an Of[U].
package quantity

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// The units. A value of these types is always in the unit the type names.
type (
	Gram            float64 // mass
	Milliliter      float64 // volume
	Celsius         float64 // temperature
	GramPerCm3      float64 // density
	Millimeter      float64 // length
	SquareMeter     float64 // area
	Second          float64 // time
	Bar             float64 // pressure
	Newton          float64 // force
	KilowattHour    float64 // energy
	Share           float64 // a part of the whole, 0 to 1
	Money           float64 // in the file's currency
	MoneyPerKg      float64
	MoneyPerKWh     float64
	MoneyPerHour    float64
	KilowattHoursKg float64 // energy for each kilogram
)

// Unit is any of the unit types of this package.
type Unit interface {
	Gram | Milliliter | Celsius | GramPerCm3 | Millimeter | SquareMeter | Second | Bar | Newton |
		KilowattHour | Share | Money | MoneyPerKg | MoneyPerKWh | MoneyPerHour | KilowattHoursKg
}

// Shape says how the doubt about a value is distributed.
type Shape uint8

// The shapes of doubt.
const (
	Unstated    Shape = iota // no uncertainty was given
	Normal                   // SD is one standard deviation
	Rectangular              // any value between Low and High alike; SD is half the width over sqrt 3
)

// Of is a quantity: Value in the unit of U, SD its standard uncertainty in the same
// unit (0 where none was given), and Text as it was written. The zero Of is a
// quantity that was not given: Given reports false.
type Of[U Unit] struct {
	Value    U
	SD       U
	Shape    Shape
	Currency string // of money and rates
	Text     string
}

// The quantities that a bin file speaks of.
type (
	Mass        = Of[Gram]
	Volume      = Of[Milliliter]
	Temperature = Of[Celsius]
	Density     = Of[GramPerCm3]
	Length      = Of[Millimeter]
	Area        = Of[SquareMeter]
	Time        = Of[Second]
	Pressure    = Of[Bar]
	Force       = Of[Newton]
	Fraction    = Of[Share]
)

// Given reports whether the quantity was stated at all.
func (q Of[U]) Given() bool { return q.Text != "" }

// Or returns the value, or def where none was given.
func (q Of[U]) Or(def U) U {
	if q.Given() {
		return q.Value
	}
	return def
}

// Low is the least value of a rectangular quantity, and Value for any other shape.
func (q Of[U]) Low() U {
	if q.Shape == Rectangular {
		return q.Value - halfWidth(q.SD)
	}
	return q.Value
}

// High is the greatest value of a rectangular quantity, and Value for any other shape.
func (q Of[U]) High() U {
	if q.Shape == Rectangular {
		return q.Value + halfWidth(q.SD)
	}
	return q.Value
}

// LastDigit is the size of the last written digit of the value: 10 g in "1.82 kg", one ounce in
// "8 lb 6 oz". Of temperatures it is not to be asked: their units do not begin at nought.
func (q Of[U]) LastDigit() U {
	text, _, _ := cutPlusMinus(q.Text)
	if m := rePounds.FindStringSubmatch(text); m != nil {
		_, decimals := decimals(m[2])
		return U(oz * math.Pow(10, -float64(decimals)))
	}
	figure := reFigure.FindString(text)
	x, places := decimals(figure)
	unit := 0.0 // the unit in that of the quantity
	if x != 0 {
		unit = float64(q.Value) / x
	} else if one, err := Parse[U](strings.Replace(text, figure, "1", 1)); err == nil {
		unit = float64(one.Value)
	}
	return U(unit * math.Pow(10, -float64(places)))
}

var reFigure = regexp.MustCompile(`[0-9][0-9.,]*`)

// decimals reads a figure and how many of its digits stand behind the point or comma.
func decimals(figure string) (x float64, n int) {
	if i := strings.LastIndexAny(figure, ".,"); i >= 0 && len(figure)-i-1 != 3 || strings.Count(figure, ".") == 1 {
		n = len(figure) - strings.LastIndexAny(figure, ".,") - 1
		figure = strings.ReplaceAll(figure[:strings.LastIndexAny(figure, ".,")], ",", "") + "." + figure[len(figure)-n:]
	}
	x, _ = strconv.ParseFloat(strings.ReplaceAll(figure, ",", ""), 64)
	return x, n
}

// halfWidth of a rectangular distribution with standard deviation sd (GUM F.2.2.1).
func halfWidth[U Unit](sd U) U { return U(float64(sd) * math.Sqrt(3)) }

// Exact is a quantity without doubt.
func Exact[U Unit](v U) Of[U] { return Of[U]{Value: v, Text: Format(v)} }

// With is a quantity with a normal standard uncertainty sd.
func With[U Unit](v, sd U) Of[U] {
	return Of[U]{Value: v, SD: sd, Shape: Normal, Text: Format(v) + " ± " + Format(sd)}
}

// Minutes of a time.
func (s Second) Minutes() float64 { return float64(s) / 60 }

// KgPerM3 of a density.
func (d GramPerCm3) KgPerM3() float64 { return float64(d) * 1000 }
