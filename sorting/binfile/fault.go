package binfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Fault is one thing in a file that is refused: where it stands, what was read and what would be right.
type Fault struct {
	File  string
	Line  int    // counted from 1; 0 where the fault has no line in the file
	Key   string // "[[lot]] mass", "column 3 (mass_g)"; empty for the file as a whole
	Wrong string // what is wrong
	Read  string // what was read, as it stands in the file; empty where nothing was
	Right string // what would be right
}

// Error writes the fault on one line, `FILE:LINE: key: what is wrong (read …); what would be right`.
// Nothing of the file reaches it with a control character or a terminal escape in it.
func (f Fault) Error() string {
	var b strings.Builder
	if f.File != "" {
		b.WriteString(shown(f.File, 200) + ":")
	}
	if f.Line > 0 {
		fmt.Fprintf(&b, "%d:", f.Line)
	}
	if b.Len() > 0 {
		b.WriteByte(' ')
	}
	if f.Key != "" {
		b.WriteString(shown(f.Key, 100) + ": ")
	}
	b.WriteString(shown(f.Wrong, 400))
	if f.Read != "" {
		b.WriteString(" (read " + shown(f.Read, 60) + ")")
	}
	if f.Right != "" {
		b.WriteString("; " + shown(f.Right, 600))
	}
	return b.String()
}

// Faults are all the faults of one file, in the order of their lines.
type Faults []Fault

// Error writes one line a fault, up to a thousand, and how many more there are.
func (fs Faults) Error() string {
	const most = 1000
	var lines []string
	for _, f := range fs[:min(len(fs), most)] {
		lines = append(lines, f.Error())
	}
	if len(fs) > most {
		lines = append(lines, fmt.Sprintf("… and %d more", len(fs)-most))
	}
	return strings.Join(lines, "\n")
}

func (fs Faults) sort() {
	slices.SortStableFunc(fs, func(a, b Fault) int { return a.Line - b.Line })
}

// shown makes text of a file safe to print on one line: characters without a picture (control
// characters, escapes, marks that turn the reading direction) are escaped, and it is cut at n.
func shown(s string, n int) string {
	if len(s) > 4*n {
		s = strings.ToValidUTF8(s[:4*n], "�")
	}
	var b strings.Builder
	used := 0
	for _, r := range s {
		if used == n-1 {
			b.WriteRune('…')
			break
		}
		used++
		if strconv.IsGraphic(r) {
			b.WriteRune(r)
			continue
		}
		q := strconv.QuoteRune(r)
		b.WriteString(q[1 : len(q)-1])
	}
	return b.String()
}

// quoted is text as a message names it: in quotes, safe to print.
func quoted(s string) string { return `"` + shown(s, 60) + `"` }
