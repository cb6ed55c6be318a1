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
	units Units
	kept  []string // beginnings of names, up to what looks like a measure
	err   error
}

// NewPage writes to w, masses and temperatures in the units asked for.
func NewPage(w io.Writer, u Units) *Page { return &Page{w: w, units: u} }

// Keep tells names that stay as they are where they look like a measure: a lot "3 kg spool".
func (p *Page) Keep(names ...string) { p.kept = append(p.kept, Kept(names...)...) }

// in writes a text in the units of the page.
func (p *Page) in(text string) string { return p.units.In(text, p.kept...) }

// Err is the first error of writing.
func (p *Page) Err() error { return p.err }

// Title writes a line of its own, without a gutter.
func (p *Page) Title(text string) {
	for _, line := range wrap(p.in(Clean(text)), width) {
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
func (p *Page) Line(text string) { p.line(p.in(text)) }

func (p *Page) line(text string) {
	p.print(strings.TrimRight(fmt.Sprintf("%-*s%s", gutter, p.head, text), " "))
	p.head = ""
}

// Text writes prose, wrapped; lines after the first are set in by indent more.
func (p *Page) Text(text string, indent int) {
	lines := wrap(p.in(Clean(text)), width-gutter-indent)
	for i, line := range lines {
		if i > 0 {
			line = strings.Repeat(" ", indent) + line
		}
		p.line(line)
	}
}

// Item writes prose behind a mark such as "1." or "-", set in by the mark's width.
func (p *Page) Item(mark, text string) { p.Text(mark+" "+text, utf8.RuneCountInString(mark)+1) }

// Inset writes prose behind a mark, the whole of it set in by n columns.
func (p *Page) Inset(n int, mark, text string) {
	wide := utf8.RuneCountInString(mark) + 1
	for i, line := range wrap(p.in(Clean(text)), width-gutter-n-wide) {
		if i > 0 {
			mark = ""
		}
		p.line(fmt.Sprintf("%s%-*s%s", strings.Repeat(" ", n), wide, mark, line))
	}
}

// Under writes prose set in by n columns throughout.
func (p *Page) Under(n int, text string) {
	for _, line := range wrap(p.in(Clean(text)), width-gutter-n) {
		p.line(strings.Repeat(" ", n) + line)
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
			p.line(line + " \\")
			line = "   "
		}
		line += part
	}
	p.line(line)
}

// Table writes rows with aligned columns; align has an l or an r for each, l where it is short. Cells
// of the last column are not padded. Words are cut where a row would be too wide.
func (p *Page) Table(align string, rows [][]string) {
	for _, line := range p.table(align, rows, width-gutter) {
		p.line(line)
	}
}

func (p *Page) print(line string) {
	p.begun = true
	if p.err == nil {
		_, p.err = io.WriteString(p.w, line+"\n")
	}
}

// table lays rows out in at most so many columns.
func (p *Page) table(align string, rows [][]string, most int) []string {
	cells := make([][]string, len(rows))
	for n, row := range rows {
		for _, cell := range row {
			cells[n] = append(cells[n], p.in(cell))
		}
	}
	wide := widths(align, cells, most)
	out := make([]string, len(rows))
	for n, row := range cells {
		var b strings.Builder
		for i, cell := range row {
			if i > 0 {
				b.WriteString("  ")
			}
			cell = fitted(cell, wide[i])
			pad := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell))
			if right(align, i) {
				b.WriteString(pad + cell)
			} else {
				b.WriteString(cell + pad)
			}
		}
		out[n] = strings.TrimRight(b.String(), " ")
	}
	return out
}

func right(align string, i int) bool { return i < len(align) && align[i] == 'r' }

// narrowest is how far a column of words may be cut.
const narrowest = 12

// widths of the columns; those of words give way, the widest first, figures never.
func widths(align string, rows [][]string, most int) []int {
	var wide []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	total := 2 * (len(wide) - 1)
	for _, w := range wide {
		total += w
	}
	for ; total > most; total-- {
		widest := -1
		for i, w := range wide {
			if !right(align, i) && w > narrowest && (widest < 0 || w > wide[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		wide[widest]--
	}
	return wide
}

func fitted(cell string, n int) string {
	if utf8.RuneCountInString(cell) <= n {
		return cell
	}
	return cropped(cell, n)
}

// wrap breaks prose into lines of at most n characters; a longer word is broken too.
func wrap(text string, n int) []string {
	var out []string
	line, used := "", 0
	for _, word := range pieces(text, n) {
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

// Narrow breaks a paragraph anew where a line of it is too wide for a page.
func Narrow(text string) string {
	for line := range strings.Lines(text) {
		if utf8.RuneCountInString(strings.TrimSuffix(line, "\n")) > width {
			return strings.Join(wrap(text, width), "\n")
		}
	}
	return text
}

// pieces are the words of a text, those longer than n in parts.
func pieces(text string, n int) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		for r := []rune(word); len(r) > 0; {
			k := min(n, len(r))
			out, r = append(out, string(r[:k])), r[k:]
		}
	}
	return out
}
