// Package show writes answers: as text for a person, at most 100 columns wide, and as JSON for other
// programs. Its JSON types are apart from the nouns of the library, so that a name on the wire stays
// where a name in the code moves.
package show

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// width of a line, gutter of its headings.
const (
	width  = 100
	gutter = 12
)

// Page is a text answer: headings stand in a gutter on the left, what they head beside them.
type Page struct {
	w     io.Writer
	head  string // heading that waits for its first line
	begun bool
	err   error
}

// NewPage writes to w.
func NewPage(w io.Writer) *Page { return &Page{w: w} }

// Err is the first error of writing.
func (p *Page) Err() error { return p.err }

// Title writes a line of its own, without a gutter.
func (p *Page) Title(text string) {
	for _, line := range wrap(Clean(text), width) {
		p.print(line)
	}
}

// Section puts a heading before the next line, behind an empty line where anything stands above.
func (p *Page) Section(head string) {
	if p.begun {
		p.print("")
	}
	p.head = head
}

// Line writes one line beside the gutter, cut to no width: use Text for prose.
func (p *Page) Line(text string) {
	p.print(strings.TrimRight(fmt.Sprintf("%-*s%s", gutter, p.head, text), " "))
	p.head = ""
}

// Text writes prose, wrapped; lines after the first are set in by indent more.
func (p *Page) Text(text string, indent int) {
	lines := wrap(Clean(text), width-gutter-indent)
	for i, line := range lines {
		if i > 0 {
			line = strings.Repeat(" ", indent) + line
		}
		p.Line(line)
	}
}

// Item writes prose behind a mark such as "1." or "-", set in by the mark's width.
func (p *Page) Item(mark, text string) { p.Text(mark+" "+text, utf8.RuneCountInString(mark)+1) }

// Inset writes prose behind a mark, the whole of it set in by n columns.
func (p *Page) Inset(n int, mark, text string) {
	wide := utf8.RuneCountInString(mark) + 1
	for i, line := range wrap(Clean(text), width-gutter-n-wide) {
		if i > 0 {
			mark = ""
		}
		p.Line(fmt.Sprintf("%s%-*s%s", strings.Repeat(" ", n), wide, mark, line))
	}
}

// Under writes prose set in by n columns throughout.
func (p *Page) Under(n int, text string) {
	for _, line := range wrap(Clean(text), width-gutter-n) {
		p.Line(strings.Repeat(" ", n) + line)
	}
}

// Command writes a command line to be copied; a long one is broken ahead of its flags.
func (p *Page) Command(text string) {
	line := ""
	for i, part := range strings.SplitAfter(text, " --") {
		part = strings.TrimSuffix(part, " --")
		if i > 0 {
			part = " --" + part
		}
		if line != "" && utf8.RuneCountInString(line+part)+2 > width-gutter {
			p.Line(line + " \\")
			line = "   "
		}
		line += part
	}
	p.Line(line)
}

// Table writes rows with aligned columns; align has an l or an r for each, l where it is short. Cells
// of the last column are not padded.
func (p *Page) Table(align string, rows [][]string) {
	for _, line := range table(align, rows) {
		p.Line(line)
	}
}

func (p *Page) print(line string) {
	p.begun = true
	if p.err == nil {
		_, p.err = io.WriteString(p.w, line+"\n")
	}
}

func table(align string, rows [][]string) []string {
	var wide []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	out := make([]string, len(rows))
	for n, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			if i > 0 {
				b.WriteString("  ")
			}
			pad := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell))
			if i < len(align) && align[i] == 'r' {
				b.WriteString(pad + cell)
			} else {
				b.WriteString(cell + pad)
			}
		}
		out[n] = strings.TrimRight(b.String(), " ")
	}
	return out
}

// wrap breaks prose into lines of at most n characters; a longer word is left whole.
func wrap(text string, n int) []string {
	var out []string
	line, used := "", 0
	for _, word := range strings.Fields(text) {
		w := utf8.RuneCountInString(word)
		if used > 0 && used+1+w > n {
			out, line, used = append(out, line), "", 0
		}
		if used > 0 {
			line, used = line+" ", used+1
		}
		line, used = line+word, used+w
	}
	return append(out, line)
}
