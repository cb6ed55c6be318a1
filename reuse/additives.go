package reuse

import (
	"slices"
	"strings"

	"brinecut/sorting"
)

// flameRetarded reads an additive or a grade as a flame retardant: the words, the FR of ISO 1043-4 as
// a term of its own, bromine, halogen. A text that plainly says there is none is not one.
func flameRetarded(text string) bool {
	t := strings.ToLower(text)
	if denied(t) {
		return false
	}
	for _, w := range []string{"flame", "retard", "halogen", "bromin", "chlorin", "fireproof", "fire proof", "fire-proof", "ul94", "ul 94", "v-0", "v0"} {
		if strings.Contains(t, w) {
			return true
		}
	}
	return slices.Contains(terms(t), "fr")
}

func fluorinated(text string) bool {
	t := strings.ToLower(text)
	if denied(t) {
		return false
	}
	for _, w := range []string{"ptfe", "pvdf", "fluor", "teflon", "pfa", "etfe"} {
		if strings.Contains(t, w) {
			return true
		}
	}
	return slices.Contains(terms(t), "fep")
}

// denied reports a text of the form "no flame retardant" or "flame retardant: no".
func denied(t string) bool {
	one := !strings.ContainsAny(t, ",;/&") && !strings.Contains(t, " but ") && !strings.Contains(t, " idea")
	return one && (strings.HasPrefix(t, "no ") || strings.HasPrefix(t, "without ") || strings.HasSuffix(t, ": no") || strings.HasSuffix(t, ": none"))
}

// terms splits a text into its runs of letters: "PC-FR(40)" gives pc, fr.
func terms(t string) []string {
	return strings.FieldsFunc(t, func(r rune) bool { return r < 'a' || r > 'z' })
}

// isFilled reads an additive as a fibre or filler.
func isFilled(a string) bool {
	t := strings.ToLower(a)
	if denied(t) {
		return false
	}
	return slices.ContainsFunc([]string{"fibre", "fiber", "carbon", "glass", "wood", "metal", "glow", "filled", "mineral"},
		func(w string) bool { return strings.Contains(t, w) })
}

// flameRetardant is what the declared additives say of a flame retardant: yes, no or unknown.
func flameRetardant(f sorting.Fraction) string {
	if slices.ContainsFunc(f.Additives, flameRetarded) {
		return "yes"
	}
	for _, a := range f.Additives {
		if t := strings.ToLower(a); denied(t) && (strings.Contains(t, "flame") || strings.Contains(t, "retard")) {
			return "no"
		}
	}
	return "unknown"
}
