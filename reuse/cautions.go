package reuse

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// The cautions that stand beside hot and cold work. Sources: HSE, Plastics (lung disease pages), 2021,
// for exhaust; INRS for burns and dust; HSE PPS 13 (2002) for fume of unknown material; a press
// crushes and clamps, and 5-10 mm as the size of pieces for a sheet: common practice.
const (
	cautionFume   = "fume irritates eyes, nose and lungs and can last: exhaust or outdoors, stop at the first smoke"
	cautionNoHood = "[place] exhaust is not said to be there: do this outdoors or not at all"
	cautionKids   = "no children, nobody pregnant or with asthma, no pets and least of all birds, near hot plastic"
	cautionMelt   = "melt sticks and burns deep: heat gloves, goggles, long sleeves"
	cautionGrind  = "a magnet over it first, one insert ruins the knives; chips fly: goggles, hearing protection, never a hand near the inlet, mask against dust, no sparks"
	cautionCut    = "no granulator is needed for a sheet: cut by hand to 5-10 mm, snips and cut-proof gloves, goggles; a granulator does it faster"
	cautionPress  = "a press crushes: hands out before it closes, jack and frame within their rating, never left alone hot"
	cautionTool   = "clean the tool first: PVC and POM must never have been in it, nor follow"
	cautionDust   = "fibre: gloves and long sleeves, no grinding, no sanding, no compressed air, wet wipe"
	cautionBurn   = "never burn it"
	cautionRead   = "read docs/safety.md before anything hot: section 7 (heat gun, oven, melt) and section "
	cautionDryer  = "no dryer in [kit] has, and a kitchen oven is not one: undried it blisters and its chains break"
)

// cautions of a decision: those of the route, of the materials in it, and of the place.
func (v *view) cautions(d Decision) []string {
	var out []string
	if !d.MayBeHeated {
		out = append(out, "do not heat, press, grind or laser: "+strings.Join(d.WhyNot, "; "))
	}
	switch {
	case d.Route.Hot():
		out = append(out, v.hotCautions(d.Route)...)
	case d.Route == Recycler:
		out = append(out, "one material a bag, clean, dry, free of metal, tape, spools and resin prints; the outlet's own rules come first")
		if slices.Contains(mainSymbols(v.f), "PETG") {
			out = append(out, "never into PET bottle collection: PETG softens below PET and clumps with its flake")
		}
	case d.Route == Disposal || d.Route == SpecialWaste:
		out = append(out, cautionBurn)
	}
	if d.Route == Hold {
		out = append(out, "bag it, label it, keep it dry and away from heat; nothing is added to the bag that is not tested")
	}
	if slices.ContainsFunc(v.mats, func(m polymers.Material) bool { return m.Filler != "" }) || slices.ContainsFunc(v.f.Additives, isFilled) {
		out = append(out, cautionDust)
	}
	return append(out, v.compost()...)
}

func (v *view) hotCautions(r Route) []string {
	tools := map[Route]string{Regrind: "9 (knives, dust, noise)", Sheet: "10 (presses)"}[r]
	out := []string{cautionRead + tools, cautionFume, cautionMelt, cautionTool}
	if !v.s.Place.Exhaust {
		out = append(out, cautionNoHood)
	}
	if v.s.Place.ChildrenOrPets || !v.s.Place.Given {
		out = append(out, cautionKids)
	}
	if v.f.Heats >= 3 {
		out = append(out, fmt.Sprintf("melted %d times already: expect it weaker and more brittle, for nothing that carries a load", v.f.Heats))
	}
	if r == Regrind {
		out = append(out, cautionGrind)
		if slices.ContainsFunc(v.mats, func(m polymers.Material) bool { return !m.Rigid }) {
			out = append(out, "rubbery: cut it small and feed it cold, it smears and wraps round the knives")
		}
	} else {
		if !v.has("granulator") && v.f.Prep != sorting.Flake {
			out = append(out, cautionCut)
		}
		out = append(out, cautionPress)
	}
	for _, m := range v.mats {
		for _, h := range m.Hazards {
			if h.Words != "" && !slices.Contains(out, h.Words) {
				out = append(out, h.Words)
			}
		}
	}
	out = append(out, v.drying()...)
	if !v.has("dryer") {
		out = append(out, cautionDryer)
	}
	out = append(out, v.lowestCeiling()...)
	return append(out, v.salted()...)
}

// present are the materials that may be in it at all: the main one and every other with an upper bound
// above 0.1 %.
func (v *view) present() []polymers.Material {
	out := slices.Clone(v.mats)
	for k, key := range v.f.Keys {
		for _, sym := range symbolsOf(key) {
			if m, ok := polymers.Find(sym); ok && k != v.main && v.sh.upper[k] > 0.001 {
				out = append(out, m)
			}
		}
	}
	return out
}

// lowestCeiling gives the heat never to be passed, by the least of what may be in it.
func (v *view) lowestCeiling() []string {
	low, name := math.Inf(1), polymers.Symbol("")
	for _, m := range v.present() {
		if m.CeilingC != nil && m.CeilingC.Typical < low {
			low, name = m.CeilingC.Typical, m.Symbol
		}
	}
	if name == "" {
		return nil
	}
	return []string{fmt.Sprintf("melt never above %s, the ceiling of %s, which it is or may hold", celsius(low), name)}
}

// oven is the drying of print scrap: the least heat that anything in it stands, and the longest time; no
// hours where none is published.
func (v *view) oven() (low, hours float64) {
	low = math.Inf(1)
	for _, m := range v.present() {
		if d, ok := m.Drying("print scrap"); ok {
			low, hours = min(low, d.TempC.Typical), max(hours, d.Hours.Typical)
		}
	}
	return low, hours
}

// drying gives the drying of the main material, at the least heat that anything in it stands: above its
// glass transition loose scrap of PLA or PETG sticks together.
func (v *view) drying() []string {
	low, hours := v.oven()
	if hours == 0 {
		return nil
	}
	return []string{fmt.Sprintf("dry at %s for %.3g h or more before the melt, not hotter: loose scrap of what it is or may hold sticks together (docs/safety.md, section 7)", celsius(low), hours)}
}

// salted warns of salt left from a bath: it corrodes tools, and two salts never dry in air.
func (v *view) salted() []string {
	if len(v.f.Baths) == 0 {
		return nil
	}
	words := "it has been in " + strings.Join(v.f.Baths, " and ") + ": rinse twice in plain water and dry, salt corrodes knives and screws"
	for _, b := range v.f.Baths {
		if hygroscopic(b) {
			words += "; " + b + " left in it never dries in air"
		}
	}
	return []string{words}
}

// compost says what PLA and PHA are not, where they are thrown out or kept.
func (v *view) compost() []string {
	for _, m := range v.mats {
		if m.Base == "PLA" || m.Base == "PHA" {
			return []string{"not for the compost heap: certificates to EN 13432 hold for a tested product at a plant that takes it, not for a print"}
		}
	}
	return nil
}
