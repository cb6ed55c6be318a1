package triage

import (
	"cmp"
	"fmt"
	"slices"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// ChartOptions of Chart; the zero value is the documented default.
type ChartOptions struct {
	Depth int     // most tests behind one another on a piece; 4
	Lines int     // most numbered lines; 10, which print on one page
	Least float64 // share of the loss before any test that a further line must save; 0.01
}

func (o ChartOptions) withDefaults() ChartOptions {
	if o.Depth == 0 {
		o.Depth = 4
	}
	if o.Lines == 0 {
		o.Lines = 10
	}
	if o.Least == 0 {
		o.Least = 0.01
	}
	return o
}

// BenchChart is a numbered key for the pieces of one bin, to be followed on paper.
type BenchChart struct {
	Lines []ChartLine  // numbered from one; line 1 is where a piece begins
	Start []ChartShare // what a piece picked blind would be, largest first
	Alone string       // answer where no test is worth a line: the bag, as a leaf names it
	Wrong float64      // expected share of pieces that end in a bag of another material
	Blind float64      // the same without any test, all in the bag of the commonest

	Assumptions []sorting.Assumption
}

// ChartLine is one test with where each of its outcomes leads.
type ChartLine struct {
	N        int
	Kind     cues.Kind
	Density  quantity.GramPerCm3 // float
	Bath     string              // the [[bath]] it is made in, where there is one
	Temp     quantity.Celsius    // hot water
	Cautions []string
	Answers  []ChartAnswer
}

// ChartAnswer is one outcome of a line: the line to go to, or the bag.
type ChartAnswer struct {
	Outcome string
	Reach   float64 // share of all pieces that get here
	Then    int     // number of the next line; 0 where it ends here
	Bag     string  // key of the bag; empty where it cannot be told
	Sure    float64 // probability that the piece is of that key, or of the likeliest where there is no bag
	Else    []ChartShare
	Barred  bool // the piece may be of a material that is never heated
}

// ChartShare is a key with its probability.
type ChartShare struct {
	Key   string
	Share float64
}

// Chart compiles the choice of tests into a key for this bin: it starts from a piece of unknown lot,
// with the bin's expected make-up by mass as its prior (soluble support picked out dry), and adds the
// line that saves most of the expected loss for its minutes, where it saves most, until none is worth a
// line. Readings of one piece are held together by the response model, never multiplied as if
// independent. A solvent never stands in one chart with heat above 100 °C, and such heat only where
// every lot may be heated.
func Chart(b *Belief, menu sorting.Menu, stakes sorting.Stakes, opt ChartOptions) BenchChart {
	k := newKey(b, menu, stakes, opt.withDefaults())
	for len(k.nodes) < k.opt.Lines && k.grow() {
	}
	return k.chart()
}

// unsure is the probability below which a leaf names no bag; judgement.
const unsure = 0.5

// chart numbers the lines, each ahead of those its outcomes lead to.
func (k *key) chart() BenchChart {
	var out BenchChart
	out.Start = k.likely(k.root.prob)
	out.Blind = 1 - out.Start[0].Share
	if k.root.line == nil {
		out.Alone = k.answer("", k.root).Bag
	}
	number(k.root.line, new(int))
	k.write(k.root.line, &out)
	out.Wrong = k.wrong(k.root)
	out.Assumptions = []sorting.Assumption{
		{Says: "a piece for the bench chart is picked blind from the whole bin, by mass, cut solid and wetted", Source: "judgement"},
		{Says: fmt.Sprintf("of soluble support %.0f %% is left once it was picked out dry", 100*leftSoluble), Source: "judgement"},
		{Says: fmt.Sprintf("%d pieces of a chart share a bath or a pan of hot water", perSetting), Key: "[kit] minutes", Source: "judgement"},
	}
	return out
}

func number(n *node, last *int) {
	if n == nil {
		return
	}
	*last++
	n.number = *last
	for _, l := range n.leaves {
		number(l.line, last)
	}
}

func (k *key) write(n *node, out *BenchChart) {
	if n == nil {
		return
	}
	look := &k.looks[n.look]
	line := ChartLine{N: n.number, Kind: look.ask.Kind, Density: look.ask.Density, Bath: look.bath, Temp: look.ask.Temp, Cautions: look.offer.Cautions}
	for i, l := range n.leaves {
		line.Answers = append(line.Answers, k.answer(n.names[i], l))
	}
	out.Lines = append(out.Lines, line)
	for _, l := range n.leaves {
		k.write(l.line, out)
	}
}

func (k *key) answer(outcome string, l *leaf) ChartAnswer {
	a := ChartAnswer{Outcome: outcome, Reach: l.reach}
	if l.line != nil {
		a.Then = l.line.number
		return a
	}
	list := k.likely(l.prob)
	a.Barred = k.barred(l.prob)
	a.Sure = list[0].Share
	if list[0].Key == string(polymers.Other) || list[0].Share < unsure {
		a.Else = list
		return a
	}
	a.Bag, a.Else = list[0].Key, list[1:]
	return a
}

// mayBeStop is the probability of a hard stop above which an answer bars heat; judgement.
const mayBeStop = 0.005

func (k *key) barred(prob []float64) bool {
	p := 0.0
	for c, x := range prob {
		if m, ok := polymers.Find(k.b.Candidates[c].Symbol); ok && m.NeverHeat {
			p += x
		}
	}
	return p > mayBeStop
}

// leastElse is the probability from which a material a piece may be besides is named.
const leastElse = 0.03

// likely lists the keys a piece may be of, the likeliest first, small ones left out.
func (k *key) likely(prob []float64) []ChartShare {
	byKey := make([]float64, len(k.b.Keys))
	for c, x := range prob {
		byKey[k.b.keyOf[c]] += x
	}
	var out []ChartShare
	for i, x := range byKey {
		if x >= leastElse {
			out = append(out, ChartShare{k.b.Keys[i], x})
		}
	}
	slices.SortStableFunc(out, func(a, b ChartShare) int { return cmp.Compare(b.Share, a.Share) })
	return out
}

// wrong is the expected share of all pieces that end in the bag of another key, or in none.
func (k *key) wrong(l *leaf) float64 {
	if l.line == nil {
		return l.reach * (1 - k.answer("", l).Sure)
	}
	w := 0.0
	for _, next := range l.line.leaves {
		w += k.wrong(next)
	}
	return w
}
