package show

import (
	"fmt"

	"brinecut/polymers/quantity"
	"brinecut/sorting/separation"
)

// Feed is what is to be cut, and where.
type Feed struct {
	Of        string  // the lot or the table
	Grams     float64 // of the lot; 0 for a table
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
	Share     number  `json:"share"`
	Mass      *number `json:"mass_g"`
	Materials object  `json:"materials"`
}

// CutJSON is the wire form of a cut.
func CutJSON(f Feed, floats, sinks separation.Product) any {
	return cut{number(f.Density), number(f.Sharpness), sideOf(f, floats), sideOf(f, sinks), nonNil(f.Notes), nonNil(f.Cautions)}
}

// sideOf gives the make-up by label; rows of one label are summed.
func sideOf(f Feed, s separation.Product) side {
	out := side{number(s.Share), nil, object{}}
	if f.Grams > 0 {
		g := number(s.Share * f.Grams)
		out.Mass = &g
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
	p.Title(fmt.Sprintf("%s in a bath of %s, sharpness Ep %s", name(f.Of), quantity.Format(f.Density), quantity.Format(f.Sharpness)))
	cautions(p, f.Cautions)
	p.Section("")
	rows := [][]string{{"", "floats", "sinks"}, {"of the whole", percent(floats.Share), percent(sinks.Share)}}
	if f.Grams > 0 {
		rows = append(rows, []string{"", mass(floats.Share * f.Grams), mass(sinks.Share * f.Grams)})
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
