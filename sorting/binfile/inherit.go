package binfile

import (
	"slices"

	"brinecut/polymers"
	"brinecut/sorting"
)

// takeAfter fills in what a side or a merged lot does not say of itself from the lots it came from:
// the weakest origin, the preparation with the most air, the most melts, the wettest state of lots put
// together. A side is dry unless it says so, and undecided whether it is mixed.
func takeAfter(l *sorting.Lot, parents []*sorting.Lot) {
	if l.Origin == "" {
		l.Origin, l.OriginGiven = weakest(parents)
	}
	if l.Prep == "" {
		l.Prep, l.PrepGiven = airiest(parents)
	}
	if l.State == "" {
		l.State = sorting.Dry
		if len(parents) > 1 {
			l.State = wettest(parents)
		}
	}
	if l.CouldBe == nil {
		l.CouldBe = together(parents)
	}
	for _, p := range parents {
		l.Heats = max(l.Heats, p.Heats)
		for _, a := range p.Additives {
			if !slices.Contains(l.Additives, a) {
				l.Additives = append(l.Additives, a)
			}
		}
	}
	if len(parents) == 1 && l.Colour == "" {
		l.Colour = parents[0].Colour
	}
	if len(parents) == 1 && l.Form == "" {
		l.Form = parents[0].Form
	}
}

func weakest(lots []*sorting.Lot) (sorting.Origin, bool) {
	origin, given := sorting.OwnPrint, true
	for _, l := range lots {
		given = given && l.OriginGiven
		if l.Origin == sorting.UnknownOrigin || origin == sorting.OwnPrint {
			origin = l.Origin
		}
	}
	if len(lots) == 0 {
		return sorting.UnknownOrigin, false
	}
	return origin, given
}

func airiest(lots []*sorting.Lot) (sorting.Prep, bool) {
	air := []sorting.Prep{sorting.Flake, sorting.Cut, sorting.AsIs} // the most air last
	most, given := 0, len(lots) > 0
	for _, l := range lots {
		most = max(most, slices.Index(air, l.Prep))
		given = given && l.PrepGiven
	}
	if len(lots) == 0 {
		return sorting.AsIs, false
	}
	return air[most], given
}

func wettest(lots []*sorting.Lot) sorting.State {
	wet := []sorting.State{sorting.Dry, sorting.SurfaceDry, sorting.Wet}
	most := 0
	for _, l := range lots {
		most = max(most, slices.Index(wet, l.State))
	}
	return wet[most]
}

// together are the materials that any of the lots could be; none where one of them may be anything.
func together(lots []*sorting.Lot) []polymers.Symbol {
	var all []polymers.Symbol
	for _, l := range lots {
		if l.CouldBe == nil {
			return nil
		}
		for _, m := range l.CouldBe {
			if !slices.Contains(all, m) {
				all = append(all, m)
			}
		}
	}
	return all
}
