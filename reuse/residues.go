package reuse

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Residue is what the sorting itself leaves behind, where it goes, and its cautions.
type Residue struct {
	What     string
	Route    string
	Cautions []string
	Source   string
}

// Bench is what was used at the bench, as far as it leaves something behind.
type Bench struct {
	Salts    []string // of the baths, as the bin file names them
	Solvents []string // acetone, limonene, …
	Soluble  bool     // soluble support was soaked, or is in the bin
	Ground   bool     // something was or will be granulated
	Fibre    bool     // something is filled with fibre
	Metal    bool     // magnets, inserts
	Place    sorting.Place
}

// chlorideOf is the share of chloride ion in a salt by mass, from IUPAC atomic weights: Cl 35.45,
// Na 22.990, Ca 40.078, Mg 24.305.
var chlorideOf = map[string]float64{
	"table salt":         35.45 / (22.990 + 35.45),
	"calcium chloride":   2 * 35.45 / (40.078 + 2*35.45),
	"magnesium chloride": 2 * 35.45 / (24.305 + 2*35.45),
}

// chronicChloride is the chronic criterion for freshwater life, g/l (US EPA 440/5-88-001, 1988).
const chronicChloride = 0.230

// Chloride returns the grams of chloride in a mass of anhydrous salt, and the liters of water that
// bring it to 230 mg/l, the chronic criterion for freshwater life (US EPA 440/5-88-001, 1988, figure
// from memory); method.md (R5). ok is false for a salt without chloride.
func Chloride(salt string, mass quantity.Gram) (chloride quantity.Gram, liters float64, ok bool) {
	share, ok := chlorideOf[salt]
	chloride = quantity.Gram(float64(mass) * share)
	return chloride, float64(chloride) / chronicChloride, ok
}

// Residues lists what the bench leaves behind and where it goes. Local rules come first everywhere:
// where the drain is not a foul sewer, or not said, nothing goes down it.
func Residues(b Bench) []Residue {
	var out []Residue
	salts := slices.Clone(b.Salts)
	slices.Sort(salts)
	for _, s := range slices.Compact(salts) {
		out = append(out, brine(s, b.Place))
	}
	if len(salts) > 0 || b.Soluble || b.Ground {
		out = append(out, Residue{"filters and what settles in the bath", "residual waste, dried",
			[]string{"pour every bath and rinse through a fine filter first (25-50 um and paper, 5 um is better); never down the drain unfiltered"},
			"Brown et al., J Haz Mat Advances 10 (2023) 100309: filters took nearly all above 40 um, little below 5 um"})
	}
	if b.Soluble {
		out = append(out, solubleWater(b.Place))
	}
	for _, s := range b.Solvents {
		out = append(out, Residue{"rags and drops of " + s, "hazardous-waste point, in a closed metal tin; never down a drain",
			[]string{"let rags dry outdoors, spread out, away from flame and spark", "no heat gun in the same session"}, practice})
	}
	if b.Ground {
		out = append(out, Residue{"fines and dust", "residual waste, in a closed bag",
			[]string{"mask, no compressed air, wipe wet; fine dust in a cloud can burn: no sparks", "fines melt first and speck: sieve them out, do not feed them back"}, practice + "; INRS on dust"})
	}
	if b.Fibre {
		out = append(out, Residue{"wipes with fibre on them", "residual waste, in a closed bag", []string{cautionDust}, "Strelkova, Hi-AM 2025, abstract 6808; INRS"})
	}
	if b.Metal {
		out = append(out, Residue{"magnets and inserts picked out", "scrap metal; use again", []string{"magnets apart from each other: they pinch; kept from children, dangerous when swallowed"}, practice})
	}
	return out
}

// brine routes a salt bath by what the drain leads to.
func brine(salt string, p sorting.Place) Residue {
	r := Residue{What: "bath of " + salt, Source: "local code first; " + practice}
	keep := kept(salt)
	burns := strings.Contains(salt, "ethanol") || strings.Contains(salt, "isopropanol")
	switch {
	case burns:
		r.Route = "use it again in a closed, labelled bottle; then the hazardous-waste point"
		r.Cautions = append(r.Cautions, "flammable: no flame, no spark, air the room")
	case salt == "potassium carbonate" && p.Drain == "sewer":
		r.Route = keep
		r.Cautions = append(r.Cautions, "no drain unless the sewer's operator agrees: water alone hardly tames it, ten times as much lowers the pH by about half a unit")
	case salt == "sodium bromide":
		r.Route = keep
		r.Cautions = append(r.Cautions, "no drain: bromide turns into harmful by-products where water is chlorinated or ozonised (from memory)")
	case p.Drain == "sewer":
		r.Route = "use it again; then filtered and much diluted to the foul sewer, if its operator allows; else: " + keep
	default:
		r.Route = keep
		r.Cautions = append(r.Cautions, "no drain: "+drainWhy(p.Drain))
	}
	if cl, liters, ok := Chloride(salt, 1000); ok {
		r.Cautions = append(r.Cautions, fmt.Sprintf("1 kg of the anhydrous salt holds %.0f g chloride: %.0f l of water to reach 230 mg/l", float64(cl), rounded(liters)))
		r.Source = "US EPA 440/5-88-001 (1988): 230 mg/l chronic, figure from memory; local code first"
	}
	if salt == "potassium carbonate" {
		r.Cautions = append(r.Cautions, "alkaline: gloves and goggles, never together with acid")
	}
	r.Cautions = append(r.Cautions, "never on soil, in a garden, storm drain or septic tank")
	return r
}

// neverDries are what takes up water from the air of a room until it is a solution: the relative humidity over their
// saturated solutions at 25 °C is 29 % (calcium chloride, from memory), 33 % and 43 % (magnesium chloride, potassium
// carbonate: Greenspan, J Res Natl Bur Stand 81A (1977) 89, from memory); glycerol does not dry at all.
var neverDries = []string{"calcium chloride", "magnesium chloride", "potassium carbonate", "glycerol"}

// kept is what is done with a bath that no drain takes.
func kept(salt string) string {
	switch {
	case hygroscopic(salt):
		return "use it again, in a closed and labelled bottle; it never dries out in air, so hand it in in the end"
	case strings.Contains(salt, "sugar"):
		return "use it again within days, cold and with the lid loose: it ferments; then hand it in"
	}
	return "use it again; then let it dry out in a shallow tray and keep the salt, or hand it in"
}

func hygroscopic(salt string) bool {
	return slices.ContainsFunc(neverDries, func(s string) bool { return strings.Contains(salt, s) })
}

func drainWhy(drain string) string {
	switch drain {
	case "septic":
		return "salt stops a septic tank working"
	case "none":
		return "there is none"
	}
	return "where it leads is not said ([place] drain)"
}

// solubleWater routes water with dissolved support.
func solubleWater(p sorting.Place) Residue {
	r := Residue{What: "water with dissolved support (PVA, BVOH)", Route: "let it dry out; the dry film to residual waste",
		Cautions: []string{"gel blocks pipes", "never into a garden, storm drain or septic tank; it dissolves but does not vanish"},
		Source:   "Rolsky and Kelkar 2021: about 61 % leaves a plant with the sludge, 15.7 % in the water"}
	if p.Drain == "sewer" {
		r.Route = "small amounts with plenty of water to the foul sewer, only if its operator allows; else dry out, residual waste"
	}
	return r
}
