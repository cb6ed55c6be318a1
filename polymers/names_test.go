package polymers

import (
	"errors"
	"strings"
	"testing"
)

func TestLookupAcceptsCommonSpellings(t *testing.T) {
	for name, want := range map[string]Symbol{
		"PLA": "PLA", "pla": "PLA", " Pla ": "PLA", "PET-G": "PETG", "petg": "PETG", "pla+": "PLA-tough", "PLA plus": "PLA-tough",
		"nylon 12": "PA12", "Nylon 6,6": "PA66", "PA 6.6": "PA66", "pa-6": "PA6", "tpu 95a": "TPU-95A", "TPU": "TPU",
		"PETG-CF": "PETG-CF", "petg cf": "PETG-CF", "PC/ABS": "PC+ABS", "pc-abs": "PC+ABS", "PC+ABS": "PC+ABS",
		"HDPE": "PE-HD", "PVAL": "PVA", "PVOH": "PVA", "PS-HI": "HIPS", "acetal": "POM", "PVC": "PVC-U", "soft PVC": "PVC-P",
		"PA12-GF15": "PA12-GF", "PETG-GF20": "PETG-GF", "pa6 cf20": "PA6-CF", "PA66-GF30": "PA66-GF30", "SEBS": "TPE",
		"matte PLA": "PLA-matt", "HTPLA": "PLA-annealed", "PC-FR": "FR", "wood filament": "PLA-WD",
	} {
		got, err := Lookup(name)
		if err != nil || got != want {
			t.Errorf("Lookup(%q) = %q, %v; want %q", name, got, err, want)
		}
	}
}

func TestLookupRefusesWithTheNearest(t *testing.T) {
	for name, want := range map[string]Symbol{"PEGT": "PETG", "PLLLA": "PLA", "ABSS": "ABS", "PA66-GF25": "PA66-GF30", "HIIPS": "HIPS", "PVAC": "PVA"} {
		_, err := Lookup(name)
		var u *UnknownError
		if !errors.As(err, &u) || u.Nearest != want {
			t.Errorf("Lookup(%q): %v, want nearest %s", name, err, want)
		}
	}
	for _, name := range []string{"nylon", "PE", "pa"} {
		_, err := Lookup(name)
		var u *UnknownError
		if !errors.As(err, &u) || len(u.Several) < 2 || !strings.Contains(err.Error(), " or ") {
			t.Errorf("Lookup(%q): %v, want the materials it can mean", name, err)
		}
	}
	for _, name := range []string{"", "other", "+", "€"} {
		if _, err := Lookup(name); err == nil {
			t.Errorf("Lookup(%q) was accepted", name)
		}
	}
}

// TestFarSpellings: no guess is better than a wrong one, and none at a hard stop but for a single slip.
func TestFarSpellings(t *testing.T) {
	for name, far := range map[string]bool{"ZZZ": true, "Foo": true, "xyzzy": true, "": true, "Q": true, "mystery": true,
		"PEGT": false, "PLLLA": false, "PETX": false, "PVCC": false, "POMM": false} {
		_, err := Lookup(name)
		var u *UnknownError
		if !errors.As(err, &u) || u.Far != far || u.Nearest == "" {
			t.Errorf("Lookup(%q): %+v, want far %v and a nearest", name, u, far)
			continue
		}
		if strings.Contains(err.Error(), "in spelling, not in kind") != far {
			t.Errorf("%v", err)
		}
		if m, _ := Find(u.Nearest); far && m.NeverHeat {
			t.Errorf("Lookup(%q) guesses at %s", name, u.Nearest)
		}
	}
	for mark, part := range map[string]string{">ZZZ<": "in spelling, not in kind", ">PETX<": "nearest known is PET"} {
		if _, err := ReadMarking(mark); err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("%s: %v, want %q", mark, err, part)
		}
	}
}

func TestNamesAreUniqueAndFound(t *testing.T) {
	taken := map[string]Symbol{}
	for _, m := range All() {
		for _, n := range append([]string{string(m.Symbol)}, m.OtherNames...) {
			k := nameKey(n)
			if other, ok := taken[k]; ok && other != m.Symbol {
				t.Errorf("%q names both %s and %s", n, other, m.Symbol)
			}
			taken[k] = m.Symbol
			if got, err := Lookup(n); err != nil || got != m.Symbol {
				t.Errorf("Lookup(%q) = %s, %v; want %s", n, got, err, m.Symbol)
			}
		}
	}
}
