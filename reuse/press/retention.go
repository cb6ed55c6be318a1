package press

import (
	"fmt"
	"math"

	"brinecut/polymers"
)

// Kept is one published finding on repeated melting.
type Kept struct {
	Polymer  polymers.Symbol
	Measure  string
	Cycles   int     // melts between the two values compared
	Of       float64 // value after over value before; 0 where the source gives words only
	Words    string
	Strength bool // strength, as against ductility or toughness
	Source   string
	Evidence polymers.Evidence
	PerMelt  float64 // Of^(1/Cycles); 0 where Of is
	InLoop   float64 // of the virgin value in the steady loop, linear mixing; 0 where Of is
}

const (
	cress = "Cress et al. 2021, J. Clean. Prod. 279:123689"
	penn  = "Macromol. Mater. Eng. 2026, 311(1):e00307"
)

// findings are the studies, as far as a number or a clear word could be read. They disagree: that is why a
// range is given.
var findings = []Kept{
	{Polymer: "ABS", Measure: "tensile strength, printed, shredded, extruded again", Cycles: 3, Of: 0.90, Strength: true, Source: cress, Evidence: polymers.Abstract},
	{Polymer: "ABS", Measure: "strain at break, the same", Cycles: 3, Of: 3.9 / 5.2, Source: cress, Evidence: polymers.Abstract},
	{Polymer: "ABS", Measure: "toughness, the same", Cycles: 3, Of: 0.63, Source: cress, Evidence: polymers.Abstract},
	{Polymer: "ABS", Measure: "mechanical, virgin and post-consumer blends", Cycles: 3, Words: "largest drop at the first reprocessing", Source: "Scaffaro, Botta & Di Benedetto 2012, Eur. Polym. J. 48:637", Evidence: polymers.Abstract},
	{Polymer: "PETG", Measure: "tensile, flexural, impact, filament extruded again", Cycles: 6, Words: "only a minor knock-down", Source: "Vidakis et al. 2021, Materials 14(5):1162", Evidence: polymers.Abstract},
	{Polymer: "PETG", Measure: "modulus and tensile strength, print and reprocess", Cycles: 5, Of: 1, Words: "not significantly changed", Strength: true, Source: penn, Evidence: polymers.Abstract},
	{Polymer: "PETG", Measure: "viscosity, ductility, the same", Cycles: 5, Words: "viscosity falls; ductility drops at once for one grade", Source: penn, Evidence: polymers.Abstract},
	{Polymer: "PLA", Measure: "tensile strength, recycled filament printed", Cycles: 1, Of: 1 - 0.109, Strength: true, Source: "Anderson 2017, 3D Print. Addit. Manuf. 4(2):110", Evidence: polymers.Memory},
	{Polymer: "PLA", Measure: "tensile strength, 75 % recycled against new, printed", Cycles: 1, Of: 52.61 / 44.20, Words: "higher, crystallinity fell", Strength: true, Source: "PMC10180583, 2023", Evidence: polymers.Abstract},
	{Polymer: "PLA", Measure: "closed loop of printing", Cycles: 2, Words: "two print cycles feasible, then the melt is too thin", Source: "Zhao et al. 2018, J. Clean. Prod. 197:1046", Evidence: polymers.Abstract},
	{Polymer: "PP", Measure: "melt flow, twin screw at 240-280 °C", Cycles: 5, Words: "melt flow up, molar mass down, faster when hotter", Source: "abstract of a study of five extrusions, title not read", Evidence: polymers.Abstract},
	{Polymer: "PA12", Measure: "impact, moulded", Cycles: 1, Words: "kept if reprocessed at a higher melt temperature", Source: "Loughborough repository, item 9551129", Evidence: polymers.Abstract},
}

// published picks the findings for a polymer and carries each number to the loop; the range is over
// strength alone, and never above 1: a gain at one laboratory is not promised. One study is no range.
func published(m polymers.Material, share float64) ([]Kept, *Span) {
	var out []Kept
	low, high, figures := math.Inf(1), math.Inf(-1), 0
	for _, f := range findings {
		if f.Polymer != polymer(m) {
			continue
		}
		if f.Of > 0 {
			f.PerMelt = math.Pow(f.Of, 1/float64(f.Cycles))
			f.InLoop = kept(share, math.Min(1, f.PerMelt))
		}
		if f.Of > 0 && f.Strength {
			low, high, figures = math.Min(low, f.InLoop), math.Max(high, f.InLoop), figures+1
		}
		out = append(out, f)
	}
	if figures < 2 {
		return out, nil
	}
	return out, &Span{Low: low, Typical: (low + high) / 2, High: high}
}

// studied says in words how much the findings carry.
func studied(m polymers.Material, found []Kept, r *Span) string {
	figures := 0
	for _, f := range found {
		if f.Of > 0 && f.Strength {
			figures++
		}
	}
	switch {
	case len(found) == 0:
		return fmt.Sprintf("no study found of repeated melting of %s", polymer(m))
	case r != nil:
		return fmt.Sprintf("%d published figures for strength, of different tests, from %.0f to %.0f %%: they disagree, and bound nothing", figures, 100*r.Low, 100*r.High)
	case figures == 1:
		return "one published figure for strength, which is no range; ductility and toughness fall faster"
	}
	return "studies found give words, no figure for strength"
}

// polymer is what a grade is made of.
func polymer(m polymers.Material) polymers.Symbol {
	switch {
	case m.Polymer != "":
		return m.Polymer
	case m.Base != "":
		return m.Base
	}
	return m.Symbol
}

// LetDown is the usual ceiling of regrind among new material.
type LetDown struct {
	Low, High float64 // share of the feed
	Source    string
}

// letDown is the ceiling in circulation for a polymer.
func letDown(m polymers.Material) LetDown {
	switch polymer(m) {
	case "TPU":
		return LetDown{0.30, 0.30, "a supplier's regrind note, after drying"}
	case "PET":
		return LetDown{0.25, 0.25, "trade note on bottle preforms, fully dried"}
	}
	return LetDown{0.20, 0.25, "two moulders' notes; UL 746D allows 25 % for rated plastics, from memory"}
}

func percentSpan(l LetDown) string {
	if l.Low == l.High {
		return fmt.Sprintf("%.0f %%", 100*l.Low)
	}
	return fmt.Sprintf("%.0f-%.0f %%", 100*l.Low, 100*l.High)
}
