package paper

import (
	"bytes"
	"slices"
	"strings"
	"unicode/utf8"

	"codeberg.org/go-pdf/fpdf"
)

// pen draws on pages, in mm from the top left corner, black on white.
type pen struct {
	pdf   *fpdf.Fpdf
	faces [3]measures
	pages int
	said  []said
	about string // what is drawn now, for notes
}

// newPen opens a file. Its dates are fixed, so that they tell nothing and change nothing.
func newPen(title string, s Sheet) (*pen, error) {
	p := &pen{pdf: fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: s.PageW, Ht: s.PageH}})}
	f := p.pdf
	f.SetCatalogSort(true)
	f.SetProducer("brinecut", true)
	fixedDay := f.GetCreationDate().AddDate(1999, 0, 0) // the zero date, moved to 2000-01-01
	f.SetCreationDate(fixedDay)
	f.SetModificationDate(fixedDay)
	f.SetLang("en")
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	for i := range p.faces {
		m, err := measure(face(i))
		if err != nil {
			return nil, err
		}
		p.faces[i] = m
		f.AddUTF8FontFromBytes(names[i], "", slices.Clone(face(i).data()))
	}
	f.SetTitle(p.clean(title), true)
	return p, f.Error()
}

func (p *pen) page(s Sheet) {
	p.pdf.AddPageFormat("P", fpdf.SizeType{Wd: s.PageW, Ht: s.PageH})
	p.pages++
}

func (p *pen) finish() ([]byte, error) {
	var b bytes.Buffer
	err := p.pdf.Output(&b)
	return b.Bytes(), err
}

// style is a font with the height of its capitals, mm.
type style struct {
	face face
	cap  float64
}

// leading from line to line, by the height of capitals.
const leading = 1.75

func (t style) line() float64 { return t.cap * leading }

func (p *pen) use(t style) {
	p.pdf.SetFont(names[t.face], "", 12)
	p.pdf.SetFontUnitSize(t.cap / p.faces[t.face].capital)
}

// width is measured on the font itself: asking the PDF writer would leave traces on the page.
func (p *pen) width(t style, s string) float64 {
	m := &p.faces[t.face]
	ems := 0.0
	for _, r := range s {
		ems += m.advance(r)
	}
	return ems * t.cap / m.capital
}

// text writes one line with the top of its capitals at y.
func (p *pen) text(t style, x, y float64, s string) {
	p.use(t)
	p.pdf.Text(x, y+t.cap, s)
}

// lines writes several and gives the y below them.
func (p *pen) lines(t style, x, y float64, list []string) float64 {
	for _, s := range list {
		p.text(t, x, y, s)
		y += t.line()
	}
	return y
}

func (p *pen) fill(r rect) { p.pdf.Rect(r.x, r.y, r.w, r.h, "F") }

func (p *pen) frame(r rect, thick float64) {
	p.pdf.SetLineWidth(thick)
	p.pdf.Rect(r.x, r.y, r.w, r.h, "D")
}

func (p *pen) rule(x1, y1, x2, y2, thick float64) {
	p.pdf.SetLineWidth(thick)
	p.pdf.Line(x1, y1, x2, y2)
}

// dashed rules everything drawn within.
func (p *pen) dashed(draw func()) {
	p.pdf.SetDashPattern([]float64{1.5, 1.5}, 0)
	draw()
	p.pdf.SetDashPattern([]float64{}, 0)
}

// wrap breaks a text into lines no wider than w: at blanks, else behind a mark within a long word, else
// anywhere.
func (p *pen) wrap(t style, s string, w float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(s) {
		if try := strings.TrimSpace(line + " " + word); p.width(t, try) <= w {
			line = try
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for word != "" && p.width(t, word) > w {
			n := p.cut(t, word, w)
			out = append(out, word[:n])
			word = word[n:]
		}
		line = word
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// cut gives where to break a word that is too wide, in bytes: at least one character.
func (p *pen) cut(t style, word string, w float64) int {
	fits, nice := 0, 0
	for i, r := range word {
		end := i + utf8.RuneLen(r)
		if p.width(t, word[:end]) > w {
			break
		}
		fits = end
		if strings.ContainsRune(marks, r) && end < len(word) {
			nice = end
		}
	}
	if nice > 0 {
		return nice
	}
	if fits == 0 {
		_, fits = utf8.DecodeRuneInString(word)
	}
	return fits
}

// fit wraps a text at the largest capitals between most and least that need no more than n lines and
// break no word; where there are none, at least, broken where it must be.
func (p *pen) fit(f face, s string, w, least, most float64, n int) (style, []string) {
	for c := most; c > least; c -= 0.25 {
		t := style{f, c}
		if list := p.wrap(t, s, w); len(list) <= n && len(strings.Join(list, " ")) == len(s) {
			return t, list
		}
	}
	t := style{f, least}
	return t, p.wrap(t, s, w)
}
