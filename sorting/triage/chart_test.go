package triage

import (
	"math"
	"slices"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// chartBin is a bin of two lots that may each be one of two materials, with the tests given on them.
func chartBin(t *testing.T, tests ...sorting.Observation) *Belief {
	t.Helper()
	a, c := ownLot("white", "PLA", "PETG"), ownLot("black", "PLA", "PETG")
	return judge(t, &sorting.Bin{Lots: []sorting.Lot{a, c}, Tests: tests}, budgetOf(a, c))
}

func chartMenu(kinds ...cues.Kind) sorting.Menu {
	var m sorting.Menu
	for _, k := range kinds {
		t, _ := cues.Find(k)
		o := sorting.Offer{Kind: k, Minutes: t.Minutes, SetUp: t.SetUpMinutes, Cautions: t.Cautions}
		switch k {
		case cues.Float:
			o.Densities = []quantity.GramPerCm3{0.998, 1.3}
		case cues.HotWater:
			o.Temps = []quantity.Celsius{63, 66, 75, 92}
		}
		m.Offers = append(m.Offers, o)
	}
	return m
}

// chartStakes has every key go its own way and cost alike.
func chartStakes(b *Belief) sorting.Stakes {
	s := sorting.Stakes{Keys: b.Keys, HourValue: 10}
	for i := range b.Keys {
		s.SameWay, s.Right, s.Wrong = append(s.SameWay, i), append(s.Right, 5), append(s.Wrong, 10)
	}
	return s
}

// follow walks a chart as a person would: answers are looked up by outcome until a bag is reached.
func follow(t *testing.T, c BenchChart, see func(l ChartLine) string) ChartAnswer {
	t.Helper()
	at := 1
	for range c.Lines {
		line := c.Lines[at-1]
		if line.N != at {
			t.Fatalf("line %d stands in place %d", line.N, at)
		}
		o := see(line)
		i := slices.IndexFunc(line.Answers, func(a ChartAnswer) bool { return a.Outcome == o })
		if i < 0 {
			t.Fatalf("line %d has no answer to %q", at, o)
		}
		if line.Answers[i].Then == 0 {
			return line.Answers[i]
		}
		if line.Answers[i].Then <= at {
			t.Fatalf("line %d sends back to %d", at, line.Answers[i].Then)
		}
		at = line.Answers[i].Then
	}
	t.Fatal("the chart does not end")
	return ChartAnswer{}
}

// TestChartPartsPLAFromPETG: pieces that behave as printed PLA and PETG are published to do are led to
// their bags. PLA prints go limp from its glass transition at 55 to 60 °C on, PETG from 75 to 80 °C on
// (glass transitions: handbook, docs/polymers.md); both sink in water (1.24 and 1.27 g/cm3).
func TestChartPartsPLAFromPETG(t *testing.T) {
	b := chartBin(t)
	c := Chart(b, chartMenu(cues.Float, cues.HotWater), chartStakes(b), ChartOptions{})
	printed := func(density, softens float64) func(ChartLine) string {
		return func(l ChartLine) string {
			switch {
			case l.Kind == cues.HotWater && float64(l.Temp) > softens:
				return "soft"
			case l.Kind == cues.HotWater:
				return "stiff"
			case float64(l.Density) < density:
				return "sinks"
			}
			return "floats"
		}
	}
	for bag, see := range map[string]func(ChartLine) string{"PLA": printed(1.24, 60), "PETG": printed(1.27, 78)} {
		if a := follow(t, c, see); a.Bag != bag || a.Sure < 0.8 {
			t.Errorf("a piece of %s ends in bag %q, %.2f sure", bag, a.Bag, a.Sure)
		}
	}
	if c.Wrong >= c.Blind/2 {
		t.Errorf("%.3f of the pieces end wrong, %.3f did without a test", c.Wrong, c.Blind)
	}
}

// TestChartLaws: what holds of any chart. Shares that reach the outcomes of a line add up to what
// reaches the line; limits of lines and depth are kept; no path asks the same twice.
func TestChartLaws(t *testing.T) {
	b := chartBin(t, hot("white", 64, "stiff"))
	for _, opt := range []ChartOptions{{}, {Lines: 3}, {Depth: 1}, {Least: 0.0001, Lines: 12}} {
		c := Chart(b, chartMenu(cues.Soak, cues.Bend, cues.Float, cues.HotWater), chartStakes(b), opt)
		o := opt.withDefaults()
		if len(c.Lines) == 0 || len(c.Lines) > o.Lines {
			t.Errorf("%+v: %d lines", opt, len(c.Lines))
		}
		for _, l := range c.Lines {
			if l.N == 1 {
				checkReach(t, c, l, 1, o.Depth)
			}
		}
	}
}

func checkReach(t *testing.T, c BenchChart, l ChartLine, reach float64, depth int) {
	t.Helper()
	if depth == 0 {
		t.Fatalf("line %d is too deep", l.N)
	}
	sum := 0.0
	for _, a := range l.Answers {
		sum += a.Reach
		if a.Then > 0 {
			next := c.Lines[a.Then-1]
			if next.Kind == l.Kind && next.Density == l.Density && next.Temp == l.Temp {
				t.Errorf("line %d asks what line %d asked", next.N, l.N)
			}
			checkReach(t, c, next, a.Reach, depth-1)
		} else if a.Sure <= 0 || a.Sure > 1+1e-9 {
			t.Errorf("line %d, %s: sure %.3f", l.N, a.Outcome, a.Sure)
		}
	}
	if math.Abs(sum-reach) > 1e-6 {
		t.Errorf("line %d: %.6f reach its answers, %.6f the line", l.N, sum, reach)
	}
}

// TestChartIsSafe: a kind that any lot is barred from stands on no chart, and a solvent never beside
// heat above 100 °C (docs/safety.md).
func TestChartIsSafe(t *testing.T) {
	b := chartBin(t)
	menu := chartMenu(cues.Acetone, cues.HotAir)
	kinds := func(m sorting.Menu) (solvent, heat bool) {
		for _, l := range Chart(b, m, chartStakes(b), ChartOptions{Least: 1e-9}).Lines {
			u, _ := cues.Find(l.Kind)
			solvent, heat = solvent || u.Solvent, heat || u.Heats
		}
		return solvent, heat
	}
	if solvent, heat := kinds(menu); solvent && heat {
		t.Error("acetone and hot air stand on one chart")
	}
	menu.Forbidden = map[string][]cues.Kind{"black": {cues.HotAir}}
	if _, heat := kinds(menu); heat {
		t.Error("hot air stands on the chart of a bin with a lot that must not be heated")
	}
}

// TestChartOfOneMaterial: where nothing is left to tell, no test is worth a line.
func TestChartOfOneMaterial(t *testing.T) {
	b := chartBin(t)
	s := chartStakes(b)
	for i := range s.SameWay {
		s.SameWay[i] = 0 // it all goes the same way
	}
	if c := Chart(b, chartMenu(cues.HotWater), s, ChartOptions{}); len(c.Lines) != 0 {
		t.Errorf("%d lines to tell apart what goes the same way", len(c.Lines))
	}
}
