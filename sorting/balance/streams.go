package balance

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// Nodes of the built-in sheet that a user's streams may join, beside the lots by their names.
const (
	nodeBin   = "bin"
	nodeBuild = "build"
)

// ownStream is one stream of the user's sheet: its unknowns by material.
type ownStream struct {
	sorting.Stream
	by        []int
	materials []polymers.Symbol
}

// addStreams adds the user's own flow sheet. Each node that something enters and something leaves is
// balanced; one that is only fed keeps what it gets, one that is never fed is a source.
func (s *sheet) addStreams() {
	var all []*ownStream
	for _, part := range s.parts() {
		materials := s.partMaterials(part)
		for _, st := range part {
			all = append(all, s.addStream(st, materials))
		}
	}
	for _, node := range nodesOf(s.bin.Streams) {
		s.addNode(node, all)
	}
}

// parts divides the streams into those that hang together.
func (s *sheet) parts() [][]sorting.Stream {
	group := make([]int, len(s.bin.Streams))
	for i := range group {
		group[i] = i
	}
	for i, a := range s.bin.Streams {
		for j, b := range s.bin.Streams[:i] {
			if touch(a, b) {
				from, to := group[i], group[j]
				for k := range group {
					if group[k] == from {
						group[k] = to
					}
				}
			}
		}
	}
	var out [][]sorting.Stream
	for g := range group {
		var part []sorting.Stream
		for i, st := range s.bin.Streams {
			if group[i] == g {
				part = append(part, st)
			}
		}
		if len(part) > 0 {
			out = append(out, part)
		}
	}
	return out
}

func touch(a, b sorting.Stream) bool {
	for _, x := range []string{a.From, a.To} {
		if x != "" && (x == b.From || x == b.To) {
			return true
		}
	}
	return false
}

// partMaterials are the materials followed in one part of the sheet: those its streams name, and
// "other" where a stream without a name comes in from outside or a source.
func (s *sheet) partMaterials(part []sorting.Stream) []polymers.Symbol {
	var out []polymers.Symbol
	for _, st := range part {
		if m := baseOf(st.Material); m != "" && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	if len(out) == 0 {
		return []polymers.Symbol{plain}
	}
	for _, st := range part {
		if st.Material == "" && (st.From == "" || !enters(part, st.From)) && !slices.Contains(out, polymers.Other) {
			out = append(out, polymers.Other)
		}
	}
	return out
}

func enters(part []sorting.Stream, node string) bool {
	return slices.ContainsFunc(part, func(st sorting.Stream) bool { return st.To == node })
}

func (s *sheet) addStream(st sorting.Stream, materials []polymers.Symbol) *ownStream {
	o := &ownStream{Stream: st, materials: materials, by: make([]int, len(materials))}
	name := s.named(st.Name, st.Line)
	for i, m := range materials {
		o.by[i] = -1
		if st.Material == "" || baseOf(st.Material) == m {
			o.by[i] = s.unknown(name)
		}
	}
	f := flow{name: name, kind: IsOwn, line: st.Line, terms: sumOf(o.by), reading: -1}
	if st.Mass.Given() {
		m := s.weighed(st.Scale, st.Mass)
		f.measured = &m.value
		f.reading = s.read(name, st.Line, f.terms, m)
		s.notInLot[f.reading] = strings.EqualFold(st.From, nodeBuild) || strings.EqualFold(st.To, nodeBuild)
	}
	s.flows = append(s.flows, f)
	for i, u := range o.by {
		if u >= 0 && materials[i] != plain {
			s.flows = append(s.flows, flow{name: name, kind: IsOwn, line: st.Line, material: materials[i], terms: []Term{{u, 1}}, reading: -1})
		}
	}
	return o
}

func nodesOf(streams []sorting.Stream) []string {
	var out []string
	for _, st := range streams {
		for _, n := range []string{st.From, st.To} {
			if n != "" && !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	return out
}

// addNode balances one node of the user's sheet, or joins it to the built-in one.
func (s *sheet) addNode(node string, all []*ownStream) {
	var in, out []*ownStream
	for _, o := range all {
		switch node {
		case o.To:
			in = append(in, o)
		case o.From:
			out = append(out, o)
		}
	}
	if s.joinNode(node, in, out) {
		return
	}
	switch {
	case len(in) == 0:
		s.warn(node, out[0].Line, fmt.Sprintf("nothing enters %q: it is taken as a source, and not balanced", node), "add the stream that feeds it")
		return
	case len(out) == 0:
		return
	}
	for i := range in[0].materials {
		s.balance(node, join(byMaterial(in, i, 1), byMaterial(out, i, -1)))
	}
}

func byMaterial(streams []*ownStream, i int, factor float64) []Term {
	var out []Term
	for _, o := range streams {
		if o.by[i] >= 0 {
			out = append(out, Term{o.by[i], factor})
		}
	}
	return out
}

// joinNode lets streams enter and leave the bin, the build or a lot by its name.
func (s *sheet) joinNode(node string, in, out []*ownStream) bool {
	var terms []Term
	for _, o := range in {
		terms = append(terms, sumOf(o.by)...)
	}
	for _, o := range out {
		terms = append(terms, negative(sumOf(o.by))...)
	}
	if p := s.lots.find[node]; p != nil {
		s.joinLot(p, terms)
		return true
	}
	switch strings.ToLower(node) {
	case nodeBin:
		return s.joinBalance("lots of the bin", negative(terms))
	case nodeBuild:
		return s.joinBuild(in, out)
	}
	return false
}

// joinBalance adds terms to a balance of the built-in sheet.
func (s *sheet) joinBalance(name string, terms []Term) bool {
	for i := range s.p.Constraints {
		if s.p.Constraints[i].Name == name {
			s.p.Constraints[i].Terms = append(s.p.Constraints[i].Terms, terms...)
			return true
		}
	}
	return false
}

// joinLot lets streams leave and enter a lot after it was weighed.
func (s *sheet) joinLot(p *pile, terms []Term) {
	after := s.unknown(p.lot.Name + ", after its streams")
	s.replaceNow(p, after)
	s.balance("streams of "+p.lot.Name, join([]Term{{p.now, 1}}, terms, []Term{{after, -1}}))
	p.now = after
}

// replaceNow puts a new unknown where the lot's rest was split, merged or bagged.
func (s *sheet) replaceNow(p *pile, after int) {
	for i, c := range s.p.Constraints {
		kind, _, _ := strings.Cut(c.Name, " ")
		if kind != "split" && kind != "merge" && kind != "bags" {
			continue
		}
		for k, t := range c.Terms {
			if t.Unknown == p.now && p.now != p.whole || t.Unknown == p.now && t.Factor > 0 {
				s.p.Constraints[i].Terms[k].Unknown = after
			}
		}
	}
}

// joinBuild lets streams of a known material leave or enter the build beside what was kept and thrown.
func (s *sheet) joinBuild(in, out []*ownStream) bool {
	if !s.made {
		return false
	}
	add := func(o *ownStream, factor float64) {
		for i, u := range o.by {
			m := o.materials[i]
			if u < 0 {
				continue
			}
			if !s.joinBalance("balance of "+string(m), []Term{{u, factor}}) {
				s.spread(u, factor, o.Stream)
			}
		}
	}
	for _, o := range in {
		add(o, 1)
	}
	for _, o := range out {
		add(o, -1)
	}
	return true
}

// spread lets a stream without a material be of any that the build holds.
func (s *sheet) spread(u int, factor float64, st sorting.Stream) {
	parts := s.unknowns(st.Name, nil)
	s.balance("make-up of "+st.Name, join(sumOf(parts), []Term{{u, -1}}))
	for i, m := range s.materials {
		s.joinBalance("balance of "+string(m), []Term{{parts[i], factor}})
	}
}
