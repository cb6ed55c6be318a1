package balance

import (
	"fmt"
	"math"
	"strings"

	"brinecut/polymers/quantity"
)

// suspects names the figures that do not fit: those serial elimination leaves out, and those the
// measurement test finds where the global test passes.
func (s *sheet) suspects(sol *Solution) ([]Suspect, error) {
	if sol.DoF == 0 {
		return nil, nil
	}
	if sol.FreeChiSquare <= chiSquareLimit(testLevel, sol.DoF) {
		return s.oddOnes(sol), nil
	}
	steps, err := Eliminate(s.p)
	if err != nil {
		return nil, err
	}
	var out []Suspect
	for _, d := range steps {
		out = append(out, s.suspect(d))
	}
	return out, nil
}

// oddOnes applies the measurement test alone, with the limit of Sidak.
func (s *sheet) oddOnes(sol *Solution) []Suspect {
	n := 0
	for _, r := range sol.Readings {
		if r.Redundant {
			n++
		}
	}
	d := sol.oddest(make([]bool, len(sol.Readings)))
	if len(d.Readings) == 0 || math.Abs(d.Z) <= sidakLimit(n) {
		return nil
	}
	d.DoF = sol.DoF
	return []Suspect{s.suspect(d)}
}

func (s *sheet) suspect(d Deletion) Suspect {
	out := Suspect{Size: d.Size, SizeSD: d.SizeSD, Line: s.p.Readings[d.Readings[0]].Line}
	for _, i := range d.Readings {
		out.Names = append(out.Names, s.p.Readings[i].Name)
	}
	way := "too high"
	if d.Size < 0 {
		way = "too low"
	}
	by := fmt.Sprintf("%s ± %s", grams(math.Abs(d.Size)), grams(d.SizeSD))
	if len(out.Names) == 1 {
		out.Says = fmt.Sprintf("%s looks %s by about %s", out.Names[0], way, by)
		return out
	}
	out.Says = fmt.Sprintf("one of %s is off: the readings cannot tell which (%s would be %s by about %s)",
		strings.Join(out.Names, ", "), out.Names[0], way, by)
	return out
}

// grams writes a mass to the digits worth showing.
func grams(x float64) string {
	switch a := math.Abs(x); {
	case a >= 10000:
		x = math.Round(x/10) * 10
	case a >= 10:
		x = math.Round(x)
	}
	return quantity.Format(quantity.Gram(x))
}
