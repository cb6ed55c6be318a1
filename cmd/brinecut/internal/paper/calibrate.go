package paper

// ruler is the length of the rulers on the calibration page, mm.
const ruler = 100

// Calibrate makes a page to hold against a sheet of labels: their outlines, and rulers of 100 mm both
// ways that tell whether the printer kept the size. A label shorter than that gets shorter rulers.
func Calibrate(o Options) (Result, error) {
	s := o.Sheet.orFirst()
	if err := o.check(s); err != nil {
		return Result{}, err
	}
	p, err := newPen("calibration "+s.Name, s)
	if err != nil {
		return Result{}, err
	}
	p.page(s)
	for row := 1; row <= s.Rows; row++ {
		for column := 1; column <= s.Columns; column++ {
			r := s.at(Place{1, row, column}, o)
			p.frame(r, 0.2)
			p.dashed(func() { p.frame(r.inset(s.Inset), 0.1) })
			p.text(style{bold, 2.4}, r.x+s.Inset+1, r.y+s.Inset+1, whole((row-1)*s.Columns+column))
		}
	}
	p.rulers(s)
	p.directions(s, o)
	out, err := p.finish()
	return Result{PDF: out, Pages: p.pages, Notes: p.notes()}, err
}

// rulers cross one another away from the edges of labels; they do not move with the offset.
func (p *pen) rulers(s Sheet) {
	long := rulerLength(s)
	x, y := (s.PageW-long)/2, s.Top+float64((s.Rows-1)/2)*s.PitchY+s.Height*0.4
	up, top := s.Left+float64(s.Columns-1)*s.PitchX+s.Width*0.6, (s.PageH-long)/2
	p.rule(x, y, x+long, y, 0.2)
	p.rule(up, top, up, top+long, 0.2)
	for i := 0; i <= int(long); i++ {
		tick := 2.0
		if i%5 == 0 {
			tick = 3
		}
		if i%10 == 0 {
			tick = 5
		}
		at := float64(i)
		p.rule(x+at, y-tick, x+at, y, 0.1)
		p.rule(up, top+at, up+tick, top+at, 0.1)
		if i%20 == 0 {
			t := style{regular, 1.6}
			p.text(t, x+at+0.4, y-7, whole(i))
			p.text(t, up+5.6, top+at-0.8, whole(i))
		}
	}
}

// rulerLength is 100 mm, or the whole tens that a small page has room for.
func rulerLength(s Sheet) float64 {
	n := int(min(ruler, s.PageW-4, s.PageH-4) / 10)
	return float64(n * 10)
}

// directions stand in a white field; on a small page as many of them as it has room for.
func (p *pen) directions(s Sheet, o Options) {
	long := whole(int(rulerLength(s)))
	lines := []string{
		s.Name + ", printed at 100 %, never fitted to the page",
		"1. Measure both rulers: each is " + long + " mm. If not, the printer scaled the page: mend that first.",
		"2. Hold this page and a label sheet against the light. If the outlines lie right of the labels by 1.5 mm, print with --offset-x -1.5; if they lie below by 1 mm, with --offset-y -1.",
		"3. If the steps from label to label differ, write a sheet file of your own, see --sheets.",
		"Offsets of this page: right " + millimeters(o.OffsetX) + " mm, down " + millimeters(o.OffsetY) + " mm.",
	}
	field := rect{s.PageW * 0.06, s.Top + float64((s.Rows-1)/2)*s.PitchY + s.Height*0.4 + 4, min(s.PageW*0.38, 90), 0}
	t := style{regular, 1.9}
	var rows []string
	for _, l := range lines {
		more := p.wrap(t, l, field.w-4)
		if high := float64(len(rows)+len(more))*t.line() + 4; field.y+high > s.PageH-2 {
			break
		}
		rows = append(rows, more...)
	}
	if len(rows) == 0 {
		return
	}
	field.h = float64(len(rows))*t.line() + 3
	p.pdf.SetFillColor(255, 255, 255)
	p.fill(field)
	p.pdf.SetFillColor(0, 0, 0)
	p.frame(field, 0.2)
	p.lines(t, field.x+2, field.y+2, rows)
}

// cutLines marks where plain paper is cut: dashed lines along the labels, from edge to edge.
func (p *pen) cutLines(s Sheet, o Options) {
	p.dashed(func() {
		for c := 1; c < s.Columns; c++ {
			x := s.Left + float64(c)*s.PitchX + o.OffsetX
			p.rule(x, 0, x, s.PageH, 0.1)
		}
		for r := 1; r < s.Rows; r++ {
			y := s.Top + float64(r)*s.PitchY + o.OffsetY
			p.rule(0, y, s.PageW, y, 0.1)
		}
	})
}
