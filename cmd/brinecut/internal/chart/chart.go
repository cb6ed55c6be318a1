// Package chart draws the pictures of a report as SVG: flows, ranges, an axis of densities, purity,
// worth. Every picture has a title and a description for those who do not see it, and tells what it
// shows by letter and hatching as well as by colour. The same values give the same bytes.
package chart

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// The pictures are as wide as a phone held upright shows without scaling type below 10 px.
const (
	wide  = 360.0
	type1 = 12.0 // size of type
	type2 = 11.0
	glyph = 0.56 // mean width of a letter over its size: sans-serif, generous
)

// About names a picture: ID is unique on the page, Title and Desc are its text alternative.
type About struct {
	ID, Title, Desc string
}

// canvas gathers the shapes of one picture.
type canvas struct {
	b    strings.Builder
	id   string
	used map[int]bool // fills that need a pattern
}

func newCanvas(id string) *canvas { return &canvas{id: id, used: map[int]bool{}} }

// num writes a length, to a tenth.
func num(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		x = 0
	}
	x = math.Round(x*10) / 10
	if x == 0 {
		x = 0 // no minus zero
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// put writes one shape: words of a format with %s for lengths and for text that is already safe.
func (c *canvas) put(format string, x ...any) {
	for i, v := range x {
		if f, ok := v.(float64); ok {
			x[i] = num(f)
		}
	}
	fmt.Fprintf(&c.b, format+"\n", x...)
}

func (c *canvas) line(x1, y1, x2, y2, w float64, dash string) {
	extra := ""
	if dash != "" {
		extra = ` stroke-dasharray="` + dash + `"`
	}
	c.put(`<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="#000000" stroke-width="%s"`+extra+`/>`, x1, y1, x2, y2, w)
}

func (c *canvas) rect(x, y, w, h float64, fill string) {
	c.put(`<rect x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="#000000" stroke-width="0.8"/>`, x, y, math.Max(w, 0), math.Max(h, 0), fill)
}

// Where text hangs on its point.
const (
	start  = "start"
	middle = "middle"
	end    = "end"
)

func (c *canvas) text(x, y, size float64, anchor, s string) { c.words(x, y, size, anchor, "", s) }

func (c *canvas) bold(x, y, size float64, anchor, s string) {
	c.words(x, y, size, anchor, ` font-weight="700"`, s)
}

func (c *canvas) words(x, y, size float64, anchor, extra, s string) {
	c.put(`<text x="%s" y="%s" font-size="%s" text-anchor="%s"`+extra+`>%s</text>`, x, y, size, anchor, html.EscapeString(s))
}

// letter is the mark of a material in a box, so that it is read on any fill.
func (c *canvas) letter(x, y float64, m Mark) {
	if m.Letter == "" {
		return
	}
	w := textWidth(m.Letter, type2) + 5
	c.put(`<rect x="%s" y="%s" width="%s" height="13" rx="2" fill="#ffffff" stroke="#000000" stroke-width="0.8"/>`, x-w/2, y-6.5, w)
	c.bold(x, y+4, type2, middle, m.Letter)
}

// diamond marks a mean.
func (c *canvas) diamond(x, y, r float64, fill string) {
	c.put(`<path d="M%s %sl%s %sl%s %sl%s %sz" fill="%s" stroke="#000000" stroke-width="1"/>`, x, y-r, r, r, -r, r, -r, -r, fill)
}

// done closes the picture at the height it came to.
func (c *canvas) done(a About, height float64) string {
	id := html.EscapeString(a.ID)
	var out strings.Builder
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="%s-t %s-d" viewBox="0 0 %s %s" font-family="sans-serif" fill="#000000">`+"\n",
		id, id, num(wide), num(height))
	fmt.Fprintf(&out, "<title id=\"%s-t\">%s</title>\n<desc id=\"%s-d\">%s</desc>\n", id, html.EscapeString(a.Title), id, html.EscapeString(a.Desc))
	c.patterns(&out)
	out.WriteString(c.b.String())
	out.WriteString("</svg>\n")
	return out.String()
}

// textWidth is about how wide a text comes out; letters differ between the type a browser picks.
func textWidth(s string, size float64) float64 { return float64(len([]rune(s))) * size * glyph }

// fold breaks a text into at most n lines of a width, at blanks and behind slashes; what does not fit
// ends in an ellipsis.
func fold(s string, size, width float64, n int) []string {
	most := max(int(width/(size*glyph)), 2)
	var out []string
	line := ""
	for _, word := range strings.Fields(strings.ReplaceAll(s, "/", "/ ")) {
		for _, part := range chunks(word, most) {
			joint := " "
			if strings.HasSuffix(line, "/") || line == "" {
				joint = ""
			}
			if line != "" && runes(line+joint+part) > most {
				out, line, joint = append(out, line), "", ""
			}
			line += joint + part
		}
	}
	if line != "" || len(out) == 0 {
		out = append(out, line)
	}
	if len(out) > n {
		last := []rune(out[n-1])
		out = append(out[:n-1], string(last[:min(len(last), most-1)])+"…")
	}
	return out
}

// chunks cuts a word that is longer than a line.
func chunks(word string, most int) []string {
	r := []rune(word)
	var out []string
	for len(r) > most {
		out, r = append(out, string(r[:most])), r[most:]
	}
	return append(out, string(r))
}

func runes(s string) int { return len([]rune(s)) }

// scale maps values onto a stretch of the picture.
type scale struct{ low, high, from, to float64 }

func (s scale) at(x float64) float64 {
	if !(s.high > s.low) {
		return s.from
	}
	x = math.Min(math.Max(x, s.low), s.high)
	return s.from + (x-s.low)/(s.high-s.low)*(s.to-s.from)
}

// ticks gives round values between two ends, about n of them: steps of 1, 2 or 5.
func ticks(low, high float64, n int) []float64 {
	if !(high > low) || math.IsInf(high-low, 0) {
		return nil
	}
	step := math.Pow(10, math.Floor(math.Log10((high-low)/float64(n))))
	for _, f := range []float64{2, 2.5, 2} {
		if (high-low)/step > float64(n) {
			step *= f
		}
	}
	var out []float64
	for i := math.Ceil(low/step - 1e-9); i*step <= high+1e-9*step; i++ {
		out = append(out, i*step)
	}
	return out
}

// plain writes a tick without needless digits.
func plain(x float64) string {
	x = math.Round(x*1e6) / 1e6
	if x == 0 {
		x = 0
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}
