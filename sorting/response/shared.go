package response

import (
	"math"

	"brinecut/polymers"
	"brinecut/sorting"
)

// snippet is a known piece with what was read of it.
type snippet struct {
	known  sorting.Known
	pop    population
	pieces []Piece
}

func (m *Model) readSnippets(bin *sorting.Bin) error {
	if m.opt.IgnoreKnown {
		return nil
	}
	for _, k := range bin.Known {
		pop, err := populationOf(k.Material)
		if err != nil {
			return err
		}
		var obs []sorting.Observation
		for _, o := range bin.Tests {
			if o.Known == k.Name {
				obs = append(obs, o)
			}
		}
		m.snips = append(m.snips, snippet{k, pop, m.Pieces(obs, sorting.Cut)})
	}
	return nil
}

// drawShared makes the scenarios: shared errors from their priors, weighed by the evidence of the
// known snippets (whose own densities and softening temperatures are integrated on grids), resampled,
// and a product of each snippet drawn from its posterior in that scenario (method.md, response 5).
func (m *Model) drawShared() {
	n := 2 * m.opt.Scenarios
	all := m.propose(n)
	tables := make([][]snippetPosterior, n)
	weights := make([]float64, n)
	for j := range all {
		w := 1.0
		for i := range m.snips {
			post := m.snips[i].posterior(&all[j])
			tables[j] = append(tables[j], post)
			w *= post.evidence
		}
		weights[j] = w
	}
	s := NewStream("known products")
	for _, j := range resample(weights, m.opt.Scenarios) {
		sc := all[j]
		sc.Known = make([]Product, len(m.snips))
		for i := range m.snips {
			sc.Known[i] = tables[j][i].draw(s)
		}
		m.Scenarios = append(m.Scenarios, sc)
	}
}

// propose draws the shared errors from their priors.
func (m *Model) propose(n int) []Shared {
	out := make([]Shared, n)
	air := NewStream("air").normals(n)
	thermo := NewStream("thermometer").normals(n)
	fresh := NewStream("new bath").normals(n)
	slip := NewStream("slips").normals(n)
	for j := range out {
		out[j] = Shared{Bath: make([]float64, len(m.baths)), NewBath: m.opt.BathSD * fresh[j],
			Thermo: m.opt.ThermoSD * thermo[j], Air: math.Exp(airSpread * air[j]), Slips: math.Exp(slips*slip[j] - slips*slips/2)}
	}
	for i, b := range m.baths {
		z := NewStream("bath", b.name).normals(n)
		for j := range out {
			out[j].Bath[i] = b.sd * z[j]
		}
	}
	if m.opt.NoShared {
		for j := range out {
			out[j] = Shared{Bath: make([]float64, len(m.baths)), Air: 1, Slips: 1}
		}
	}
	return out
}

// resample picks n indices in proportion to the weights, systematically; all alike where they are all zero.
func resample(weights []float64, n int) []int {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	out := make([]int, n)
	if !(total > 0) {
		for i := range out {
			out[i] = i * len(weights) / n
		}
		return out
	}
	j, cum := 0, weights[0]
	for i := range out {
		at := (float64(i) + 0.5) / float64(n) * total
		for cum < at && j < len(weights)-1 {
			j++
			cum += weights[j]
		}
		out[i] = j
	}
	return out
}

// snippetPosterior is what is known of a snippet's product in one scenario: two independent grids.
type snippetPosterior struct {
	densities, densityCum []float64
	softens, softenCum    []float64
	variant               int
	evidence              float64
}

const (
	densityNodes = 61
	softenNodes  = 25
)

func (sn *snippet) posterior(s *Shared) snippetPosterior {
	mat := &sn.pop.variants[0]
	centre, half := mat.Density.Typical, 3.5*wideBy*spread(mat)
	prior := sn.pop.densityAt
	if q := sn.known.Density; q.Given() {
		sd := math.Max(float64(q.SD), 0.002)
		centre, half = float64(q.Value), 4*sd
		prior = func(x float64) float64 { return normalPDF(x, float64(q.Value), sd) }
	}
	var out snippetPosterior
	var zd, zs float64
	out.densities, out.densityCum, zd = grid(centre-half, centre+half, densityNodes, func(x float64) float64 {
		f := prior(x)
		for i := range sn.pieces {
			f *= math.Pow(sn.pieces[i].densityFactor(x, s), float64(sn.pieces[i].N))
		}
		return f
	})
	out.softens, out.softenCum, zs = sn.softening(mat, s)
	out.evidence = zd * zs
	return out
}

// softening integrates over the softening temperature of the snippet's product.
func (sn *snippet) softening(mat *polymers.Material, s *Shared) (nodes, cum []float64, z float64) {
	like := func(t float64) float64 {
		f := 1.0
		for i := range sn.pieces {
			f *= math.Pow(sn.pieces[i].heatFactor(t, s), float64(sn.pieces[i].N))
		}
		return f
	}
	if fixed := softens(mat, 0.5); math.IsInf(fixed, 0) {
		return []float64{fixed}, []float64{1}, like(fixed)
	}
	sd := math.Max((mat.Softens.High-mat.Softens.Low)/4, 1.5)
	return grid(mat.Softens.Typical-3.5*sd, mat.Softens.Typical+3.5*sd, softenNodes, func(t float64) float64 {
		return normalPDF(t, mat.Softens.Typical, sd) * like(t)
	})
}

// grid tabulates an unnormalised density: nodes, its cumulative shares, and its integral.
func grid(low, high float64, n int, f func(float64) float64) (nodes, cum []float64, z float64) {
	nodes, cum = make([]float64, n), make([]float64, n)
	step := (high - low) / float64(n-1)
	for i := range nodes {
		nodes[i] = low + float64(i)*step
		z += f(nodes[i])
		cum[i] = z
	}
	for i := range cum {
		if z > 0 {
			cum[i] /= z
		} else {
			cum[i] = float64(i+1) / float64(n)
		}
	}
	return nodes, cum, z * step
}

func (p *snippetPosterior) draw(s *Stream) Product {
	return Product{Density: pick(p.densities, p.densityCum, s.Uniform()), Softens: pick(p.softens, p.softenCum, s.Uniform()), Variant: p.variant}
}

// pick inverts a tabulated distribution: the share of a node is spread evenly over the step around it.
func pick(nodes, cum []float64, u float64) float64 {
	if len(nodes) == 1 {
		return nodes[0]
	}
	i, below := 0, 0.0
	for i < len(cum)-1 && cum[i] < u {
		below = cum[i]
		i++
	}
	f := (u - below) / math.Max(cum[i]-below, 1e-300)
	return nodes[i] + (f-0.5)*(nodes[1]-nodes[0])
}
