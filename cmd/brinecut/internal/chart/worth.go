package chart

import "math"

// Worth is what one bag is worth against its mass.
type Worth struct {
	About
	Mass      float64 // kg, as it is
	Value     float64 // money, expected at that mass
	Low, High float64 // money, 90 %
	BreakEven float64 // kg at which the value is zero; 0: no mass is
	Currency  string
}

const (
	worthFrom, worthTo = 40.0, 350.0
	worthTop, worthLow = 16.0, 136.0
)

// Picture draws the line of worth with the bag on it.
func (w Worth) Picture() string {
	c := newCanvas(w.ID)
	x := scale{0, w.span(), worthFrom, worthTo}
	low, high := w.ends(x.high)
	y := scale{low, high, worthLow, worthTop}
	for _, v := range ticks(low, high, 5) {
		c.put(`<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="#767676" stroke-width="0.6"/>`, x.from, y.at(v), x.to, y.at(v))
		c.text(worthFrom-4, y.at(v)+4, 10, end, plain(v))
	}
	for _, v := range ticks(0, x.high, 5) {
		c.text(x.at(v), worthLow+14, 10, middle, plain(v))
	}
	c.text(0, 10, 10, start, w.Currency)
	c.text(wide, worthLow+28, 10, end, "kg in the bag")
	c.line(x.from, y.at(0), x.to, y.at(0), 2, "")
	w.slope(c, x, y)
	w.here(c, x, y)
	return c.done(w.About, worthLow+34)
}

// span is the mass at the right end of the axis: the break-even is on it where it is not far off.
func (w Worth) span() float64 {
	m := math.Max(w.Mass, 1e-3) * 1.6
	if w.BreakEven > 0 {
		m = math.Max(m, math.Min(w.BreakEven*1.2, w.Mass*5))
	}
	return m
}

// rate is money for each kilogram; false where the two points that give it are one.
func (w Worth) rate() (float64, bool) {
	if w.BreakEven <= 0 || math.Abs(w.Mass-w.BreakEven) < 0.03*w.Mass {
		return 0, false
	}
	return w.Value / (w.Mass - w.BreakEven), true
}

func (w Worth) ends(span float64) (low, high float64) {
	low, high = math.Min(w.Low, 0), math.Max(w.High, 0)
	if r, ok := w.rate(); ok {
		low = math.Min(low, -r*w.BreakEven)
		high = math.Max(high, math.Min(r*(span-w.BreakEven), 2*math.Max(w.High, -low)))
	}
	if !(high > low) {
		return low - 1, low + 1
	}
	pad := 0.06 * (high - low)
	return low - pad, high + pad
}

func (w Worth) slope(c *canvas, x, y scale) {
	r, ok := w.rate()
	if !ok {
		return
	}
	last := x.high
	if top := w.BreakEven + y.high/r; r > 0 && top < last {
		last = top
	}
	c.line(x.at(0), y.at(-r*w.BreakEven), x.at(last), y.at(r*(last-w.BreakEven)), 1.4, "6 3")
	if w.BreakEven <= x.high {
		c.put(`<circle cx="%s" cy="%s" r="5" fill="#ffffff" stroke="#000000" stroke-width="2"/>`, x.at(w.BreakEven), y.at(0))
	}
}

// here is the bag as it is: its range with its mean.
func (w Worth) here(c *canvas, x, y scale) {
	px := x.at(w.Mass)
	fill := c.ink(Bare(0))
	if w.Value < 0 {
		fill = c.ink(Bare(4))
	}
	c.rect(px-4, y.at(w.High), 8, y.at(w.Low)-y.at(w.High), fill)
	c.line(px-7, y.at(w.High), px+7, y.at(w.High), 1.4, "")
	c.line(px-7, y.at(w.Low), px+7, y.at(w.Low), 1.4, "")
	c.diamond(px, y.at(w.Value), 5, "#ffffff")
}
