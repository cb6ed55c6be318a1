package chart

// Purity is how pure each bag is: expected, demonstrated and asked, kept apart.
type Purity struct {
	About
	Bags []Bag
}

// Bag is one bag of the picture.
type Bag struct {
	Name            string
	Mark            Mark
	Low, Mean, High float64 // expected share of its main material
	Expected        string  // as written
	Demonstrated    float64 // at least so much; 0: nothing is
	Shown           string  // as written
	Asked           []Asked
}

// Asked is what one outlet wants demonstrated.
type Asked struct {
	Purity float64
	Value  string // "95 % asked: regional recycler"
}

// Picture draws the bags one under the other.
func (p Purity) Picture() string {
	c := newCanvas(p.ID)
	s := scale{p.low(), 1, trackFrom, trackTo}
	y := 0.0
	for _, b := range p.Bags {
		y = b.draw(c, s, y)
	}
	return c.done(p.About, y)
}

// low is the left end of the axis: 0, 50 or 80 %, so that what matters near 100 % has room.
func (p Purity) low() float64 {
	least := 1.0
	for _, b := range p.Bags {
		least = min(least, b.Low)
		if b.Demonstrated > 0 {
			least = min(least, b.Demonstrated)
		}
		for _, a := range b.Asked {
			least = min(least, a.Purity)
		}
	}
	switch {
	case least >= 0.8:
		return 0.8
	case least >= 0.5:
		return 0.5
	}
	return 0
}

func (b Bag) draw(c *canvas, s scale, y float64) float64 {
	c.letter(9, y+10, b.Mark)
	c.bold(21, y+14, type2, start, fold(b.Name, type2, wide-30, 1)[0])
	y += 30
	rows := 2 + len(b.Asked)
	bottom := y + float64(rows)*rowTall - 12
	c.percents(s, y-9, bottom)
	for _, a := range b.Asked {
		c.line(s.at(a.Purity), y-9, s.at(a.Purity), bottom, 2, "5 3")
	}
	c.text(0, y+4, type2, start, "expected")
	c.interval(s, b.Low, b.Mean, b.High, y, b.Mark)
	c.text(wide, y+4, type2, end, b.Expected)
	y += rowTall
	c.text(0, y+4, type2, start, "demonstrated")
	if b.Demonstrated > 0 {
		x := s.at(b.Demonstrated)
		c.line(x, y-7, x, y+7, 3, "")
		c.line(x, y, trackTo, y, 3, "")
	}
	c.text(wide, y+4, type2, end, b.Shown)
	for _, a := range b.Asked {
		y += rowTall
		c.text(0, y+4, type2, start, "asked ┆")
		c.text(wide, y+4, type2, end, a.Value)
	}
	return bottom + 28
}
