package balance

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// addKept adds what left as good parts. Where nothing is written of it and something was printed, it
// is a stream that nobody weighed.
func (s *sheet) addKept() {
	for _, k := range s.bin.Kept {
		name := k.What
		if name == "" {
			name = "kept"
		}
		name = s.named(name, k.Line)
		for _, m := range k.Materials {
			if s.made && !s.comesIn(m) {
				s.warn(name, k.Line, fmt.Sprintf("%q is said to be of %s, which no counter books: how much of it was printed is unknown", name, m), "add a [[printed]] table for it")
				s.uncounted("printed, not counted: "+string(m), s.index(m))
			}
		}
		by := s.unknowns(name, s.couldLeave(k.Materials))
		s.kept = append(s.kept, by)
		terms := sumOf(by)
		if k.Hardware.Given() {
			terms = append(terms, Term{s.stuff("hardware in "+name, k.Line, k.Hardware), 1})
		} else {
			s.assume("no rods, magnets or glue in what was kept", "[[kept]] hardware", practice)
		}
		m := s.weighed(k.Scale, k.Mass)
		r := s.read(name, k.Line, terms, m)
		s.notInLot[r] = true
		v := m.value - float64(k.Hardware.Value)
		s.report(flow{name: name, kind: OutKept, line: k.Line, reading: r, measured: &v}, by)
	}
	if len(s.bin.Kept) == 0 && s.made {
		name := s.named("kept", 0)
		by := s.unknowns(name, s.couldLeave(nil))
		s.kept = append(s.kept, by)
		s.report(flow{name: name, kind: OutKept, reading: -1}, by)
	}
}

// couldLeave are the materials that something made in this build can be of: those named, or all that
// were printed. Scrap of earlier builds went into nothing.
func (s *sheet) couldLeave(named []polymers.Symbol) []polymers.Symbol {
	switch {
	case !s.made:
		return nil
	case len(named) > 0:
		return named
	}
	var out []polymers.Symbol
	for _, m := range s.materials {
		if s.comesIn(m) {
			out = append(out, m)
		}
	}
	return out
}

func (s *sheet) comesIn(m polymers.Symbol) bool { return len(s.allPrinted(s.index(m))) > 0 }

func (s *sheet) addThrown() {
	for _, t := range s.bin.Thrown {
		name := t.What
		if name == "" {
			name = "thrown"
		}
		name = s.named(name, t.Line)
		by := s.unknowns(name, s.couldLeave(nil))
		m := stated(t.Mass)
		r := s.read(name, t.Line, sumOf(by), m)
		s.notInLot[r] = true
		s.thrown = append(s.thrown, by)
		s.report(flow{name: name, kind: OutThrown, line: t.Line, reading: r, measured: &m.value}, by)
	}
	if len(s.bin.Thrown) == 0 && s.made {
		s.assume("nothing was thrown out before it reached the bin", "[[thrown]] mass", practice)
	}
}

// addBin adds the bin and closes the balance of each material, method.md (B10): what was printed was
// kept, thrown out or is scrap of this build; that and the scrap of earlier builds are the bin.
func (s *sheet) addBin() {
	s.whole = s.unknowns("bin", nil)
	f := s.bin.Floor
	if f != nil {
		s.weighBin(f)
	} else {
		s.report(flow{name: s.named("bin", 0), kind: IsBin, reading: -1}, s.whole)
	}
	if !s.made {
		return
	}
	for i, m := range s.materials {
		scrap := s.whole[i]
		if s.opening != nil {
			scrap = s.unknown("scrap of this build")
			s.balance("bin of "+string(m), []Term{{scrap, 1}, {s.opening[i], 1}, {s.whole[i], -1}})
		}
		out := []Term{{scrap, -1}}
		for _, rows := range [][][]int{s.kept, s.thrown} {
			for _, by := range rows {
				if by[i] >= 0 {
					out = append(out, Term{by[i], -1})
				}
			}
		}
		s.balance("balance of "+string(m), join(s.allPrinted(i), out))
	}
}

func (s *sheet) weighBin(f *sorting.Floor) {
	terms := sumOf(s.whole)
	hardware := f.Hardware
	if hardware.Value > 0 {
		terms = append(terms, Term{s.stuff("hardware in the bin", f.Line, hardware), 1})
		s.inBin[len(s.p.Readings)-1] = true
	}
	m := s.weighed(f.Scale, f.Gross, f.Tare)
	r := s.read("bin", f.Line, terms, m)
	s.binReading = r
	v := m.value - float64(hardware.Value)
	s.report(flow{name: s.named("bin", f.Line), kind: IsBin, line: f.Line, reading: r, measured: &v}, s.whole)
	s.addOpening(f)
}

func (s *sheet) addOpening(f *sorting.Floor) {
	if !s.made {
		return
	}
	if f.Opening.Value <= 0 {
		if !f.Opening.Given() {
			s.assume("no scrap of earlier builds was in the bin", "[bin] opening", practice)
		}
		return
	}
	s.opening = s.unknowns("opening", nil)
	m := stated(f.Opening)
	r := s.read("opening", f.Line, sumOf(s.opening), m)
	s.notInLot[r] = true
	s.report(flow{name: s.named("opening", f.Line), kind: InOpening, line: f.Line, reading: r, measured: &m.value}, s.opening)
}

// doubtUncounted speaks of materials the lots may hold and that no counter books.
func (s *sheet) doubtUncounted() {
	if !s.made {
		return
	}
	var missing []string
	note := func(m polymers.Symbol) {
		if s.index(m) < 0 && !slices.Contains(missing, string(m)) {
			missing = append(missing, string(m))
		}
	}
	for _, l := range s.bin.Lots {
		for _, m := range l.CouldBe {
			note(m)
		}
	}
	for _, k := range s.bin.Known {
		note(k.Material)
	}
	if len(missing) > 0 {
		s.assume("none of "+strings.Join(missing, ", ")+" came into the bin, as far as the counters go: no weighing speaks of it", "[[printed]]", "the bin file")
	}
}
