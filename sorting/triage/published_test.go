package triage

import (
	"math"
	"testing"
)

// decision is a textbook decision as planning sees one: states of the world for candidates, what an
// action pays for what it saves.
func decision(states []float64, pays ...[]float64) *ground {
	g := &ground{kg: 1}
	for i := range states {
		g.cands = append(g.cands, i)
		for k := range states {
			x := 0.0
			if k == i {
				x = 1
			}
			g.shares = append(g.shares, x)
		}
	}
	for _, row := range pays {
		cost := make([]float64, len(row))
		for k, x := range row {
			cost[k] = -x
		}
		g.cost = append(g.cost, cost)
	}
	g.prob, g.worth = states, make([]float64, len(states))
	g.mean, g.then, g.after = make([]float64, len(states)), make([]float64, len(states)), make([]float64, len(states))
	g.meanOf(g.prob, g.mean)
	return g
}

func (g *ground) pays() float64 { return -g.loss(g.mean, g.prob) }

// perfect is a test that shows the state itself.
func perfect(n int) *look {
	k := &look{names: make([]string, n)}
	for o := range n {
		row := make([]float64, n)
		row[o] = 1
		k.shows = append(k.shows, row)
	}
	return k
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %.6g, published %.6g", what, got, want)
	}
}

// The oil wildcatter, with the figures that the documentation of SAS/OR's procedure DTREE gives for
// it (thousands of dollars): drilling is expected to bring 140, knowing the oil beforehand 155 more,
// knowing the cost 10 more.
func TestValueOfPerfectInformationWildcatter(t *testing.T) {
	revenue, cost := []float64{0, 700, 1200}, []float64{150, 300, 500}
	meanRevenue, meanCost := 0.3*700+0.2*1200, 0.2*150+0.6*300+0.2*500
	var drillByOil, drillByCost []float64
	for _, r := range revenue {
		drillByOil = append(drillByOil, r-meanCost)
	}
	for _, c := range cost {
		drillByCost = append(drillByCost, meanRevenue-c)
	}
	idle := []float64{0, 0, 0}
	oil := decision([]float64{0.5, 0.3, 0.2}, drillByOil, idle)
	near(t, "expected", oil.pays(), 140, 1e-9)
	near(t, "value of knowing the oil", -oil.expected(oil.prob, perfect(3))-oil.pays(), 155, 1e-9)
	price := decision([]float64{0.2, 0.6, 0.2}, drillByCost, idle)
	near(t, "value of knowing the cost", -price.expected(price.prob, perfect(3))-price.pays(), 10, 1e-9)
}

// A land sale with a seismic survey, of the kind that Hillier and Lieberman, Introduction to Operations
// Research, treat; inputs as published, results recomputed by hand: without a survey 100, with one of
// 30 it is 123, with perfect information 142.5 (each before the survey's price where it says so).
func TestValueOfSampleInformationLandSale(t *testing.T) {
	drill, sell := []float64{700, -100}, []float64{90, 90}
	g := decision([]float64{0.25, 0.75}, drill, sell)
	near(t, "without a survey", g.pays(), 100, 1e-9)
	// Favourable with probability 0.3 and then oil 0.5; unfavourable 0.7 and then oil 1/7.
	survey := &look{names: []string{"favourable", "unfavourable"},
		shows: [][]float64{{0.3 * 0.5 / 0.25, 0.3 * 0.5 / 0.75}, {0.7 / 7 / 0.25, 0.7 * 6 / 7 / 0.75}}}
	near(t, "with the survey, its price paid", -g.expected(g.prob, survey)-30, 123, 1e-9)
	near(t, "value of perfect information", -g.expected(g.prob, perfect(2))-g.pays(), 142.5, 1e-9)
	bs := g.branches(g.prob, survey)
	near(t, "favourable", bs[0].q, 0.3, 1e-9)
	near(t, "oil when favourable", bs[0].mean[0], 0.5, 1e-9)
}

// Information gains of the play-tennis data: Mitchell, Machine Learning (1997), table 3.2: nine days
// of play and five without; gains printed .246 (or .247 rounded right), .151, .048, .029 bits.
func TestInformationGainPlayTennis(t *testing.T) {
	g := decision([]float64{9.0 / 14, 5.0 / 14}, []float64{0, 0})
	bits := 1 / math.Ln2
	near(t, "entropy", entropy(g.prob)*bits, 0.940, 0.0005)
	for _, x := range []struct {
		what      string
		counts    [][2]float64 // by value: days of play, days without
		published float64
	}{
		{"outlook", [][2]float64{{2, 3}, {4, 0}, {3, 2}}, 0.247},
		{"humidity", [][2]float64{{3, 4}, {6, 1}}, 0.152},
		{"wind", [][2]float64{{6, 2}, {3, 3}}, 0.048},
		{"temperature", [][2]float64{{2, 2}, {4, 2}, {3, 1}}, 0.029},
	} {
		left := 0.0
		for _, n := range x.counts {
			q := g.update(g.prob, []float64{n[0] / 9, n[1] / 5}, g.after)
			left += q * entropy(g.after)
		}
		near(t, x.what, (entropy(g.prob)-left)*bits, x.published, 0.0005)
	}
}
