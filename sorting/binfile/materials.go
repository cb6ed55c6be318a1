package binfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers"
)

// material reads a material by any accepted spelling.
func (t *table) material(key string) polymers.Symbol {
	c, ok := t.cell(key)
	if !ok {
		return ""
	}
	return c.material(`name one of "brinecut polymer", or leave it out where it is not known`)
}

// materials reads a list of materials, each named once.
func (t *table) materials(key, rest string) []polymers.Symbol {
	var out []polymers.Symbol
	for _, c := range t.each(key) {
		if several := severalMaterials(c.v); several != "" {
			c.refuse("this is no material, but several in one", "write each on its own: "+several)
			continue
		}
		m := c.material(rest)
		if m != "" && slices.Contains(out, m) {
			c.refuse("this material is in the list already", "name it once")
		} else if m != "" {
			out = append(out, m)
		}
	}
	return out
}

func (c cell) material(rest string) polymers.Symbol {
	s, ok := c.str(fmt.Sprintf(`write a material in quotes, such as %s = "PETG"`, c.key))
	if !ok {
		return ""
	}
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "other", "unknown", "?":
		c.refuse("this is not a material", rest)
		return ""
	}
	sym, err := polymers.Lookup(s)
	if err != nil {
		c.refuse("there is no such material", materialHint(err))
		return ""
	}
	return sym
}

// materialHint says which materials a name that is none could mean.
func materialHint(err error) string {
	const all = `"brinecut polymer" lists them all`
	var unknown *polymers.UnknownError
	switch {
	case !errors.As(err, &unknown):
		return all
	case len(unknown.Several) > 0:
		return "say which one: " + strings.Join(names(unknown.Several, func(s polymers.Symbol) string { return string(s) }), ", ")
	case unknown.Far:
		return all
	}
	return "did you mean " + quoted(string(unknown.Nearest)) + "? " + all
}

// severalMaterials takes text apart that names more than one material, each quoted; empty where it does
// not.
func severalMaterials(v any) string {
	s, _ := v.(string)
	if _, err := polymers.Lookup(s); err == nil {
		return ""
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("/,;|&", r) })
	for i, p := range parts {
		sym, err := polymers.Lookup(strings.TrimSpace(p))
		if err != nil {
			return ""
		}
		parts[i] = quoted(string(sym))
	}
	if len(parts) < 2 {
		return ""
	}
	return strings.Join(parts, ", ")
}
