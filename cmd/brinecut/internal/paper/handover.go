package paper

import (
	"slices"

	"brinecut/reuse"
)

// Margins and columns of the hand-over sheet, mm.
const (
	margin    = 18.0
	nameWide  = 46.0
	basisWide = 8.0
)

// handing draws one hand-over sheet over as many pages as it takes.
type handing struct {
	*pen
	h     Handover
	paper Sheet
	y     float64
	bases []string // in the order of their letters
}

// handover draws the sheet of one batch on pages of its own.
func (p *pen) handover(h Handover, paper Sheet) {
	p.about = "hand-over sheet " + h.Batch
	for _, s := range []*string{&h.Title, &h.Batch, &h.Head, &h.Stop} {
		*s = p.clean(*s)
	}
	d := &handing{pen: p, h: h, paper: paper}
	d.open()
	d.banner()
	for _, f := range h.Fields {
		d.field(f)
	}
	d.list()
	d.signatures()
	d.footnotes()
}

func (d *handing) right() float64 { return d.paper.PageW - margin }
func (d *handing) wide() float64  { return d.paper.PageW - 2*margin }

// open begins a page with the line that tells which sheet it belongs to.
func (d *handing) open() {
	d.page(d.paper)
	t := style{regular, 2.2}
	left := "Hand-over sheet"
	d.text(style{bold, 2.2}, margin, margin-6, left)
	for _, s := range d.wrap(t, d.h.Batch+" · "+d.h.Title, d.wide()-d.width(style{bold, 2.2}, left)-6)[:1] {
		d.text(t, d.right()-d.width(t, s), margin-6, s)
	}
	d.rule(margin, margin-1.5, d.right(), margin-1.5, 0.4)
	d.y = margin + 1.5
}

// room makes sure that h mm are left on the page, on a new one if need be.
func (d *handing) room(h float64) {
	if d.y+h > d.paper.PageH-margin {
		d.open()
	}
}

func (d *handing) banner() {
	d.y = d.head(d.h.Head, rect{margin, d.y, d.wide(), 40}, headMost, true)
	d.y = d.stop(d.h.Stop, margin, d.y, d.wide(), stopMost) + 2
}

// field is one row: what it is, the answer, and a letter for who asks for it. What is not recorded gets a
// rule to write on, with what may be written there.
func (d *handing) field(f reuse.Field) {
	name, value, small := style{bold, 2.1}, style{regular, 2.1}, style{regular, 1.6}
	x := margin + nameWide
	w := d.wide() - nameWide - basisWide
	heads := d.wrap(name, d.clean(f.Name), nameWide-3)
	text := d.clean(f.Value)
	var rows []string
	blank := text == reuse.NotRecorded
	hint := d.clean(f.Hint)
	if !blank {
		rows = d.wrap(value, text, w)
	}
	high := float64(max(len(rows), len(heads), 1))*value.line() + 1
	d.room(high)
	d.lines(name, margin, d.y, heads)
	if blank {
		foot := d.y + value.cap + 0.6
		d.rule(x, foot, x+w-3-d.width(small, hint), foot, 0.2)
		d.text(small, x+w-2-d.width(small, hint), d.y+0.4, hint)
	}
	d.lines(value, x, d.y, rows)
	d.text(small, d.right()-3, d.y+0.3, d.letter(f))
	d.y += high
	d.rule(margin, d.y-0.8, d.right(), d.y-0.8, 0.1)
	d.y += 0.5
}

// letter of the footnote that says who asks for a field.
func (d *handing) letter(f reuse.Field) string {
	basis := f.Need + ": " + f.Basis
	i := slices.Index(d.bases, basis)
	if i < 0 {
		i = len(d.bases)
		d.bases = append(d.bases, basis)
	}
	return string(rune('a' + i%26))
}

// bag list: column heads and where they begin, in shares of the width.
var bagColumns = []struct {
	head string
	at   float64
}{{"Bag", 0}, {"Id on its label", 0.14}, {"Gross", 0.40}, {"Tare", 0.53}, {"Net", 0.66}, {"Lots", 0.79}}

func (d *handing) list() {
	if len(d.h.Bags) == 0 {
		return
	}
	head := make([]string, len(bagColumns))
	for i, c := range bagColumns {
		head[i] = c.head
	}
	d.room(20)
	d.y += 2
	d.row(bold, bold, head)
	for _, b := range d.h.Bags {
		d.row(regular, mono, []string{b.Name, b.ID, b.Gross, b.Tare, b.Net, b.Lots})
	}
	t := style{regular, 1.6}
	d.lines(t, margin, d.y, []string{"The character behind the + checks the others: ISO 7064, MOD 37,36. The code on the label holds the id and nothing else."})
	d.y += t.line() + 1
}

func (d *handing) row(words, id face, cells []string) {
	const capital = 1.9
	columns := make([][]string, len(cells))
	most := 1
	for i, c := range cells {
		end := 1.0
		if i+1 < len(bagColumns) {
			end = bagColumns[i+1].at
		}
		columns[i] = d.wrap(style{d.of(i, words, id), capital}, d.clean(c), (end-bagColumns[i].at)*d.wide()-2)
		most = max(most, len(columns[i]))
	}
	high := float64(most)*capital*leading + 0.8
	d.room(high)
	for i, rows := range columns {
		d.lines(style{d.of(i, words, id), capital}, margin+bagColumns[i].at*d.wide(), d.y, rows)
	}
	d.y += high
	d.rule(margin, d.y-0.7, d.right(), d.y-0.7, 0.1)
}

// of picks the face of a column: the second holds ids.
func (d *handing) of(column int, words, id face) face {
	if column == 1 {
		return id
	}
	return words
}

func (d *handing) signatures() {
	d.room(18)
	d.y += 9
	t := style{regular, 1.9}
	half := d.wide()/2 - 4
	for i, s := range []string{"Handed over by, date, signature", "Received by, date, signature"} {
		x := margin + float64(i)*(half+8)
		d.rule(x, d.y, x+half, d.y, 0.3)
		d.text(t, x, d.y+1.5, s)
	}
	d.y += 7
}

func (d *handing) footnotes() {
	t := style{regular, 1.5}
	d.room(2 * t.line())
	d.y = d.lines(style{bold, 1.5}, margin, d.y, []string{"Who asks for a line, by the letter at its right"})
	for i, s := range d.bases {
		rows := d.wrap(t, d.clean(s), d.wide()-5)
		d.room(float64(len(rows)) * t.line())
		d.text(t, margin, d.y, string(rune('a'+i%26)))
		d.y = d.lines(t, margin+5, d.y, rows)
	}
}
