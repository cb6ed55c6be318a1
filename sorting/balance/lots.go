package balance

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// unsortedLot is the name of the part of the bin that no lot covers.
const unsortedLot = "unsorted"

// pile is one lot in the flow sheet: what it was, what was taken out of it, what is left.
type pile struct {
	lot      sorting.Lot
	whole    int // unknown: its mass when it came about
	now      int // unknown: its mass after what was taken, before it was split or merged
	reading  int // -1 where not weighed
	water    int // unknown beside it in a wet reading; -1
	gone     bool
	from     string
	parts    []string
	unsorted bool
}

// lotSheet holds all lots there ever were.
type lotSheet struct {
	piles []*pile
	find  map[string]*pile
}

func (l *lotSheet) add(p *pile) *pile {
	l.piles = append(l.piles, p)
	l.find[p.lot.Name] = p
	return p
}

// addLots adds every lot, side and merge, and ties the first ones to the bin.
func (s *sheet) addLots() {
	s.lots = &lotSheet{find: map[string]*pile{}}
	for _, l := range s.bin.Lots {
		s.addPile(l)
	}
	s.coverBin()
	done := map[int]bool{}
	for _, line := range s.flowLines() {
		for i, sp := range s.bin.Splits {
			if sp.Line == line && !done[i] {
				done[i] = true
				s.addSplit(sp)
			}
		}
		for _, m := range s.bin.Merges {
			if m.Line == line && s.lots.find[m.Into] == nil {
				s.addMerge(m)
			}
		}
	}
}

// addPile adds a lot with its weighing, and what was taken out of it.
func (s *sheet) addPile(l sorting.Lot) *pile {
	name := s.named(l.Name, l.Line)
	p := s.lots.add(&pile{lot: l, reading: -1, water: -1})
	p.whole = s.unknown(name)
	f := flow{name: name, kind: IsLot, line: l.Line, terms: []Term{{p.whole, 1}}, reading: -1}
	if m, ok := s.lotMass(l); ok {
		f.measured = &m.value
		p.reading = s.weighLot(p, name, m)
		f.reading = p.reading
	}
	s.flows = append(s.flows, f)
	s.takeFrom(p, name)
	return p
}

// weighLot reads a lot. A wet lot weighs its water too, of which nothing is known: the reading is an
// upper bound.
func (s *sheet) weighLot(p *pile, name string, m measurement) int {
	terms := []Term{{p.whole, 1}}
	if p.lot.State == sorting.Wet {
		p.water = s.unknown("water in " + name)
		terms = append(terms, Term{p.water, 1})
	}
	return s.read(name, p.lot.Line, terms, m)
}

// surfaceWater is what may cling to a lot that is only dry to the touch, as a share of its mass (common practice, no source).
const surfaceWater = 0.01

// lotMass is a lot's weighing; false where it was not weighed.
func (s *sheet) lotMass(l sorting.Lot) (m measurement, ok bool) {
	var near sorting.ScaleRef
	if f := s.bin.Floor; f != nil {
		near = f.Scale
	}
	switch {
	case l.Mass.Given():
		m = s.weighedNear(l.Scale, near, l.Mass)
	case l.Gross.Given():
		m = s.weighedNear(l.Scale, near, l.Gross, l.Tare)
	default:
		return m, false
	}
	if l.State == sorting.SurfaceDry {
		s.assume("a lot that is only surface-dry is weighed to 1 % (one standard deviation)", "[[lot]] state", practice)
		m.sd = math.Hypot(m.sd, surfaceWater*m.value)
	}
	return m, true
}

// takeFrom subtracts what was pressed, given away or used up in tests.
func (s *sheet) takeFrom(p *pile, name string) {
	p.now = p.whole
	out := []Term{{p.whole, 1}}
	for _, t := range s.bin.Taken {
		if t.Lot != p.lot.Name {
			continue
		}
		label := "taken from " + name
		if t.For != "" {
			label += " for " + t.For
		}
		out = append(out, Term{s.leaving(s.named(label, t.Line), OutTaken, t.Line, t.Mass), -1})
	}
	used := 0.0
	for _, o := range s.bin.Tests {
		if o.Lot == p.lot.Name && o.UsedUp.Given() {
			used += float64(o.UsedUp.Value)
		}
	}
	if used > 0 {
		q := quantity.Mass{Value: quantity.Gram(used), SD: quantity.Gram(used / 10), Shape: quantity.Normal, Text: "sum"}
		out = append(out, Term{s.leaving("used up in tests of "+name, OutTaken, p.lot.Line, q), -1})
	}
	if len(out) > 1 {
		p.now = s.unknown(name + ", what is left")
		s.balance("taken from "+name, append(out, Term{p.now, -1}))
		s.flows = append(s.flows, flow{name: name + ", what is left", kind: IsLot, line: p.lot.Line, terms: []Term{{p.now, 1}}, reading: -1})
	}
}

// leaving adds a stream out that was stated or weighed by itself.
func (s *sheet) leaving(name string, kind Kind, line int, q quantity.Mass) int {
	u := s.unknown(name)
	m := stated(q)
	r := s.read(name, line, []Term{{u, 1}}, m)
	s.flows = append(s.flows, flow{name: name, kind: kind, line: line, terms: []Term{{u, 1}}, reading: r, measured: &m.value})
	return u
}

// coverBin ties the lots to the bin: together they are the bin, with a lot "unsorted" where they leave
// out more than their doubt explains.
func (s *sheet) coverBin() {
	first := append([]*pile(nil), s.lots.piles...)
	switch {
	case s.whole == nil && len(first) == 0:
		return
	case s.whole == nil:
		return
	case len(first) == 0 || s.leavesSome(first):
		p := s.addPile(sorting.Lot{Name: unsortedLot, State: sorting.Dry, Prep: sorting.AsIs, Origin: s.origin(), OriginGiven: s.originGiven()})
		p.unsorted = true
		first = append(first, p)
	}
	terms := negative(sumOf(s.whole))
	for _, p := range first {
		terms = append(terms, Term{p.whole, 1})
	}
	s.balance("lots of the bin", terms)
}

func (s *sheet) origin() sorting.Origin {
	if f := s.bin.Floor; f != nil && f.Origin != "" {
		return f.Origin
	}
	return sorting.UnknownOrigin
}

func (s *sheet) originGiven() bool { return s.bin.Floor != nil && s.bin.Floor.OriginGiven }

// leavesSome reports whether the weighed lots leave part of the bin uncovered: by more than two
// standard deviations and the scale's step, or because the file itself speaks of that part.
func (s *sheet) leavesSome(first []*pile) bool {
	f := s.bin.Floor
	if f == nil {
		return false
	}
	if s.speaksOf(unsortedLot) {
		return true
	}
	bin := s.weighed(f.Scale, f.Gross, f.Tare)
	hw := stated(f.Hardware)
	left, v := bin.value-hw.value, bin.sd*bin.sd+hw.sd*hw.sd
	for _, p := range first {
		m, ok := s.lotMass(p.lot)
		if !ok {
			s.assume(fmt.Sprintf("lot %q, which has no mass, and the others are the whole bin", p.lot.Name), "[[lot]] mass", practice)
			return false
		}
		left -= m.value
		v += m.sd * m.sd
	}
	step, _, _ := s.scaleOf(f.Scale)
	return left > max(2*math.Sqrt(v), step)
}

func (s *sheet) speaksOf(lot string) bool {
	for _, o := range s.bin.Tests {
		if o.Lot == lot {
			return true
		}
	}
	for _, x := range s.bin.Splits {
		if x.Lot == lot {
			return true
		}
	}
	for _, x := range s.bin.Taken {
		if x.Lot == lot {
			return true
		}
	}
	for _, m := range s.bin.Merges {
		for _, f := range m.From {
			if f == lot {
				return true
			}
		}
	}
	return false
}
