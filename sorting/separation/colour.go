package separation

import (
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/sorting"
)

// byColour marks picking by eye: no bench test, so it has no kind of its own.
const byColour cues.Kind = "colour"

// Picking by colour: how many pieces an eye puts wrong in daylight, and how much of a material in a lot
// comes off the spools that the bin knows (as the response model has it). Judgement.
const (
	eyeErrs  = 0.02
	ofKnown  = 0.75
	coloured = 2 // colours from which a lot can be picked over by colour
)

// colours lists the ways to pick a lot over by colour: it has to say several colours, and a known snippet
// of something in it has to have one of them, since colour alone tells no material.
func (d *deck) colours() []test {
	names := coloursOf(d.feed.Lot.Colour)
	if len(names) < coloured {
		return nil
	}
	var out []test
	for _, c := range names {
		if slices.ContainsFunc(d.feed.Known, func(k sorting.Known) bool { return has(k, c) }) {
			out = append(out, test{kind: byColour, split: sorting.ByHand, outcomes: [2]string{c, "the rest"}, each: pickEach, wrong: eyeErrs,
				cautions: []string{"gloves: support edges are sharp"}})
		}
	}
	return out
}

// coloursOf reads "white, red and black".
func coloursOf(s string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" ,;/+&", r) }) {
		if w != "and" && len(w) > 2 && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// has reports whether the words on a snippet name a colour.
func has(k sorting.Known, colour string) bool {
	return slices.Contains(coloursOf(k.Name+" "+k.Spool+" "+k.Colour), colour)
}

// ofColour tells which products have a colour: what comes off a known spool has that spool's, what does
// not may have any that the lot says. A spool has it or has it not, so that ranges stay as wide as that.
func (d *deck) ofColour(colour string) [][]float64 {
	names := coloursOf(d.feed.Lot.Colour)
	out := make([][]float64, len(d.model.Candidates))
	for c, cand := range d.model.Candidates {
		all, so := 0.0, 0.0
		for _, k := range d.feed.Known {
			m, ok := polymers.Find(k.Material)
			if !ok || m.Symbol != cand.Symbol && m.Base != cand.Symbol {
				continue
			}
			all++
			if has(k, colour) {
				so++
			}
		}
		q := 1 / float64(len(names))
		if all > 0 {
			q = ofKnown*so/all + (1-ofKnown)*q
		}
		out[c] = drawnColours(q, len(d.feed.Scenarios)*d.feed.Drawn.Replicas(), colour, d.feed.Lot.Name, string(cand.Symbol))
	}
	return out
}

// drawnColours gives each of n products the colour or not, with probability q, in an order fixed by names.
func drawnColours(q float64, n int, names ...string) []float64 {
	out := make([]float64, n)
	for i := range out {
		if (float64(i)+0.5)/float64(n) < q {
			out[i] = 1
		}
	}
	seeded(names...).Shuffle(n, func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}
