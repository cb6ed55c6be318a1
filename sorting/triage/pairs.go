package triage

import (
	"math"
	"sort"

	"brinecut/polymers"
)

// pair is two candidates and the density between them.
type pair struct {
	cut, weight float64
}

// pairs lists the cuts between candidates that both matter in some lot, the heaviest first.
func (n *planner) pairs() []pair {
	var out []pair
	C := len(n.b.Candidates)
	for i := 0; i < C; i++ {
		for j := i + 1; j < C; j++ {
			a, okA := n.b.density(i)
			b, okB := n.b.density(j)
			if !okA || !okB || math.Abs(a-b) < 0.008 {
				continue
			}
			w := 0.0
			for l := range n.mean {
				w += n.b.masses[l] * math.Min(n.mean[l][i], n.mean[l][j])
			}
			out = append(out, pair{(a + b) / 2, w})
		}
	}
	sort.SliceStable(out, func(x, y int) bool { return out[x].weight > out[y].weight })
	return out
}

// density of a candidate: of this bin's known snippets of it where there are some, else the handbook's.
func (b *Belief) density(c int) (float64, bool) {
	if d, ok := b.model.KnownDensity(b.Candidates[c].Symbol); ok {
		return d, true
	}
	m, ok := polymers.Find(b.Candidates[c].Symbol)
	return m.Density.Typical, ok
}
