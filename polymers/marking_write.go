package polymers

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// MarkingOptions are what a marking may hold besides its polymers. The zero value is none of it.
type MarkingOptions struct {
	Fillers         []Filler
	Recyclate       *Recyclate
	FlameRetardants []string // codes of ISO 1043-4; needed for a flame-retarded grade
}

// the percentage a name ends in: "PETG-CF15", "pa12 gf 20 %"
var reFigure = regexp.MustCompile(`(?i)(?:GF|CF|WD|MED)[ -]?(\d{1,2}) ?%?$`)

// WriteMarking writes the marking of a polymer or a blend, main component first, from names as Lookup
// takes them; a filled grade brings its filler along, with its percentage if the name has one:
// "PETG-CF15" gives >PETG-CF15<. Variants are marked as their polymer. Error where a name is unknown
// (*UnknownError), where no polymer is named, or where a flame-retarded grade comes without its code.
func WriteMarking(names []string, o MarkingOptions) (Marking, error) {
	if len(names) == 0 {
		return Marking{}, fmt.Errorf("no material to mark; name at least one")
	}
	m := Marking{Fillers: append([]Filler(nil), o.Fillers...), Recyclate: o.Recyclate, FlameRetardants: o.FlameRetardants}
	for _, name := range names {
		syms, fillers, err := parts(name)
		if err != nil {
			return Marking{}, err
		}
		m.Polymers = append(m.Polymers, syms...)
		m.Fillers = append(m.Fillers, fillers...)
	}
	read, err := ReadMarking(m.write())
	if err != nil {
		return Marking{}, fmt.Errorf("%s cannot be marked as %s: %w", strings.Join(names, ", "), m.write(), err)
	}
	return read, nil
}

// parts takes a name apart into its polymers and its filler.
func parts(name string) ([]Symbol, []Filler, error) {
	sym, err := Lookup(name)
	if err != nil {
		return nil, nil, err
	}
	m, _ := Find(sym)
	if m.Symbol == "FR" {
		return nil, nil, fmt.Errorf("a flame-retarded grade is marked as its polymer with the code of the retardant: name the polymer and give the code")
	}
	var fillers []Filler
	if m.Filler != "" {
		f := Filler{Symbol: strings.TrimRight(m.Filler, "0123456789")}
		figure := strings.TrimPrefix(m.Filler, f.Symbol)
		if g := reFigure.FindStringSubmatch(strings.TrimSpace(name)); g != nil {
			figure = g[1]
		}
		if p, err := strconv.ParseFloat(figure, 64); err == nil {
			f.Percent = &p
		}
		fillers = append(fillers, f)
	}
	var syms []Symbol
	for part := range strings.SplitSeq(string(m.Polymer), "+") {
		syms = append(syms, Symbol(part))
	}
	return syms, fillers, nil
}

// write puts the marking together as ISO 11469 has it.
func (m *Marking) write() string {
	var b strings.Builder
	b.WriteByte('>')
	for i, p := range m.Polymers {
		if i > 0 {
			b.WriteByte('+')
		}
		b.WriteString(printed(p))
	}
	for _, p := range m.Plasticizers {
		b.WriteString("(" + p + ")")
	}
	m.writeFillers(&b)
	if len(m.FlameRetardants) > 0 {
		if len(m.Fillers) == 0 {
			b.WriteByte('-')
		}
		b.WriteString("FR(" + strings.Join(m.FlameRetardants, "+") + ")")
	}
	if m.Recyclate != nil {
		b.WriteString("(REC" + figure(m.Recyclate.AtLeastPercent) + ")")
	}
	b.WriteByte('<')
	return b.String()
}

func (m *Marking) writeFillers(b *strings.Builder) {
	if len(m.Fillers) == 0 {
		return
	}
	parts := make([]string, len(m.Fillers))
	for i, f := range m.Fillers {
		parts[i] = f.Symbol + figure(f.Percent)
	}
	s := strings.Join(parts, "+")
	if len(parts) > 1 {
		s = "(" + s + ")"
	}
	b.WriteString("-" + s + figure(m.FillerTotal))
}

func figure(p *float64) string {
	if p == nil {
		return ""
	}
	return strconv.FormatFloat(*p, 'f', -1, 64)
}
