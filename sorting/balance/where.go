package balance

import (
	"fmt"
	"math"

	"brinecut/sorting"
)

// Where tells where the material went: what came in, what went out, and what the figures as read leave
// unaccounted for.
type Where struct {
	Rows  []WhereRow
	Gap   *float64       // g: in less out as read, before anything is reconciled; nil where not all was measured
	GapSD float64        // g
	Waste *sorting.Range // share of what was printed that did not become a good part; nil where not known
}

// WhereRow is one line of the table.
type WhereRow struct {
	Side     string // "in", "out" or "lost"
	What     string
	Read     *float64       // g, as read; nil where not measured
	Estimate *sorting.Range // g; nil where undetermined
}

// where fills the table from the streams that cross the border of the build.
func (s *sheet) where(sol *Solution) Where {
	var w Where
	if !s.made {
		return w
	}
	side := map[Kind]string{InPrinted: "in", InOpening: "in", OutKept: "out", IsBin: "out", OutThrown: "lost"}
	for _, f := range s.flows {
		if where := side[f.kind]; where != "" && f.material == plain && !(f.kind == InPrinted && f.reading < 0) {
			w.Rows = append(w.Rows, WhereRow{Side: where, What: f.name, Read: f.measured, Estimate: rangeOf(sol.Of(f.terms))})
		}
	}
	s.gap(&w)
	w.Waste = s.waste(sol)
	return w
}

func rangeOf(e Estimate) *sorting.Range {
	if !e.Determined {
		return nil
	}
	return &sorting.Range{Mean: e.Mean, Low: e.Low, High: e.High}
}

// gap is in less out as read. Counters that a spool counts again enter by the counter.
func (s *sheet) gap(w *Where) {
	sum, own := 0.0, 0.0
	common := make([]float64, len(s.p.Influences))
	add := func(reading int, sign float64) {
		r := s.p.Readings[reading]
		sum += sign * r.Value
		own += r.SD * r.SD
		for _, sh := range r.Shared {
			common[sh.Influence] += sign * sh.Size
		}
	}
	for _, f := range s.flows {
		sign := map[Kind]float64{InPrinted: 1, InOpening: 1, OutKept: -1, IsBin: -1, OutThrown: -1}[f.kind]
		switch {
		case f.kind == IsHardware && !s.isReel(f):
			add(f.reading, 1) // stands in the gross of what was kept, or of the bin
		case sign == 0 || f.material != plain || f.kind == InPrinted && len(f.terms) > 0 && s.isTotal(f):
		case f.reading < 0:
			return
		default:
			add(f.reading, sign)
		}
	}
	for _, x := range common {
		own += x * x
	}
	w.Gap, w.GapSD = &sum, math.Sqrt(own)
}

// isTotal reports whether a stream is the sum of all counters, which stands in none of them.
func (s *sheet) isTotal(f flow) bool {
	return f.reading < 0 && len(s.printed) > 1 && f.name == s.totalName
}

// isReel reports whether hardware is empty reels, which are in no stream of the build.
func (s *sheet) isReel(f flow) bool { return s.reels[f.reading] }

// waste is the share of what was printed that did not become a good part, with its range to first
// order: r = (printed - kept) / printed, method.md (B18).
func (s *sheet) waste(sol *Solution) *sorting.Range {
	var kept []Term
	for _, by := range s.kept {
		kept = append(kept, sumOf(by)...)
	}
	in := s.allPrinted(-1)
	p, k := sol.At(in), sol.At(kept)
	if !p.Determined || !k.Determined || p.Value <= 0 || len(kept) == 0 {
		return nil
	}
	r := 1 - k.Value/p.Value
	slope := join(kept)
	for i := range slope {
		slope[i].Factor = -1
	}
	for _, t := range in {
		slope = append(slope, Term{t.Unknown, k.Value / p.Value})
	}
	sd := sol.At(slope).FreeSD / p.Value
	z := normalQuantile(0.95)
	return &sorting.Range{Mean: r, Low: math.Max(0, r-z*sd), High: math.Min(1, r+z*sd)}
}

// Published or usual shares of waste in builds with much support.
const (
	wasteLow    = 0.10 // common practice, no source
	wasteHigh   = 0.35 // common practice; Song & Telenko 2017 below
	wasteSource = "10 to 35 % is usual for builds with much support (common practice, no source); about 34 % was found in a heavily used open workshop (Song & Telenko 2017, J. Cleaner Production 148:895, from memory)"
)

// wasteWords remarks on a waste share that is far from what is published; empty where it is not.
func wasteWords(r *sorting.Range) string {
	switch {
	case r == nil:
		return ""
	case r.Low > wasteHigh:
		return fmt.Sprintf("%.0f %% of what was printed did not become a good part, which is much: %s", 100*r.Mean, wasteSource)
	case r.High < wasteLow:
		return fmt.Sprintf("only %.0f %% of what was printed did not become a good part, which is little: %s", 100*r.Mean, wasteSource)
	}
	return ""
}
