package paper

import (
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is one of the fonts that are embedded: the Go fonts of Bigelow & Holmes (BSD licence), which have
// the letters of Latin, Greek and Cyrillic with their accents. Ids are set in mono: its zero is crossed.
type face int

const (
	regular face = iota
	bold
	mono
)

var names = [...]string{regular: "goregular", bold: "gobold", mono: "gomonobold"}

func (f face) data() []byte { return [...][]byte{goregular.TTF, gobold.TTF, gomonobold.TTF}[f] }

// measures of a font: height of its capitals by its em, and which characters it has.
type measures struct {
	capital float64
	font    *sfnt.Font
}

func measure(f face) (measures, error) {
	s, err := sfnt.Parse(f.data())
	if err != nil {
		return measures{}, err
	}
	const em = 2048
	m, err := s.Metrics(nil, fixed.I(em), font.HintingNone)
	return measures{float64(m.CapHeight) / 64 / em, s}, err
}

func (m measures) has(r rune) bool {
	i, err := m.font.GlyphIndex(nil, r)
	return err == nil && i != 0
}

// clean makes a text fit for paper: on one line, without control characters and marks that turn the
// reading direction; what the fonts do not have becomes a question mark and is noted.
func (p *pen) clean(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsGraphic(r):
			return -1
		case r > 0xFFFF || !p.faces[regular].has(r) || !p.faces[bold].has(r):
			p.note(Note{p.about, "the fonts have no " + quoted(r) + ", so a ? stands for it", "write that name in Latin, Greek or Cyrillic letters"})
			return '?'
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

func quoted(r rune) string { return "\u201c" + string(r) + "\u201d" }
