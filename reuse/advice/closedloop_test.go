package advice_test

import (
	"flag"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

var (
	loopBins = flag.Int("bins", 12, "bins that the closed loop plays")
	loopLast = flag.Int("tests", 60, "tests played in every bin, past the tool's own stop")
	loopJars = flag.Bool("jars", true, "play several pieces at once where they are proposed")
	loopOne  = flag.Int("from", 1, "seed of the first bin")
	loopCut  = flag.String("without", "", "leave a part out: budget, known, shared")
)

// outcome of one evening, read at three moments.
type evening struct {
	at30, at60, atStop float64 // wrong share
	stopped, past30    bool
	tests              int
	minutesKg          float64
	named              float64 // mass named by lot over that of naming each lot by its true main material
	inside, ranges     int     // at its own stop
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
		by := make([]float64, len(a.Composition.Keys))
		for _, p := range w.lots[l.Name] {
			m := string(w.products[p.product].material)
			for k, key := range a.Composition.Keys {
				if slices.Contains(strings.Split(key, "/"), m) {
					by[k] += p.share * w.mass[l.Name]
				}
			}
		}
		top := 0
		for k := range by {
			if l.Shares[k] > l.Shares[top] {
				top = k
			}
		}
		got += by[top]
		best += slices.Max(by)
	}
	return got / best
}

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

// TestClosedLoop plays whole evenings. The limits asserted are wider than the aims in docs/method.md
// since twelve bins are few; `go test ./reuse/advice -run ClosedLoop -bins 200 -v` makes the table.
func TestClosedLoop(t *testing.T) {
	all := declared(t)
	opt := advice.Options{}
	opt.Triage.IgnoreBudget = strings.Contains(*loopCut, "budget")
	opt.Triage.Response.IgnoreKnown = strings.Contains(*loopCut, "known")
	opt.Triage.Response.NoShared = strings.Contains(*loopCut, "shared")
	got := make([]evening, *loopBins)
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.NumCPU() {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				got[i] = play(t, newWorld(t, uint64(i+*loopOne), all), opt)
			}
		}()
	}
	for i := range got {
		next <- i
	}
	close(next)
	wg.Wait()
	mean := func(f func(evening) float64) float64 {
		s := 0.0
		for _, e := range got {
			s += f(e) / float64(len(got))
		}
		return s
	}
	at30, at60, atStop := mean(func(e evening) float64 { return e.at30 }), mean(func(e evening) float64 { return e.at60 }), mean(func(e evening) float64 { return e.atStop })
	minutes, named := mean(func(e evening) float64 { return e.minutesKg }), mean(func(e evening) float64 { return e.named })
	stopped := mean(func(e evening) float64 {
		if e.stopped {
			return 1
		}
		return 0
	})
	in, n := 0, 0
	for _, e := range got {
		in, n = in+e.inside, n+e.ranges
	}
	t.Logf("%d bins: wrong share %.3f after 30 tests, %.3f after 60, %.3f at its own stop (%.1f tests, %.1f min/kg, stops itself in %.0f %%); mass named by lot %.1f %% of the best; 90 %% ranges hold %.1f %% of %d",
		len(got), at30, at60, atStop, mean(func(e evening) float64 { return float64(e.tests) }), minutes, 100*stopped, 100*named, 100*float64(in)/float64(max(n, 1)), n)
	if at30 > 0.12 || at60 > 0.09 || atStop > 0.12 || named < 0.94 {
		t.Error("the closed loop does worse than the widest limit allowed for few bins")
	}
}
