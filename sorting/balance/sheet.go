package balance

import (
	"fmt"
	"slices"

	"brinecut/polymers"
	"brinecut/sorting"
)

// plain stands for "plastic of any kind" where no material is named anywhere.
const plain polymers.Symbol = ""

// Kind says what part of the flow sheet a stream is.
type Kind string

// The kinds of stream.
const (
	InPrinted  Kind = "printed"
	InSpool    Kind = "spool"
	InOpening  Kind = "opening"
	OutKept    Kind = "kept"
	OutThrown  Kind = "thrown"
	OutTaken   Kind = "taken"
	OutLoss    Kind = "loss"
	IsBin      Kind = "bin"
	IsLot      Kind = "lot"
	IsBag      Kind = "bag"
	IsHardware Kind = "hardware"
	IsOwn      Kind = "stream" // of the user's own flow sheet
)

// flow is a stream to report: a combination of unknowns, with the reading that measures it.
type flow struct {
	name     string
	kind     Kind
	line     int
	material polymers.Symbol
	terms    []Term
	reading  int      // -1 where none
	measured *float64 // g, as read, what is not plastic taken off
}

// sheet is the flow sheet of one bin as a Problem, with what is needed to speak of it.
type sheet struct {
	bin         *sorting.Bin
	p           Problem
	flows       []flow
	materials   []polymers.Symbol
	influence   map[string]int
	names       map[string]int
	assumptions []sorting.Assumption
	warnings    []sorting.Warning

	printed    []printedRow
	kept       [][]int // by kept row: unknown by material, -1 where it cannot be
	thrown     [][]int
	opening    []int
	whole      []int // bin by material
	lots       *lotSheet
	binReading int          // -1 where the bin was not weighed
	notInLot   map[int]bool // readings that weigh neither lots nor the bin
	inBin      map[int]bool // of those, the hardware in the bin
	reels      map[int]bool // readings of empty reels
	spoolOf    map[string]polymers.Symbol
	totalName  string // of all counters together
	made       bool   // anything was printed, as far as the file says
}

func newSheet(bin *sorting.Bin) *sheet {
	return &sheet{bin: bin, binReading: -1, influence: map[string]int{}, names: map[string]int{}, notInLot: map[int]bool{}, inBin: map[int]bool{},
		reels: map[int]bool{}, spoolOf: map[string]polymers.Symbol{}}
}

// build writes the whole flow sheet: method.md (B10)-(B15).
func (s *sheet) build() error {
	s.made = len(s.bin.Printed)+len(s.bin.Spools) > 0
	s.gatherMaterials()
	if s.made || s.bin.Floor != nil {
		s.addPrinted()
		s.addSpools()
		s.addKept()
		s.addThrown()
		s.addBin()
	} else {
		s.addKept()
		s.addThrown()
	}
	s.addLots()
	if err := s.addBags(); err != nil {
		return err
	}
	s.addStreams()
	s.doubtUncounted()
	return nil
}

// gatherMaterials lists the materials whose masses the sheet follows, in the order they are named.
func (s *sheet) gatherMaterials() {
	for _, c := range s.bin.Printed {
		s.follow(c.Material)
		for _, j := range jobsOf(s.bin.Printed, c) {
			if c.Material == "" {
				s.follow(polymers.Symbol(j.Material))
			}
		}
		for _, h := range c.Hidden {
			s.follow(h)
		}
	}
	for _, sp := range s.bin.Spools {
		s.follow(sp.Material)
	}
	if !s.made {
		s.materials = []polymers.Symbol{plain}
		return
	}
	for _, k := range s.bin.Kept {
		for _, m := range k.Materials {
			s.follow(m)
		}
	}
	if f := s.bin.Floor; f != nil && f.Opening.Value > 0 {
		s.follow(polymers.Other)
	}
}

func (s *sheet) follow(m polymers.Symbol) {
	if m = baseOf(m); m != "" && !slices.Contains(s.materials, m) {
		s.materials = append(s.materials, m)
	}
}

// index of a material; -1 where the sheet does not follow it.
func (s *sheet) index(m polymers.Symbol) int { return slices.Index(s.materials, baseOf(m)) }

func (s *sheet) unknown(name string) int {
	s.p.Unknowns = append(s.p.Unknowns, Unknown{Name: name})
	return len(s.p.Unknowns) - 1
}

// unknowns makes one unknown for each material, or only for those in just where it names any.
func (s *sheet) unknowns(name string, just []polymers.Symbol) []int {
	out := make([]int, len(s.materials))
	for i, m := range s.materials {
		out[i] = -1
		if len(just) == 0 || slices.ContainsFunc(just, func(j polymers.Symbol) bool { return baseOf(j) == m }) {
			out[i] = s.unknown(name)
		}
	}
	return out
}

func (s *sheet) balance(name string, terms []Term) {
	s.p.Constraints = append(s.p.Constraints, Constraint{Name: name, Terms: terms})
}

func (s *sheet) read(name string, line int, terms []Term, m measurement) int {
	s.p.Readings = append(s.p.Readings, Reading{Name: name, Line: line, Terms: terms, Value: m.value, SD: m.sd, Shared: m.shared, Half: m.half})
	return len(s.p.Readings) - 1
}

// common returns the index of a shared influence.
func (s *sheet) common(name string) int {
	if i, ok := s.influence[name]; ok {
		return i
	}
	s.p.Influences = append(s.p.Influences, name)
	s.influence[name] = len(s.p.Influences) - 1
	return s.influence[name]
}

// named makes a stream's name unique by the line it stands on.
func (s *sheet) named(name string, line int) string {
	s.names[name]++
	if s.names[name] > 1 {
		return fmt.Sprintf("%s (line %d)", name, line)
	}
	return name
}

// report adds a stream, and one row for each material in it.
func (s *sheet) report(f flow, by []int) {
	f.terms = sumOf(by)
	s.flows = append(s.flows, f)
	for i, u := range by {
		if u >= 0 && s.materials[i] != plain {
			s.flows = append(s.flows, flow{name: f.name, kind: f.kind, line: f.line, material: s.materials[i], terms: []Term{{u, 1}}, reading: -1})
		}
	}
}

func (s *sheet) assume(says, key, source string) {
	for _, a := range s.assumptions {
		if a.Says == says {
			return
		}
	}
	s.assumptions = append(s.assumptions, sorting.Assumption{Says: says, Key: key, Source: source})
}

func (s *sheet) warn(about string, line int, says, cure string) {
	s.warnings = append(s.warnings, sorting.Warning{About: about, Line: line, Says: says, Cure: cure})
}

// doubt warns of weighings that contradict each other.
func (s *sheet) doubt(about, says, cure string) {
	s.warnings = append(s.warnings, sorting.Warning{About: about, Says: says, Cure: cure, Grave: true})
}

// sumOf is the sum of unknowns; -1 stands for none.
func sumOf(us []int) []Term {
	var out []Term
	for _, u := range us {
		if u >= 0 {
			out = append(out, Term{u, 1})
		}
	}
	return out
}

func negative(ts []Term) []Term {
	out := make([]Term, len(ts))
	for i, t := range ts {
		out[i] = Term{t.Unknown, -t.Factor}
	}
	return out
}

func join(lists ...[]Term) []Term {
	var out []Term
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}
