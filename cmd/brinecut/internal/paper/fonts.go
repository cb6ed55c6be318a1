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

// measures of a font by its em: height of its capitals, and how wide characters are.
type measures struct {
	capital  float64
	font     *sfnt.Font
	advances map[rune]float64
}

// em in which the fonts are measured: their own units, so that nothing is rounded.
const em = 2048

func measure(f face) (measures, error) {
	s, err := sfnt.Parse(f.data())
	if err != nil {
		return measures{}, err
	}
	m, err := s.Metrics(nil, fixed.I(em), font.HintingNone)
	return measures{float64(m.CapHeight) / 64 / em, s, map[rune]float64{}}, err
}

func (m measures) has(r rune) bool {
	i, err := m.font.GlyphIndex(nil, r)
	return err == nil && i != 0
}

func (m measures) advance(r rune) float64 {
	if w, ok := m.advances[r]; ok {
		return w
	}
	i, err := m.font.GlyphIndex(nil, r)
	if err != nil {
		return 1
	}
	a, err := m.font.GlyphAdvance(nil, i, fixed.I(em), font.HintingNone)
	if err != nil {
		return 1
	}
	m.advances[r] = float64(a) / 64 / em
	return m.advances[r]
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
			p.note(noLetter, p.about)
			return '?'
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}
