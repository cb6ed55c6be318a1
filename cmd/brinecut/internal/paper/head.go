package paper

import "strings"

// Heights of capitals, mm, and the step from line to line of the head.
const (
	headLeast   = 10.2 // on a label with room: 10 mm are readable from two metres (common practice)
	headMost    = 18.0
	headEnough  = 12.0 // from here on fewer lines are better than larger letters
	headSmall   = 3.0
	headLeading = 1.3
	stopMost    = 7.0
	stopLeast   = 1.8

	overshoot = 0.03 // round letters stand out above flat ones by so much of their height
)

// head writes the largest letters, with capitals of no more than most, mm, and gives the y below. They keep
// within r, and break only between words or behind a mark such as + or -.
func (p *pen) head(s string, r rect, most float64, full bool) float64 {
	t, list := p.fitHead(s, r, most)
	if full && t.cap < headLeast {
		p.note(small, p.about)
	}
	y := r.y + overshoot*t.cap
	for _, line := range list {
		p.text(t, r.x, y, line)
		y += t.cap * headLeading
	}
	return y
}

// fitHead gives the largest letters that the place has room for, in no more than four lines; few lines
// where the letters are large enough anyway.
func (p *pen) fitHead(s string, r rect, most float64) (style, []string) {
	best, rows := style{bold, 0}, []string{s}
	for n := 1; n <= 4; n++ {
		for c := min(most, r.h/headLeading/float64(n)); c >= headSmall; c -= 0.25 {
			t := style{bold, c}
			if list := p.atMarks(t, s, r.w); list != nil && len(list) <= n {
				if c > best.cap {
					best, rows = t, list
				}
				break
			}
		}
		if best.cap >= headEnough {
			break
		}
	}
	if best.cap == 0 { // a word without any mark, wider than the label at the least height
		best.cap = headSmall
		rows = p.wrap(best, s, r.w)
		if most := max(1, int(r.h/headLeading/headSmall)); len(rows) > most {
			rows = p.clip(best, rows, r.w, most)
		}
	}
	return best, rows
}

// atMarks breaks a text at blanks and behind marks alone; nil where a part is too wide.
func (p *pen) atMarks(t style, s string, w float64) []string {
	var out []string
	line := ""
	for _, part := range parts(s) {
		if p.width(t, strings.TrimSpace(line+part)) <= w {
			line += part
			continue
		}
		if p.width(t, strings.TrimSpace(part)) > w {
			return nil
		}
		if line != "" {
			out = append(out, strings.TrimSpace(line))
		}
		line = part
	}
	return append(out, strings.TrimSpace(line))
}

// marks that a long word may be broken behind.
const marks = "-+/_.,;:()"

// parts of a text: words with the blank behind them, long ones taken apart behind marks; the closing
// bracket of a marking is never left alone.
func parts(s string) []string {
	var out []string
	from := 0
	for i, r := range s {
		end := i + len(string(r))
		if r == ' ' || strings.ContainsRune(marks, r) && end-from > 2 && len(s)-end > 2 {
			out = append(out, s[from:end])
			from = end
		}
	}
	return append(out, s[from:])
}

// stop writes the ban in a frame of thick lines, and gives the y below.
func (p *pen) stop(s string, x, y, w, most float64) float64 {
	if s == "" {
		return y
	}
	t, list := p.fit(bold, s, w-4, stopLeast, min(most, stopMost), 1)
	thick := t.cap / 7
	line := t.cap * 1.5
	high := line*float64(len(list)) + 2*thick
	wide := 0.0
	for i, row := range list {
		p.text(t, x+2, y+thick+t.cap*0.25+float64(i)*line, row)
		wide = max(wide, p.width(t, row))
	}
	p.frame(rect{x + thick/2, y + thick/2, wide + 4 - thick, high - thick}, thick)
	return y + high + t.cap*0.35
}
