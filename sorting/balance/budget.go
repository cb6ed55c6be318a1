package balance

import (
	"math"

	"brinecut/polymers"
	"brinecut/sorting"
)

// Of a wet lot only an upper bound is known; where nothing else speaks of it, this much of its reading
// is taken as water.
const (
	wetWater   = 0.10   // middle of 0 to 20 %, rectangular; common practice, no source
	wetWaterSD = 0.0577 // 0.20/√12, exact
)

// maxSigma is how far above its best value an upper bound on a material's total is set: judgement.
const maxSigma = 3

// budget gives the lots that exist now, and what is known of each material's total from everything but
// the weighings of the bin and its lots: those are in the lots' masses, and would count twice.
func (s *sheet) budget(sol, withWater *Solution) (sorting.Budget, error) {
	var b sorting.Budget
	if s.lots == nil {
		return b, nil
	}
	var now [][]Term
	for _, p := range s.lots.piles {
		if !p.gone {
			b.Lots = append(b.Lots, s.lotNow(p, withWater))
			now = append(now, []Term{{p.now, 1}})
		}
	}
	if r := withWater.correlation(now); r != nil {
		b.Common = lowerOf(r)
	}
	if !s.made {
		return b, nil
	}
	if err := s.totalsFrom(&b, sol); err != nil {
		return b, err
	}
	for _, c := range s.bin.Printed {
		for _, h := range c.Hidden {
			b.Hidden = appendNew(b.Hidden, baseOf(h))
		}
	}
	return b, nil
}

func appendNew(list []polymers.Symbol, m polymers.Symbol) []polymers.Symbol {
	for _, x := range list {
		if x == m {
			return list
		}
	}
	return append(list, m)
}

// assumeWater solves once more with an assumed share of water in wet lots that nothing else determines.
func (s *sheet) assumeWater(sol *Solution) (*Solution, error) {
	p := s.p
	p.Readings = append([]Reading(nil), s.p.Readings...)
	for _, l := range s.lots.piles {
		if l.water < 0 {
			continue
		}
		if e := sol.At([]Term{{l.whole, 1}}); e.Determined {
			continue
		}
		v := s.p.Readings[l.reading].Value
		s.assume("a tenth of a wet lot's mass is water, between none and a fifth", "[[lot]] state (weigh it dry)", practice)
		p.Readings = append(p.Readings, Reading{Name: "water", Terms: []Term{{l.water, 1}}, Value: wetWater * v, SD: wetWaterSD * v})
	}
	if len(p.Readings) == len(s.p.Readings) {
		return sol, nil
	}
	return Reconcile(p)
}

// lotNow is the mass of one lot; where no weighing speaks of it, anything up to the bin is possible.
func (s *sheet) lotNow(p *pile, sol *Solution) sorting.LotMass {
	m := sorting.LotMass{Lot: p.lot, From: p.from, Parts: p.parts, Unsorted: p.unsorted}
	e := sol.Of([]Term{{p.now, 1}})
	if !e.Determined {
		top := s.mostOf(sol)
		s.warn(p.lot.Name, p.lot.Line, "no weighing says how heavy it is", "weigh it")
		m.Mean, m.SD, m.Low, m.High = top/2, top/math.Sqrt(12), 0.05*top, 0.95*top
		return m
	}
	m.Mean, m.SD, m.Low, m.High = math.Max(0, e.Mean), e.SD, math.Max(0, e.Low), math.Max(0, e.High)
	return m
}

// mostOf is a mass that no lot exceeds: the bin where it is known, else the heaviest reading.
func (s *sheet) mostOf(sol *Solution) float64 {
	if s.whole != nil {
		if e := sol.Of(sumOf(s.whole)); e.Determined {
			return e.High
		}
	}
	return s.p.scale()
}

// totalsFrom fills Materials, Mean, Precision and Max, method.md (B16).
func (s *sheet) totalsFrom(b *sorting.Budget, sol *Solution) error {
	inflow, err := reconcileFree(s.p, s.weighingsOfLots())
	if err != nil {
		return err
	}
	var rows []int
	for i, m := range s.materials {
		if m != polymers.Other {
			b.Materials = append(b.Materials, m)
			rows = append(rows, i)
		}
	}
	widen, short := s.disagreement(inflow)
	limited, err := s.withLimits(sol)
	if err != nil {
		return err
	}
	n := len(rows)
	g := &gaussian{mean: make([]float64, n), cov: square(n)}
	combos := make([]combo, n)
	for k, i := range rows {
		h, _ := limited.terms([]Term{{s.whole[i], 1}})
		g.free(k, n, h, limited.r.loose)
		combos[k] = limited.combine(tight(h, limited.r.loose))
		g.mean[k] = combos[k].mean
		b.Max = append(b.Max, s.mostOfMaterial(inflow, sol, i, short))
	}
	for k := range combos {
		for l, x := range limited.across(combos[k], combos) {
			g.cov[k][l] = widen * x
		}
	}
	b.Precision = g.precision()
	b.Mean = g.mean
	return nil
}

// disagreement compares what came in with what the bin weighs. Where they differ by more than their
// doubts, what the weighings say of the materials is taken as so much less sure (the ratio of Birge
// 1932, Phys. Rev. 40:207), and short is how much more the bin holds than can have come in.
func (s *sheet) disagreement(inflow *Solution) (widen, short float64) {
	widen = 1
	if n := inflow.DoF; n > 0 && inflow.FreeChiSquare > chiSquareLimit(testLevel, n) {
		widen = inflow.FreeChiSquare / float64(n)
	}
	if gap, v, ok := s.binAgainstInflow(inflow); ok && gap*gap > v*chiSquareLimit(testLevel, 1) {
		widen, short = math.Max(widen, gap*gap/v), math.Max(0, gap)
	}
	if widen > 1 {
		s.assume("the weighings contradict each other: what they say of the materials counts as much less sure as they disagree", "the figure named as odd", "Birge 1932, Phys. Rev. 40:207")
	}
	return widen, short
}

// binAgainstInflow is what the bin and its lots weigh less what came in, and its variance.
func (s *sheet) binAgainstInflow(inflow *Solution) (gap, variance float64, ok bool) {
	weighed, err := reconcileFree(s.p, s.notInLots())
	if err != nil {
		return 0, 0, false
	}
	all := sumOf(s.whole)
	came, bin := inflow.At(all), weighed.At(all)
	if !came.Determined || !bin.Determined {
		return 0, 0, false
	}
	variance = came.FreeSD*came.FreeSD + bin.FreeSD*bin.FreeSD
	return weighed.free1(all) - inflow.free1(all), variance, variance > 0
}

// notInLots marks the readings that weigh neither the bin nor a lot.
func (s *sheet) notInLots() []bool {
	skip := make([]bool, len(s.p.Readings))
	for i := range skip {
		skip[i] = s.notInLot[i] && !s.inBin[i]
	}
	return skip
}

// weighingsOfLots marks the readings of the bin, its lots and bags.
func (s *sheet) weighingsOfLots() []bool {
	skip := make([]bool, len(s.p.Readings))
	for i := range skip {
		skip[i] = !s.notInLot[i]
	}
	return skip
}

// withLimits solves without the weighings of lots, with the limits of what is undetermined.
func (s *sheet) withLimits(sol *Solution) (*Solution, error) {
	p := s.p
	limits := s.flatParts(sol)
	p.Readings = append(append([]Reading(nil), p.Readings...), limits...)
	return reconcileFree(p, append(s.weighingsOfLots(), make([]bool, len(limits))...))
}

// mostOfMaterial bounds a material by what came in of it, with what came in uncounted, and by what the
// bin weighs, each at three standard deviations.
func (s *sheet) mostOfMaterial(inflow, sol *Solution, i int, short float64) float64 {
	most := math.Inf(1)
	in := s.allPrinted(i)
	if s.opening != nil {
		in = append(in, sumOf(s.opening)...)
	}
	if e := inflow.At(in); e.Determined && len(in) > 0 {
		most = e.Value + maxSigma*e.FreeSD + short
	}
	if e := sol.At(sumOf(s.whole)); e.Determined {
		most = math.Min(most, e.Value+maxSigma*e.FreeSD)
	}
	return math.Max(0, most)
}
