package binfile

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"brinecut/polymers/quantity"
)

// rows collects the lines of a table to be appended, in the order they are written.
type rows struct {
	keys, values []string
}

func (w *rows) raw(key, value string) {
	w.keys = append(w.keys, key)
	w.values = append(w.values, value)
}

func (w *rows) text(key, s string) {
	if s != "" {
		w.raw(key, basic(s))
	}
}

func (w *rows) whole(key string, n int) {
	if n != 0 {
		w.raw(key, fmt.Sprint(n))
	}
}

func (w *rows) truth(key string, b *bool) {
	if b != nil {
		w.raw(key, fmt.Sprint(*b))
	}
}

func (w *rows) texts(key string, list []string) {
	if len(list) > 0 {
		w.raw(key, basicList(list))
	}
}

// amount writes a quantity as it was written, which is what reading it back needs.
func amount[U quantity.Unit](w *rows, key string, q quantity.Of[U]) { w.text(key, q.Text) }

// table writes the rows below a header, the equal signs in one column.
func (w *rows) table(head string) string {
	wide := 0
	for _, k := range w.keys {
		wide = max(wide, len(k))
	}
	var b strings.Builder
	fmt.Fprintf(&b, "[[%s]]\n", head)
	for i, k := range w.keys {
		fmt.Fprintf(&b, "%-*s = %s\n", wide, k, w.values[i])
	}
	return b.String()
}

// inline writes the rows as { a = 1, b = 2 }.
func (w *rows) inline() string {
	parts := make([]string, len(w.keys))
	for i, k := range w.keys {
		parts[i] = k + " = " + w.values[i]
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

func basicList(list []string) string {
	parts := make([]string, len(list))
	for i, s := range list {
		parts[i] = basic(s)
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// basic writes a TOML basic string on one line. Bytes that are not UTF-8 are left, for tailOf to refuse.
func basic(s string) string {
	if !utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
