package show

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Units that a page writes masses and temperatures in. The zero value is Metric.
type Units int

// The units there are. US is pounds, ounces and degrees Fahrenheit; densities stay in g/cm3, and what
// is to be copied into a command or stands in quotes stays as it is.
const (
	Metric Units = iota
	US
)

// gramsPerPound is exact (NIST SP 811, 2008, appendix B.8: 1 lb = 0.453 592 37 kg).
const (
	gramsPerPound = 453.59237
	ouncesInPound = 16
)

// measure is a mass or temperature in a text, or a range of them.
var measure = regexp.MustCompile(`(-?\d+(?:\.\d+)?)(?:( to |-)(-?\d+(?:\.\d+)?))? (kg|g|°C)`)

// spread is a value with its range, the unit behind both: 81 (75 to 88) °C.
var spread = regexp.MustCompile(`(\d) (\(-?[\d.]+ to -?[\d.]+)\) (kg|g|°C)([^/a-zA-Z0-9]|$)`)

// In writes a text of grams, kilograms and degrees Celsius in these units; what is kept, see Kept, stays
// as it is, and so does a measure behind which its value in US units stands already.
func (u Units) In(text string, kept ...string) string {
	return u.rewrite(text, kept, func(_, here string) string { return here })
}

// Beside writes each measure of a text in metric units, as paper needs it that a receiver weighs again,
// and behind it in these units, where they are others.
func (u Units) Beside(text string, kept ...string) string {
	return u.rewrite(text, kept, func(metric, here string) string { return metric + " (" + here + ")" })
}

// rewrite puts in place of each measure what as gives for it: as it stands, and in these units.
func (u Units) rewrite(text string, kept []string, as func(metric, here string) string) string {
	if u == Metric {
		return text
	}
	text = spread.ReplaceAllString(text, "$1 $3 $2 $3)$4")
	var b strings.Builder
	done := 0
	for _, m := range measure.FindAllStringSubmatchIndex(text, -1) {
		if part := text[:m[0]]; within(text, kept, m) || !ends(text[m[1]:]) || strings.Count(part, `"`)%2 == 1 || begins(part) {
			continue
		}
		b.WriteString(text[done:m[0]])
		b.WriteString(as(text[m[0]:m[1]], us(group(text, m, 1), group(text, m, 2), group(text, m, 3), group(text, m, 4), zeroOf(text[:m[0]]))))
		done = m[1]
	}
	return b.String() + text[done:]
}

// degree heads a column of temperatures, degrees is a cell of it, given in °C.
func (u Units) degree() string { return strings.TrimPrefix(u.In("0 °C"), u.degrees("0")+" ") }

func (u Units) degrees(cell string) string {
	whole := u.In(cell + " °C")
	return whole[:strings.LastIndexByte(whole, ' ')]
}

// Kept are the beginnings of names, up to what looks like a measure: a lot "3 kg spool" is never put in
// other units.
func Kept(names ...string) []string {
	var out []string
	for _, name := range names {
		name = Clean(name)
		for _, m := range measure.FindAllStringIndex(name, -1) {
			out = append(out, name[:m[1]])
		}
	}
	return out
}

// besides finds a value in US units behind the same in metric ones.
var besides = regexp.MustCompile(`^ \([-.\d to]+ (lb|oz|°F)\)`)

// within reports whether a measure lies in one of the kept words, or over its end.
func within(text string, kept []string, m []int) bool {
	for _, k := range kept {
		for from := 0; ; {
			i := strings.Index(text[from:], k)
			if i < 0 || from+i >= m[1] {
				break
			}
			at := from + i
			if from = at + len(k); from > m[0] && (at == 0 || !isFigure(text[at-1]) || !isFigure(k[0])) {
				return true // and not the end of a longer figure
			}
		}
	}
	return false
}

func group(text string, m []int, i int) string {
	if m[2*i] < 0 {
		return ""
	}
	return text[m[2*i]:m[2*i+1]]
}

// ends reports whether a unit ends where this follows: g/cm3, grade and kg CO2e go on, and what stands
// in both units is done.
func ends(after string) bool {
	if strings.HasPrefix(after, " CO2") || besides.MatchString(after) {
		return false
	}
	return after == "" || !strings.ContainsAny(after[:1], "/23") && !isLetter(after[0])
}

// begins reports what is no measure but part of a word or of a longer number.
func begins(before string) bool {
	if before == "" {
		return false
	}
	last := before[len(before)-1]
	return isLetter(last) || isFigure(last)
}

func isFigure(c byte) bool { return c == '.' || c >= '0' && c <= '9' }

// zeroOf is 0 °C in °F, and nothing where the words before tell of a difference of temperatures.
func zeroOf(before string) float64 {
	if strings.HasSuffix(before, "within ") || strings.HasSuffix(before, "± ") || strings.HasSuffix(before, "±") {
		return 0
	}
	return 32
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80 }

// us writes one figure, or a range of two, no coarser than it was; zero is that of °C in °F.
func us(low, between, high, unit string, zero float64) string {
	if unit == "°C" {
		f := func(s string) string {
			x, d := figure(s)
			return strings.TrimSuffix(fixed(1.8*x+zero, min(d, 1)), ".0") // 21.111 °C is 70 °F
		}
		if high == "" {
			return f(low) + " °F"
		}
		return f(low) + between + f(high) + " °F"
	}
	factor := 1 / gramsPerPound
	if unit == "kg" {
		factor *= 1000
	}
	unit = "lb"
	x, _ := figure(low)
	if y, _ := figure(high); math.Max(math.Abs(x), math.Abs(y))*factor < 1 {
		factor, unit = factor*ouncesInPound, "oz"
	}
	f := func(s string) string {
		x, d := figure(s)
		if d = int(math.Ceil(float64(d) - math.Log10(factor))); math.Abs(x*factor) < 10 {
			d = max(d, 1) // 1 kg is not 2 lb
		}
		return fixed(x*factor, d)
	}
	if high == "" {
		return f(low) + " " + unit
	}
	return f(low) + between + f(high) + " " + unit
}

// figure is a number with its decimals; zero where there is none.
func figure(s string) (x float64, decimals int) {
	x, _ = strconv.ParseFloat(s, 64)
	if _, after, ok := strings.Cut(s, "."); ok {
		decimals = len(after)
	}
	return x, decimals
}

func fixed(x float64, decimals int) string {
	if decimals = max(decimals, 0); round(x, decimals) == 0 {
		return "0"
	}
	return strconv.FormatFloat(round(x, decimals), 'f', decimals, 64)
}
