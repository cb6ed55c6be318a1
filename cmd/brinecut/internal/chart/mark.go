package chart

import (
	"fmt"
	"strings"
)

// Mark tells one material from the others in every picture of a page.
type Mark struct {
	Letter string // A, B, C …; empty: no letter is shown
	fill   int    // index into fills
}

// fill is a colour with the hatching over it. The colours are those of Okabe and Ito, Color Universal
// Design, 2002, revised 2008. Orange and sky blue print as the same grey, so no two fills share a hatching.
type fill struct {
	colour, hatch string // hatch: what is drawn over a square of 8 units
}

const (
	white = `stroke="#ffffff" stroke-width="1.6"`
	black = `stroke="#000000" stroke-width="1"`
)

var fills = []fill{
	{"#0072B2", ""},
	{"#E69F00", `<path d="M-2 2l4 -4M0 8l8 -8M6 10l4 -4" ` + black + `/>`},
	{"#009E73", `<path d="M4 0v8" ` + white + `/>`},
	{"#CC79A7", `<circle cx="2" cy="2" r="1.3" fill="#000000"/><circle cx="6" cy="6" r="1.3" fill="#000000"/>`},
	{"#D55E00", `<path d="M-2 6l4 4M0 0l8 8M6 -2l4 4" ` + white + `/>`},
	{"#56B4E9", `<path d="M0 4h8" ` + black + `/>`},
	{"#F0E442", `<path d="M0 0l8 8M0 8l8 -8" ` + black + `/>`},
	{"#FFFFFF", `<circle cx="4" cy="4" r="0.9" fill="#000000"/>`},
}

// rest is the fill of what is not a material of the list.
const rest = 7

// MarkOf gives the i-th material its mark, from 0. From the eighth on fills come round again; the
// letters stay apart.
func MarkOf(i int) Mark {
	letter := string(rune('A' + i%26))
	if i >= 26 {
		letter += fmt.Sprint(i / 26)
	}
	return Mark{letter, i % rest}
}

// Rest is the mark of anything else.
func Rest() Mark { return Mark{"?", rest} }

// Bare is a mark without a letter: for what is no material.
func Bare(i int) Mark { return Mark{"", i % len(fills)} }

// ink is what a shape of the mark is filled with.
func (c *canvas) ink(m Mark) string {
	f := fills[m.fill]
	if f.hatch == "" {
		return f.colour
	}
	c.used[m.fill] = true
	return fmt.Sprintf("url(#%s-h%d)", c.id, m.fill)
}

// patterns writes the hatchings that the picture uses, in their order.
func (c *canvas) patterns(out *strings.Builder) {
	if len(c.used) == 0 {
		return
	}
	out.WriteString("<defs>\n")
	for i, f := range fills {
		if c.used[i] {
			fmt.Fprintf(out, `<pattern id="%s-h%d" width="8" height="8" patternUnits="userSpaceOnUse"><rect width="8" height="8" fill="%s"/>%s</pattern>`+"\n",
				c.id, i, f.colour, f.hatch)
		}
	}
	out.WriteString("</defs>\n")
}
