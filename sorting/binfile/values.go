package binfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"brinecut/polymers/quantity"
)

// The longest texts that are taken: a name has to fit a label and a line (judgement).
const (
	maxName = 200
	maxText = 2000
)

// text reads free text on one line.
func (t *table) text(key string) string { return t.prose(key, "") }

// note reads free text of any number of lines; their ends come back as LF.
func (t *table) note(key string) string { return t.prose(key, "\n\t") }

func (t *table) prose(key, but string) string {
	c, ok := t.cell(key)
	if !ok {
		return ""
	}
	s, ok := c.str(fmt.Sprintf(`write it in quotes: %s = "…"`, key))
	if s = strings.ReplaceAll(s, "\r\n", "\n"); !ok || !c.safe(s, but) {
		return ""
	}
	if n := utf8.RuneCountInString(s); n > maxText {
		c.refuse(fmt.Sprintf("this is %d characters long", n), fmt.Sprintf("keep it to %d", maxText))
		return ""
	}
	return s
}

// name reads the name or id of something.
func (t *table) name(key string) string {
	c, ok := t.cell(key)
	if !ok {
		return ""
	}
	return c.name()
}

func (c cell) name() string {
	s, ok := c.str(fmt.Sprintf(`write it in quotes: %s = "…"`, c.key))
	if !ok || !c.safe(s, "") {
		return ""
	}
	switch n := utf8.RuneCountInString(s); {
	case strings.TrimSpace(s) == "":
		c.refuse("this is empty", "give it a name of at least one character")
	case s != strings.TrimSpace(s):
		c.refuse("a name neither begins nor ends with a space", "write "+quoted(strings.TrimSpace(s)))
	case n > maxName:
		c.refuse(fmt.Sprintf("a name of %d characters is too long", n), fmt.Sprintf("keep it to %d", maxName))
	default:
		return s
	}
	return ""
}

func (c cell) str(right string) (string, bool) {
	s, ok := c.v.(string)
	if !ok {
		c.mistyped("text", right)
	}
	return s, ok
}

// safe refuses text with characters that have no picture: they could steer a terminal or a page, or
// make two names look alike. The joiners that some scripts are written with are let through.
func (c cell) safe(s, but string) bool {
	for _, r := range s {
		if unicode.IsGraphic(r) || strings.ContainsRune(but, r) || r == '\u200c' || r == '\u200d' {
			continue
		}
		c.refuse(fmt.Sprintf("the character %U cannot be seen and is not taken", r), "leave it out")
		return false
	}
	return true
}

// quant reads a quantity of the unit type U.
func quant[U quantity.Unit](t *table, key string) quantity.Of[U] {
	c, ok := t.cell(key)
	if !ok {
		return quantity.Of[U]{}
	}
	q, err := parse[U](c)
	if err != nil {
		c.refuse(err.Fault, err.Right)
		return quantity.Of[U]{}
	}
	c.money(q.Currency)
	return q
}

// parse reads a cell as a quantity; a bare number has no unit, whatever its type.
func parse[U quantity.Unit](c cell) (quantity.Of[U], *quantity.Error) {
	s, ok := c.v.(string)
	if !ok {
		var probe *quantity.Error
		_, err := quantity.Parse[U]("")
		errors.As(err, &probe)
		return quantity.Of[U]{}, &quantity.Error{Fault: typeOf(c.v) + ", where text with a value and a unit is wanted", Right: probe.Right}
	}
	if strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsGraphic(r) }) {
		return quantity.Of[U]{}, &quantity.Error{Fault: "there is a character in it that cannot be seen", Right: "write a value and a unit on one line"}
	}
	q, err := quantity.Parse[U](s)
	var fault *quantity.Error
	if errors.As(err, &fault) {
		return quantity.Of[U]{}, fault
	}
	return q, nil
}

// money holds a currency against the file's.
func (c cell) money(currency string) {
	b := c.t.r.bin
	switch {
	case currency == "":
	case b.Currency == "":
		b.Currency = currency
	case b.Currency != currency:
		c.refuse(fmt.Sprintf("this is in %s and the file is in %s", currency, b.Currency),
			fmt.Sprintf("write it in %s, or change `currency`", b.Currency))
	}
}

// positive refuses a quantity that is given and not above zero.
func positive[U quantity.Unit](t *table, key string, q quantity.Of[U]) {
	if q.Given() && q.Value <= 0 {
		t.refuse(key, "this has to be more than nothing", "write what was measured, or leave it out")
	}
}

// density reads a density; nothing is denser than osmium, 22.6 g/cm3 (Haynes, CRC Handbook of
// Chemistry and Physics, 97th ed. 2016, section 4; from memory).
func density(t *table, key string) quantity.Density {
	q := quant[quantity.GramPerCm3](t, key)
	if q.Given() && (q.Value <= 0 || q.Value > 22.6) {
		t.refuse(key, "nothing has this density", `write it as "1.250 g/cm3" or "1250 kg/m3"`)
		return quantity.Density{}
	}
	return q
}

// water reads the temperature of a bath in an open pot: up to 100 °C, and not below what calcium chloride
// brine stays liquid at (-60 °C, below its eutectic; from memory).
func water(t *table, key string) quantity.Temperature {
	q := quant[quantity.Celsius](t, key)
	if q.Given() && (q.Value < -60 || q.Value > 100) {
		t.refuse(key, "a bath in an open pot is not at this temperature", `write what the thermometer shows, such as "62 °C"`)
		return quantity.Temperature{}
	}
	return q
}

// whole reads a number of things, least or more of them.
func (t *table) whole(key string, least int) int {
	c, ok := t.cell(key)
	if !ok {
		return 0
	}
	return c.whole(least)
}

func (c cell) whole(least int) int {
	const most = 1_000_000_000 // fits an int of 32 bits
	n, ok := c.v.(int64)
	switch {
	case !ok:
		c.mistyped("a whole number without quotes", fmt.Sprintf("write %s = 12", c.key))
	case n < int64(least):
		c.refuse(fmt.Sprintf("this has to be %d or more", least), "write how many there are, or leave it out")
	case n > most:
		c.refuse("so many cannot be meant", fmt.Sprintf("write a number up to %d", most))
	default:
		return int(n)
	}
	return 0
}

// truth reads true or false; nil where it is not there.
func (t *table) truth(key string) *bool {
	c, ok := t.cell(key)
	if !ok {
		return nil
	}
	b, ok := c.v.(bool)
	if !ok {
		c.mistyped("true or false", fmt.Sprintf("write %s = true or %s = false, without quotes", key, key))
		return nil
	}
	return &b
}

func isTrue(b *bool) bool { return b != nil && *b }

// choice reads one word of a list.
func (t *table) choice(key string, words ...string) string {
	c, ok := t.cell(key)
	if !ok {
		return ""
	}
	return c.choice(words)
}

func (c cell) choice(words []string) string {
	s, ok := c.str("write one of " + strings.Join(words, ", ") + ", in quotes")
	if !ok {
		return ""
	}
	if !slices.Contains(words, s) {
		wrong := "this word is not taken here"
		if slices.Contains([]string{"kind", "outcome", "state", "origin"}, c.key) {
			wrong = "there is no such " + c.key
		}
		c.refuse(wrong, instead(s, words))
		return ""
	}
	return s
}

// each gives the items of a list, as cells.
func (t *table) each(key string) []cell {
	c, ok := t.cell(key)
	if !ok {
		return nil
	}
	items, ok := list(c.v)
	if !ok {
		c.mistyped("a list", fmt.Sprintf("write %s = [ … ]", key))
		return nil
	}
	out := make([]cell, len(items))
	for i, v := range items {
		at := c.at
		if i < len(c.at.items) {
			at = c.at.items[i]
		}
		out[i] = cell{t: t, key: key, v: v, at: at}
	}
	return out
}

// atLeast refuses a list that is too short.
func (t *table) atLeast(key string, n int, wrong, right string) {
	if items, ok := list(t.values[key]); ok && len(items) < n {
		t.refuse(key, wrong, right)
	}
}

// texts reads a list of short texts.
func (t *table) texts(key string) []string {
	var out []string
	for _, c := range t.each(key) {
		if s := c.name(); s != "" {
			out = append(out, s)
		}
	}
	return out
}
