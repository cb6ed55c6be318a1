package quantity

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Error says what is wrong with a written quantity and what would be right.
type Error struct {
	Read  string // the text as read
	Fault string // what is wrong with it
	Right string // what would be right
}

func (e *Error) Error() string { return fmt.Sprintf("%s; %s", e.Fault, e.Right) }

var (
	number  = `[+-]?(?:\d[\d.,]*|[.,]\d+)(?:[eE][+-]?\d+)?`
	reRange = regexp.MustCompile(`^(` + number + `)\s*([^\d\s][^\s]*)?\s*(?:-|–|\bto\b)\s*(` + number + `)\s*(.*)$`)
	reValue = regexp.MustCompile(`^(` + number + `)\s*(.*)$`)
	reKind  = regexp.MustCompile(`\(\s*(limit|k\s*=\s*([0-9.]+))\s*\)\s*$`)
	// 1,234 or 12,345: one comma and just three digits behind it can be a thousand or a decimal.
	reTwoWays = regexp.MustCompile(`^[+-]?[1-9]\d{0,2},\d{3}$`)
	// No thousand begins with a nought: 0,712 is a decimal.
	reGroups = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(,\d{3})+(\.\d+)?$`)
	reDotted = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(\.\d{3})+,\d+$`)
	// reFraction finds "1 1/2 in": whole, numerator, denominator, unit.
	reFraction = regexp.MustCompile(`^(?:(\d{1,6})\s+)?(\d{1,6})\s*/\s*(\d{1,6})\s*([A-Za-z°]{1,10})$`)
	reAgain    = regexp.MustCompile(`^([^\s\d]\S*)\s+\d`)
	// 8 lb 6 oz, as scales in pounds show it.
	rePounds = regexp.MustCompile(`^(\d+)\s*lb\s+(\d{1,2}(?:[.,]\d+)?)\s*oz$`)
)

// Parse reads a quantity of the unit type U: "6.52 kg", "6.52 kg ± 20 g",
// "1.250 g/cm3 ± 0.005 (limit)", "450-600 g", "about 2 kg". The error is an *Error.
func Parse[U Unit](text string) (Of[U], error) {
	k := kindOf[U]()
	p := parser{kind: k, text: text}
	v, sd, shape, err := p.parse()
	if err != nil {
		return Of[U]{}, err
	}
	return Of[U]{Value: U(v), SD: U(sd), Shape: shape, Currency: p.currency, Text: strings.TrimSpace(text)}, nil
}

// MustParse is Parse for text written in a test; it panics on an error.
func MustParse[U Unit](text string) Of[U] {
	q, err := Parse[U](text)
	if err != nil {
		panic(err)
	}
	return q
}

type parser struct {
	kind     kind
	text     string
	currency string
}

func (p *parser) fault(format string, a ...any) error {
	return &Error{Read: p.text, Fault: fmt.Sprintf(format, a...), Right: fmt.Sprintf("write a %s such as %q", p.kind.name, p.kind.example)}
}

func (p *parser) parse() (v, sd float64, shape Shape, err error) {
	s := strings.TrimSpace(p.text)
	if s == "" {
		return 0, 0, 0, p.fault("nothing is written here")
	}
	if len(s) > 200 {
		return 0, 0, 0, p.fault("this is too long for a quantity")
	}
	if rest, ok := strings.CutPrefix(s, "about "); ok {
		v, _, err = p.single(strings.TrimSpace(rest))
		return v, math.Abs(v) / 10, Normal, err
	}
	main, tail, hasTail := cutPlusMinus(s)
	if !hasTail {
		if m := reRange.FindStringSubmatch(main); m != nil {
			return p.parseRange(m)
		}
		v, _, err = p.single(main)
		return v, 0, Unstated, err
	}
	if reRange.MatchString(main) {
		return 0, 0, 0, p.fault("a range has its doubt in itself and takes no ±")
	}
	v, unit, err := p.single(main)
	if err != nil {
		return 0, 0, 0, err
	}
	sd, shape, err = p.doubt(tail, unit, v)
	return v, sd, shape, err
}

func cutPlusMinus(s string) (main, tail string, ok bool) {
	for _, sep := range []string{"±", "+/-", "+-"} {
		if i := strings.Index(s, sep); i >= 0 {
			return strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+len(sep):]), true
		}
	}
	return s, "", false
}

// single reads "VALUE UNIT" and gives it in the canonical unit.
func (p *parser) single(s string) (v float64, unit string, err error) {
	if m := rePounds.FindStringSubmatch(s); m != nil && p.kind.name == isMass {
		return p.pounds(m[1], m[2])
	}
	m := reValue.FindStringSubmatch(s)
	if m == nil {
		return 0, "", p.fault("%q does not begin with a number", shown(s))
	}
	unit = strings.TrimSpace(m[2])
	x, err := p.number(m[1])
	if err != nil {
		return 0, "", err
	}
	sc, err := p.unit(unit)
	if err != nil {
		return 0, "", err
	}
	v = x*sc.factor + sc.offset
	return v, unit, p.check(v)
}

// pounds reads whole pounds with the ounces that are left; what is written behind ± is in ounces.
func (p *parser) pounds(whole, rest string) (v float64, unit string, err error) {
	ounces, err := p.number(rest)
	if err != nil {
		return 0, "", err
	}
	if ounces >= ouncesInPound {
		return 0, "", p.fault("%q has more ounces than go into a pound", shown(p.text))
	}
	pounds, err := strconv.ParseFloat(whole, 64)
	if err != nil {
		return 0, "", p.fault("%q is not a number", shown(whole))
	}
	v = pounds*lb + ounces*oz
	return v, "oz", p.check(v)
}

func (p *parser) check(v float64) error {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e15:
		return p.fault("%q is too large to be a %s", shown(p.text), p.kind.name)
	case v < 0 && !p.kind.signed:
		return p.fault("a %s cannot be negative", p.kind.name)
	case p.kind.interval && v < -273.15:
		return p.fault("%q is below absolute zero", shown(p.text))
	case p.kind.name == "share" && v > 1:
		return p.fault("a share cannot be above 100 %%")
	}
	return nil
}

func (p *parser) unit(u string) (scale, error) {
	if u == "" {
		return scale{}, p.fault("%q has no unit", shown(p.text))
	}
	sc, cur, ok := p.kind.find(u)
	if !ok {
		return scale{}, p.noUnit(u)
	}
	if cur != "" {
		p.currency = cur
	}
	return sc, nil
}

// noUnit says what is wrong with text that stands where a unit should and is none.
func (p *parser) noUnit(u string) error {
	if m := reFraction.FindStringSubmatch(strings.TrimSpace(p.text)); m != nil {
		return p.fraction(m)
	}
	if u[0] >= '0' && u[0] <= '9' {
		return p.fault("a blank stands inside the number of %q", shown(p.text))
	}
	if m := reAgain.FindStringSubmatch(u); m != nil {
		if _, _, ok := p.kind.find(m[1]); ok {
			return p.fault("%q has two values, where one in one unit is wanted", shown(p.text))
		}
	}
	if other := whose(u); other != "" {
		return p.fault("%q is a unit of %s, and a %s is wanted here (%s)", shown(u), other, p.kind.name, p.kind.list())
	}
	return p.fault("%q is not a unit of %s (%s)", shown(u), p.kind.name, p.kind.list())
}

// fraction refuses "1/4 in" and "1 1/2 in" with the decimal that would be right.
func (p *parser) fraction(m []string) error {
	whole, _ := strconv.ParseFloat(m[1], 64) // nothing is nought
	over, _ := strconv.ParseFloat(m[2], 64)
	under, _ := strconv.ParseFloat(m[3], 64)
	if !(under > 0) {
		return p.fault("%q has a fraction of nothing", shown(p.text))
	}
	return &Error{Read: p.text, Fault: fmt.Sprintf("%q has a fraction", shown(p.text)),
		Right: fmt.Sprintf("write it with a decimal point, as %q", strconv.FormatFloat(whole+over/under, 'g', 6, 64)+" "+m[4])}
}

// number reads digits with a decimal point, or a decimal comma where it can be read one way only.
func (p *parser) number(s string) (float64, error) {
	if reTwoWays.MatchString(s) {
		return 0, &Error{Read: p.text, Fault: fmt.Sprintf("the comma of %q can be read two ways", s),
			Right: fmt.Sprintf("write %q or %q", strings.Replace(s, ",", ".", 1), strings.Replace(s, ",", "", 1))}
	}
	switch {
	case reGroups.MatchString(s):
		s = strings.ReplaceAll(s, ",", "")
	case reDotted.MatchString(s):
		s = strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)
	case strings.Count(s, ",") == 1 && !strings.Contains(s, "."):
		s = strings.Replace(s, ",", ".", 1)
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, p.fault("%q is not a number", shown(s))
	}
	return x, nil
}

// parseRange reads "450-600 g" or "450 g - 0.6 kg": rectangular between its ends.
func (p *parser) parseRange(m []string) (v, sd float64, shape Shape, err error) {
	lowUnit, highUnit := strings.TrimSpace(m[2]), strings.TrimSpace(m[4])
	if lowUnit == "" {
		lowUnit = highUnit
	}
	low, _, err := p.single(m[1] + " " + lowUnit)
	if err != nil {
		return 0, 0, 0, err
	}
	high, _, err := p.single(m[3] + " " + highUnit)
	if err != nil {
		return 0, 0, 0, err
	}
	if low > high {
		return 0, 0, 0, p.fault("the range %q runs backwards", shown(p.text))
	}
	return (low + high) / 2, (high - low) / math.Sqrt(12), Rectangular, nil
}

// doubt reads what stands behind ±: a number in the value's unit, or with a unit of its own, or a
// percentage of the value; "(k=2)" divides it, "(limit)" makes it the half-width of a rectangle.
func (p *parser) doubt(tail, unit string, v float64) (sd float64, shape Shape, err error) {
	shape, k := Normal, 1.0
	if m := reKind.FindStringSubmatch(tail); m != nil {
		tail = strings.TrimSpace(reKind.ReplaceAllString(tail, ""))
		if m[1] == "limit" {
			shape, k = Rectangular, math.Sqrt(3)
		} else if k, err = strconv.ParseFloat(m[2], 64); err != nil || !(k > 0 && k <= 10) {
			return 0, 0, p.fault("the coverage factor in %q cannot be read", shown(p.text))
		}
	}
	m := reValue.FindStringSubmatch(tail)
	if m == nil {
		return 0, 0, p.fault("what stands behind ± is not a number with an optional unit: %q", shown(tail))
	}
	x, err := p.number(m[1])
	if err != nil {
		return 0, 0, err
	}
	own := strings.TrimSpace(m[2])
	factor := 0.0
	switch {
	case own == "%" && p.kind.name != "share":
		factor = math.Abs(v) / 100
	case own == "":
		own = unit
		fallthrough
	default:
		sc, err := p.unit(own)
		if err != nil {
			return 0, 0, err
		}
		factor = sc.factor
	}
	half := x * factor
	if x < 0 || math.IsInf(half, 0) || math.IsNaN(half) {
		return 0, 0, p.fault("the doubt behind ± cannot be negative or endless")
	}
	if half > math.Abs(v) && !p.kind.interval {
		return 0, 0, &Error{Read: p.text, Fault: fmt.Sprintf("the ± in %q is larger than the value itself", shown(p.text)),
			Right: "say its unit if it has another one (\"6.52 kg ± 20 g\"), or give a range from nothing (\"0-40 g\")"}
	}
	return half / k, shape, nil
}

// shown makes read text safe to print: control characters escaped, long text cut.
func shown(s string) string {
	r := []rune(s)
	if len(r) > 60 {
		r = append(r[:57], '…')
	}
	q := strconv.QuoteToGraphic(string(r))
	return q[1 : len(q)-1]
}
