package paper

import "slices"

// facts writes the facts within r, in the largest type that has room for all of them. Where the smallest
// has none, those at the end that need not be kept are left out; on a full label a note says so.
func (p *pen) facts(list []Fact, r rect, full bool) {
	for len(list) > 0 {
		for c := factMost; c >= factLeast; c -= 0.05 {
			if p.setFacts(list, r, c, false) <= r.y+r.h {
				p.setFacts(list, r, c, true)
				return
			}
		}
		i := lastFree(list)
		if full {
			p.note(leftOut, p.about)
		}
		list = slices.Delete(slices.Clone(list), i, i+1)
	}
}

// lastFree is the last fact that need not be kept, or else the last.
func lastFree(list []Fact) int {
	for i := len(list) - 1; i >= 0; i-- {
		if !list[i].Keep {
			return i
		}
	}
	return len(list) - 1
}

// columnsFrom a width on, mm, facts stand in two columns: what it is, and the answer.
const columnsFrom = 70

// setFacts writes them at a height of capitals, or only measures; it gives the lowest line's foot.
func (p *pen) setFacts(list []Fact, r rect, capital float64, draw bool) float64 {
	name, value := style{bold, capital}, style{regular, capital}
	y, column := r.y, p.factColumn(list, name, r.w)
	for _, f := range list {
		x, w := r.x, r.w
		if f.Name != "" {
			if f.Value == none {
				y = p.setName(f.Name, name, r, y, draw)
				continue
			}
			if draw {
				p.text(name, r.x, y, f.Name)
			}
			indent := max(column, p.width(name, f.Name)+1.5*capital)
			x, w = r.x+indent, r.w-indent
		}
		if f.Value == "" {
			if draw {
				p.rule(x, y+capital*2, x+w, y+capital*2, 0.2)
			}
			y += 3.2 * capital // room for a hand
			continue
		}
		rows := p.wrap(value, f.Value, w)
		if draw {
			p.lines(value, x, y, rows)
		}
		y += float64(len(rows))*value.line() + capital*0.3
	}
	return y - capital*(leading-1.3)
}

// none is the value of a fact that is all name, set in bold over the whole width.
const none = "\x00"

func (p *pen) setName(s string, t style, r rect, y float64, draw bool) float64 {
	rows := p.wrap(t, s, r.w)
	if draw {
		p.lines(t, r.x, y, rows)
	}
	return y + float64(len(rows))*t.line() + t.cap*0.3
}

// factColumn is where values begin beside the longest name; 0 where there is no room for two columns.
func (p *pen) factColumn(list []Fact, t style, w float64) float64 {
	widest := 0.0
	for _, f := range list {
		if f.Value == none {
			continue
		}
		widest = max(widest, p.width(t, f.Name)+1.5*t.cap)
	}
	if w < columnsFrom || widest > 0.4*w {
		return 0
	}
	return widest
}
