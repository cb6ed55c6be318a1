package triage

import (
	"fmt"
	"math"

	"brinecut/sorting"
)

// drawJoint draws the point of every lot, draws times, and gives the weights of each lot's points
// under all the evidence. Two chains that disagree are warned of.
func drawJoint(piles []*pile, mass []float64, info information, draws int) (chosen [][]int, weights [][]float64, warn []sorting.Warning) {
	if len(piles) == 0 {
		return nil, nil, nil
	}
	if !info.any {
		chosen, weights = independent(piles, draws)
		return chosen, weights, nil
	}
	if len(piles) == 1 {
		info.soften(piles, mass)
		chosen, weights = exactOne(piles[0], mass[0], info, draws)
		return chosen, weights, nil
	}
	info.soften(piles, mass)
	const chains = 2
	var means [chains][]float64
	var raos [chains][][]float64
	var got [chains][][]int
	parallel(chains, func(chain int) {
		sm := newSampler(piles, mass, info, fmt.Sprint("chain ", chain), chain)
		got[chain] = sm.run(draws / chains)
		means[chain], raos[chain] = sm.meanTotals(got[chain]), sm.rao
	})
	weights = make([][]float64, len(piles))
	for chain := range chains {
		chosen = append(chosen, got[chain]...)
		for l := range piles {
			weights[l] = addTo(weights[l], raos[chain][l], 1/float64(chains*(draws/chains)))
		}
	}
	return chosen, weights, disagreement(means[0], means[1], mass)
}

func addTo(a, b []float64, f float64) []float64 {
	if a == nil {
		a = make([]float64, len(b))
	}
	for i := range b {
		a[i] += f * b[i]
	}
	return a
}

// chainGap is how far the mean totals of two chains may lie apart, as a share of all mass; judgement.
const chainGap = 0.12

func disagreement(one, other, mass []float64) []sorting.Warning {
	gap := 0.0
	for i := range one {
		gap += math.Abs(one[i]-other[i]) / 2
	}
	if gap <= chainGap*sum(mass) {
		return nil
	}
	return []sorting.Warning{{Says: fmt.Sprintf("two runs of the calculation differ by %.0f %% of the bin: the weighings fit several quite different answers", 100*gap/sum(mass)),
		Cure: "test one piece of the largest lot that is not settled"}}
}

// independent draws every lot on its own: the weighings say nothing of materials.
func independent(piles []*pile, draws int) (chosen [][]int, weights [][]float64) {
	chosen = make([][]int, draws)
	for i := range chosen {
		chosen[i] = make([]int, len(piles))
	}
	for l, p := range piles {
		for i, at := range systematic(p.prob, draws, newStream("draws", p.name)) {
			chosen[i][l] = at
		}
		weights = append(weights, p.prob)
	}
	return chosen, weights
}

// exactOne weighs the points of a single lot with the weighings, without sampling noise.
func exactOne(p *pile, mass float64, info information, draws int) (chosen [][]int, weights [][]float64) {
	logw := make([]float64, len(p.points))
	T := make([]float64, len(p.prior))
	for i, w := range p.points {
		for c := range T {
			T[c] = mass * w[c]
		}
		logw[i] = math.Log(math.Max(p.prob[i], 1e-300)) + info.logDensity(T)
	}
	w := softmax(logw)
	for _, at := range systematic(w, draws, newStream("draws", p.name)) {
		chosen = append(chosen, []int{at})
	}
	return chosen, [][]float64{w}
}

// systematic resampling of n indices from weights that sum to one, in shuffled order.
func systematic(w []float64, n int, s *stream) []int {
	out := make([]int, n)
	u, cum, at := s.Uniform(), w[0], 0
	for i := range out {
		x := (float64(i) + u) / float64(n)
		for cum < x && at < len(w)-1 {
			at++
			cum += w[at]
		}
		out[i] = at
	}
	for i := n - 1; i > 0; i-- {
		j := int(s.Next() % uint64(i+1))
		out[i], out[j] = out[j], out[i]
	}
	return out
}
