package main

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/reuse/press"
)

// traceShare is the share from which another material's own hazards are told; judgement.
const traceShare = 0.01

// muchForce is more than a bench or workshop press gives, 5 to 50 t being usual; common practice.
const muchForce quantity.Newton = 500e3

// stock is what is pressed: a material, and the fraction it comes from, if any.
type stock struct {
	material polymers.Material
	batch    *show.Batch
	others   []polymers.Material // in the fraction, above a trace
}

// pressed is the material named, or that of a fraction, which must be one that may be heated.
func (a *app) pressed(f *pressFlags, given []string) (stock, error) {
	switch {
	case f.fraction == "" && len(given) == 0 && f.material == "":
		return stock{}, wrongUse("it is not said what is pressed", "name it with --material, or a bin file with --fraction")
	case f.fraction == "" && len(given) == 0:
		m, err := material(f.material)
		return stock{material: m}, err
	case f.material != "":
		return stock{}, wrongUse("a material and a fraction are both named", "leave one of the two out")
	}
	_, frac, err := a.fractionOf(given, f.fraction)
	if err != nil {
		return stock{}, err
	}
	if err := pressable(frac, given[0]); err != nil {
		return stock{}, err
	}
	if len(frac.Untested) > 0 {
		a.say("warning", "no piece of "+strings.Join(frac.Untested, ", ")+" was tested: what is pressed rests on the shelf and the weighings")
	}
	m, err := material(string(frac.Symbols[0]))
	return stock{m, &show.Batch{Name: frac.Name, Grams: frac.Mass.Mean}, othersIn(frac)}, err
}

// pressable refuses a fraction that must stay cold, or that no sheet is made of, by the rules of the routes.
func pressable(f advice.Fraction, file string) error {
	bars, err := reuse.Unpressable(f.Fraction, reuse.Options{})
	if err != nil {
		return cannot(err.Error(), "brinecut sort "+file+" shows what is in it")
	}
	if !f.Decision.MayBeHeated {
		return cannot(quote(f.Name)+" must not be heated: "+strings.Join(f.Decision.WhyNot, "; "), "brinecut sort "+file+" shows what would have to be known")
	}
	if len(bars) > 0 {
		hint := "brinecut sort " + file + " --rules shows every rule"
		if bars[0].Cure != "" {
			hint = bars[0].Cure + ": brinecut next " + file
		}
		return cannot(quote(f.Name)+" is not pressed: "+bars[0].By, hint)
	}
	if len(f.Symbols) != 1 {
		return cannot(quote(f.Name)+" is not one material, so no schedule fits it", "sort it further: brinecut next "+file)
	}
	return nil
}

// othersIn are the materials of a fraction above a trace, but for its main one.
func othersIn(f advice.Fraction) []polymers.Material {
	var out []polymers.Material
	for k, key := range f.Keys {
		if key == f.Material || f.ShareOf(k).Mean <= traceShare {
			continue
		}
		for s := range strings.SplitSeq(key, "/") {
			if m, ok := polymers.Find(polymers.Symbol(s)); ok {
				out = append(out, m)
			}
		}
	}
	return out
}

// cautions are what the schedule of the main material does not know.
func (s stock) cautions(plan press.Schedule) []string {
	var out []string
	if n := s.batch.Sheets(plan); n != nil && *n == 0 {
		out = append(out, fmt.Sprintf("the charge exceeds what is there: %s for one sheet, and %q is %s", show.Mass(float64(plan.Charge)), s.batch.Name, show.Mass(s.batch.Grams)))
	}
	if plan.Force > muchForce {
		out = append(out, fmt.Sprintf("%.0f kN is beyond any press at a bench: press a smaller sheet, or at less pressure", float64(plan.Force)/1000))
	}
	for _, m := range s.others {
		for _, h := range m.Hazards {
			if words := fmt.Sprintf("some of it is %s: %s", m.Symbol, h.Words); !slices.Contains(out, words) {
				out = append(out, words)
			}
		}
	}
	return out
}
