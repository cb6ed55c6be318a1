package show

import (
	"fmt"
	"strings"

	"brinecut/sorting"
)

// graveNotes are the notes that no shorter form leaves out, and where the others stand.
func graveNotes(p *Page, warnings []sorting.Warning, file string) {
	var grave []sorting.Warning
	for _, w := range warnings {
		if w.Grave {
			grave = append(grave, w)
		}
	}
	footnotes(p, grave)
	if n := len(warnings) - len(grave); n > 0 {
		p.Section("")
		p.Title(fmt.Sprintf("%s: brinecut sort %s", counted(n, "more note", grave), word(file)))
	}
}

func counted(n int, what string, before []sorting.Warning) string {
	if len(before) == 0 {
		what = strings.TrimPrefix(what, "more ")
	}
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// footnotes are what is doubtful, with what would remove it.
func footnotes(p *Page, warnings []sorting.Warning) {
	if len(warnings) == 0 {
		return
	}
	p.Section("notes")
	for i, w := range warnings {
		at := ""
		if w.Line > 0 {
			at = fmt.Sprintf(" (line %d)", w.Line)
		}
		p.Item(fmt.Sprintf("%d.", i+1), join(w.Says+at, w.Cure))
	}
}

// assumed lists the constants the answer leaned on, each with the key that overrides it.
func assumed(p *Page, list []sorting.Assumption) {
	if len(list) == 0 {
		return
	}
	p.Section("taken as")
	for _, x := range list {
		s := x.Says + " (" + x.Source + ")"
		if x.Key != "" {
			s += "; yours: " + x.Key
		}
		p.Item("-", s)
	}
}

// notes writes footnotes, one an item.
func notes(p *Page, list []string) {
	if len(list) == 0 {
		return
	}
	p.Section("notes")
	for _, n := range list {
		p.Item("-", n)
	}
}
