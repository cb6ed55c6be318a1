package binfile

import (
	"strings"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

// otherWords are words that a careful user may write for a key that has another name here; spelling
// alone would not find them.
var otherWords = map[string]string{
	"weight": "mass", "amount": "mass", "color": "colour", "temperature": "temp", "result": "outcome",
	"container": "tare", "notes": "note", "comment": "note", "reason": "why", "count": "counts",
	"step": "scale", "shape": "form", "materials": "could_be", "candidates": "could_be", "water": "temp",
	"reels": "reels_out", "filament": "material", "type": "kind", "test": "kind", "symbol": "material",
	"pile": "lot", "heap": "lot", "snippet": "known", "liquid": "bath", "brine": "bath", "tools": "kit", "recycler": "outlet",
	"salt": "table salt", "scale": "scale 1 g", "scales": "scale 1 g", "press": "sheet press", "extruder": "filament extruder",
	"shredder": "granulator", "ipa": "isopropanol", "epsom": "epsom salt",
}

// nearest is the word of the list that s was probably meant to be, or "".
func nearest(s string, list []string) string {
	if utf8.RuneCountInString(s) > 60 || len(list) > 1000 {
		return ""
	}
	low := strings.ToLower(strings.TrimSpace(s))
	best, least := "", 1+len(low)/3
	for _, w := range list {
		d := levenshtein.ComputeDistance(low, strings.ToLower(w))
		if d < least || (d == least && best == "") {
			best, least = w, d
		}
	}
	if best != "" {
		return best
	}
	for _, w := range list {
		if otherWords[low] == w {
			return w
		}
	}
	return ""
}

// instead says what would be right in place of s: the nearest word, and the whole list where it is short.
func instead(s string, list []string) string {
	near := nearest(s, list)
	all := "write one of " + strings.Join(list, ", ")
	if len(list) == 1 {
		all = "write only " + quoted(list[0])
	}
	switch {
	case len(list) == 0:
		return "leave it out"
	case near != "" && len(list) > 12:
		return "did you mean " + quoted(near) + "?"
	case near != "":
		return "did you mean " + quoted(near) + "? " + all
	}
	return all
}
