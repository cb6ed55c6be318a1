package show

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"brinecut/sorting"
)

// Clean takes out of a text what no terminal should be sent: control characters, escapes and marks
// that turn the reading direction. Line breaks and tabs become blanks.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return ' '
		case !unicode.IsGraphic(r):
			return '�'
		}
		return r
	}, s)
}

// digits writes x to n significant digits, without an exponent.
func digits(x float64, n int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return "0"
	}
	e := int(math.Floor(math.Log10(math.Abs(x))))
	if r := round(x, n-1-e); r != 0 {
		e = int(math.Floor(math.Log10(math.Abs(r)) + 1e-9)) // 9.996 became 10.0
	}
	d := n - 1 - e
	s := strconv.FormatFloat(round(x, d), 'f', max(d, 0), 64)
	return s
}

func round(x float64, decimals int) float64 {
	f := math.Pow(10, float64(decimals))
	return math.Round(x*f) / f
}

// mass in words, three significant digits: g below 1 kg, kg from there.
func mass(g float64) string {
	if a := math.Abs(g); a < 999.5 {
		if a < 10 {
			return strconv.FormatFloat(round(g, 1), 'f', -1, 64) + " g"
		}
		return digits(g, 3) + " g"
	}
	return digits(g/1000, 3) + " kg"
}

// massSpan of a range, both ends in one unit: "2.68 to 2.76 kg", "0 to 31 g".
func massSpan(low, high float64) string {
	if math.Abs(high) < 999.5 {
		return plainG(low) + " to " + plainG(high) + " g"
	}
	return plainKg(low) + " to " + plainKg(high) + " kg"
}

func plainG(g float64) string {
	if math.Abs(g) < 10 {
		return strconv.FormatFloat(round(g, 1), 'f', -1, 64)
	}
	return digits(g, 3)
}

func plainKg(g float64) string {
	if math.Abs(g) < 999.5 {
		return strconv.FormatFloat(round(g/1000, 3), 'f', -1, 64)
	}
	return digits(g/1000, 3)
}

// percent of a share, whole percents but for the small and for those close to all. What is neither
// none nor all is never written as if it were; less than a part in 1e9 is rounding.
func percent(x float64) string {
	switch p := 100 * x; {
	case p > 1e-7 && p < 0.1:
		return "<0.1 %"
	case p >= 99.95 && p < 100-1e-7:
		return ">99.9 %"
	case p < 9.95 || p > 99 && p < 99.95:
		return strconv.FormatFloat(round(p, 1), 'f', -1, 64) + " %"
	default:
		return strconv.FormatFloat(round(p, 0), 'f', -1, 64) + " %"
	}
}

// percentSpan of a range of shares: "91 to 99 %"; one figure where both ends are written alike.
func percentSpan(r sorting.Range) string {
	low, high := percent(r.Low), percent(r.High)
	if low == high {
		return high
	}
	return strings.TrimSuffix(low, " %") + " to " + high
}

// percentWith is a share with its range in brackets, where the two are not written alike.
func percentWith(r sorting.Range) string {
	mean, span := percent(r.Mean), percentSpan(r)
	if mean == span {
		return mean
	}
	return mean + " (" + span + ")"
}

// money in the file's currency, three significant digits and no finer than a cent.
func money(x float64, currency string) string {
	s := strconv.FormatFloat(round(x, 2), 'f', 2, 64)
	if math.Abs(x) >= 100 {
		s = strconv.FormatFloat(round(x, 0), 'f', 0, 64)
	}
	if currency == "" {
		return s
	}
	return s + " " + currency
}

// minutes in words.
func minutes(m float64) string {
	switch {
	case m < 1:
		return fmt.Sprintf("%.0f s", math.Round(m*60/5)*5)
	case m < 90:
		return digits(m, 2) + " min"
	}
	return digits(m/60, 2) + " h"
}

// list joins words as prose does: "a, b and c".
func list(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// cropped is a name in a table, cut where it would push the figures off the screen.
func cropped(s string, n int) string {
	r := []rune(Clean(s))
	if len(r) <= n {
		return string(r)
	}
	return string(r[:n-1]) + "…"
}
