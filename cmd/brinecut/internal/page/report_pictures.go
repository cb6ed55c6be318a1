package page

import (
	"fmt"
	"html/template"
	"strings"

	"brinecut/cmd/brinecut/internal/chart"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/balance"
)

// picture is one heading of the pictures: one or several drawings, and their figures as a table.
type picture struct {
	ID, Head, Lead string
	Drawings       []drawing
	Heads          []string
	Rows           [][]string
	Open           bool // the figures are shown, since the drawings have no room for their ranges
}

// drawing is one SVG with the words over it.
type drawing struct {
	Over string
	SVG  template.HTML
}

// drawn takes over a drawing. The chart package escapes every text it is given.
func (p *picture) drawn(over, svg string) {
	p.Drawings = append(p.Drawings, drawing{over, template.HTML(svg)})
}

func pictures(a advice.Answer, m marks) []picture {
	if len(a.Lots) == 0 {
		return nil
	}
	var out []picture
	for _, p := range []picture{went(a, m), lots(a, m), densities(a, m), purities(a, m), worths(a)} {
		if len(p.Drawings) > 0 {
			out = append(out, p)
		}
	}
	return out
}

// went is where the material went: from the counters to the bin, and from the bin into the bags.
func went(a advice.Answer, m marks) picture {
	p := picture{ID: "went", Head: "Where the material went", Open: true, Heads: []string{"", "", "as read", "reckoned", "90 % range"}}
	w := a.Balance.Where
	f := chart.Flow{About: chart.About{ID: "flow-build", Title: "From the printers to the bin"}, Heads: [2]string{"printed", "became"}}
	var left []string
	for _, r := range w.Rows {
		p.Rows = append(p.Rows, show.WhereRow(r))
		if r.Estimate == nil {
			left = append(left, r.What)
			continue
		}
		n := chart.Node{Name: r.What, Value: show.Mass(r.Estimate.Mean), Size: r.Estimate.Mean, Mark: chart.Bare(sideFill[r.Side])}
		if r.Side == "in" {
			f.From = append(f.From, n)
		} else {
			f.To = append(f.To, n)
		}
	}
	if len(f.From) > 0 && len(f.To) > 0 {
		f.Desc = flowWords(w)
		p.drawn(f.Title, f.Picture())
	}
	p.drawn(intoBags(a, m))
	p.Lead = "Masses as reckoned from all weighings and tests together"
	if len(p.Rows) > 0 {
		p.Lead += ", 90 % ranges in the figures below"
	}
	p.Lead += "."
	if len(left) > 0 {
		p.Lead += " Not drawn, since nothing tells how much it was: " + show.Words(left) + "."
	}
	return p
}

var sideFill = map[string]int{"in": 0, "out": 2, "lost": 4}

func flowWords(w balance.Where) string {
	var in, out []string
	for _, r := range w.Rows {
		if r.Estimate == nil {
			continue
		}
		s := r.What + " " + show.Mass(r.Estimate.Mean) + " (" + show.MassSpan(r.Estimate.Low, r.Estimate.High) + ")"
		if r.Side == "in" {
			in = append(in, s)
		} else {
			out = append(out, s)
		}
	}
	return "In came " + show.Words(in) + ". It went to " + show.Words(out) + "."
}

// intoBags is what of each material goes into each bag.
func intoBags(a advice.Answer, m marks) (over, svg string) {
	f := chart.Flow{About: chart.About{ID: "flow-bags", Title: "From the bin into the bags"}, Heads: [2]string{"in the bin", "in the bags"}}
	totals, keep := a.Totals(), order(a)
	at := map[int]int{}
	var words []string
	for _, k := range keep {
		key := a.Composition.Keys[k]
		at[k] = len(f.From)
		f.From = append(f.From, chart.Node{Name: show.Material(key), Value: show.Mass(totals[k].Mean), Size: totals[k].Mean, Mark: m[key]})
	}
	for _, b := range a.Fractions {
		to := len(f.To)
		f.To = append(f.To, chart.Node{Name: b.Name, Value: show.Mass(b.Mass.Mean), Size: b.Mass.Mean, Mark: bagMark(b, m)})
		var parts []string
		for _, k := range keep {
			if g := meanOf(b.Fraction, k); g > 0.0005*b.Mass.Mean {
				f.Ribbons = append(f.Ribbons, chart.Ribbon{From: at[k], To: to, Size: g})
				parts = append(parts, show.Mass(g)+" "+show.Material(a.Composition.Keys[k]))
			}
		}
		words = append(words, fmt.Sprintf("Bag %s holds about %s.", b.Name, show.Words(parts)))
	}
	f.Desc = strings.Join(words, " ")
	return f.Title, f.Picture()
}

// meanOf is the expected mass of a key in a fraction, g.
func meanOf(f sorting.Fraction, key int) float64 {
	t := 0.0
	for _, g := range f.Grams {
		t += g[key]
	}
	return t / float64(max(1, len(f.Grams)))
}

// bagMark is that of the main material; a mixture has none.
func bagMark(f advice.Fraction, m marks) chart.Mark {
	if mark, ok := m[f.Material]; ok {
		return mark
	}
	return chart.Bare(7)
}

// lots is what each lot is, as ranges.
func lots(a advice.Answer, m marks) picture {
	p := picture{ID: "lots", Head: "What each lot is", Heads: []string{"lot", "material", "share", "90 % range"},
		Lead: "Each bar is a range that holds 90 % of the probability, the diamond its mean. A long bar is doubt, not a mixture."}
	for i, l := range a.Lots {
		r := chart.Ranges{About: chart.About{ID: fmt.Sprintf("lot-%d", i+1), Title: l.Name + ", " + show.Mass(l.Mass.Mean)}}
		var words []string
		for _, k := range shownIn(l) {
			name, x := show.Material(a.Composition.Keys[k]), l.Ranges[k]
			span := show.PercentSpan(x)
			r.Rows = append(r.Rows, chart.Range{Name: name, Value: show.Percent(l.Shares[k]) + " (" + strings.TrimSuffix(span, " %") + ")", Mark: m[a.Composition.Keys[k]],
				Low: x.Low, Mean: l.Shares[k], High: x.High})
			words = append(words, name+" "+show.Percent(l.Shares[k])+", range "+span)
			p.Rows = append(p.Rows, []string{l.Name, name, show.Percent(l.Shares[k]), span})
		}
		r.Desc = "Expected shares by mass: " + strings.Join(words, "; ") + "."
		p.drawn(r.Title, r.Picture())
	}
	return p
}

// shownIn lists the keys of a lot worth drawing, the largest first.
func shownIn(l advice.Lot) []int {
	var out []int
	for k, x := range l.Shares {
		if x < 0.01 && l.Ranges[k].High < 0.05 {
			continue
		}
		at := len(out)
		for at > 0 && l.Shares[out[at-1]] < x {
			at--
		}
		out = append(out[:at], append([]int{k}, out[at:]...)...)
	}
	return out[:min(len(out), 6)]
}
