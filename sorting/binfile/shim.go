package binfile

import (
	"errors"
	"slices"

	"brinecut/polymers"
)

var shimNames = []string{"PLA", "PETG", "PCTG", "ABS", "ASA", "HIPS", "PC", "PA6", "PA66", "PA12", "TPU", "TPE", "PP", "PVA", "BVOH", "PVB", "PHA", "CA", "PET", "PMMA", "PVC-U", "PVC-P", "POM", "PETG-CF", "PA66-GF30"}

func lookup(s string) (polymers.Symbol, error) {
	if slices.Contains(shimNames, s) {
		return polymers.Symbol(s), nil
	}
	return "", errors.New("no such material")
}

func materialHint(s string) string {
	if n := nearest(s, shimNames); n != "" {
		return "did you mean " + quoted(n) + "?"
	}
	return `name one of "brinecut polymer"`
}
