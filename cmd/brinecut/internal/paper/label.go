package paper

// Heights of capitals, mm.
const (
	headLeast = 10.0 // on a label with room: readable from two metres (common practice)
	headMost  = 18.0
	stopMost  = 7.0
	factMost  = 2.6
	factLeast = 1.45 // 6 pt type; nothing is set smaller
)

// A label is full where this much is left within its inset, mm; else it is a small one: the head as
// large as it goes, and what is most needed.
const (
	fullWidth  = 75
	fullHeight = 55
)

// label draws one label within r.
func (p *pen) label(l Label, r rect) {
	l = p.cleaned(l)
	switch {
	case r.w >= fullWidth && r.h >= 75:
		p.tall(l, r)
	case r.w >= fullWidth && r.h >= fullHeight:
		p.wide(l, r, headLeast)
	default:
		p.note(Note{l.Head, "letters of 10 mm and all particulars have no room on this sheet", "take a sheet with larger labels, or send the hand-over sheet along"})
		p.wide(l, r, 3)
	}
}

func (p *pen) cleaned(l Label) Label {
	for _, s := range []*string{&l.Head, &l.Stop, &l.Name, &l.Mass, &l.Count, &l.ID} {
		*s = p.clean(*s)
	}
	facts := make([]Fact, len(l.Facts))
	for i, f := range l.Facts {
		facts[i] = Fact{p.clean(f.Name), p.clean(f.Value), f.Keep}
	}
	l.Facts = facts
	return l
}

// tall is head, stop and name over the whole width, then the mass beside the code, then the facts.
func (p *pen) tall(l Label, r rect) {
	y := p.head(l, rect{r.x, r.y, r.w, r.h / 3}, headLeast)
	y = p.named(l, r.x, y, r.w, 2)
	y += 1
	left := r.w
	below := y
	if b, ok := code(l.ID); ok && l.ID != "" {
		const module = 0.8
		side := codeSide(b, module)
		p.code(b, r.x+r.w-side, y, module)
		left -= side + 2
		below = y + side
	}
	if l.Snippet {
		below = p.snippet(r.x, y, r.w)
	} else {
		below = max(below, p.counted(l, r.x, y+3, left))
	}
	p.rule(r.x, below+1, r.x+r.w, below+1, 0.4)
	p.facts(l.Facts, rect{r.x, below + 3, r.w, r.y + r.h - below - 3})
}

// wide has the code in a column of its own on the right.
func (p *pen) wide(l Label, r rect, least float64) {
	left := r
	if b, ok := code(l.ID); ok && l.ID != "" {
		module := 0.6
		if r.h > 50 {
			module = 0.7
		}
		side := codeSide(b, module)
		p.code(b, r.x+r.w-side, r.y, module)
		left.w -= side + 2
		x := left.x + left.w + 2
		t, id := p.fit(mono, l.ID, side-1, factLeast, 2.6, 1)
		p.lines(t, x+0.5, r.y+side, id)
	}
	if l.Snippet {
		left.w -= 30
		p.snippetIn(rect{r.x + r.w - 28, r.y, 28, min(r.h, 28)})
	}
	y := p.head(l, rect{left.x, left.y, left.w, r.h * 0.7}, least)
	y = p.named(l, left.x, y, left.w, 1)
	l.ID = ""
	if !l.Snippet {
		y = p.counted(l, left.x, y, left.w)
	}
	p.facts(l.Facts, rect{left.x, y + 0.5, left.w, r.y + r.h - y - 0.5})
}

// head writes the largest letters and the stop, and gives the y below. They take no more height than r
// has, unless letters of the least height need it.
func (p *pen) head(l Label, r rect, least float64) float64 {
	room := r.h
	if l.Stop != "" {
		room -= 1.8 * min(stopMost, r.h/5)
	}
	best, list := p.fit(bold, l.Head, r.w, least, min(headMost, room/1.3), 1)
	if best.cap <= 0.7*headMost || len(list) > 1 {
		if t, two := p.fit(bold, l.Head, r.w, least, min(headMost, room/2.6), 2); t.cap > best.cap || len(two) < len(list) {
			best, list = t, two
		}
	}
	y := r.y
	for _, s := range list {
		p.text(best, r.x, y, s)
		y += best.cap * 1.3
	}
	if l.Stop == "" {
		return y
	}
	return p.stop(l.Stop, r.x, y, r.w, min(stopMost, max(r.h/6, 2)))
}

// stop writes the ban in a frame of thick lines.
func (p *pen) stop(s string, x, y, w, most float64) float64 {
	t, list := p.fit(bold, s, w-4, 1.8, most, 1)
	s = list[0]
	thick := t.cap / 7
	high := t.cap*1.5 + 2*thick
	p.frame(rect{x + thick/2, y + thick/2, p.width(t, s) + 4 - thick, high - thick}, thick)
	p.text(t, x+2, y+thick+t.cap*0.25, s)
	return y + high + t.cap*0.35
}

// named writes the plain name in at most n lines.
func (p *pen) named(l Label, x, y, w float64, n int) float64 {
	if l.Name == "" {
		return y
	}
	t, list := p.fit(bold, l.Name, w, 2, 3.4, n)
	if len(list) > n {
		list = p.clip(t, list, w, n)
	}
	return p.lines(t, x, y+0.6, list)
}

// clip cuts a text to n lines, its end marked.
func (p *pen) clip(t style, list []string, w float64, n int) []string {
	p.note(Note{p.about, "a name is too long for its place, and is cut: " + list[0] + "…", "a shorter name, or a larger label"})
	last := []rune(list[n-1])
	for len(last) > 0 && p.width(t, string(last)+"…") > w {
		last = last[:len(last)-1]
	}
	return append(list[:n-1:n-1], string(last)+"…")
}

// counted writes id, count and mass below each other.
func (p *pen) counted(l Label, x, y, w float64) float64 {
	for _, row := range []struct {
		f    face
		most float64
		s    string
	}{{mono, 4.2, l.ID}, {bold, 3.2, l.Count}, {bold, 4.2, l.Mass}} {
		if row.s == "" {
			continue
		}
		t, list := p.fit(row.f, row.s, w, 2, row.most, 2)
		y = p.lines(t, x, y, list) + 0.8
	}
	return y
}

// snippet leaves a framed place over the left of a row, and gives the y below.
func (p *pen) snippet(x, y, w float64) float64 {
	const side = 34
	p.snippetIn(rect{x, y, min(w, 1.6*side), side})
	return y + side
}

func (p *pen) snippetIn(r rect) {
	p.dashed(func() { p.frame(r, 0.4) })
	t := style{regular, 1.9}
	y := r.y + 2
	for _, s := range p.wrap(t, "fix one snippet of it here: certain, with its spool written below", r.w-4) {
		p.text(t, r.x+2, y, s)
		y += t.line()
	}
}
