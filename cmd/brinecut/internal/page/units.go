package page

import (
	"html"
	"html/template"
	"net/url"
	"slices"
	"strings"

	"brinecut/cmd/brinecut/internal/show"
)

// inUnits writes the masses and temperatures of a page in other units: in the words between its tags,
// pictures among them, but not in code, style and script, nor within a tag. Names of the bin's owner
// stay as they are.
func inUnits(page string, u show.Units, kept []string) string {
	if u == show.Metric {
		return page
	}
	var out strings.Builder
	for page != "" {
		words, rest, _ := strings.Cut(page, "<")
		out.WriteString(wordsIn(words, u, kept))
		if page = page[len(words):]; rest == "" {
			break
		}
		n := tagEnd(page)
		out.WriteString(page[:n])
		page = page[n:]
	}
	return out.String() + page
}

// tagEnd is where the tag that a page begins with ends, or where the element does whose text is no prose.
func tagEnd(page string) int {
	for _, name := range []string{"code", "style", "script"} {
		if strings.HasPrefix(page, "<"+name) {
			if i := strings.Index(page, "</"+name); i > 0 {
				return i
			}
		}
	}
	if i := strings.IndexByte(page, '>'); i >= 0 {
		return i + 1
	}
	return len(page)
}

// wordsIn is a text between two tags; where nothing changes it keeps its own escapes.
func wordsIn(text string, u show.Units, kept []string) string {
	plain := html.UnescapeString(text)
	here := u.In(plain, kept...)
	if here == plain {
		return text
	}
	return template.HTMLEscapeString(here)
}

// usUnit is the unit that a bare number of a form is taken in instead of a metric one.
var usUnit = map[string]string{"g": "oz", "°C": "°F"}

// unitOf is the unit of a field, given its metric one.
func unitOf(u show.Units, metric string) string {
	if here := usUnit[metric]; u == show.US && here != "" {
		return here
	}
	return metric
}

// usWord is what a form says that takes bare numbers in US units; one that says nothing takes metric ones,
// and so does whatever a phone kept from before.
const usWord = "us"

func unitsOf(form url.Values) show.Units {
	if form.Get("units") == usWord {
		return show.US
	}
	return show.Metric
}

// US reports whether the forms of a page take pounds, ounces and degrees Fahrenheit.
func (f benchFrame) US() bool { return f.Units == show.US }

// Unit is that of a field, given its metric one.
func (f benchFrame) Unit(metric string) string { return unitOf(f.Units, metric) }

// InUnits gives fields their units, and what they hold from the start.
func (f benchFrame) InUnits(fields []benchField) []benchField {
	out := slices.Clone(fields)
	for i := range out {
		x := &out[i]
		if !x.Given {
			x.Value = valueOf(f.Units, x.Value, x.Unit)
		}
		x.Unit = unitOf(f.Units, x.Unit)
	}
	return out
}

// valueOf is what a field holds from the start: a temperature in the unit of the field, a mass with the
// unit it was chosen in.
func valueOf(u show.Units, value, metric string) string {
	if unitOf(u, metric) == metric || value == "" {
		return value
	}
	whole := value + " " + metric
	if metric == "°C" {
		return u.In(whole)
	}
	return whole
}
