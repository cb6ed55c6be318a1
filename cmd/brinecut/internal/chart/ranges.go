package chart

import "strings"

// Range is one row: where a share lies, with the ends that hold 90 %.
type Range struct {
	Name            string
	Value           string // as it is written at the end of the row
	Mark            Mark
	Low, Mean, High float64 // shares
}

// Ranges is what a lot is: a row a material, from 0 to 100 %.
type Ranges struct {
	About
	Rows []Range
}

// Columns of a row: name, track, value.
const (
	trackFrom = 92.0
	trackTo   = 236.0
	rowTall   = 21.0
)

// Picture draws the ranges.
func (r Ranges) Picture() string {
	c := newCanvas(r.ID)
	s := scale{0, 1, trackFrom, trackTo}
	y := 12.0
	bottom := y + rowTall*float64(len(r.Rows)) - 4
	c.percents(s, y-9, bottom)
	for _, row := range r.Rows {
		c.name(row.Name, row.Mark, y)
		c.interval(s, row.Low, row.Mean, row.High, y, row.Mark)
		c.value(row.Value, y)
		y += rowTall
	}
	return c.done(r.About, bottom+18)
}

// value stands at the end of a row, on one line, or on two where it would run into the track.
func (c *canvas) value(s string, y float64) {
	mean, span, both := strings.Cut(s, " (")
	if !both || textWidth(s, type2) <= wide-trackTo-10 {
		c.text(wide, y+4, type2, end, s)
		return
	}
	c.text(wide, y-1.5, 9.5, end, mean)
	c.text(wide, y+8.5, 9.5, end, "("+span)
}

// name of a row with its letter, on one line or two.
func (c *canvas) name(name string, m Mark, y float64) {
	x := 0.0
	if m.Letter != "" {
		c.letter(9, y, m)
		x = 21
	}
	lines := fold(name, type2, trackFrom-x-8, 2)
	if len(lines) == 1 {
		c.text(x, y+4, type2, start, lines[0])
		return
	}
	c.text(x, y-1.5, 9.5, start, lines[0])
	c.text(x, y+8.5, 9.5, start, lines[1])
}

// interval is a hatched bar between the ends, capped, with a diamond at the mean.
func (c *canvas) interval(s scale, low, mean, high, y float64, m Mark) {
	a, b := s.at(low), s.at(high)
	c.rect(a, y-4, b-a, 8, c.ink(m))
	c.line(a, y-6, a, y+6, 1.2, "")
	c.line(b, y-6, b, y+6, 1.2, "")
	c.diamond(s.at(mean), y, 4.5, "#ffffff")
}

// percents draws the grid of an axis of shares.
func (c *canvas) percents(s scale, top, bottom float64) {
	step := 0.25
	if s.high-s.low <= 0.6 {
		step = 0.1
	}
	for i := 0; float64(i)*step <= 1.0001; i++ {
		x := float64(i) * step
		if x < s.low-1e-9 {
			continue
		}
		c.grid(s.at(x), top, bottom)
		label := plain(100 * x)
		if x > 0.999 {
			label += " %"
		}
		c.text(s.at(x), bottom+13, 10, middle, label)
	}
}

func (c *canvas) grid(x, top, bottom float64) {
	c.put(`<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="#767676" stroke-width="0.6"/>`, x, top, x, bottom)
}
