package balance

import (
	"fmt"
	"math"
	"strings"
)

// Verdict says whether an explanation goes with the numbers.
type Verdict string

// The verdicts.
const (
	Fits      Verdict = "fits"
	FitsNot   Verdict = "does not fit"
	NotNeeded Verdict = "not needed"
	NotTold   Verdict = "cannot be told"
)

// Explanation is one usual explanation of a balance that does not close, held against the numbers.
type Explanation struct {
	What    string
	Verdict Verdict
	Says    string
}

// What an empty reel weighs, g; common practice, no source.
const reelLow, reelHigh = 100, 300

// mostFailed is the largest part of what was counted that failed prints may come to; judgement.
const mostFailed = 0.5

// explanations checks the usual explanations one by one, against the gap between in and out as read
// and against the spools where they were weighed.
func (s *sheet) explanations(w Where) []Explanation {
	if !s.made {
		return nil
	}
	return []Explanation{s.booked(), s.rods(w), s.reelsForgotten(), s.thrownEarly(w), s.failedPrints(w)}
}

// open reports a gap beyond two standard deviations: positive where less went out than came in.
func (w Where) open() (gap float64, ok bool) {
	if w.Gap == nil {
		return 0, false
	}
	return *w.Gap, math.Abs(*w.Gap) > 2*w.GapSD
}

// spoolGap is how much more the spools of material i gave than the counters book under it, and its
// doubt; false where one of the two is missing.
func (s *sheet) spoolGap(i int) (gap, sd float64, ok bool) {
	v := 0.0
	for _, f := range s.flows {
		if f.kind == InSpool && f.material == plain && s.index(s.spoolOf[f.name]) == i && f.measured != nil {
			gap += *f.measured
			v += s.p.Readings[f.reading].Variance()
			ok = true
		}
	}
	counted := false
	common := make([]float64, len(s.p.Influences))
	for _, r := range s.printed {
		if r.counter < 0 || s.index(r.booked) != i {
			continue
		}
		x := s.p.Readings[r.reading]
		gap -= x.Value
		v += x.SD * x.SD
		for _, sh := range x.Shared {
			common[sh.Influence] += sh.Size
		}
		counted = true
	}
	for _, x := range common {
		v += x * x
	}
	for _, f := range s.flows {
		if f.kind == IsHardware && s.isReel(f) && s.index(s.spoolOf[strings.TrimPrefix(f.name, "reels of ")]) == i {
			v += s.p.Readings[f.reading].Variance()
		}
	}
	return gap, math.Sqrt(v), ok && counted
}

// booked: support material booked under the main one. The total stays right, so it shows only where
// the spools of a material were weighed as well.
func (s *sheet) booked() Explanation {
	e := Explanation{What: "support material booked as the main one", Verdict: NotTold,
		Says: "it leaves the total as it is: only a weighing of the spools of each material can show it"}
	for i, m := range s.materials {
		gap, sd, ok := s.spoolGap(i)
		if !ok {
			continue
		}
		if gap < -2*sd {
			return Explanation{e.What, Fits, fmt.Sprintf("the spools of %s gave %s less than was booked under it (± %s): so much was of another material", m, grams(-gap), rounded(sd))}
		}
		e.Verdict = NotNeeded
		e.Says = fmt.Sprintf("the spools of %s gave what was booked under it, within ± %s", m, rounded(2*sd))
	}
	return e
}

// rods: metal and glue in what was kept make "out" too heavy.
func (s *sheet) rods(w Where) Explanation {
	e := Explanation{What: "rods, magnets or glue counted as plastic"}
	gap, open := w.open()
	kept, said := 0.0, true
	for _, k := range s.bin.Kept {
		kept += float64(k.Mass.Value)
		said = said && k.Hardware.Given()
	}
	switch {
	case w.Gap == nil:
		e.Verdict, e.Says = NotTold, "not everything was weighed"
	case !open:
		e.Verdict, e.Says = NotNeeded, fmt.Sprintf("in and out agree within ± %s", rounded(2*w.GapSD))
	case gap > 0:
		e.Verdict, e.Says = FitsNot, "less went out than came in, and rods would make it more"
	case -gap > 0.5*kept:
		e.Verdict, e.Says = FitsNot, fmt.Sprintf("%s of metal would have to be in %s of good parts", grams(-gap), grams(kept))
	default:
		e.Verdict, e.Says = Fits, fmt.Sprintf("if %s more of what was kept is metal or glue", grams(-gap))
		if !said {
			e.Says += "; nothing is written of it so far"
		}
	}
	return e
}

// reelsForgotten: empty reels gone between two weighings of the stock count as filament used.
func (s *sheet) reelsForgotten() Explanation {
	e := Explanation{What: "empty reels counted as filament", Verdict: NotTold, Says: "no spools were weighed"}
	for i, m := range s.materials {
		gap, sd, ok := s.spoolGap(i)
		if !ok {
			continue
		}
		if gap <= 2*sd {
			e.Verdict, e.Says = NotNeeded, fmt.Sprintf("the spools of %s gave no more than the counters say", m)
			continue
		}
		least, most := math.Ceil(gap/reelHigh), math.Floor(gap/reelLow)
		return Explanation{e.What, Fits, fmt.Sprintf("the spools of %s gave %s more than was counted: as %.0f to %.0f empty reels would weigh", m, grams(gap), least, math.Max(least, most))}
	}
	return e
}

// thrownEarly: scrap that never reached the bin makes "out" too light.
func (s *sheet) thrownEarly(w Where) Explanation {
	e := Explanation{What: "scrap thrown out before it reached the bin"}
	gap, open := w.open()
	switch {
	case w.Gap == nil:
		e.Verdict, e.Says = NotTold, "not everything was weighed"
	case !open:
		e.Verdict, e.Says = NotNeeded, fmt.Sprintf("in and out agree within ± %s", rounded(2*w.GapSD))
	case gap < 0:
		e.Verdict, e.Says = FitsNot, "more went out than came in, and scrap thrown out would make it more still"
	default:
		e.Verdict, e.Says = Fits, fmt.Sprintf("if %s more than is written were thrown out", grams(gap))
	}
	return e
}

// failedPrints: counters that leave failed prints out count too little; job lists that book a failed
// job in full count too much.
func (s *sheet) failedPrints(w Where) Explanation {
	e := Explanation{What: "failed prints"}
	gap, open := w.open()
	failed, counted := 0.0, 0.0
	for _, r := range s.printed {
		failed += r.failed
		if r.reading >= 0 {
			counted += s.p.Readings[r.reading].Value
		}
	}
	switch {
	case w.Gap == nil:
		e.Verdict, e.Says = NotTold, "not everything was weighed"
	case !open:
		e.Verdict, e.Says = NotNeeded, fmt.Sprintf("in and out agree within ± %s", rounded(2*w.GapSD))
	case gap > 0 && failed > 0:
		e.Verdict, e.Says = Fits, fmt.Sprintf("the job lists book %s for failed jobs; those that stopped early used less", grams(failed))
		if failed+2*w.GapSD < gap {
			e.Verdict, e.Says = FitsNot, fmt.Sprintf("the job lists book %s for failed jobs, which is less than the gap", grams(failed))
		}
	case gap > 0:
		e.Verdict, e.Says = FitsNot, "less went out than came in, and prints left out of the count would make the gap wider"
	case -gap > mostFailed*counted:
		e.Verdict, e.Says = FitsNot, fmt.Sprintf("%s would have to be missing from a count of %s; rather a machine or a spool is not in the file", grams(-gap), grams(counted))
	default:
		e.Verdict, e.Says = Fits, fmt.Sprintf("if the counters leave out failed prints of %s, %.0f %% of what they count", grams(-gap), -100*gap/math.Max(1, counted))
	}
	return e
}

// words says the answer in sentences: does it close, what is odd, what explains it, what to weigh.
func (s *sheet) words(r Result) []string {
	var out []string
	switch {
	case r.PValue == nil:
		out = append(out, "nothing to test: no figure is checked by others")
	case *r.PValue < 1-testLevel:
		out = append(out, fmt.Sprintf("the figures contradict each other: chi-square %.1f at %s, where %.1f is the limit", r.ChiSquare, degrees(r.DoF), chiSquareLimit(testLevel, r.DoF)))
	default:
		out = append(out, fmt.Sprintf("the figures agree within their doubts: chi-square %.1f at %s", r.ChiSquare, degrees(r.DoF)))
	}
	if r.Where.Gap != nil {
		gap, way := *r.Where.Gap, "less"
		if gap < 0 {
			gap, way = -gap, "more"
		}
		out = append(out, fmt.Sprintf("as read, %s %s went out than came in (± %s)", grams(gap), way, rounded(r.Where.GapSD)))
	}
	for _, x := range r.Suspects {
		out = append(out, x.Says)
	}
	if len(r.Suspects) > 0 {
		for _, c := range r.Checks {
			out = append(out, fmt.Sprintf("%s: %s, %s", c.What, c.Verdict, c.Says))
		}
	}
	if x := wasteWords(r.Where.Waste); x != "" {
		out = append(out, x)
	}
	return append(out, nextWords(r.NextWeighing))
}

func degrees(n int) string {
	if n == 1 {
		return "1 degree of freedom"
	}
	return fmt.Sprintf("%d degrees of freedom", n)
}
