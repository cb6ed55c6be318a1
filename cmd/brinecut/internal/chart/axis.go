package chart

import (
	"math"
	"strconv"
)

// Axis is densities along one axis: what liquids there are, where materials lie, what tested pieces did.
type Axis struct {
	About
	Liquids   []Liquid
	Materials []Material
	Pieces    []Pieces
}

// Liquid is a bath with the doubt about it, or the stretch that a salt reaches (High above Low).
type Liquid struct {
	Name      string
	Low, High float64 // g/cm3
}

// Material is the densities of one material without air, g/cm3, and of its known snippets.
type Material struct {
	Name               string
	Mark               Mark
	Low, Typical, High float64
	Snippets           []float64
}

// Pieces is what float tests of a lot showed in one bath, or the density of a weighed piece.
type Pieces struct {
	Name                  string
	Density               float64
	Floats, Hovers, Sinks int
	Weighed               bool
}

const axisFrom, axisTo = 96.0, 350.0

// Picture draws the axis.
func (a Axis) Picture() string {
	c := newCanvas(a.ID)
	low, high := a.ends()
	s := scale{low, high, axisFrom, axisTo}
	rows := len(a.Liquids) + len(a.Materials) + len(a.Pieces)
	heads := 0
	for _, n := range []int{len(a.Liquids), len(a.Materials), len(a.Pieces)} {
		if n > 0 {
			heads++
		}
	}
	bottom := float64(rows)*rowTall + float64(heads)*20 + 2
	for _, x := range ticks(low, high, 6) {
		c.grid(s.at(x), 2, bottom)
		c.text(s.at(x), bottom+13, 10, middle, strconv.FormatFloat(x, 'f', 2, 64))
	}
	c.text(wide, bottom+28, 10, end, "g/cm³, denser to the right")
	y := a.liquids(c, s, 0)
	y = a.materials(c, s, y)
	a.pieces(c, s, y)
	return c.done(a.About, bottom+34)
}

// ends of the axis: what is on it, to whole twentieths.
func (a Axis) ends() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	see := func(x float64) {
		if x > 0.5 && x < 3 {
			low, high = math.Min(low, x), math.Max(high, x)
		}
	}
	for _, l := range a.Liquids {
		see(l.Low)
		see(math.Min(l.High, 1.6))
	}
	for _, m := range a.Materials {
		see(m.Low)
		see(m.High)
	}
	for _, p := range a.Pieces {
		see(p.Density)
	}
	if !(high > low) {
		return 0.9, 1.4
	}
	return math.Floor(low*20-0.2) / 20, math.Ceil(high*20+0.2) / 20
}

// section is a heading within the axis; the grid does not run through its words.
func (c *canvas) section(y float64, title string) float64 {
	c.put(`<rect x="0" y="%s" width="%s" height="15" fill="#ffffff"/>`, y+3, min(textWidth(title, type2)+8, wide))
	c.bold(0, y+14, type2, start, title)
	return y + 20 + rowTall/2
}

func (a Axis) liquids(c *canvas, s scale, y float64) float64 {
	if len(a.Liquids) == 0 {
		return y
	}
	y = c.section(y, "Liquids")
	for _, l := range a.Liquids {
		c.name(l.Name, Mark{}, y)
		x1, x2 := s.at(l.Low), s.at(l.High)
		c.line(x1, y, x2, y, 2, "")
		c.line(x1, y-6, x1, y+6, 1.6, "")
		c.line(x2, y-6, x2, y+6, 1.6, "")
		y += rowTall
	}
	return y - rowTall/2
}

func (a Axis) materials(c *canvas, s scale, y float64) float64 {
	if len(a.Materials) == 0 {
		return y
	}
	y = c.section(y, "Materials without air, ○ known snippets")
	for _, m := range a.Materials {
		c.name(m.Name, m.Mark, y)
		c.interval(s, m.Low, m.Typical, m.High, y, m.Mark)
		for _, x := range m.Snippets {
			c.put(`<circle cx="%s" cy="%s" r="3.6" fill="#ffffff" stroke="#000000" stroke-width="1.4"/>`, s.at(x), y)
		}
		y += rowTall
	}
	return y - rowTall/2
}

// pieces points from the bath to where a piece lies: ◀ it floats, so it is lighter; ▶ it sinks.
func (a Axis) pieces(c *canvas, s scale, y float64) {
	if len(a.Pieces) == 0 {
		return
	}
	y = c.section(y, "Pieces tested: ◀ floats, ◆ hovers or weighed, ▶ sinks")
	for _, p := range a.Pieces {
		c.name(p.Name, Mark{}, y)
		x := s.at(p.Density)
		c.line(x, y-7, x, y+7, 1, "3 2")
		if p.Sinks > 0 {
			c.put(`<path d="M%s %sl9 5l-9 5z" fill="#000000"/>`, x+3, y-5)
			c.text(x+14, y+4, type2, start, counted(p.Sinks))
		}
		if p.Floats > 0 {
			c.put(`<path d="M%s %sl-9 5l9 5z" fill="#ffffff" stroke="#000000"/>`, x-3, y-5)
			c.text(x-14, y+4, type2, end, counted(p.Floats))
		}
		if p.Hovers > 0 || p.Weighed {
			c.diamond(x, y, 4.5, "#000000")
		}
		y += rowTall
	}
}

func counted(n int) string { return "× " + plain(float64(n)) }
