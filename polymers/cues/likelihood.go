package cues

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
)

// Setting is how a test was done, as far as its answer depends on it. The zero Setting means the
// documented defaults.
type Setting struct {
	Time quantity.Time        // of a soak; DefaultSoakTime where not given
	Temp quantity.Temperature // of the water of a soak; DefaultSoakTemp where not given
	Cue  string               // of a flame: "smoke", "drips" or "goes_out"
}

// What a soak is taken to have been where its setting is not given, and the range in which the time
// is corrected for temperature (judgement).
const (
	DefaultSoakTime quantity.Second  = 3600 // an hour, the time of the table (common practice)
	DefaultSoakTemp quantity.Celsius = 20   // the temperature of the table
	coldestSoak     quantity.Celsius = 0
	hottestSoak     quantity.Celsius = 60
)

// doubling is the rise in temperature that doubles the rate of dissolving: the chemist's rule of
// thumb, 10 K (common practice; here a judgement, since no such figure was found for the grades of
// support filament).
const doubling = 10.0

// Likelihood returns P(outcome | material) of a categorical test, in the order of Seen(k, s.Cue);
// the sum is 1. Any one outcome is at most LargestRatio times as probable for one material as for
// another, so that no single reading decides (method.md, cues 4). Bend, soak, acetone, hot air and
// flame have tables; for the others, and for a cue that flame does not have, there is an error.
//
// A filled grade reads the rows of its polymer with the shifts of data/fillers.tsv, a material
// without data the flat answer, polymers.Other half the mean of all rows and half
// the flat answer. The values are coarse judgements of ours that lean on published charts, not
// measured frequencies.
func Likelihood(k Kind, s Setting, m polymers.Material) ([]float64, error) {
	q, err := ask(k, s)
	if err != nil {
		return nil, err
	}
	flat, slip := q.flat()
	p := q.of(m, flat)
	for i := range p {
		p[i] = (1-slip)*p[i] + slip*flat[i]
	}
	return p, nil
}

// question names the sheets that a kind or cue is answered from.
type question struct {
	kind       Kind
	cue        string
	look, over string // over: seen on top of look, and written down instead of it
}

var questions = []question{
	{kind: Bend, look: "bend"},
	{kind: Acetone, look: "acetone"},
	{kind: HotAir, look: "hot-air-look", over: "hot-air-bubbles"},
	{kind: Flame, cue: "smoke", look: "flame-smoke"},
	{kind: Flame, cue: "drips", look: "flame-drips"},
	{kind: Flame, cue: "goes_out", look: "flame-after"},
}

// asked is a question with its sheets found: a weighted sum of looks, and what is seen on top.
type asked struct {
	looks   []*sheet
	weights []float64
	over    *sheet
}

func ask(k Kind, s Setting) (asked, error) {
	t := loaded()
	if k == Soak {
		return soaked(t, s), nil
	}
	var cues []string
	for _, q := range questions {
		if q.kind != k {
			continue
		}
		if q.cue == s.Cue {
			return asked{looks: []*sheet{t.sheets[q.look]}, weights: []float64{1}, over: t.sheets[q.over]}, nil
		}
		cues = append(cues, q.cue)
	}
	switch {
	case cues == nil:
		return asked{}, fmt.Errorf("%s has no table of outcomes: it is answered from a measured property", k)
	case k == Flame:
		return asked{}, fmt.Errorf("flame has no cue %q; it has %s", s.Cue, strings.Join(cues, ", "))
	}
	return asked{}, fmt.Errorf("%s has no cues, and %q was asked for", k, s.Cue)
}

// soakSheets are the times for which there is a table, in seconds at 20 °C; which times: judgement.
var soakSheets = []struct {
	name string
	at   float64
}{{"soak-30s", 30}, {"soak-5min", 300}, {"soak-1h", 3600}, {"soak-24h", 86400}}

// soaked brings a soak to 20 °C, t20 = t * 2^((T-20)/10) (method.md, cues 2), and interpolates between
// the tables in the logarithm of the time (cues 3); it does not extrapolate.
func soaked(t *tables, s Setting) asked {
	temp := min(max(s.Temp.Or(DefaultSoakTemp), coldestSoak), hottestSoak)
	at := float64(s.Time.Or(DefaultSoakTime)) * math.Exp2(float64(temp-DefaultSoakTemp)/doubling)
	last := len(soakSheets) - 1
	at = min(max(at, soakSheets[0].at), soakSheets[last].at)
	i := 0
	for i < last-1 && at > soakSheets[i+1].at {
		i++
	}
	a, b := soakSheets[i], soakSheets[i+1]
	w := math.Log(at/a.at) / math.Log(b.at/a.at)
	return asked{looks: []*sheet{t.sheets[a.name], t.sheets[b.name]}, weights: []float64{1 - w, w}}
}

// of answers for a material before slips of the observer.
func (q asked) of(m polymers.Material, flat []float64) []float64 {
	if m.Symbol == polymers.Other {
		mean := q.mean()
		for i := range mean {
			mean[i] = (mean[i] + flat[i]) / 2
		}
		return mean
	}
	if p := q.mix(func(s *sheet) []float64 { return loaded().vector(s, m) }); p != nil {
		return p
	}
	return slices.Clone(flat)
}

// mix sums the looks by weight and lays what is seen on top over them; nil where a look has no row.
func (q asked) mix(row func(*sheet) []float64) []float64 {
	p := make([]float64, len(q.looks[0].outcomes))
	for i, s := range q.looks {
		v := row(s)
		if v == nil {
			return nil
		}
		for o := range p {
			p[o] += q.weights[i] * v[o]
		}
	}
	if q.over == nil {
		return p
	}
	top, hidden := row(q.over), 0.0
	for _, x := range top {
		hidden += x
	}
	for o := range p {
		p[o] = (1-hidden)*p[o] + top[o]
	}
	return p
}

// mean is the plain mean over the rows of the materials.
func (q asked) mean() []float64 {
	sum, n := make([]float64, len(q.looks[0].outcomes)), 0.0
	for _, name := range q.rowNames() {
		n++
		for o, x := range q.mix(func(s *sheet) []float64 { return s.row(name) }) {
			sum[o] += x
		}
	}
	for o := range sum {
		sum[o] /= n
	}
	return sum
}

// rowNames are those of the materials with a row of their own in any look, in file order.
func (q asked) rowNames() []string {
	var names []string
	for _, s := range q.looks {
		for _, name := range s.names {
			if name != anyRow && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}
