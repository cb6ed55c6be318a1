package cues

import (
	"slices"
	"strings"

	"brinecut/polymers"
)

// rowOf finds the row of a sheet for a material: by its symbol, its variant, the polymer it is made
// of, its base; then the row of any material. It is "" where there is none.
func (t *tables) rowOf(s *sheet, m polymers.Material) (row, why string) {
	for _, key := range []string{string(m.Symbol), string(m.Base) + " " + m.Variant, string(m.Polymer), string(m.Base)} {
		row, why := key, ""
		if l, ok := t.leans[[2]string{key, s.name}]; ok {
			row, why = l.row, l.why
		} else if l, ok := t.leans[[2]string{key, anyRow}]; ok {
			row, why = l.row, l.why
		}
		if s.rows[row] != nil && row != anyRow {
			return row, why
		}
	}
	if s.rows[anyRow] != nil {
		return anyRow, "no row of its own"
	}
	return "", ""
}

// row is that of a name, else that of any material, else nil.
func (s *sheet) row(name string) []float64 {
	if p := s.rows[name]; p != nil {
		return p
	}
	return s.rows[anyRow]
}

// vector is the row of a material with the shifts of its filler; nil where there is no row.
func (t *tables) vector(s *sheet, m polymers.Material) []float64 {
	row, _ := t.rowOf(s, m)
	if row == "" {
		return nil
	}
	return t.filled(s, s.rows[row], m.Filler, string(m.Polymer))
}

// filled moves the shares of data/fillers.tsv in a copy of p; an empty polymer stands for every one.
func (t *tables) filled(s *sheet, p []float64, filler, polymer string) []float64 {
	p = slices.Clone(p)
	for _, f := range t.shifts {
		if f.sheet != s.name || !t.takes(f, filler) || polymer != "" && f.polymers != nil && !slices.Contains(f.polymers, polymer) {
			continue
		}
		from, to := place(s.outcomes, f.from), place(s.outcomes, f.to)
		moved := p[from] * f.share
		p[from] -= moved
		p[to] += moved
	}
	return p
}

// takes reports whether a shift is for this filler: one it names by its letters, or, where it names
// none, any that no other shift of the sheet names.
func (t *tables) takes(f shift, filler string) bool {
	if filler == "" {
		return false
	}
	names := func(f shift) bool {
		return slices.ContainsFunc(f.fillers, func(x string) bool { return strings.HasPrefix(filler, x) })
	}
	if f.fillers != nil {
		return names(f)
	}
	return !slices.ContainsFunc(t.shifts, func(g shift) bool { return g.sheet == f.sheet && names(g) })
}
