package sorting

import (
	"slices"

	"brinecut/polymers"
)

// Lot finds a lot by name among the [[lot]] tables, the sides of splits and the merges. A side takes
// what it does not say itself from the lot it came from; a merge takes the weakest origin, the wettest
// state and everything that any of its parts could be.
func (b *Bin) Lot(name string) (Lot, bool) { return b.lot(name, 0) }

// maxDepth of splits and merges that are followed; binfile refuses circles; judgement.
const maxDepth = 200

func (b *Bin) lot(name string, depth int) (Lot, bool) {
	if depth > maxDepth {
		return Lot{}, false
	}
	for _, l := range b.Lots {
		if l.Name == name {
			return l, true
		}
	}
	for _, s := range b.Splits {
		for _, side := range s.Into {
			if side.Name == name {
				parent, _ := b.lot(s.Lot, depth+1)
				return inherit(side.Lot, parent), true
			}
		}
	}
	for _, m := range b.Merges {
		if m.Into == name {
			return b.merged(m, depth), true
		}
	}
	return Lot{}, false
}

// inherit fills what a side of a split leaves unsaid. Origin is never better than the parent's.
func inherit(side, parent Lot) Lot {
	if len(side.CouldBe) == 0 {
		side.CouldBe = slices.Clone(parent.CouldBe)
	}
	if !side.PrepGiven {
		side.Prep = parent.Prep
	}
	if !side.OriginGiven || weaker(parent.Origin, side.Origin) {
		side.Origin, side.OriginGiven = parent.Origin, parent.OriginGiven
	}
	if side.Colour == "" {
		side.Colour = parent.Colour
	}
	if side.Form == "" {
		side.Form = parent.Form
	}
	if side.Heats == 0 {
		side.Heats = parent.Heats
	}
	if len(side.Additives) == 0 {
		side.Additives = slices.Clone(parent.Additives)
	}
	return side
}

func (b *Bin) merged(m Merge, depth int) Lot {
	out := Lot{Line: m.Line, Name: m.Into, State: Dry, Prep: Flake, Origin: OwnPrint, OriginGiven: true}
	allSay := true // an empty could_be leaves the merge open
	for _, n := range m.From {
		p, ok := b.lot(n, depth+1)
		if !ok {
			continue
		}
		out.Origin = WeakestOrigin(out.Origin, p.Origin)
		out.OriginGiven = out.OriginGiven && p.OriginGiven
		out.State, out.Prep = Wettest(out.State, p.State), Airiest(out.Prep, p.Prep)
		out.Pieces += p.Pieces
		out.Heats = max(out.Heats, p.Heats)
		allSay = allSay && len(p.CouldBe) > 0
		out.CouldBe = union(out.CouldBe, p.CouldBe)
		out.Additives = union(out.Additives, p.Additives)
		out.Colour = joinWord(out.Colour, p.Colour)
		out.Form = joinWord(out.Form, p.Form)
		if p.Mixed != nil && *p.Mixed {
			out.Mixed = p.Mixed
		}
	}
	if !allSay && !bars(out.CouldBe) {
		out.CouldBe = nil
	}
	return out
}

// bars reports whether a list names a hard stop, which no later silence lifts.
func bars(list []polymers.Symbol) bool {
	return slices.ContainsFunc(list, func(s polymers.Symbol) bool {
		m, ok := polymers.Find(s)
		return ok && m.NeverHeat
	})
}

// weaker reports whether origin a gives less ground for heat than b.
func weaker(a, b Origin) bool { return rank(a) > rank(b) }

func rank(o Origin) int {
	switch o {
	case OwnPrint:
		return 0
	case Moulded:
		return 1
	}
	return 2
}

// WeakestOrigin of two gives the one with less ground for heat.
func WeakestOrigin(a, b Origin) Origin {
	if weaker(b, a) {
		return b
	}
	return a
}

// Wettest of two states.
func Wettest(a, b State) State {
	order := []State{Dry, SurfaceDry, Wet}
	return order[max(slices.Index(order, a), slices.Index(order, b), 0)]
}

// Airiest of two preparations: the one that leaves more air in a piece.
func Airiest(a, b Prep) Prep {
	order := []Prep{Flake, Cut, AsIs}
	return order[max(slices.Index(order, a), slices.Index(order, b), 0)]
}

func union[T comparable](a, b []T) []T {
	for _, x := range b {
		if !slices.Contains(a, x) {
			a = append(a, x)
		}
	}
	return a
}

func joinWord(a, b string) string {
	if a == "" || a == b {
		return b
	}
	if b == "" {
		return a
	}
	return a + ", " + b
}

// Parents gives the lots that the named one came from: one for the side of a split, several for a
// merge, none for a [[lot]].
func (b *Bin) Parents(name string) []string {
	for _, s := range b.Splits {
		for _, side := range s.Into {
			if side.Name == name {
				return []string{s.Lot}
			}
		}
	}
	for _, m := range b.Merges {
		if m.Into == name {
			return m.From
		}
	}
	return nil
}

// SplitOf gives the split that made the named side, and the side.
func (b *Bin) SplitOf(name string) (Split, Side, bool) {
	for _, s := range b.Splits {
		for _, side := range s.Into {
			if side.Name == name {
				return s, side, true
			}
		}
	}
	return Split{}, Side{}, false
}

// BathOf gives the bath of that name.
func (b *Bin) BathOf(name string) (Bath, bool) {
	for _, x := range b.Baths {
		if x.Name == name {
			return x, true
		}
	}
	return Bath{}, false
}
