package show

import (
	"fmt"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/separation"
)

// Feed is what is to be cut, and where.
type Feed struct {
	Of        string              // the lot or the table
	Preview   *separation.Preview // of a lot; nil for a table
	Cautions  []string
	Labels    []string
	Parts     []separation.Part
	Density   quantity.GramPerCm3
	Sharpness quantity.GramPerCm3
	Notes     []string
}

type cut struct {
	Density number   `json:"density_g_cm3"`
	Ep      number   `json:"ep_g_cm3"`
	Floats  side     `json:"floats"`
	Sinks   side     `json:"sinks"`
	Notes   []string `json:"notes"`
	Caution []string `json:"cautions"`
}

type side struct {
	Share     number    `json:"share"`
	Mass      *number   `json:"mass_g"`
	Range     *grams    `json:"mass"`
	Main      *string   `json:"main"`
	Purity    *estimate `json:"purity"`
	Recovery  *estimate `json:"recovery"`
	Materials object    `json:"materials"`
}

// CutJSON is the wire form of a cut.
func CutJSON(f Feed, floats, sinks separation.Product) any {
	return cut{number(f.Density), number(f.Sharpness), sideOf(f, 0, floats), sideOf(f, 1, sinks), nonNil(f.Notes), nonNil(f.Cautions)}
}

// sideOf gives the make-up by label; rows of one label are summed. Ranges are of a lot alone.
func sideOf(f Feed, i int, s separation.Product) side {
	out := side{Share: number(s.Share), Materials: object{}}
	if f.Preview != nil {
		x := f.Preview.Sides[i]
		m, g, pure, got := number(x.Mass.Mean), gramsOf(x.Mass), estimateOf(x.Purity), estimateOf(x.Recovery)
		out.Mass, out.Range, out.Main, out.Purity, out.Recovery = &m, &g, &x.Main, &pure, &got
	}
	labels, makeUp := summed(f.Labels, s.MakeUp)
	for i, l := range labels {
		out.Materials = append(out.Materials, member{l, number(makeUp[i])})
	}
	return out
}

func summed(labels []string, x []float64) (names []string, sums []float64) {
	at := map[string]int{}
	for i, l := range labels {
		k, ok := at[l]
		if !ok {
			k = len(names)
			at[l] = k
			names, sums = append(names, l), append(sums, 0)
		}
		sums[k] += x[i]
	}
	return names, sums
}

// Cut writes what floats and what sinks.
func Cut(p *Page, f Feed, floats, sinks separation.Product) {
	p.Title(fmt.Sprintf("%s in a bath of %s, sharpness Ep %s", name(f.Of), quantity.Format(f.Density), quantity.Format(f.Sharpness)) + prepared(f.Preview))
	cautions(p, f.Cautions)
	p.Section("")
	rows := [][]string{{"", "floats", "sinks"}, {"of the whole", percent(floats.Share), percent(sinks.Share)}}
	if v := f.Preview; v != nil {
		row := func(what string, of func(separation.PreviewSide) string) {
			rows = append(rows, []string{what, of(v.Sides[0]), of(v.Sides[1])})
		}
		row("", func(s separation.PreviewSide) string { return mass(s.Mass.Mean) })
		row("  90 % range", func(s separation.PreviewSide) string { return massSpan(s.Mass.Low, s.Mass.High) })
		row("mostly", func(s separation.PreviewSide) string { return Material(s.Main) })
		row("  pure, 90 % range", func(s separation.PreviewSide) string { return percentSpan(s.Purity) })
		row("  of all of it, 90 % range", func(s separation.PreviewSide) string { return percentSpan(s.Recovery) })
	}
	labels, up := summed(f.Labels, floats.MakeUp)
	_, down := summed(f.Labels, sinks.MakeUp)
	small := 0
	for i, l := range labels {
		if up[i] < least && down[i] < least {
			small++
			continue
		}
		rows = append(rows, []string{"  " + Clean(l), percent(up[i]), percent(down[i])})
	}
	p.Table("lrr", rows)
	if small > 0 {
		p.Line(fmt.Sprintf("  %d more, each under 0.5 %% of either side", small))
	}
	notes(p, f.Notes)
}

// prepared says how the pieces of a lot are taken to be.
func prepared(v *separation.Preview) string {
	if v == nil {
		return ""
	}
	return map[sorting.Prep]string{sorting.AsIs: ", pieces as they are", sorting.Cut: ", pieces cut small", sorting.Flake: ", flake"}[v.Of.Prep]
}
