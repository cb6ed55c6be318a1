package balance

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"brinecut/polymers"
)

// Weighing is a further weighing the user could make, and what it would do.
type Weighing struct {
	What   string  // what to put on the scale
	Halves string  // the doubt it cuts most, before and after, in words
	Drop   float64 // part of the doubt (standard deviation) in the bin's make-up that it takes away
}

const (
	worthWeighing = 0.05  // least Drop worth a walk to the scale; judgement
	worthGrams    = 0.003 // least fall of one doubt worth it, as a share of all there is; judgement
	fineScale     = 1.0   // g, step of the scale a user is sent to; common practice, no source
	newSpoolDoubt = 0.01  // what a new spool is known to hold, as a share of what was printed from it; common practice, no source
)

// target is a mass whose doubt matters.
type target struct {
	what  string
	terms []Term
}

// next ranks the weighings that are left to make by the rank-one drop they bring in the summed variance
// of the bin's make-up: of each material in it, and of each lot's mass. method.md (B17).
func (s *sheet) next(sol *Solution) ([]Weighing, error) {
	targets, offers := s.targets(), s.offers(sol)
	d, err := s.withWeakReadings(sol, targets, offers)
	if err != nil || len(targets) == 0 {
		return nil, err
	}
	aims := make([]combo, len(targets))
	before := 0.0
	for i, t := range targets {
		h, _ := d.terms(t.terms)
		aims[i] = d.combine(h)
		before += aims[i].sd * aims[i].sd
	}
	var out []Weighing
	for _, c := range offers {
		if w, gain := d.weigh(c, targets, aims, before); w.Drop >= worthWeighing && gain >= worthGrams*s.mostOf(sol) {
			out = append(out, w)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Drop > out[j].Drop })
	return out, nil
}

// weigh computes what one more reading would do, method.md (B17), and by how many grams the doubt falls
// of the target it helps most.
func (s *Solution) weigh(c candidate, targets []target, aims []combo, before float64) (w Weighing, gain float64) {
	h, ok := s.terms(c.terms)
	one := s.combine(h)
	if !ok || before <= 0 || one.sd == 0 {
		return w, 0
	}
	total := one.sd*one.sd + c.sd*c.sd
	drop, most, best := 0.0, 0.0, -1
	for i, cov := range s.across(one, aims) {
		d := cov * cov / total
		drop += d
		if d > most {
			most, best = d, i
		}
	}
	if best < 0 {
		return w, 0
	}
	was, is := aims[best].sd, sqrt(aims[best].sd*aims[best].sd-most)
	return Weighing{What: c.what, Drop: 1 - math.Sqrt(math.Max(0, 1-drop/before)),
		Halves: fmt.Sprintf("the doubt about %s: from ± %s to ± %s", targets[best].what, rounded(was), rounded(is))}, was - is
}

// targets are the masses that the bin's make-up consists of; of a user's own sheet alone, its streams.
func (s *sheet) targets() []target {
	var out []target
	if s.made {
		for i, m := range s.materials {
			out = append(out, target{s.inTheBin(m), []Term{{s.whole[i], 1}}})
		}
	}
	for _, p := range s.lots.piles {
		if !p.gone {
			out = append(out, target{"lot " + p.lot.Name, []Term{{p.now, 1}}})
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, f := range s.flows {
		if f.kind == IsOwn && f.material == plain {
			out = append(out, target{f.name, f.terms})
		}
	}
	return out
}

func (s *sheet) inTheBin(m polymers.Symbol) string {
	if m == polymers.Other {
		return "other materials in the bin"
	}
	return string(m) + " in the bin"
}

// withWeakReadings solves with a weak reading ("anything up to all of it") for each part of a stream, each
// target and each offer of which nothing is known, so that every doubt is a number.
func (s *sheet) withWeakReadings(known *Solution, targets []target, offers []candidate) (*Solution, error) {
	p := known.problem
	p.Readings = append(append([]Reading(nil), p.Readings...), s.flatParts(known)...)
	sol, err := reconcileFree(p, nil)
	if err != nil {
		return nil, err
	}
	var weak []weakReading
	top := s.mostOf(known)
	for _, t := range targets {
		weak = append(weak, weakReading{t.terms, top / 2, top / math.Sqrt(12)})
	}
	for _, c := range offers {
		weak = append(weak, weakReading{c.terms, top / 2, top / math.Sqrt(12)})
	}
	return pinned(sol, weak)
}

// cameIn is as much of a material as may have come in; without end where that is not known.
func (s *sheet) cameIn(sol *Solution, m polymers.Symbol) float64 {
	i := s.index(m)
	if i < 0 {
		return math.Inf(1)
	}
	in := s.allPrinted(i)
	if s.opening != nil {
		in = append(in, sumOf(s.opening)...)
	}
	if e := sol.Of(in); e.Determined {
		return math.Max(1, e.High)
	}
	return math.Inf(1)
}

// weakReading stands for knowing next to nothing of a combination.
type weakReading struct {
	terms     []Term
	value, sd float64
}

// pinned solves with those weak readings that speak of something undetermined, one after another.
func pinned(sol *Solution, weak []weakReading) (*Solution, error) {
	p := sol.problem
	p.Readings = append([]Reading(nil), p.Readings...)
	for _, w := range weak {
		if _, ok := sol.terms(w.terms); ok || w.sd <= 0 {
			continue
		}
		p.Readings = append(p.Readings, Reading{Name: "weak", Terms: w.terms, Value: w.value, SD: w.sd})
		next, err := reconcileFree(p, nil)
		if err != nil {
			return nil, err
		}
		sol = next
	}
	return sol, nil
}

// again sends the user back to a figure that does not fit, before anything else.
func again(suspects []Suspect) []Weighing {
	if len(suspects) == 0 {
		return nil
	}
	x := suspects[0]
	w := Weighing{What: fmt.Sprintf("%q again", x.Names[0]), Halves: fmt.Sprintf("the doubt whether it is off by %s", rounded(math.Abs(x.Size)))}
	if len(x.Names) > 1 {
		w.What = fmt.Sprintf("once more each of %s", strings.Join(x.Names, ", "))
		w.Halves = "the doubt which of them is off"
	}
	return []Weighing{w}
}

// rounded writes a mass to two or three figures.
func rounded(x float64) string {
	if x == 0 {
		return "0 g"
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-1)
	return grams(math.Round(x/unit) * unit)
}

// nextWords says what to weigh next in one sentence.
func nextWords(list []Weighing) string {
	if len(list) == 0 {
		return "weigh nothing more: no weighing that is left would take away much of the doubt"
	}
	return fmt.Sprintf("weigh next: %s, for %s", list[0].What, list[0].Halves)
}
