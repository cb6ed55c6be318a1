package balance

import (
	"fmt"
	"math"
)

// candidate is a weighing that could be made, as a reading.
type candidate struct {
	what  string
	terms []Term
	sd    float64
}

// offers lists the weighings a user could still make.
func (s *sheet) offers(sol *Solution) []candidate {
	out := s.offerStuff()
	out = append(out, s.offerKept(sol)...)
	out = append(out, s.offerSpools()...)
	return append(out, s.offerPiles()...)
}

// offerStuff: reels, rods and magnets, which can be put on a scale by themselves.
func (s *sheet) offerStuff() []candidate {
	var out []candidate
	for _, f := range s.flows {
		if f.kind == IsHardware && f.reading >= 0 && s.p.Readings[f.reading].SD > fineScale {
			out = append(out, candidate{"the " + f.name + ", alone", f.terms, stepDoubt(fineScale)})
		}
	}
	return out
}

// offerKept: what was kept, part by part, where its materials are not known; whole, where it was not
// weighed or only roughly.
func (s *sheet) offerKept(sol *Solution) []candidate {
	var out []candidate
	for _, f := range s.flows {
		if f.kind != OutKept {
			continue
		}
		rough := f.reading < 0 || s.p.Readings[f.reading].SD > 3*fineScale
		switch {
		case f.material == plain && rough:
			out = append(out, candidate{fmt.Sprintf("%q, without rods, magnets and glue", f.name), f.terms, stepDoubt(fineScale)})
		case f.material != plain && !sol.Of(f.terms).Determined:
			out = append(out, candidate{fmt.Sprintf("the parts of %q that are %s", f.name, f.material), f.terms, stepDoubt(fineScale)})
		}
	}
	return out
}

// offerSpools: what is left on the spools of a material, against what they held when new.
func (s *sheet) offerSpools() []candidate {
	var out []candidate
	for i, m := range s.materials {
		terms := s.allPrinted(i)
		weighed := false
		for _, sp := range s.bin.Spools {
			weighed = weighed || s.index(sp.Material) == i
		}
		if weighed || len(terms) == 0 || m == plain {
			continue
		}
		v := 0.0
		for _, r := range s.printed {
			if r.by[i] >= 0 && r.reading >= 0 {
				v += s.p.Readings[r.reading].Value
			}
		}
		out = append(out, candidate{fmt.Sprintf("the spools of %s, against what they held when new", m), terms, newSpoolDoubt*v + stepDoubt(10)})
	}
	return out
}

// offerPiles: lots without a dry weighing, the bin on a finer scale, streams of a user's own sheet.
func (s *sheet) offerPiles() []candidate {
	var out []candidate
	for _, p := range s.lots.piles {
		switch {
		case p.gone:
		case p.reading < 0 && !(p.unsorted && len(s.bin.Lots) == 0):
			out = append(out, candidate{fmt.Sprintf("lot %q", p.lot.Name), []Term{{p.now, 1}}, stepDoubt(fineScale)})
		case p.water >= 0:
			out = append(out, candidate{fmt.Sprintf("lot %q again, dry", p.lot.Name), []Term{{p.now, 1}}, stepDoubt(fineScale)})
		case p.reading >= 0 && s.p.Readings[p.reading].SD > fineScale:
			out = append(out, candidate{fmt.Sprintf("lot %q again, on a scale that shows %s", p.lot.Name, rounded(fineScale)), []Term{{p.whole, 1}}, stepDoubt(fineScale)})
		}
	}
	if s.whole != nil && (s.binReading < 0 || s.p.Readings[s.binReading].SD > fineScale) {
		name := "the bin, empty and full, on a scale that shows " + rounded(fineScale)
		if s.bin.Floor == nil {
			name = "the whole bin"
		}
		out = append(out, candidate{name, sumOf(s.whole), stepDoubt(fineScale) * math.Sqrt2})
	}
	for _, f := range s.flows {
		if f.kind == IsOwn && f.material == plain && f.reading < 0 {
			out = append(out, candidate{fmt.Sprintf("stream %q", f.name), f.terms, stepDoubt(fineScale)})
		}
	}
	return out
}
