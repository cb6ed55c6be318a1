package chart

// Purity is how pure one bag is: expected, demonstrated and asked, kept apart.
type Purity struct {
	About
	From            float64 // left end of the axis, a share; see PurityFrom
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
	Words  string // "95 % asked by regional recycler"
}

// PurityFrom is the left end of the axis for bags drawn side by side: 0, 50 or 80 %, so that what matters
// near 100 % has room.
func PurityFrom(bags []Purity) float64 {
	least := 1.0
	for _, b := range bags {
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

// Picture draws the bag.
func (b Purity) Picture() string {
	c := newCanvas(b.ID)
	s := scale{b.From, 1, trackFrom, trackTo}
	y := 14.0
	bottom := y + 2*rowTall - 10
	c.percents(s, y-11, bottom)
	for _, a := range b.Asked {
		c.line(s.at(a.Purity), y-12, s.at(a.Purity), bottom+2, 2, "5 3")
	}
	c.text(0, y+4, type2, start, "expected")
	c.interval(s, b.Low, b.Mean, b.High, y, b.Mark)
	c.value(b.Expected, y)
	y += rowTall
	c.text(0, y+4, type2, start, "demonstrated")
	if b.Demonstrated > 0 {
		x := s.at(b.Demonstrated)
		c.line(x, y-7, x, y+7, 3, "")
		c.line(x, y, trackTo, y, 3, "")
	}
	c.value(b.Shown, y)
	y = bottom + 18
	for _, a := range b.Asked {
		y += rowTall - 5
		c.line(4, y-11, 4, y+3, 2, "5 3")
		c.text(12, y, type2, start, fold(a.Words, type2, wide-14, 1)[0])
	}
	return c.done(b.About, y+6)
}
