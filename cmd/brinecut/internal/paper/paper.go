// Package paper puts labels and hand-over sheets on paper: PDF pages in black on white, sheets by their
// dimensions, QR codes as vector squares. The same input gives the same bytes: nothing on the page or in
// the file comes from a clock.
package paper

import (
	"brinecut/reuse"
)

// Label is what one label says.
type Label struct {
	Head  string // in the largest letters: the marking, or what stands in for it
	Stop  string // "DO NOT HEAT", or empty
	Name  string // in plain words
	Mass  string // "1.43 kg net, weighed", or that it is planned
	Count string // "bag 1 of 2"; empty where it is not counted
	ID    string // with its check character, see ID; empty: no code is printed
	Facts []Fact // most needed first: what has no room is left out from the end, and the result says so

	Snippet bool // leaves a framed place for a snippet of the material
}

// Fact is one line of a label. One without a value gets a rule to write on.
type Fact struct {
	Name, Value string
	Keep        bool // never left out: the type gets smaller first
}

// Handover is the sheet that goes with the bags of one batch.
type Handover struct {
	Title  string // of the bin
	Batch  string
	Head   string
	Stop   string
	Fields []reuse.Field
	Bags   []Bag
}

// Bag is one line of a hand-over sheet's list.
type Bag struct {
	Name, ID         string // as the bin file calls it; as its label says it
	Gross, Tare, Net string
	Lots             string
}

// Job is everything that goes into one file.
type Job struct {
	Title     string
	Labels    []Label
	Handovers []Handover // on pages of their own, behind the labels
}

// Options say what is printed on; the zero value is the first sheet of A4, from its first label on.
type Options struct {
	Sheet            Sheet
	Start            int     // first label used on the first sheet, from 1 along the rows; 0 is 1
	OffsetX, OffsetY float64 // mm, right and down: what the printer draws askew
	Plain            Sheet   // paper of the hand-over sheets; zero: the sheet's own, or A4 for a roll
}

// Place is where a label was put.
type Place struct {
	Page, Row, Column int // from 1
}

// Note is something that did not come out as asked, with what would mend it.
type Note struct {
	About, Says, Cure string
}

// Result is a finished file.
type Result struct {
	PDF           []byte
	Pages         int
	HandoverPages int
	Places        []Place // in the order of the labels
	Notes         []Note
}

// Refusal is a wish that no paper can meet.
type Refusal struct {
	Fault, Right string
}

func (r *Refusal) Error() string { return r.Fault }

// Print makes the file of a job. An error is a *Refusal, or a fault of the PDF writer.
func Print(j Job, o Options) (Result, error) {
	s := o.Sheet.orFirst()
	if err := o.check(s); err != nil {
		return Result{}, err
	}
	p, err := newPen(j.Title, s)
	if err != nil {
		return Result{}, err
	}
	places := p.labels(j.Labels, s, o)
	before := p.pages
	plain := o.Plain
	if plain.PageW == 0 {
		plain = s
	}
	if plain.Paper == roll {
		plain = Sheet{}.orFirst()
	}
	for _, h := range j.Handovers {
		p.handover(h, plain)
	}
	out, err := p.finish()
	if err != nil {
		return Result{}, err
	}
	return Result{PDF: out, Pages: p.pages, HandoverPages: p.pages - before, Places: places, Notes: p.notes()}, nil
}

// mostOffset of a printer that is worth mending by an offset, mm (common practice: printers drift ±2 mm).
const mostOffset = 20

func (o Options) check(s Sheet) error {
	if err := s.check(); err != nil {
		return err
	}
	if n := s.Columns * s.Rows; o.Start < 0 || o.Start > n {
		return &Refusal{"the sheet " + s.Name + " has no such label to start at", "count along the rows from 1 to " + whole(n)}
	}
	for _, x := range []float64{o.OffsetX, o.OffsetY} {
		if !(x >= -mostOffset && x <= mostOffset) {
			return &Refusal{"an offset is more than 20 mm", "measure it on the calibration page; or give the sheet's own geometry"}
		}
	}
	return nil
}

// labels draws every label in its place and gives the places.
func (p *pen) labels(list []Label, s Sheet, o Options) []Place {
	places := make([]Place, 0, len(list))
	first := max(o.Start, 1) - 1
	each := s.Columns * s.Rows
	for i, l := range list {
		n := first + i
		if i == 0 || n%each == 0 {
			p.page(s)
			if s.Cut {
				p.cutLines(s, o)
			}
		}
		at := Place{Page: p.pages, Row: n%each/s.Columns + 1, Column: n%s.Columns + 1}
		places = append(places, at)
		p.about = l.Head
		if l.ID != "" {
			p.about = l.ID
		}
		p.label(l, s.at(at, o).inset(s.Inset))
	}
	return places
}
