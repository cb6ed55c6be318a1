package binfile

import "strings"

// What TOML 1.0 does not have, with what it has instead.
const (
	newBreak  = "a line break inside { }; write it on one line"
	newComma  = "a comma before }; leave the comma out"
	newEscape = `the escapes \e and \x; write \u and four digits`
)

// value reads one value; path is the key it belongs to. The place is nil where it could not be read.
func (s *scanner) value(path []string) (*place, bool) {
	p := &place{at: s.pos, from: s.pos, static: true}
	if s.pos >= len(s.src) {
		return nil, false
	}
	ok := true
	switch c := s.src[s.pos]; c {
	case '[':
		ok = s.nested(func() bool { return s.array(p, path) })
	case '{':
		p.fields = map[string]*place{}
		ok = s.nested(func() bool { return s.inline(p, path) })
	case '"', '\'':
		ok = s.str(c)
	default:
		ok = s.plain()
	}
	p.to = s.pos
	return p, ok
}

func (s *scanner) nested(read func() bool) bool {
	if s.depth == maxDepth {
		s.tooFar = s.pos
		return false
	}
	s.depth++
	from := s.pos
	s.pos++
	if !read() {
		if s.pos >= len(s.src) && s.open < 0 {
			s.open = from
		}
		return false
	}
	s.depth--
	return true
}

func (s *scanner) array(p *place, path []string) bool {
	for {
		s.blank()
		if s.eat("]") {
			return true
		}
		v, ok := s.value(path)
		if v != nil {
			p.items = append(p.items, v)
		}
		if !ok {
			return false
		}
		s.blank()
		if !s.eat(",") {
			return s.eat("]")
		}
	}
}

func (s *scanner) inline(p *place, path []string) bool {
	from := s.pos
	for comma := -1; ; {
		s.blank()
		if strings.Contains(s.src[from:s.pos], "\n") {
			s.note(from, newBreak)
		}
		if s.pos < len(s.src) && s.src[s.pos] == '}' {
			if comma >= 0 {
				s.note(comma, newComma)
			}
			s.pos++
			return true
		}
		if !s.pair(p, path) {
			return false
		}
		from = s.pos
		s.blank()
		if comma = s.pos; !s.eat(",") {
			comma = -1
		}
		if comma < 0 && (s.pos >= len(s.src) || s.src[s.pos] != '}') {
			return false
		}
	}
}

// note keeps something that only a TOML newer than 1.0 has; once is enough for each line.
func (s *scanner) note(at int, what string) {
	if n := len(s.newer); n > 0 && s.newer[n-1].what == what && s.line(s.newer[n-1].at) == s.line(at) {
		return
	}
	s.newer = append(s.newer, spot{at, what})
}

// str reads a string of any of the four kinds.
func (s *scanner) str(quote byte) bool {
	three := strings.Repeat(string(quote), 3)
	if !strings.HasPrefix(s.src[s.pos:], three) {
		return s.quoted(quote)
	}
	from := s.pos
	s.pos += 3
	for s.pos < len(s.src) {
		switch {
		case quote == '"' && s.src[s.pos] == '\\':
			s.escape()
		case s.eat(three):
			for i := 0; i < 2 && s.eat(string(quote)); i++ { // up to two quotes may stand before the end
			}
			return true
		default:
			s.pos++
		}
	}
	s.open = from
	return false
}

// quoted reads a string on one line.
func (s *scanner) quoted(quote byte) bool {
	for s.pos++; s.pos < len(s.src); {
		switch c := s.src[s.pos]; {
		case c == '\n':
			return false
		case c == quote:
			s.pos++
			return true
		case c == '\\' && quote == '"':
			s.escape()
		default:
			s.pos++
		}
	}
	return false
}

func (s *scanner) escape() {
	if s.pos+1 < len(s.src) && (s.src[s.pos+1] == 'e' || s.src[s.pos+1] == 'x') {
		s.note(s.pos, newEscape)
	}
	s.pos = min(s.pos+2, len(s.src))
}

// plain reads a number, a truth value or a date up to what ends it.
func (s *scanner) plain() bool {
	from := s.pos
	for s.pos < len(s.src) && !strings.ContainsRune(",]}#\r\n", rune(s.src[s.pos])) {
		s.pos++
	}
	for s.pos > from && (s.src[s.pos-1] == ' ' || s.src[s.pos-1] == '\t') {
		s.pos--
	}
	return s.pos > from
}
