// Package cues holds the bench tests: how each is done, what it needs, what can hurt, what can be
// seen, and how probable each sight is given the material.
//
// Float, weigh and hot water are answered from density and softening temperature, elsewhere; their
// records (protocol, kit, cautions, minutes) are here. Soak, bend, acetone, hot air and flame are
// categorical: Likelihood answers them from tables. A smell is never asked for and a copper wire is
// never held in a flame.
package cues

import "slices"

// Kind names a bench test as the bin file writes it.
type Kind string

// The kinds of bench test.
const (
	Marked   Kind = "marked"
	Bend     Kind = "bend"
	Soak     Kind = "soak"
	Float    Kind = "float"
	Weigh    Kind = "weigh"
	HotWater Kind = "hot-water"
	Acetone  Kind = "acetone"
	HotAir   Kind = "hot-air"
	Flame    Kind = "flame"
)

// Unclear is the outcome every kind has beside its own: nothing could be read. It carries no
// evidence and has no likelihood.
const Unclear = "unclear"

// Cue is one thing watched for in a test that reports several (flame), with what can be seen of it.
type Cue struct {
	Name     string // "smoke", "drips", "goes_out"
	Outcomes []string
}

// Test is the record of one kind of bench test.
type Test struct {
	Kind     Kind
	Title    string
	Outcomes []string // without Unclear; nil where the test gives a number, a symbol or cues
	Cues     []Cue    // of flame; nil for all others

	Minutes      float64 // bench minutes a piece, common practice without a published source
	SetUpMinutes float64 // bench minutes for a new bath or a new water temperature

	// Needs lists what must be at the bench: one of each inner list, in the names of the bin
	// file's kit. "scale 0.1 g" is met by any finer scale; see Missing. What a denser bath is
	// mixed from is the recipe's business, so Float needs nothing.
	Needs     [][]string
	Protocol  []string // steps, in order
	Cautions  []string // what can hurt, to be shown beside the steps
	PieceMust string   // what a piece has to be like
	Heats     bool     // takes the piece above 100 °C
	Solvent   bool     // uses a flammable solvent: never in one session with heat or flame
	UsesUp    bool     // the piece is spoilt for a second test
	LastWay   bool     // never proposed unless the user allows it by name
	Family    string   // tests of one family on one piece are not independent; see Power
	Source    string   // ids of the bibliography, blank-separated; see Source
}

// All returns the bench tests in bench order, the safest first.
func All() []Test {
	all := make([]Test, 0, len(bench))
	for _, b := range bench {
		all = append(all, b.record())
	}
	return all
}

// Find returns the record of a kind, and whether there is one.
func Find(k Kind) (Test, bool) {
	for _, b := range bench {
		if b.Kind == k {
			return b.record(), true
		}
	}
	return Test{}, false
}

// Kinds returns the names of the bench tests in bench order.
func Kinds() []Kind {
	kinds := make([]Kind, 0, len(bench))
	for _, b := range bench {
		kinds = append(kinds, b.Kind)
	}
	return kinds
}

// Seen returns what can be seen in a test, without Unclear: of the named cue for flame, where cue
// is empty for every other kind. It is nil where the kind or the cue is not known, or where the test
// gives a number.
func Seen(k Kind, cue string) []string {
	t, ok := Find(k)
	if !ok {
		return nil
	}
	if cue == "" {
		return t.Outcomes
	}
	for _, c := range t.Cues {
		if c.Name == cue {
			return slices.Clone(c.Outcomes)
		}
	}
	return nil
}
