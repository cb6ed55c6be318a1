// Package binfile reads the bin file into the nouns of package sorting, and writes what is appended to
// it. It takes and gives bytes; opening and locking the file is the caller's.
package binfile

import (
	"brinecut/sorting"
)

// reader holds what is found while one file is read.
type reader struct {
	file   string
	src    string
	scan   *scanner
	bin    *sorting.Bin
	top    *table
	faults Faults
	warns  []sorting.Warning
	names  map[string]map[string]int // by table: name or id -> line
	piles  map[string]*pile          // every lot, side and merge
	vague  map[string]bool           // by table: one of its names could not be read, so what refers to it is let be
	flow   []*step                   // splits and merges

	origin      sorting.Origin // of [bin], the default of its lots
	originGiven bool
}

// Read reads a bin file; name is for messages only. Everything the format does not allow is refused,
// all faults at once, as an error of type Faults in the order of their lines; what contradicts only by
// measurement comes back as warnings. Origins of lots are filled in from [bin], a side of a split takes
// after the lot it came from; values of [worth] and other defaults that belong to a later stage are not
// filled in.
func Read(name string, src []byte) (*sorting.Bin, []sorting.Warning, error) {
	r := &reader{file: name, bin: &sorting.Bin{File: name}, names: map[string]map[string]int{}, piles: map[string]*pile{}, vague: map[string]bool{}}
	if !r.decode(src) {
		return nil, nil, r.faults
	}
	r.readBench()
	r.readWeighings()
	r.readLots()
	r.readFlow()
	r.readTests()
	r.readLeaving()
	r.top.done()
	r.something()
	if len(r.faults) > 0 {
		r.faults.sort()
		return nil, nil, r.faults
	}
	r.doubt()
	return r.bin, r.warns, nil
}

// something refuses a file with nothing in it to sort or to balance.
func (r *reader) something() {
	if len(r.faults) == 0 && r.bin.Floor == nil && len(r.bin.Lots) == 0 && len(r.bin.Streams) == 0 {
		r.fault(Fault{Line: 1, Wrong: "there is nothing to sort in this file", Right: "write a [bin], a [[lot]] or a [[stream]]"})
	}
}

func (r *reader) fault(f Fault) {
	f.File = r.file
	r.faults = append(r.faults, f)
}

func (r *reader) warn(line int, about, says, cure string) {
	r.warns = append(r.warns, sorting.Warning{About: about, Line: line, Says: says, Cure: cure, Grave: true})
}

// text is the value at a place as it stands in the file.
func (r *reader) text(p *place) string {
	if p.from < 0 || p.to <= p.from {
		return ""
	}
	return r.src[p.from:p.to]
}

// unique keeps a name of a table and refuses it the second time.
func (r *reader) unique(what string, t *table, key, name string) {
	if name == "" {
		r.vague[what] = true
		return
	}
	if r.names[what] == nil {
		r.names[what] = map[string]int{}
	}
	if line, ok := r.names[what][name]; ok {
		t.refuse(key, sayTaken(what, line), "give each its own "+key)
		return
	}
	r.names[what][name] = t.lineOf(key)
}

// topKeys and topTables are in the order in which the format is written down.
var (
	topKeys   = []string{"title", "currency"}
	topTables = []string{"bin", "scale", "printed", "spool", "kept", "thrown", "known", "lot", "bath", "test", "withdrawn", "split", "merge",
		"taken", "bag", "stream", "kit", "place", "worth", "outlet", "supplier"}
)

func (r *reader) readTop() {
	b, t := r.bin, r.top
	t.ask(topKeys...)
	t.ask(topTables...)
	b.Title = t.text("title")
	if c, ok := t.cell("currency"); ok {
		if s, ok := c.str(`write a three-letter currency, such as currency = "EUR"`); ok {
			b.Currency = s
			if !isCurrency(s) {
				b.Currency = ""
				c.refuse("this is not a currency", `write its three capital letters (ISO 4217), such as "EUR"`)
			}
		}
	}
}

func isCurrency(s string) bool {
	for _, r := range s {
		if r < 'A' || r > 'Z' {
			return false
		}
	}
	return len(s) == 3
}
