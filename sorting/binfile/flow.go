package binfile

import (
	"fmt"
	"slices"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// step is a split or a merge at its place in the file: the order they were done in.
type step struct {
	t     *table
	split *sorting.Split // or
	merge *sorting.Merge
	from  []cell // the lots it takes
}

func (s *step) did() string {
	if s.split != nil {
		return "split"
	}
	return "merged"
}

var splitKinds = []string{string(sorting.ByHand), string(sorting.BySieve), string(sorting.ByMagnet), string(sorting.ByFloat),
	string(sorting.ByHotWater), string(sorting.BySoak)}

// readFlow reads splits and merges, and follows them in the order of the file: each takes lots that
// stand at that point and makes new ones.
func (r *reader) readFlow() {
	for _, t := range r.top.many("split") {
		r.flow = append(r.flow, r.split(t))
	}
	for _, t := range r.top.many("merge") {
		r.flow = append(r.flow, r.merge(t))
	}
	slices.SortStableFunc(r.flow, func(a, b *step) int { return a.t.at.at - b.t.at.at })
	for _, s := range r.flow {
		r.follow(s)
	}
	for _, s := range r.flow {
		if s.split != nil {
			r.bin.Splits = append(r.bin.Splits, *s.split)
		} else {
			r.bin.Merges = append(r.bin.Merges, *s.merge)
		}
	}
}

func (r *reader) split(t *table) *step {
	s := &step{t: t, split: &sorting.Split{Line: t.line()}}
	if c, ok := t.cell("lot"); ok {
		s.from = []cell{c}
		s.split.Lot = c.name()
	}
	s.split.Kind = sorting.SplitKind(t.choice("kind", splitKinds...))
	s.split.Density, s.split.Bath = density(t, "density"), r.bathRef(t)
	s.split.Temp, s.split.Loss = water(t, "temp"), quant[quantity.Gram](t, "loss")
	sides := t.many("into")
	s.split.Into = make([]sorting.Side, len(sides))
	for i, side := range sides {
		s.split.Into[i] = r.side(side, s.split.Kind)
		r.pile(side, "name", &s.split.Into[i].Lot, s)
	}
	t.must("lot", "kind", "into")
	splitFits(t, s.split.Kind)
	t.done()
	t.atLeast("into", 2, "a split has two sides or more", "write each side, the rest as well")
	return s
}

// splitFits refuses what does not go with the kind of the split, and asks for what it needs.
func splitFits(t *table, kind sorting.SplitKind) {
	takes := map[sorting.SplitKind][]string{sorting.ByFloat: {"density", "bath", "temp"}, sorting.ByHotWater: {"temp"}, sorting.BySoak: {"temp"}}
	if kind == "" {
		return
	}
	for _, key := range []string{"density", "bath", "temp"} {
		if t.has(key) && !slices.Contains(takes[kind], key) {
			t.refuse(key, fmt.Sprintf("this does not go with a split by %s", kind), "leave it out")
		}
	}
	switch kind {
	case sorting.ByFloat:
		t.oneLiquid()
	case sorting.ByHotWater:
		t.need(`"temp" is missing`, `write the temperature of the water: temp = "63 °C"`, "temp")
	}
}

// oneLiquid asks for the density of a bath, or its name, and refuses both.
func (t *table) oneLiquid() {
	t.need(`neither "density" nor "bath" is there`, `write density = "1.150 g/cm3", or the name of a [[bath]]`, "density", "bath")
	if t.has("density") && t.has("bath") {
		t.refuse("density", "a bath and a density are both given", "leave the density out: the bath has its own")
	}
}

func (r *reader) side(t *table, kind sorting.SplitKind) sorting.Side {
	s := sorting.Side{Lot: r.lot(t)}
	test, isTest := cues.Find(cues.Kind(kind))
	if isTest {
		s.Outcome = t.choice("outcome", outcomes(test)...)
		t.must("outcome")
	} else {
		s.Outcome = t.text("outcome")
	}
	t.must("name")
	t.done()
	return s
}

// outcomes of a kind, with the one that each kind has.
func outcomes(test cues.Test) []string { return append(slices.Clone(test.Outcomes), cues.Unclear) }

func (r *reader) merge(t *table) *step {
	s := &step{t: t, merge: &sorting.Merge{Line: t.line()}}
	s.from = t.each("from")
	for _, c := range s.from {
		name := c.name()
		if name != "" && slices.Contains(s.merge.From, name) {
			c.refuse("this lot is in the list already", "name it once")
			continue
		}
		s.merge.From = append(s.merge.From, name)
	}
	s.merge.Into = t.name("into")
	t.must("from", "into")
	t.done()
	t.atLeast("from", 2, "a merge takes two lots or more", "name all the lots that were put together")
	s.merge.Lot.Name, s.merge.Lot.Line = s.merge.Into, s.merge.Line
	if s.merge.Into == Unsorted {
		t.refuse("into", `"unsorted" is the part of the bin that no lot covers`, "give the merged lot another name")
		s.merge.Lot.Name = ""
	}
	r.pile(t, "into", &s.merge.Lot, s)
	return s
}

// follow takes the lots of a step and lets what it makes take after them.
func (r *reader) follow(s *step) {
	var parents []*sorting.Lot
	seen := map[string]bool{}
	for _, c := range s.from {
		name, _ := c.v.(string)
		if name == "" || seen[name] {
			continue
		}
		seen[name] = true
		if p := r.take(s, c, name); p != nil {
			parents = append(parents, p.lot)
		}
	}
	if s.merge != nil {
		takeAfter(&s.merge.Lot, parents)
		return
	}
	for i := range s.split.Into {
		side := &s.split.Into[i]
		if side.Origin == sorting.OwnPrint && s.split.Kind != sorting.ByHand && !allOwn(parents) {
			r.fault(Fault{Line: side.Line, Key: "[[split]] into.origin", Read: string(side.Origin),
				Wrong: "no bath or tool tells where a piece comes from", Right: "say the origin on the lot that was split, or sort by hand"})
		}
		takeAfter(&side.Lot, parents)
	}
}

func allOwn(lots []*sorting.Lot) bool {
	return !slices.ContainsFunc(lots, func(l *sorting.Lot) bool { return l.Origin != sorting.OwnPrint })
}

// take marks a lot as used up by a step, and refuses one that is not there at that point.
func (r *reader) take(s *step, c cell, name string) *pile {
	p := r.piles[name]
	switch {
	case p == nil && name == Unsorted && r.bin.Floor != nil:
		c.refuse(`"unsorted" is what no lot covers, and cannot be `+s.did(), "write it as a [[lot]] first")
	case p == nil:
		c.noSuch("lot", "lot", name, r.pileNames(s.t.at.at))
	case p.made != nil && p.made.t.at.at >= s.t.at.at:
		c.refuse(fmt.Sprintf("this lot is made only on line %d", p.line()), "write the steps in the order they were done")
	case p.used != nil:
		c.refuse(fmt.Sprintf("this lot is gone: it was %s on line %d", p.used.did(), p.used.t.line()), "name the lots it became")
	default:
		p.used = s
		return p
	}
	return nil
}
