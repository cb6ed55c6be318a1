package balance

import (
	"brinecut/polymers/quantity"
)

// addSpools reads weighed stock: an independent count of one material, method.md (B14).
func (s *sheet) addSpools() {
	used := map[int][]Term{}
	for _, sp := range s.bin.Spools {
		i := s.index(sp.Material)
		name := s.named("spool "+string(sp.Material), sp.Line)
		s.spoolOf[name] = sp.Material
		u := s.unknown(name)
		used[i] = append(used[i], Term{u, 1})
		terms := []Term{{u, 1}}
		if sp.ReelsOut.Given() {
			terms = append(terms, Term{s.stuff("reels of "+name, sp.Line, sp.ReelsOut), 1})
			s.reels[len(s.p.Readings)-1] = true
		} else {
			s.assume("no empty reels left between the two weighings of the stock", "[[spool]] reels_out", practice)
		}
		m := s.weighed(sp.Scale, sp.Before, sp.After)
		r := s.read(name, sp.Line, terms, m)
		s.notInLot[r] = true
		v := m.value - float64(sp.ReelsOut.Value)
		s.flows = append(s.flows, flow{name: name, kind: InSpool, line: sp.Line, terms: []Term{{u, 1}}, reading: r, measured: &v})
	}
	for i, m := range s.materials {
		terms, ok := used[i]
		if !ok {
			continue
		}
		if len(s.allPrinted(i)) == 0 {
			s.uncounted("printed from spools of "+string(m), i)
		}
		s.balance("spools of "+string(m), join(terms, negative(s.allPrinted(i))))
	}
}

// uncounted adds an inflow of one material that no counter counts.
func (s *sheet) uncounted(name string, material int) {
	row := printedRow{by: make([]int, len(s.materials)), counter: -1, reading: -1}
	for i := range row.by {
		row.by[i] = -1
	}
	row.by[material] = s.unknown(name)
	s.printed = append(s.printed, row)
}

// stuff adds something that is no plastic of the sheet: reels, rods, magnets.
func (s *sheet) stuff(name string, line int, q quantity.Mass) int {
	u := s.unknown(name)
	r := s.read(name, line, []Term{{u, 1}}, stated(q))
	s.notInLot[r] = true
	v := float64(q.Value)
	s.flows = append(s.flows, flow{name: name, kind: IsHardware, line: line, terms: []Term{{u, 1}}, reading: r, measured: &v})
	return u
}
