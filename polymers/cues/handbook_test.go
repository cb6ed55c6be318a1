package cues

import (
	"slices"
	"testing"

	"brinecut/polymers"
)

// Every material of the handbook answers every categorical test, and only these few are ever flat.
func TestEveryMaterialAnswers(t *testing.T) {
	known := []polymers.Symbol{"PBAT", "PEI", "PPSU", "PSU", "PEEK", "PPS", "PTFE", "PVDF", "FR"} // no published cue found for at least one test
	for _, m := range polymers.All() {
		for _, a := range asks {
			s := Setting{Cue: a.cue}
			likelihood(t, a.kind, s, m)
			b, err := basisOf(a.kind, s, m)
			if err != nil || b.flat == (len(b.rows) > 0) {
				t.Errorf("%s of %s stands on %+v, %v", a.kind, m.Symbol, b, err)
			}
			if b.flat && !slices.Contains(known, m.Symbol) {
				t.Errorf("nothing is known of %s in %s %s", m.Symbol, a.kind, a.cue)
			}
		}
	}
}

// A variant or a filled grade stands on the row of its own polymer, never on a stranger's.
func TestRowsOfTheHandbook(t *testing.T) {
	for symbol, row := range map[polymers.Symbol]string{"PLA-annealed": "PLA_ANNEALED", "PLA-tough": "PLA_TOUGH", "PLA-silk": "PLA", "PETG-CF": "PETG", "PA66-GF30": "PA6_66", "TPU-95A": "TPU", "PVC-U": "PVC"} {
		m, ok := polymers.Find(symbol)
		if !ok {
			t.Errorf("the handbook has no %s", symbol)
			continue
		}
		if b, err := basisOf(HotAir, Setting{}, m); err != nil || !slices.Equal(b.rows, []string{row}) {
			t.Errorf("%s stands on %+v, %v", symbol, b, err)
		}
	}
}
