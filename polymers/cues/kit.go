package cues

import (
	"strings"

	"brinecut/polymers/quantity"
)

// Missing returns those of the test's needs that the kit does not meet, in order; nil where the
// test can be done. A scale in the kit meets the need for a scale of the same or a coarser step.
func (t Test) Missing(kit []string) [][]string {
	var missing [][]string
	for _, oneOf := range t.Needs {
		if !anyMet(oneOf, kit) {
			missing = append(missing, oneOf)
		}
	}
	return missing
}

func anyMet(oneOf, kit []string) bool {
	for _, need := range oneOf {
		for _, have := range kit {
			if meets(strings.TrimSpace(have), need) {
				return true
			}
		}
	}
	return false
}

func meets(have, need string) bool {
	if strings.EqualFold(have, need) {
		return true
	}
	needStep, isScale := step(need)
	haveStep, ok := step(have)
	return isScale && ok && haveStep <= needStep
}

// step reads "scale 0.1 g" as a step in grams.
func step(name string) (quantity.Gram, bool) {
	text, ok := strings.CutPrefix(strings.ToLower(name), "scale ")
	if !ok {
		return 0, false
	}
	q, err := quantity.Parse[quantity.Gram](text)
	return q.Value, err == nil
}
