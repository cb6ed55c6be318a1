package reuse

import (
	"testing"

	"brinecut/polymers"
	"brinecut/sorting"
)

// TestGroupsThatDoNotMeltTogether: ABS and HIPS are immiscible (from memory; reuse compatibility table
// lists them as needing a compatibilizer), ABS and ASA share the SAN phase and melt together.
func TestGroupsThatDoNotMeltTogether(t *testing.T) {
	for _, c := range []struct {
		key  string
		syms []polymers.Symbol
		bars bool
	}{
		{"ABS/HIPS", []polymers.Symbol{"ABS", "HIPS"}, true},
		{"ABS/ASA/HIPS", []polymers.Symbol{"ABS", "ASA", "HIPS"}, true},
		{"ABS/ASA", []polymers.Symbol{"ABS", "ASA"}, false},
		{"PETG", []polymers.Symbol{"PETG"}, false},
	} {
		v := &view{f: sorting.Fraction{Material: c.key, Symbols: c.syms}}
		for _, s := range c.syms {
			m, ok := polymers.Find(s)
			if !ok {
				t.Fatal(s)
			}
			v.mats = append(v.mats, m)
		}
		if got := len(lackTogether(v, Sheet)) > 0; got != c.bars {
			t.Errorf("%s: barred from heat %v, want %v", c.key, got, c.bars)
		}
	}
}
