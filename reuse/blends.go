package reuse

import (
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// blend is what is known of two polymers in one melt: up is the most of the second that the first
// carries without harm, as a share of the whole; 1 where the two are one family to a maker.
type blend struct {
	a, b   polymers.Symbol
	up     float64
	source string
}

// The pairs that get on. Every pair that is not here counts as foreign, and PLA with PETG is one of
// them: no dosage curve was found.
var blends = []blend{
	{"ABS", "ASA", 1, practice + ": both a styrene-acrylonitrile matrix"},
	{"ABS", "PC+ABS", 1, "Liu and Bertilsson, J Appl Polym Sci 74 (1999) 510, abstract"},
	{"ABS", "PC", 1, "Liu and Bertilsson, J Appl Polym Sci 74 (1999) 510, abstract"},
	{"PC", "PC+ABS", 1, "Liu and Bertilsson, J Appl Polym Sci 74 (1999) 510, abstract"},
	{"ABS", "PMMA", 0.10, "Liu and Bertilsson, J Appl Polym Sci 74 (1999) 510, abstract: about 10 % PMMA in PC/ABS"},
	{"PC+ABS", "PMMA", 0.10, "Liu and Bertilsson, J Appl Polym Sci 74 (1999) 510, abstract"},
	{"PLA", "PHA", 1, "Andrzejewski et al., Polymers 17(18) (2025) 2454, abstract"},
	{"PET", "PE-HD", 0.05, "Vaucher et al., Polymers 14(24) (2022) 5507, abstract: 5 % in filament"},
}

// carries is the most of other that main bears in its melt: 0 for a foreign polymer, 1 for its like.
func carries(main, other polymers.Material) float64 {
	if main.Base == other.Base {
		return 1 // a filled grade has a base of its own: filled and neat are kept apart (Polymers 16(21) (2024) 3002, abstract)
	}
	for _, b := range blends {
		if b.a == main.Base && b.b == other.Base || b.up == 1 && b.b == main.Base && b.a == other.Base {
			return b.up
		}
	}
	return 0
}

// foreign is the expected share of what the main material does not carry in its melt.
func (v *view) foreign() float64 {
	total := 0.0
	for k := range v.f.Keys {
		if k != v.main {
			total += max(0, v.sh.mean[k]-v.borne(v.f.Keys[k]))
		}
	}
	return total
}

// borne is the share of a key that every material behind the main key carries, taking the least
// friendly member of either group.
func (v *view) borne(key string) float64 {
	least := 1.0
	for _, sym := range symbolsOf(key) {
		o, ok := polymers.Find(sym)
		if !ok || len(v.mats) == 0 {
			return 0
		}
		for _, m := range v.mats {
			least = min(least, carries(m, o))
		}
	}
	return least
}

// breaksDown reports a material that does not stand the melt heat of the main one: never heated, soluble
// support, or with a ceiling below the main one's melt window.
func breaksDown(o, main polymers.Material) bool {
	if o.NeverHeat || o.WaterSoluble && !main.WaterSoluble {
		return true
	}
	return o.CeilingC != nil && main.Process != nil && o.CeilingC.Typical < main.Process.Low
}

// staysSolid reports a material that does not melt at the heat the main one is worked at: pieces of it end up
// as lumps in a sheet and block a nozzle.
func staysSolid(o, main polymers.Material) bool {
	if o.Process == nil || main.Process == nil || carries(main, o) == 1 {
		return false
	}
	if o.Melt != nil {
		return o.Melt.Low > main.Process.Typical
	}
	return o.Process.Low > main.Process.Typical
}

// worst names the key with the largest upper bound of which some material is at odds with some main one.
func (v *view) worst(atOdds func(o, main polymers.Material) bool) (string, float64) {
	worst, name := 0.0, ""
	for k, key := range v.f.Keys {
		if k == v.main {
			continue
		}
		for _, sym := range symbolsOf(key) {
			o, ok := polymers.Find(sym)
			hot := slices.ContainsFunc(v.mats, func(m polymers.Material) bool { return atOdds(o, m) })
			if ok && hot && v.sh.upper[k] > worst {
				worst, name = v.sh.upper[k], key
			}
		}
	}
	return name, worst
}

// refused names the refusal of an outlet that the fraction meets; empty where none does.
func (v *view) refused(o sorting.Outlet) string {
	for _, r := range o.Refuses {
		if v.meets(strings.ToLower(strings.TrimSpace(r))) {
			return r
		}
	}
	return ""
}

func (v *view) meets(refusal string) bool {
	filled := slices.ContainsFunc(v.mats, func(m polymers.Material) bool { return m.Filler != "" })
	words := slices.Concat(v.f.Additives, v.f.Colours, v.f.Forms)
	switch {
	case refusal == "":
		return false
	case strings.Contains(refusal, "fibre") || strings.Contains(refusal, "fiber") || strings.Contains(refusal, "fill"):
		return filled || slices.ContainsFunc(v.f.Additives, isFilled)
	case flameRetarded(refusal):
		return slices.ContainsFunc(v.f.Additives, flameRetarded)
	case strings.Contains(refusal, "wet") || strings.Contains(refusal, "damp"):
		return v.f.State != sorting.Dry
	case strings.Contains(refusal, "mould") || strings.Contains(refusal, "unknown"):
		return v.f.Origin != sorting.OwnPrint
	}
	return slices.ContainsFunc(words, func(w string) bool {
		return strings.Contains(strings.ToLower(w), refusal) && !denied(strings.ToLower(w))
	})
}

// foreignLimit is the most of other polymers a fraction may hold for a hot route, as a share of it.
func (o Options) foreignLimit(r Route) float64 {
	if r == Regrind {
		return min(1, float64(orShare(o.OthersInFeed, 0.01))/float64(orShare(o.LetDown, 0.25)))
	}
	return float64(orShare(o.OthersInSheet, 0.02))
}

func orShare(x, def quantity.Share) quantity.Share {
	if x > 0 && x <= 1 {
		return x
	}
	return def
}
