package advice_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

// evening is what one evening came to, read at three moments.
type evening struct {
	at30, at60, atStop float64 // wrong share
	stopped, past30    bool
	tests              int
	minutesKg          float64
	named, named60     float64 // mass named by lot over that of naming each lot by its true main material
	misnamed           []string
	inside, ranges     int // at its own stop
	inside60           int
}

func play(t *testing.T, w *world, opt advice.Options) evening {
	var e evening
	var a advice.Answer
	total := 0.0
	for _, m := range w.mass {
		total += m
	}
	for n := 0; ; {
		var err error
		if a, err = advice.Sort(w.bin, opt); err != nil {
			t.Error(err)
			return e
		}
		if (a.Next.Done || n >= *loopLast) && !e.stopped && e.tests == 0 {
			e.stopped, e.tests = a.Next.Done, n
			e.atStop, e.minutesKg, e.named = w.wrongShare(a), w.spent/(total/1000), w.namedShare(a)
			e.misnamed = w.misnamed(a)
			e.inside, e.ranges = w.coverage(a)
		}
		if n >= 30 && !e.past30 {
			e.past30, e.at30 = true, w.wrongShare(a)
		}
		if n >= *loopLast || a.Next.Best == nil {
			break
		}
		n += w.record(a.Next.Best, n)
	}
	e.at60 = w.wrongShare(a)
	if !e.past30 {
		e.at30 = e.at60
	}
	e.inside60, _ = w.coverage(a)
	e.named60 = w.namedShare(a)
	return e
}

// record plays the proposed test and writes it down; it gives the number of pieces tested.
func (w *world) record(p *triage.Proposal, n int) int {
	o := sorting.Observation{ID: fmt.Sprint("t", n+1), Lot: p.Lot, Known: p.Known, Piece: p.Piece, Kind: p.Kind}
	pieces := 1
	if p.AtOnce > 1 && *loopJars {
		pieces = p.AtOnce
		o.Piece, o.Counts = 0, w.handful(p)
	} else {
		o.Outcome = w.try(p.Lot+p.Known, p.Piece, p.Kind, p.Density, p.Temp)
	}
	w.spent += map[cues.Kind]float64{cues.Bend: 0.3, cues.Soak: 1, cues.Float: 1.5, cues.HotWater: 2}[p.Kind] * (1 + 0.25*float64(pieces-1))
	switch p.Kind {
	case cues.Float:
		o.Density = quantity.With(p.Density, 0.003)
		if !w.mixed(p.Density) {
			w.spent += 10
		}
	case cues.HotWater:
		o.Temp = quantity.Exact(p.Temp)
		if w.lastTemp != p.Temp {
			w.spent += 3
			w.lastTemp = p.Temp
		}
	}
	w.bin.Tests = append(w.bin.Tests, o)
	return pieces
}

// handful puts several fresh pieces into one jar and counts what they do.
func (w *world) handful(p *triage.Proposal) []sorting.Count {
	t, _ := cues.Find(p.Kind)
	counts := make([]sorting.Count, len(t.Outcomes))
	for i, o := range t.Outcomes {
		counts[i].Outcome = o
	}
	for range p.AtOnce {
		seen := w.see(w.grab(p.Lot), p.Kind, p.Density, p.Temp)
		for i := range counts {
			if counts[i].Outcome == seen {
				counts[i].N++
			}
		}
	}
	return slices.DeleteFunc(counts, func(c sorting.Count) bool { return c.N == 0 })
}

// mixed reports whether a bath of that density stands already; plain water always does.
func (w *world) mixed(d quantity.GramPerCm3) bool {
	return math.Abs(float64(d)-0.998) < 0.003 || slices.ContainsFunc(w.bin.Tests, func(o sorting.Observation) bool {
		return o.Kind == cues.Float && math.Abs(float64(o.Density.Value-d)) < 5e-4
	})
}

// fold puts the truth under the answer's keys.
func (w *world) fold(keys []string) []float64 {
	out := make([]float64, len(keys))
	for m, g := range w.truth {
		at := len(keys) - 1
		for k, key := range keys {
			if slices.Contains(strings.Split(key, "/"), m) {
				at = k
			}
		}
		out[at] += g
	}
	return out
}

func (w *world) wrongShare(a advice.Answer) float64 {
	truth, total, gap := w.fold(a.Composition.Keys), 0.0, 0.0
	for k, r := range a.Totals() {
		gap += math.Abs(r.Mean-truth[k]) / 2
		total += truth[k]
	}
	return gap / total
}

// namedShare is the mass that lies in a lot named by its material, over the best naming by lot.
func (w *world) namedShare(a advice.Answer) float64 {
	got, best := 0.0, 0.0
	for _, l := range a.Lots {
		by := w.massesBy(a.Composition.Keys, l.Name)
		got += by[top(l.Shares)]
		best += slices.Max(by)
	}
	return got / best
}

// massesBy is the truth of one lot under the answer's keys, in grams.
func (w *world) massesBy(keys []string, lot string) []float64 {
	by := make([]float64, len(keys))
	for _, p := range w.lots[lot] {
		m := string(w.products[p.product].material)
		for k, key := range keys {
			if slices.Contains(strings.Split(key, "/"), m) {
				by[k] += p.share * w.mass[lot]
			}
		}
	}
	return by
}

// misnamed tells of each lot that is not named by its true main material.
func (w *world) misnamed(a advice.Answer) []string {
	var out []string
	for _, l := range a.Lots {
		by := w.massesBy(a.Composition.Keys, l.Name)
		said, is := top(l.Shares), top(by)
		if by[said] < by[is] {
			tests := 0
			for _, t := range w.bin.Tests {
				if t.Lot == l.Name {
					tests++
				}
			}
			out = append(out, fmt.Sprintf("%s %.0f g: said %s %.2f, is %s (said %.2f, holds %.2f of it), tests %d, sure %t", l.Name, w.mass[l.Name],
				a.Composition.Keys[said], l.Shares[said], a.Composition.Keys[is], l.Shares[is], by[is]/w.mass[l.Name], tests, l.Sure))
		}
	}
	return out
}

// top is where the largest stands.
func top(x []float64) int { return slices.Index(x, slices.Max(x)) }

func (w *world) coverage(a advice.Answer) (inside, n int) {
	truth := w.fold(a.Composition.Keys)
	for k, r := range a.Totals() {
		if truth[k] < 1 {
			continue
		}
		n++
		if truth[k] >= r.Low-1 && truth[k] <= r.High+1 {
			inside++
		}
	}
	return inside, n
}
