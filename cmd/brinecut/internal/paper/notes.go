package paper

import (
	"fmt"
	"strings"
)

// trouble is a kind of thing that does not come out as asked.
type trouble struct{ says, cure string }

var (
	small    = trouble{"there is no room for letters of 10 mm and all particulars", "take a sheet with larger labels, or send the hand-over sheet along"}
	leftOut  = trouble{"there was no room for some lines", "take a sheet with larger labels, or send the hand-over sheet along"}
	noCode   = trouble{"there is no room for a code", "type the id, or take a larger label"}
	cutShort = trouble{"a name is too long for its place, and is cut", "shorten it in the bin file, or take a larger label"}
	noLetter = trouble{"the fonts lack some letters, and a ? stands for each", "write the name in Latin, Greek or Cyrillic letters"}
)

// said is a trouble with everything it befell.
type said struct {
	trouble
	about []string
}

// note keeps a trouble, each label once.
func (p *pen) note(t trouble, about string) {
	for i := range p.said {
		if p.said[i].trouble == t {
			if list := p.said[i].about; list[len(list)-1] != about {
				p.said[i].about = append(list, about)
			}
			return
		}
	}
	p.said = append(p.said, said{t, []string{about}})
}

// notes are one line for each trouble.
func (p *pen) notes() []Note {
	var out []Note
	for _, s := range p.said {
		about := strings.Join(s.about, ", ")
		if n := len(s.about); n > 3 {
			about = fmt.Sprintf("%s and %d more", strings.Join(s.about[:3], ", "), n-3)
		}
		out = append(out, Note{about, s.says, s.cure})
	}
	return out
}
