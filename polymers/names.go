package polymers

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"github.com/agnivade/levenshtein"
)

// UnknownError says that a name is no material of the handbook, and which one is nearest in spelling.
type UnknownError struct {
	Name    string
	Nearest Symbol   // never a never-heat material, unless one edit away
	Far     bool     // too many edits away to be what was meant
	Several []Symbol // where the name could mean several: all of them, in the order of All
}

func (e *UnknownError) Error() string {
	if len(e.Several) > 0 {
		return fmt.Sprintf("%q can mean several materials: %s", e.Name, joinSymbols(e.Several, " or "))
	}
	return fmt.Sprintf("unknown material %q; nearest known is %s", e.Name, nearestWords(string(e.Nearest), e.Far))
}

// nearestWords keep a far spelling from being taken for advice.
func nearestWords(name string, far bool) string {
	if far {
		return name + " in spelling, not in kind"
	}
	return name
}

// isFar reports a spelling that is more than about a third of its length away: such a one is no slip.
func isFar(key string, edits int) bool { return edits > (len(key)+1)/3 }

func joinSymbols(ss []Symbol, sep string) string {
	parts := make([]string, len(ss))
	for i, s := range ss {
		parts[i] = string(s)
	}
	return strings.Join(parts, sep)
}

// ambiguous names are refused with what they can mean, rather than guessed.
var ambiguous = map[string][]Symbol{
	"NYLON": {"PA6", "PA12", "PA66", "PA11"}, "PA": {"PA6", "PA12", "PA66", "PA11"}, "POLYAMIDE": {"PA6", "PA12", "PA66", "PA11"},
	"PE": {"PE-HD", "PE-LD"}, "POLYETHYLENE": {"PE-HD", "PE-LD"}, "POLYTHENE": {"PE-HD", "PE-LD"},
	"FLUOROPOLYMER": {"PTFE", "PVDF"},
}

// Lookup finds the symbol of a material by its symbol or a common other spelling, in any case and
// with any or no separators: "PET-G", "pla+", "nylon 12", "tpu 95a". A filled grade with a percentage
// that has no record of its own is found under its generic record: "PA12-GF15" as PA12-GF. Anything
// else, "other" included, is refused with an *UnknownError that names the nearest known symbol, or
// everything the name can mean.
func Lookup(name string) (Symbol, error) {
	key := nameKey(name)
	if sym, ok := byName()[key]; ok {
		return sym, nil
	}
	if several, ok := ambiguous[key]; ok {
		return "", &UnknownError{Name: name, Several: several}
	}
	if sym, ok := genericFilled(key); ok {
		return sym, nil
	}
	near, far := nearest(key)
	return "", &UnknownError{Name: name, Nearest: near, Far: far}
}

var byName = sync.OnceValue(func() map[string]Symbol {
	m := make(map[string]Symbol, 8*len(materials))
	for i := range materials {
		m[nameKey(string(materials[i].Symbol))] = materials[i].Symbol
	}
	for i := range materials {
		for _, n := range materials[i].OtherNames {
			if _, taken := m[nameKey(n)]; !taken {
				m[nameKey(n)] = materials[i].Symbol
			}
		}
	}
	return m
})

// nameKey reduces a name to its letters and digits, upper case, with the plus of "PLA+" kept only
// where it ends the name: in "PC+ABS" it is a separator like any other.
func nameKey(name string) string {
	var b strings.Builder
	trimmed := strings.TrimSpace(name)
	for _, r := range strings.ToUpper(trimmed) {
		if r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' {
			b.WriteRune(r)
		}
	}
	if strings.HasSuffix(trimmed, "+") {
		b.WriteByte('+')
	}
	return b.String()
}

var filledKey = regexp.MustCompile(`^(.+?)((?:GF|CF|WD|MED)\d{1,2})$`)

// genericFilled finds "PA12GF15" under the record whose key is "PA12GF".
func genericFilled(key string) (Symbol, bool) {
	g := filledKey.FindStringSubmatch(key)
	if g == nil {
		return "", false
	}
	sym, ok := byName()[g[1]+strings.TrimRight(g[2], "0123456789")]
	if !ok {
		return "", false
	}
	m, _ := Find(sym)
	generic := strings.TrimRight(m.Filler, "0123456789") == m.Filler && m.Filler != ""
	return sym, generic
}

// nearest gives the symbol whose own or other name is fewest edits away; the earlier in All on a tie;
// and whether that is far. A never-heat material more than one edit away is passed over: a wrong guess
// at one does harm.
func nearest(key string) (Symbol, bool) {
	best, at := materials[0].Symbol, int(^uint(0)>>1)
	try := func(name string, m *Material) {
		if d := edits(key, nameKey(name)); d < at && (d <= 1 || !m.NeverHeat) {
			best, at = m.Symbol, d
		}
	}
	for i := range materials {
		try(string(materials[i].Symbol), &materials[i])
	}
	for i := range materials {
		for _, n := range materials[i].OtherNames {
			try(n, &materials[i])
		}
	}
	return best, isFar(key, at)
}

// edits between two words; the same letters in another order count as one.
func edits(a, b string) int {
	d := levenshtein.ComputeDistance(a, b)
	if d > 1 && sameLetters(a, b) {
		return 1
	}
	return d
}

func sameLetters(a, b string) bool {
	x, y := []byte(a), []byte(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}
