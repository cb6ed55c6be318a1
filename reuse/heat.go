package reuse

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// MostHardStop is the largest upper bound (95 %) of the share of a never-heat material at which scrap
// of one's own printers may still be heated: 0.1 % by mass. Two grounds. PVC at 0.1 % already harms
// PET (van Velzen, Chu, Molenveld, Jasso, Wageningen study, as reported 2022). And 0.1 % of a 300 g
// charge can give off at most 0.175 g of hydrogen chloride (58.3 % of the PVC's mass), 5.8 mg/m3 or
// 3.9 ppm in a closed room of 30 m3, below the ceiling of 5 ppm (OSHA, NIOSH); method.md (R1).
const MostHardStop = 0.001

// MostOther is the largest expected share of materials that the handbook does not name at which a lot
// still counts as known: half. Above it the lot is more likely than not something else (judgement).
const MostOther = 0.5

const (
	hseSheet = "HSE, Controlling fume during plastics processing, PPS 13, 2002, table 1"
	ruleHeat = "rule of this tool: bench tests cannot clear PVC, only where a piece comes from does"
)

// HeatInput is all that the heat rule looks at, so that it can be asked of a lot as well as of a
// fraction. Possible holds, for each hard-stop material tracked, the upper bound (95 %) of its share
// by mass, 0 to 1; an empty map means that no bound is known, and bars heat.
type HeatInput struct {
	Origin      sorting.Origin
	OriginGiven bool
	Materials   []polymers.Symbol // what it is held to be
	CouldBe     []polymers.Symbol // what the shelf says
	Possible    map[polymers.Symbol]float64
	Other       float64 // expected share of materials the handbook does not name, 0 to 1
	Additives   []string
}

// Heat says whether something may be heated above 100 °C or ground, and why not.
type Heat struct {
	May    bool
	WhyNot []Reason
}

// MayHeat is the one rule on heat. No flag, kit or test lifts it: what is not own print, what may hold
// more than MostHardStop of a never-heat material, what the shelf says could be one, what is flame
// retarded and what is unknown is neither heated above 100 °C nor ground.
func MayHeat(in HeatInput) Heat {
	var no []Reason
	no = append(no, originBars(in)...)
	no = append(no, namesBar("held to be ", in.Materials)...)
	no = append(no, namesBar("could be ", in.CouldBe)...)
	no = append(no, sharesBar(in.Possible)...)
	no = append(no, togetherBars(in)...)
	if !(in.Other <= MostOther) {
		no = append(no, Reason{"more likely than not a material that is not in the handbook: unknown is never heated", "judgement"})
	}
	for _, a := range in.Additives {
		if flameRetarded(a) {
			no = append(no, Reason{fmt.Sprintf("declared %q: flame-retarded plastic gives off HCl, HBr, phosphorus and antimony compounds when hot", a),
				"INRS, Plastiques, risque et analyse thermique, sheets 4 and 5; " + hseSheet})
		}
		if fluorinated(a) {
			no = append(no, Reason{fmt.Sprintf("declared %q: fluoropolymers give off toxic gases when hot", a),
				"StatPearls, Polymer Fume Fever, 2023"})
		}
	}
	return Heat{May: len(no) == 0, WhyNot: slices.Compact(no)}
}

// heatOf reads the heat rule's input off a fraction, taking the larger of the upper bound that came
// with it and the one its own draws give.
func heatOf(f sorting.Fraction, sh shares) HeatInput {
	in := HeatInput{Origin: f.Origin, OriginGiven: f.OriginGiven, CouldBe: f.CouldBe, Additives: f.Additives,
		Materials: []polymers.Symbol{polymers.Other}, // a bag without a name is unknown, whatever it may hold
		Possible:  map[polymers.Symbol]float64{}}
	if f.Material != "" {
		in.Materials = slices.Compact(slices.Sorted(slices.Values(slices.Concat(symbolsOf(f.Material), f.Symbols))))
	}
	for i, sym := range f.HardStops {
		in.Possible[sym] = 1 // tracked without a bound: nothing is known
		if i < len(f.Possible) {
			in.Possible[sym] = f.Possible[i]
		}
	}
	for k, key := range f.Keys {
		if key == string(polymers.Other) {
			in.Other = sh.mean[k]
			continue
		}
		for _, sym := range symbolsOf(key) {
			if m, ok := polymers.Find(sym); ok && m.NeverHeat && len(f.HardStops) > 0 {
				in.Possible[sym] = max(in.Possible[sym], sh.upper[k])
			}
		}
	}
	return in
}

func originBars(in HeatInput) []Reason {
	switch {
	case in.Origin == sorting.OwnPrint && in.OriginGiven:
		return nil
	case !in.OriginGiven:
		return []Reason{{"where it comes from is not said, and only own prints are heated or ground", ruleHeat}}
	case in.Origin == sorting.Moulded:
		return []Reason{{"moulded, not own print: PVC cannot be ruled out at the bench", ruleHeat}}
	}
	return []Reason{{"not known to be own print: PVC cannot be ruled out at the bench", ruleHeat}}
}

// namesBar bars materials whose record forbids heat, those the handbook does not know, and
// flame-retarded grades by name.
func namesBar(how string, syms []polymers.Symbol) []Reason {
	var no []Reason
	for _, s := range syms {
		m, ok := polymers.Find(s)
		switch {
		case s == polymers.Other:
			no = append(no, Reason{how + "something that has no name here: unknown is never heated", "judgement"})
		case flameRetarded(string(s)):
			no = append(no, Reason{how + string(s) + ", a flame-retarded grade", hseSheet})
		case fluorinated(string(s)):
			no = append(no, Reason{how + string(s) + ", a fluoropolymer", "StatPearls, Polymer Fume Fever, 2023"})
		case !ok:
			no = append(no, Reason{how + string(s) + ", which the handbook does not know", "judgement"})
		case m.NeverHeat:
			no = append(no, Reason{how + string(s) + ", which is never heated: " + m.NeverHeatWhy, hseSheet})
		}
	}
	return no
}

// sharesBar holds every upper bound against MostHardStop; a bound that is no number bars too.
func sharesBar(possible map[polymers.Symbol]float64) []Reason {
	if len(possible) == 0 {
		return []Reason{{"how much PVC or POM it may hold was never bounded", "rule of this tool"}}
	}
	syms := make([]polymers.Symbol, 0, len(possible))
	for s := range possible {
		syms = append(syms, s)
	}
	slices.Sort(syms)
	var no []Reason
	for _, s := range syms {
		if p := possible[s]; !(p <= MostHardStop) {
			no = append(no, Reason{fmt.Sprintf("up to %s of it may be %s (upper bound at 95 %%), and %s is the most",
				percent(p), stopWords(s), percent(MostHardStop)), "method.md (R1)"})
		}
	}
	return no
}

// togetherBars names the worst of pairs: hydrogen chloride from PVC makes acetal fall apart into formaldehyde,
// and in a closed tool the pressure builds up. Each of the two bars by itself; both are told.
func togetherBars(in HeatInput) []Reason {
	pvc, acetal := false, false
	for _, s := range slices.Concat(in.Materials, in.CouldBe) {
		pvc, acetal = pvc || strings.HasPrefix(base(s), "PVC"), acetal || base(s) == "POM"
	}
	for s, p := range in.Possible {
		pvc, acetal = pvc || strings.HasPrefix(base(s), "PVC") && !(p <= MostHardStop), acetal || base(s) == "POM" && !(p <= MostHardStop)
	}
	if !pvc || !acetal {
		return nil
	}
	return []Reason{{"PVC and POM may both be in it: in one hot tool the acid of the first makes the second fall apart into formaldehyde gas, and what is closed bursts", "a resin maker's molding guide for POM, safety and hygiene precaution, section 2.1; docs/safety.md, section 1"}}
}

// stopWords names a tracked material; what may hide among the unnamed is tracked under Other.
func stopWords(s polymers.Symbol) string {
	if s == polymers.Other {
		return "a never-heated material among those not named"
	}
	return string(s)
}
