package main

import (
	"strings"
	"testing"
)

// Every assumption of press, bath and bath check names a flag of that command, or says in words what
// changes it, or that nothing does.
func TestAssumptionsNameFlagsThatExist(t *testing.T) {
	words := []string{"the percentage behind the product's name"} // of --salt
	for _, line := range [][]string{
		{"press", "--material", "PLA", "--thickness", "6 mm", "--platen", "200 °C", "--centre", "190 °C", "--size", "300 x 300 mm", "--contact", "500 W/m2/K"},
		{"press", "--material", "TPU", "--thickness", "6 mm", "--platen", "200 °C", "--centre", "190 °C", "--size", "300 x 300 mm", "--contact", "500 W/m2/K"},
		{"bath", "--density", "1.250 g/cm3"},
		{"bath", "--density", "0.9 g/cm3", "--salt", "isopropanol"},
		{"bath", "check", "--empty", "32 g", "--water", "532 g", "--filled", "657 g"},
	} {
		command, _, err := (&app{}).root().Find(line)
		if err != nil {
			t.Fatal(err)
		}
		list := wire(t, line...)["assumptions"].([]any)
		if len(list) < 3 {
			t.Errorf("%v: only %d assumptions", line, len(list))
		}
		for _, x := range list {
			key := x.(map[string]any)["key"].(string)
			name, isFlag := strings.CutPrefix(key, "--")
			if isFlag && command.Flags().Lookup(name) == nil || !isFlag && key != "" && key != words[0] {
				t.Errorf("%v: %v: %q is no flag", line, x, key)
			}
		}
	}
}
