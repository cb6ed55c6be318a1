package show

import (
	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/balance"
)

// The figures as every page of the tool writes them, so that text, report and labels never differ.

// Mass in words, three significant digits: "141 g", "2.94 kg".
func Mass(g float64) string { return mass(g) }

// MassSpan of a range in g, both ends in one unit: "2.68 to 2.76 kg".
func MassSpan(low, high float64) string { return massSpan(low, high) }

// Percent of a share: "76 %", "0.8 %".
func Percent(x float64) string { return percent(x) }

// PercentSpan of a range of shares: "91 to 99 %".
func PercentSpan(r sorting.Range) string { return percentSpan(r) }

// Money, no finer than a cent.
func Money(x float64, currency string) string { return money(x, currency) }

// Minutes in words: "45 s", "5.0 min", "1.5 h".
func Minutes(m float64) string { return minutes(m) }

// Words joins as prose does: "a, b and c".
func Words(words []string) string { return list(words) }

// GoesTo is a bag's way in a word or two.
func GoesTo(d reuse.Decision) string { return goesTo(d) }

// Because is the one reason for a bag's way, and what would open a better one.
func Because(f advice.Fraction) string { return because(f) }

// WhyNext is why the next test is proposed, or why there is none, in a sentence.
func WhyNext(a advice.Answer) string { return whyNext(a) }

// Material is a key of a composition in words.
func Material(key string) string {
	if key == "other" {
		return "anything else"
	}
	return key
}

// WhereRow is a line of where the material went: side, what, as read, as reckoned, its 90 % range.
func WhereRow(r balance.WhereRow) []string { return whereRow(r) }
