package paper

import (
	"strings"

	"github.com/boombuler/barcode"
)

// Heights of capitals of facts, mm.
const (
	factMost  = 2.6
	factLeast = 1.45 // 6 pt type; nothing is set smaller
)

// Room within the inset, mm, from which a label is full: head of 10 mm and all particulars. A smaller
// one has the head as large as it goes, and what is most needed.
const (
	fullWidth  = 50
	fullHeight = 75
	wideWidth  = 90
	wideHeight = 55
	roomy      = 120 // below this height everything but the head is set smaller
)

// Sides of the modules of a code, mm. At 0.6 a module is 7 dots of a 300 dpi printer; 4 are the least
// (the maker of the code: 0.33 mm at 300 dpi, 0.5 mm at 200 dpi).
const (
	moduleLarge = 0.8
	moduleSmall = 0.6
)

// label draws one label within r.
func (p *pen) label(l Label, r rect) {
	l = p.cleaned(l)
	b, ok := code(l.ID)
	if !ok || l.ID == "" {
		b = nil
	}
	switch {
	case r.w >= fullWidth && r.h >= fullHeight:
		p.tall(l, b, r)
	case r.w >= wideWidth && r.h >= wideHeight:
		p.wide(l, b, r)
	default:
		p.note(small, p.about)
		p.small(l, b, r)
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
func (p *pen) tall(l Label, b barcode.Barcode, r rect) {
	k := min(1, r.h/roomy)
	y := p.head(l.Head, rect{r.x, r.y, r.w, max(2*headLeast*headLeading, r.h/5)}, headMost, true)
	y = p.stop(l.Stop, r.x, y, r.w, stopMost*k)
	y = p.named(l.Name, r.x, y, r.w, 3.4*k) + k
	left, below := r.w, y
	if b != nil {
		module := moduleLarge
		if r.w < wideWidth || k < 1 {
			module = moduleSmall
		}
		side := codeSide(b, module)
		p.code(b, r.x+r.w-side, y, module)
		left -= side + 2
		below = y + side
	}
	if l.Snippet {
		const side = 34
		p.snippet(rect{r.x, y + 1, min(r.w, 2*side), side})
		below = y + 1 + side
	}
	below = max(below, p.counted(l, r.x, y+2, left, 4.2*k))
	p.rule(r.x, below+k, r.x+r.w, below+k, 0.4)
	below += k + 1.7
	p.facts(l.Facts, rect{r.x, below, r.w, r.y + r.h - below}, true)
}

// wide is the head over the whole width, no larger than it must be, then everything else beside the code.
func (p *pen) wide(l Label, b barcode.Barcode, r rect) {
	y := p.head(l.Head, rect{r.x, r.y, r.w, max(2*headLeast*headLeading, r.h*0.3)}, headEnough, true)
	left := rect{r.x, y, r.w, r.y + r.h - y}
	left.w -= p.aside(l, b, rect{r.x, y, r.w, left.h})
	y = p.stop(l.Stop, left.x, y, left.w, 5)
	p.facts(withHeading(l), rect{left.x, y + 0.5, left.w, r.y + r.h - y - 0.5}, true)
}

// small has the code in a column of its own on the right; on a narrow label it stands at the foot, or has
// no room and is left out.
func (p *pen) small(l Label, b barcode.Barcode, r rect) {
	left := r
	switch {
	case b == nil:
		left.w -= p.aside(l, b, r)
	case r.w-codeSide(b, moduleSmall) >= leastBeside:
		left.w -= p.aside(l, b, r)
	case r.h >= 2*codeSide(b, moduleSmall) && r.w >= codeSide(b, moduleSmall):
		side := codeSide(b, moduleSmall)
		foot := side + 4
		p.aside(l, b, rect{r.x, r.y + r.h - foot, side, foot})
		left.h -= foot
	default:
		p.note(noCode, p.about)
		l.Facts = append([]Fact{{Value: l.ID, Keep: true}}, l.Facts...)
	}
	y := p.head(l.Head, rect{left.x, left.y, left.w, left.h * 0.42}, headMost, false)
	y = p.stop(l.Stop, left.x, y, left.w, left.h*0.1)
	p.facts(withHeading(l), rect{left.x, y + 0.5, left.w, left.y + left.h - y - 0.5}, false)
}

// leastBeside is the room that words need beside a code, mm.
const leastBeside = 18

// aside draws the code with the id below it, or the place for a snippet, at the right of r, and gives the
// width they take.
func (p *pen) aside(l Label, b barcode.Barcode, r rect) float64 {
	switch {
	case b != nil:
		side := codeSide(b, moduleSmall)
		x := r.x + r.w - side
		p.code(b, x, r.y, moduleSmall)
		t, id := p.fit(mono, l.ID, side, factLeast, 2.6, 1)
		for i, s := range id {
			if foot := r.y + side + float64(i+1)*t.line() - 1; foot <= r.y+r.h {
				p.text(t, x+(side-p.width(t, s))/2, foot-t.cap, s)
			}
		}
		return side + 2
	case l.Snippet:
		side := min(r.h, 0.3*r.w)
		p.snippet(rect{r.x + r.w - side, r.y, side, side})
		return side + 2
	}
	return 0
}

// withHeading puts mass, count and name ahead of the facts, for labels without a place of their own for them.
func withHeading(l Label) []Fact {
	var out []Fact
	if s := strings.Trim(l.Mass+", "+l.Count, ", "); s != "" {
		out = append(out, Fact{Name: s, Value: none, Keep: true})
	}
	if l.Name != "" {
		out = append(out, Fact{Name: l.Name, Value: none, Keep: true})
	}
	return append(out, l.Facts...)
}

// named writes the plain name in two lines, or three where it needs them.
func (p *pen) named(s string, x, y, w, most float64) float64 {
	if s == "" {
		return y
	}
	t, list := p.fit(bold, s, w, 2.4, most, 2)
	if len(list) > 2 {
		t, list = p.fit(bold, s, w, 2, most, 3)
	}
	if len(list) > 3 {
		list = p.clip(t, list, w, 3)
	}
	return p.lines(t, x, y+0.6, list)
}

// clip cuts a text to n lines, its end marked.
func (p *pen) clip(t style, list []string, w float64, n int) []string {
	p.note(cutShort, p.about)
	last := []rune(list[n-1])
	for len(last) > 0 && p.width(t, string(last)+"…") > w {
		last = last[:len(last)-1]
	}
	return append(list[:n-1:n-1], string(last)+"…")
}

// counted writes id, count and mass below each other.
func (p *pen) counted(l Label, x, y, w, most float64) float64 {
	for _, row := range []struct {
		f    face
		most float64
		s    string
	}{{mono, most, l.ID}, {bold, 0.8 * most, l.Count}, {bold, most, l.Mass}} {
		if row.s == "" {
			continue
		}
		t, list := p.fit(row.f, row.s, w, 2, row.most, 2)
		y = p.lines(t, x, y, list) + 0.8
	}
	return y
}

// snippet leaves a framed place for a piece of the material.
func (p *pen) snippet(r rect) {
	p.dashed(func() { p.frame(r, 0.4) })
	t := style{regular, 1.9}
	p.lines(t, r.x+2, r.y+2, p.wrap(t, "fix a snippet here that is certainly this material", r.w-4))
}
