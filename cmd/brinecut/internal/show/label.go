package show

import "fmt"

// Labels lists what was printed.
type Labels struct {
	File          string
	What          string // bags, lots, boxes or calibration
	Sheet         string
	Planned       bool // nothing is bagged yet: the labels are of bags to be
	Pages         int  // those of hand-over sheets counted too
	HandoverPages int
	Labels        []Label
	Notes         []LabelNote
}

// Label is one label, and where it is.
type Label struct {
	ID       string   `json:"id,omitempty"` // as printed, check character last, and what its QR code holds
	Head     string   `json:"head"`
	Stop     string   `json:"stop,omitempty"`
	Name     string   `json:"name"`
	Fraction string   `json:"fraction,omitempty"`
	Bag      string   `json:"bag,omitempty"` // as the bin file calls it
	Planned  bool     `json:"planned"`
	NetG     *float64 `json:"net_g,omitempty"`
	Number   int      `json:"number,omitempty"` // bag n of m
	Of       int      `json:"of,omitempty"`
	Page     int      `json:"page"`
	Row      int      `json:"row"`
	Column   int      `json:"column"`
}

// LabelNote is something that did not come out as asked.
type LabelNote struct {
	About string `json:"about"`
	Says  string `json:"says"`
	Cure  string `json:"cure"`
}

// LabelsJSON is the wire form of what was printed.
func LabelsJSON(l Labels) any {
	return struct {
		File          string      `json:"file"`
		What          string      `json:"what"`
		Sheet         string      `json:"sheet"`
		Planned       bool        `json:"planned"`
		Pages         int         `json:"pages"`
		HandoverPages int         `json:"handover_pages"`
		Labels        []Label     `json:"labels"`
		Notes         []LabelNote `json:"notes"`
	}{l.File, l.What, l.Sheet, l.Planned, l.Pages, l.HandoverPages, nonNil(l.Labels), nonNil(l.Notes)}
}

// LabelsText says what was written and how to print it.
func LabelsText(p *Page, l Labels) {
	switch {
	case l.What == "calibration":
		p.Title("wrote " + l.File + ": a calibration page for " + l.Sheet)
		p.Title("next: print it at 100 %, measure its rulers, then print labels with the offsets it asks for")
		return
	case l.HandoverPages > 0:
		p.Title(fmt.Sprintf("wrote %s: %s on %s, %s of them hand-over sheets", l.File, count(len(l.Labels), "label"), count(l.Pages, "page"), fmt.Sprint(l.HandoverPages)))
	default:
		p.Title(fmt.Sprintf("wrote %s: %s on %s", l.File, count(len(l.Labels), "label"), count(l.Pages, "page")))
	}
	for _, x := range l.Labels {
		p.print("  " + p.in(Clean(labelLine(x))))
	}
	if l.Planned {
		p.Title("these are planned, not weighed: fill and weigh the bags, write each down with brinecut bag, print again")
	}
	p.Title("print at 100 %, never fitted to the page; sheet " + l.Sheet)
}

func labelLine(x Label) string {
	s := x.Head
	if x.Stop != "" {
		s += ", " + x.Stop
	}
	if x.Of > 0 {
		s += fmt.Sprintf(", bag %d of %d", x.Number, x.Of)
	}
	if x.NetG != nil {
		s += ", " + mass(*x.NetG)
	}
	if x.ID != "" {
		s = x.ID + "  " + s
	}
	return s + fmt.Sprintf(" (page %d, row %d, column %d)", x.Page, x.Row, x.Column)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
