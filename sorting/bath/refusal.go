package bath

import (
	"fmt"
	"math"
)

// Refusal says why something cannot be done, and what would do instead.
type Refusal struct {
	Fault   string // what is wrong
	Instead string // what would be right, or do the job in its place
}

func (r *Refusal) Error() string { return r.Fault + "; " + r.Instead }

func refuse(instead, format string, a ...any) error {
	return &Refusal{Fault: fmt.Sprintf(format, a...), Instead: instead}
}

// Warning is doubt about an answer, and the measurement that removes it.
type Warning struct{ Says, Cure string }

// Assumption is a constant an answer leaned on that nobody stated.
type Assumption struct {
	Says   string // "scale step 1 g"
	Key    string // the flag or field that overrides it
	Source string // a source, "common practice, no source", "from memory" or "judgement"
}

// finite reports whether every x is a number.
func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
