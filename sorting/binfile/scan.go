package binfile

import (
	"sort"
	"strconv"
	"strings"
)

// The TOML library's positions are wrong inside repeated tables, so the places of keys and values are
// found here. The scanner only has to follow text that the library has accepted; on anything else it
// stops. It runs first all the same, because it bounds the nesting that the library would recurse into.

// maxDepth bounds nested arrays, inline tables and dotted keys; the format itself needs four (judgement).
const maxDepth = 32

// place is where a key, a table or a value stands in the source, with the places inside it.
type place struct {
	at       int  // offset of the key, of the header, or of the value in an array
	from, to int  // the text of the value; equal for a table under a header
	static   bool // written as a value, which no header can add to
	fields   map[string]*place
	items    []*place
}

// again is a key or table that is given a second time.
type again struct{ at, first int }

// spot is a place at which something has to be said.
type spot struct {
	at   int
	what string
}

type scanner struct {
	src    string
	pos    int
	depth  int
	root   *place
	keys   [][]string // every key and header in order, as the library lists them
	again  []again
	newer  []spot // what TOML 1.0 does not have
	tooFar int    // offset of nesting beyond maxDepth; -1
	open   int    // offset of the string, array or table that is being read
	starts []int  // offset of each line
}

// scan finds the places of src. It reports false where it could not follow the text to its end.
func scan(src string) (*scanner, bool) {
	s := &scanner{src: src, root: &place{fields: map[string]*place{}}, tooFar: -1, open: -1, starts: []int{0}}
	for i := 0; i < len(src); i++ {
		if src[i] == '\n' {
			s.starts = append(s.starts, i+1)
		}
	}
	table, path := s.root, []string(nil)
	for {
		s.blank()
		if s.pos >= len(src) {
			return s, true
		}
		ok := false
		if src[s.pos] == '[' {
			table, path, ok = s.header()
		} else {
			ok = s.pair(table, path)
		}
		if !ok {
			return s, false
		}
	}
}

// line of an offset, counted from 1.
func (s *scanner) line(at int) int {
	return sort.Search(len(s.starts), func(i int) bool { return s.starts[i] > at })
}

// blank skips spaces, line ends and comments.
func (s *scanner) blank() {
	for s.pos < len(s.src) {
		switch s.src[s.pos] {
		case ' ', '\t', '\r', '\n':
			s.pos++
		case '#':
			end := strings.IndexByte(s.src[s.pos:], '\n')
			if end < 0 {
				s.pos = len(s.src)
				return
			}
			s.pos += end
		default:
			return
		}
	}
}

func (s *scanner) spaces() {
	for s.pos < len(s.src) && (s.src[s.pos] == ' ' || s.src[s.pos] == '\t') {
		s.pos++
	}
}

// eat takes text if it comes next.
func (s *scanner) eat(text string) bool {
	if strings.HasPrefix(s.src[s.pos:], text) {
		s.pos += len(text)
		return true
	}
	return false
}

// header reads [a.b] or [[a.b]] and gives the table that the keys below it go into.
func (s *scanner) header() (*place, []string, bool) {
	at := s.pos
	many := s.eat("[[")
	if !many {
		s.pos++
	}
	names, ok := s.key()
	if !ok || !s.eat(map[bool]string{true: "]]", false: "]"}[many]) {
		return nil, nil, false
	}
	s.keys = append(s.keys, names)
	p := s.root
	for _, n := range names[:len(names)-1] {
		p = p.into(n, at)
	}
	last := names[len(names)-1]
	if many {
		if old := p.fields[last]; old != nil && (old.static || len(old.items) == 0) {
			s.again = append(s.again, again{at, old.at})
		}
		return p.item(last, at), names, true
	}
	if old := p.fields[last]; old != nil && (old.static || old.to > 0 || len(old.items) > 0 || old.at >= 0 && old.from < 0) {
		s.again = append(s.again, again{at, old.at})
	}
	p = p.into(last, at)
	p.from = -1 // has had its header
	return p, names, true
}

// into is the table of that name inside p, the newest where it is repeated.
func (p *place) into(name string, at int) *place {
	c := p.fields[name]
	if c == nil {
		c = &place{at: at, fields: map[string]*place{}}
		p.fields[name] = c
	}
	if len(c.items) > 0 {
		c = c.items[len(c.items)-1]
	}
	if c.fields == nil {
		c.fields = map[string]*place{}
	}
	return c
}

// item adds a table to the repeated table of that name inside p.
func (p *place) item(name string, at int) *place {
	c := p.fields[name]
	if c == nil {
		c = &place{at: at}
		p.fields[name] = c
	}
	t := &place{at: at, fields: map[string]*place{}}
	c.items = append(c.items, t)
	return t
}

// pair reads key = value into the table.
func (s *scanner) pair(table *place, path []string) bool {
	at := s.pos
	names, ok := s.key()
	if !ok || !s.eat("=") {
		return false
	}
	s.keys = append(s.keys, append(append([]string(nil), path...), names...))
	whole := s.keys[len(s.keys)-1]
	s.spaces()
	v, ok := s.value(whole)
	if v == nil {
		return false
	}
	v.at = at
	for _, n := range names[:len(names)-1] {
		table = table.into(n, at)
	}
	last := names[len(names)-1]
	if old := table.fields[last]; old != nil {
		s.again = append(s.again, again{at, old.at})
		return ok
	}
	table.fields[last] = v
	return ok
}

// key reads a key of one or more parts.
func (s *scanner) key() ([]string, bool) {
	var names []string
	for {
		s.spaces()
		n, ok := s.part()
		if !ok {
			return nil, false
		}
		names = append(names, n)
		if len(names) > maxDepth {
			s.tooFar = s.pos
			return nil, false
		}
		s.spaces()
		if !s.eat(".") {
			return names, true
		}
	}
}

func (s *scanner) part() (string, bool) {
	from := s.pos
	if from < len(s.src) && (s.src[from] == '"' || s.src[from] == '\'') {
		if !s.quoted(s.src[from]) {
			return "", false
		}
		raw := s.src[from:s.pos]
		if raw[0] == '"' {
			if plain, err := strconv.Unquote(raw); err == nil {
				return plain, true
			}
		}
		return raw[1 : len(raw)-1], true
	}
	for s.pos < len(s.src) && isBare(s.src[s.pos]) {
		s.pos++
	}
	return s.src[from:s.pos], s.pos > from
}

func isBare(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_' || c == '-'
}
