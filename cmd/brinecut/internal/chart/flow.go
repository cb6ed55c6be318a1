package chart

import "math"

// Node is one end of a flow.
type Node struct {
	Name  string
	Value string // its figure with its range, as it is written beside it
	Size  float64
	Mark  Mark
}

// Ribbon is how much goes from one node to another.
type Ribbon struct {
	From, To int
	Size     float64
}

// Flow is a flow picture: what comes in on the left goes out on the right. Without ribbons both sides
// meet in one trunk, since what goes where is not known.
type Flow struct {
	About
	Heads   [2]string // over the columns
	From    []Node
	To      []Node
	Ribbons []Ribbon
}

// Where the columns of a flow stand.
const (
	flowLabel = 112.0 // width of a label
	flowBar   = 8.0
	flowTall  = 200.0 // height of the larger side, without gaps
	flowGap   = 6.0
	flowTop   = 24.0
)

// column is one side, laid out.
type column struct {
	top, high []float64 // of each bar
	label     []float64 // middle of each label
	lines     [][]string
	bottom    float64
}

// Picture draws the flow.
func (f Flow) Picture() string {
	c := newCanvas(f.ID)
	unit := flowTall / math.Max(math.Max(total(f.From), total(f.To)), 1e-9)
	from, to := layOut(f.From, unit), layOut(f.To, unit)
	left, right := flowLabel+4, wide-flowLabel-4-flowBar
	c.bold(flowLabel, 12, type2, end, f.Heads[0])
	c.bold(wide-flowLabel, 12, type2, start, f.Heads[1])
	if len(f.Ribbons) == 0 {
		f.trunk(c, from, to, unit, left, right)
	} else {
		f.ribbons(c, from, to, unit, left, right)
	}
	f.side(c, f.From, from, left, false)
	f.side(c, f.To, to, right, true)
	return c.done(f.About, math.Max(from.bottom, to.bottom)+4)
}

func total(list []Node) float64 {
	t := 0.0
	for _, n := range list {
		t += n.Size
	}
	return t
}

// layOut stacks the bars, and pushes labels apart where they would cover each other.
func layOut(list []Node, unit float64) column {
	var c column
	y, next := flowTop, 0.0
	for _, n := range list {
		h := math.Max(n.Size*unit, 1.5)
		lines := append(fold(n.Name, type2, flowLabel-18, 2), n.Value)
		half := float64(len(lines)) * (type2 + 2) / 2
		at := math.Max(y+h/2, next+half)
		if len(c.top) == 0 {
			at = math.Max(at, flowTop+half-4)
		}
		c.top, c.high, c.label, c.lines = append(c.top, y), append(c.high, h), append(c.label, at), append(c.lines, lines)
		y, next = y+h+flowGap, at+half+3
	}
	c.bottom = math.Max(y, next)
	return c
}

// side draws the bars of a column with their labels.
func (f Flow) side(c *canvas, list []Node, col column, x float64, right bool) {
	for i, n := range list {
		c.rect(x, col.top[i], flowBar, col.high[i], c.ink(n.Mark))
		tx, anchor, edge, lx := x-6, end, x-4, x
		if right {
			tx, anchor, edge, lx = x+flowBar+6, start, x+flowBar+4, x+flowBar
		}
		if mid := col.top[i] + col.high[i]/2; math.Abs(mid-col.label[i]) > 3 {
			c.line(lx, mid, edge, col.label[i], 0.6, "")
		}
		y := col.label[i] - float64(len(col.lines[i]))*(type2+2)/2 + type2 - 1
		for k, s := range col.lines[i] {
			if k == 0 && n.Mark.Letter != "" {
				s = n.Mark.Letter + "  " + s
			}
			if k < len(col.lines[i])-1 {
				c.bold(tx, y, type2, anchor, s)
			} else {
				c.text(tx, y, type2, anchor, s)
			}
			y += type2 + 2
		}
	}
}

// ribbon draws one stretch between two heights of the same thickness.
func (c *canvas) ribbon(x1, y1, x2, y2, h float64, fill string) {
	m := (x1 + x2) / 2
	edge := ` stroke="#000000" stroke-width="0.4"`
	if h < 1 {
		edge = "" // a hair is no thicker than its edge
	}
	c.put(`<path d="M%s %sC%s %s %s %s %s %sv%sC%s %s %s %s %s %sz" fill="%s" fill-opacity="0.75"`+edge+`/>`,
		x1, y1, m, y1, m, y2, x2, y2, h, m, y2+h, m, y1+h, x1, y1+h, fill)
}

func (f Flow) ribbons(c *canvas, from, to column, unit, left, right float64) {
	out, in := make([]float64, len(f.From)), make([]float64, len(f.To))
	for _, r := range f.Ribbons {
		h := r.Size * unit
		c.ribbon(left+flowBar, from.top[r.From]+out[r.From], right, to.top[r.To]+in[r.To], h, c.ink(f.From[r.From].Mark))
		out[r.From], in[r.To] = out[r.From]+h, in[r.To]+h
	}
}

func (f Flow) trunk(c *canvas, from, to column, unit, left, right float64) {
	mid := wide / 2
	y := flowTop + 8
	for i, n := range f.From {
		c.ribbon(left+flowBar, from.top[i], mid-4, y, n.Size*unit, c.ink(n.Mark))
		y += n.Size * unit
	}
	y = flowTop + 8
	for i, n := range f.To {
		c.ribbon(mid+4, y, right, to.top[i], n.Size*unit, c.ink(n.Mark))
		y += n.Size * unit
	}
	c.rect(mid-4, flowTop+8, 8, math.Max(total(f.From), total(f.To))*unit, "#000000")
}
