package cues

import (
	"slices"

	"brinecut/polymers"
)

// basis says what the answer for a material stands on.
type basis struct {
	rows    []string // of the table, one for each sheet that was read; nil where flat
	leansOn []string // ids of what the values lean on; see Source
	why     string   // why another material's row is read; empty where it is the material's own
	flat    bool     // nothing is known: the answer tells this material from no other
}

// basisOf says what Likelihood of the same arguments stands on, with the same errors.
func basisOf(k Kind, s Setting, m polymers.Material) (basis, error) {
	q, err := ask(k, s)
	if err != nil {
		return basis{}, err
	}
	var b basis
	for _, look := range q.looks {
		row, why := loaded().rowOf(look, m)
		if row == "" || m.Symbol == polymers.Other {
			return basis{flat: true}, nil
		}
		b.rows, b.why = append(b.rows, row), why
		for _, id := range look.leansOn[row] {
			if !slices.Contains(b.leansOn, id) {
				b.leansOn = append(b.leansOn, id)
			}
		}
	}
	return b, nil
}
