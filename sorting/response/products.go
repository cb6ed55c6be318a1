package response

import (
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// Drawn holds the products a lot may hold: by candidate, scenario and replica.
type Drawn struct {
	m        *Model
	replicas int
	products []Product // [(cand*J + scenario)*replicas + replica]
	habit    map[string]habits
}

// Products draws, for every scenario, what products a lot would hold of each candidate: one of the
// known snippets of that material, colour first, or a spool never seen. A lot that is one material to
// the eye holds one product, any other several.
func (m *Model) Products(lot sorting.Lot) *Drawn {
	r := m.opt.Replicas
	if lot.Mixed != nil && !*lot.Mixed {
		r = 1
	}
	d := &Drawn{m: m, replicas: r, products: make([]Product, len(m.pops)*len(m.Scenarios)*r)}
	for c := range m.pops {
		d.draw(c, lot)
	}
	return d
}

func (d *Drawn) draw(c int, lot sorting.Lot) {
	m := d.m
	n := len(m.Scenarios) * d.replicas
	s := NewStream("products", lot.Name, string(m.pops[c].symbol))
	variant, density, soft, which := s.strata(n), s.strata(n), s.strata(n), s.strata(n)
	mine, cum := m.snippetsOf(m.pops[c].symbol, lot)
	for i := 0; i < n; i++ {
		at := c*n + i
		if u := which[i] / known; len(mine) > 0 && u < 1 {
			k := 0
			for k < len(cum)-1 && u > cum[k] {
				k++
			}
			d.products[at] = m.Scenarios[i/d.replicas].Known[mine[k]]
			d.products[at].Seed = s.Next()
			continue
		}
		d.products[at] = m.pops[c].product(variant[i], density[i], soft[i])
		d.products[at].Seed = s.Next()
	}
}

// colourWeight is how much likelier a lot is printed from a snippet's spool when its colour says so; judgement.
const colourWeight = 6

// snippetsOf lists the known snippets of a candidate with their cumulative shares for a lot.
func (m *Model) snippetsOf(sym polymers.Symbol, lot sorting.Lot) (which []int, cum []float64) {
	total := 0.0
	for i := range m.snips {
		if base, ok := polymers.Find(m.snips[i].known.Material); !ok || (base.Base != sym && base.Symbol != sym) {
			continue
		}
		w := 1.0
		if coloured(m.snips[i].known, lot) {
			w = colourWeight
		}
		total += w
		which, cum = append(which, i), append(cum, total)
	}
	for i := range cum {
		cum[i] /= total
	}
	return which, cum
}

// coloured reports whether the words on a snippet name the lot's colour.
func coloured(k sorting.Known, lot sorting.Lot) bool {
	words := strings.Fields(strings.ToLower(k.Name + " " + k.Spool + " " + k.Colour))
	for _, c := range strings.Fields(strings.ToLower(lot.Colour + " " + lot.Name)) {
		c = strings.Trim(c, ",")
		for _, w := range words {
			if len(c) > 2 && strings.Trim(w, ",") == c && isColour(c) {
				return true
			}
		}
	}
	return false
}

func isColour(w string) bool {
	switch w {
	case "white", "black", "grey", "gray", "red", "blue", "green", "yellow", "orange", "purple", "violet", "pink",
		"brown", "natural", "clear", "silver", "gold", "beige", "ivory", "transparent", "turquoise", "olive", "cream":
		return true
	}
	return false
}

// Table is P(piece | candidate, scenario): [cand*J + scenario], averaged over replicas.
func (d *Drawn) Table(p *Piece) []float64 {
	m, J := d.m, len(d.m.Scenarios)
	out := make([]float64, len(m.pops)*J)
	seen := d.cuesOf(p)
	for i := range d.products {
		c, j := i/d.block(), i%d.block()/d.replicas
		pr := &d.products[i]
		q := p.densityFactor(pr.Density, &m.Scenarios[j]) * p.heatFactor(pr.Softens, &m.Scenarios[j])
		for k := range seen {
			q *= seen[k].factor(i, c, pr.Variant)
		}
		out[c*J+j] += q / float64(d.replicas)
	}
	return out
}
