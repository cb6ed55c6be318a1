package balance

import (
	"math"

	"brinecut/sorting"
)

// flowLines are the lines of splits and merges in file order.
func (s *sheet) flowLines() []int {
	var out []int
	i, j := 0, 0
	for i < len(s.bin.Splits) || j < len(s.bin.Merges) {
		if j == len(s.bin.Merges) || i < len(s.bin.Splits) && s.bin.Splits[i].Line <= s.bin.Merges[j].Line {
			out = append(out, s.bin.Splits[i].Line)
			i++
			continue
		}
		out = append(out, s.bin.Merges[j].Line)
		j++
	}
	return out
}

// addSplit parts a lot into its sides, with what was lost on the way.
func (s *sheet) addSplit(sp sorting.Split) {
	p := s.lots.find[sp.Lot]
	if p == nil {
		return
	}
	p.gone = true
	terms := []Term{{p.now, 1}}
	for _, side := range sp.Into {
		q := s.addPile(side.Lot)
		q.from = sp.Lot
		terms = append(terms, Term{q.whole, -1})
	}
	name := s.named("lost in splitting "+sp.Lot, sp.Line)
	switch {
	case sp.Loss.Given():
		terms = append(terms, Term{s.leaving(name, OutLoss, sp.Line, sp.Loss), -1})
	case s.losesSome(p, sp):
		u := s.unknown(name)
		s.flows = append(s.flows, flow{name: name, kind: OutLoss, line: sp.Line, terms: []Term{{u, 1}}, reading: -1})
		terms = append(terms, Term{u, -1})
		s.warn(sp.Lot, sp.Line, "its sides weigh less than it did: the rest is taken as lost on the way", `say so: loss = "…" beside into`)
	default:
		s.assume("nothing was lost in splitting a lot", "[[split]] loss", practice)
	}
	s.balance("split of "+sp.Lot, terms)
}

// losesSome reports whether all was weighed, dry, and the sides are lighter by more than doubt explains.
func (s *sheet) losesSome(p *pile, sp sorting.Split) bool {
	m, ok := s.lotMass(p.lot)
	if !ok || p.lot.State == sorting.Wet {
		return false
	}
	left, v := m.value, m.sd*m.sd
	for _, t := range s.bin.Taken {
		if t.Lot == sp.Lot {
			left -= float64(t.Mass.Value)
			v += stated(t.Mass).sd * stated(t.Mass).sd
		}
	}
	for _, side := range sp.Into {
		q, ok := s.lotMass(side.Lot)
		if !ok || side.State == sorting.Wet {
			return false
		}
		left -= q.value
		v += q.sd * q.sd
	}
	return left > 2*math.Sqrt(v)
}

// addMerge puts lots together; a lot already gone is left out.
func (s *sheet) addMerge(m sorting.Merge) {
	l := m.Lot
	l.Name, l.Line = m.Into, m.Line
	q := s.addPile(l)
	q.parts = m.From
	terms := []Term{{q.whole, -1}}
	for _, name := range m.From {
		if p := s.lots.find[name]; p != nil && !p.gone {
			p.gone = true
			terms = append(terms, Term{p.now, 1})
		}
	}
	s.balance("merge into "+m.Into, terms)
}
