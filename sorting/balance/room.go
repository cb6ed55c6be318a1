package balance

// flat is how much wider than itself the normal part of a rectangular reading is made where its ends
// are held as bounds: inside them it is then level to 2 % (judgement).
const flat = 10

// makeRoom draws from the truncated distribution. Rectangular readings are level between their ends,
// unless the others push them out of there; where balances and bounds hold masses at zero, so that
// nothing lies inside, those masses are first set to zero for good.
func (s *Solution) makeRoom() {
	s.ranged = s
	tries := []func() (*Solution, bool){s.boxed, func() (*Solution, bool) { return s, true },
		func() (*Solution, bool) { return s.held(forcedZero(s.problem)) },
		func() (*Solution, bool) { return s.held(s.Active) }}
	for _, try := range tries {
		ranged, ok := try()
		if !ok {
			continue
		}
		if f, ok := newFan(ranged); ok {
			s.ranged, s.drawn = ranged, f
			return
		}
		if ranged != s {
			s.ranged = ranged
		}
	}
}

// held is the solution with some unknowns at zero for good.
func (s *Solution) held(zero []int) (*Solution, bool) {
	p := s.problem
	p.Constraints = append([]Constraint(nil), p.Constraints...)
	for _, u := range zero {
		p.Constraints = append(p.Constraints, Constraint{Name: p.Unknowns[u].Name, Terms: []Term{{u, 1}}})
	}
	return bounded(p, nil)
}

// boxed is the solution in which rectangular readings are level between their ends; false where there
// are none, or the others push them all out.
func (s *Solution) boxed() (*Solution, bool) {
	p := s.problem
	p.Readings = append([]Reading(nil), p.Readings...)
	var boxes []int
	for i, r := range p.Readings {
		off := r.Value - s.At(r.Terms).Value
		if r.Half > 0 && r.SD > 0 && len(r.Shared) == 0 && off < r.Half && off > -r.Half {
			p.Readings[i].SD *= flat
			boxes = append(boxes, i)
		}
	}
	if len(boxes) == 0 {
		return nil, false
	}
	return bounded(p, boxes)
}

// bounded solves with bounds, and with the ends of some readings as bounds.
func bounded(p Problem, boxes []int) (*Solution, bool) {
	s, err := reconcileFree(p, nil)
	if err != nil {
		return nil, false
	}
	s.gatherBounds()
	for _, i := range boxes {
		r := p.Readings[i]
		low, high := s.r.asRead[i].times(1), s.r.asRead[i].times(-1)
		low.rhs -= r.Value - r.Half
		high.rhs += r.Value + r.Half
		for _, h := range []vec{low, high} {
			c := s.combine(h)
			s.bounds = append(s.bounds, c)
		}
	}
	return s, s.hold() == nil
}
