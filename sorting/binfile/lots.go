package binfile

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Unsorted is the name of the part of a bin that no lot covers.
const Unsorted = "unsorted"

func (r *reader) readLots() {
	for _, t := range r.top.many("known") {
		r.bin.Known = append(r.bin.Known, r.known(t))
	}
	for _, t := range r.top.many("lot") {
		l := r.lot(t)
		t.must("name")
		t.done()
		if l.Origin == "" {
			l.Origin, l.OriginGiven = sorting.UnknownOrigin, false
			if r.originGiven {
				l.Origin, l.OriginGiven = r.origin, true
			}
		}
		if l.State == "" {
			l.State = sorting.Dry
		}
		if l.Prep == "" {
			l.Prep = sorting.AsIs
		}
		r.pile(t, "name", &l, nil)
		r.bin.Lots = append(r.bin.Lots, l)
	}
}

func (r *reader) known(t *table) sorting.Known {
	k := sorting.Known{Line: t.line(), Name: t.name("name"), Material: t.material("material"), Spool: t.text("spool"),
		Colour: t.text("colour"), Density: density(t, "density")}
	t.must("name", "material")
	t.done()
	r.unique("known snippet", t, "name", k.Name)
	return k
}

// lot reads the keys that a lot and a side of a split have in common; what is left out stays empty.
func (r *reader) lot(t *table) sorting.Lot {
	l := sorting.Lot{Line: t.line(), Name: t.name("name"), Mass: quant[quantity.Gram](t, "mass")}
	l.Gross, l.Tare = r.grossTare(t)
	l.Scale = r.scaleRef(t)
	l.State = sorting.State(t.choice("state", string(sorting.Dry), string(sorting.SurfaceDry), string(sorting.Wet)))
	l.Pieces = t.whole("pieces", 1)
	l.CouldBe = t.materials("could_be", "leave it out: some mass is always left for others")
	l.Mixed = t.truth("mixed")
	l.Prep = t.prep()
	l.PrepGiven = l.Prep != ""
	l.Origin = sorting.Origin(t.choice("origin", origins...))
	l.OriginGiven = l.Origin != ""
	l.Colour, l.Form = t.text("colour"), t.text("form")
	l.Heats = t.whole("heats", 0)
	l.Additives = t.texts("additives")
	if t.has("mass") && t.has("gross") {
		t.refuse("mass", "a lot has a mass or a gross and a tare, not both", "leave one of the two out")
	}
	if t.has("tare") && !t.has("gross") {
		t.refuse("tare", "a tare is here without its gross", `write both, or mass = "1.82 kg"`)
	}
	if l.Name == Unsorted {
		t.refuse("name", `"unsorted" is the part of the bin that no lot covers`, "give this lot another name")
		l.Name = ""
	}
	return l
}

func (t *table) prep() sorting.Prep {
	return sorting.Prep(t.choice("prep", string(sorting.AsIs), string(sorting.Cut), string(sorting.Flake)))
}

// pile is a lot, a side or a merge, with what became of it.
type pile struct {
	lot  *sorting.Lot
	t    *table // where its name stands
	key  string // of the name
	made *step  // nil for a [[lot]]
	used *step  // the split or merge that took it; nil while it stands
}

// pile keeps the name of a lot, a side or a merge: one name over all of them. It is refused where it
// stands the second time in the file.
func (r *reader) pile(t *table, key string, l *sorting.Lot, made *step) {
	if l.Name == "" {
		r.vague["lot"] = true
		return
	}
	p := &pile{lot: l, t: t, key: key, made: made}
	old := r.piles[l.Name]
	if old == nil {
		r.piles[l.Name] = p
		return
	}
	first, second := old, p
	if t.offset(key) < old.t.offset(old.key) {
		first, second = p, old
	}
	second.t.refuse(second.key, sayTaken("lot", first.line()), "give each lot, side and merge a name of its own")
}

func (p *pile) line() int { return p.t.lineOf(p.key) }

func sayTaken(what string, line int) string {
	return fmt.Sprintf("this %s is there already, on line %d", what, line)
}

// pileNames are the names of all lots, and of the sides and merges made before that place in the file.
// A file with hundreds of faults gets no hints, which would take longer than reading it.
func (r *reader) pileNames(before int) []string {
	if len(r.faults) > 500 {
		return nil
	}
	var names []string
	for _, l := range r.bin.Lots {
		names = append(names, l.Name)
	}
	for _, s := range r.flow {
		if s.t.at.at >= before {
			continue
		}
		if s.merge != nil {
			names = append(names, s.merge.Into)
			continue
		}
		for _, side := range s.split.Into {
			names = append(names, side.Name)
		}
	}
	return names
}

// lotCell refuses the name of a lot that does not exist.
func (c cell) lotName() string {
	name := c.name()
	if name == "" {
		return ""
	}
	if c.t.r.piles[name] == nil {
		c.noSuch("lot", "lot", name, c.t.r.pileNames(math.MaxInt))
		return ""
	}
	return name
}

// noSuch refuses a name that nothing has.
func (c cell) noSuch(what, table, name string, names []string) {
	if c.t.r.vague[what] {
		return
	}
	right := "write it as a [[" + table + "]] first"
	if near := nearest(name, names); near != "" {
		right = "did you mean " + quoted(near) + "?"
	} else if len(names) > 0 && len(names) <= 8 {
		right = "there is " + quotedList(names)
	}
	c.refuse("there is no such "+what, right)
}

func quotedList(names []string) string {
	s := ""
	for i, n := range names {
		if i > 0 {
			s += ", "
		}
		s += quoted(n)
	}
	return s
}
