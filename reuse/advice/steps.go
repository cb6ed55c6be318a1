package advice

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/purity"
	"brinecut/sorting/triage"
)

// Step is one thing to do at the bench.
type Step struct {
	Do       string
	Lot      string
	Minutes  float64
	Cautions []string
}

// Bench minutes of the steps around the tests; common practice, no source.
const (
	minutesPick  = 10.0
	minutesRinse = 10.0
	minutesBag   = 3.0
)

// steps puts the bench work in a sensible order: what is dangerous or metal comes out dry, then
// soluble support, then tests, then rinsing, then bagging.
func steps(a *Answer) []Step {
	var out []Step
	out = append(out, dryFirst(a)...)
	out = append(out, tests(a)...)
	out = append(out, partingSteps(a)...)
	if len(salts(a.Bin)) > 0 {
		out = append(out, Step{Do: "rinse every piece that was in a salt bath twice in clean water, three times after calcium or magnesium chloride, of which what stays never dries, and let it dry at room temperature before it is bagged or heated",
			Minutes: minutesRinse, Cautions: []string{"wet salty floors are slippery; keep brine off mains leads and steel tools"}})
	}
	out = append(out, dryings(a)...)
	for _, f := range a.Fractions {
		if len(f.Lots) == 1 && roundingGap(a, f.Lots[0], f.Mass.Mean) {
			continue
		}
		if s, ok := bagSides(a, f); ok {
			out = append(out, s)
			continue
		}
		out = append(out, Step{Do: fmt.Sprintf("bag %q (%s), weigh the bag, write the label at once", f.Name, strings.Join(f.Lots, ", ")), Minutes: minutesBag})
	}
	return out
}

// minutesDry is the hand's part of drying, not the oven's; common practice, no source.
const minutesDry = 10.0

// dryings are for what goes no better way for being damp.
func dryings(a *Answer) []Step {
	var out []Step
	for _, f := range a.Fractions {
		if f.Decision.Drying == "" || !f.Decision.MayBeHeated {
			continue
		}
		out = append(out, Step{Do: fmt.Sprintf("spread %q thin and %s, which %s needs; weigh it again, and write state = \"dry\"", f.Name, f.Decision.Drying, f.Decision.NextWay()), Minutes: minutesDry,
			Cautions: []string{"not in an oven that food is cooked in, and never unattended: loose scrap softens and sticks (docs/safety.md, section 7)"}})
	}
	return out
}

// A remainder below these is what the scale's steps leave between the bin and its lots; judgement.
const (
	gapGrams = 50.0
	gapShare = 0.03 // of the bin
)

// roundingGap reports a lot that is only what the lots' masses leave of the bin's, and small: it is
// shown, but nobody is sent to look for it.
func roundingGap(a *Answer, lot string, mass float64) bool {
	return lot == "unsorted" && len(a.Lots) > 1 && (mass < gapGrams || mass < gapShare*a.TotalOf().Mean)
}

func dryFirst(a *Answer) []Step {
	var out []Step
	if a.Bin.Floor != nil && a.Bin.Floor.Hardware.Value > 0 {
		out = append(out, Step{Do: "pick out magnets, inserts, screws and tape by hand and with a magnet, before anything is cut or ground", Minutes: minutesPick,
			Cautions: []string{"gloves: support edges and wires are sharp", "a battery or a circuit board goes to the collection point for electronics, never into a bath or a granulator"}})
	}
	for _, l := range a.Lots {
		if !l.Heat.May && l.Lot.OriginGiven {
			out = append(out, Step{Do: fmt.Sprintf("set %q apart in a closed bag marked NOT IDENTIFIED, DO NOT HEAT", l.Name), Lot: l.Name, Minutes: minutesBag,
				Cautions: []string{"no cutting, sanding or heating: " + reasons(l)}})
		}
		if roundingGap(a, l.Name, l.Mass.Mean) {
			continue
		}
		if s, ok := pickStep(a, l.Name); ok {
			out = append(out, s)
		} else if s := soluble(a, l); s > 0.02 && s < 0.9 {
			out = append(out, Step{Do: fmt.Sprintf("pick the soluble support out of %q dry, by hand: it breaks away and feels tacky", l.Name), Lot: l.Name, Minutes: minutesPick,
				Cautions: []string{"keep it dry until then: it turns to glue on everything else in water"}})
		}
	}
	return out
}

func reasons(l Lot) string {
	if len(l.Heat.WhyNot) == 0 {
		return "it is not known to be safe"
	}
	return l.Heat.WhyNot[0].Words
}

// soluble is the expected share of water-soluble support in a lot.
func soluble(a *Answer, l Lot) float64 {
	s := 0.0
	for k, key := range a.Composition.Keys {
		if m, ok := polymers.Find(polymers.Symbol(key)); ok && m.WaterSoluble {
			s += l.Shares[k]
		}
	}
	return s
}

// tests lists the best test of every lot that is not settled, in bench order: few baths, well used.
func tests(a *Answer) []Step {
	var open []*triage.Proposal
	for l, p := range a.Next.ByLot {
		if p != nil && !a.Next.Settled[l] {
			open = append(open, p)
		}
	}
	order := cues.Kinds()
	sort.SliceStable(open, func(i, j int) bool {
		x, y := slices.Index(order, open[i].Kind), slices.Index(order, open[j].Kind)
		if x != y {
			return x < y
		}
		return open[i].Density < open[j].Density || open[i].Density == open[j].Density && open[i].Temp < open[j].Temp
	})
	var out []Step
	for _, p := range open {
		out = append(out, Step{Do: Describe(p), Lot: p.Lot, Minutes: p.Minutes, Cautions: p.Cautions})
	}
	return out
}

// Describe says a test in words.
func Describe(p *triage.Proposal) string {
	what := piecesOf(p)
	switch p.Kind {
	case cues.Float:
		in := "plain water with a drop of detergent"
		if p.Bath != "" {
			in = "bath " + p.Bath + " (" + quantity.Format(p.Density) + ")"
		} else if p.Density > 1.005 || p.Density < 0.99 {
			in = "a bath of " + quantity.Format(p.Density)
		}
		how := ", cut small and wetted, in "
		switch {
		case p.Whole:
			how = ", wetted, never cut, in "
		case p.Known != "" || p.Again:
			how = ", wetted, in "
		case p.AtOnce > 1:
			how = ", cut small and wetted, together in "
		}
		return "float " + what + how + in
	case cues.HotWater:
		each := " for two minutes and press it lightly with tongs"
		if p.AtOnce > 1 {
			each = " for two minutes and press each lightly with tongs"
		}
		return "hold " + what + " in water of " + quantity.Format(p.Temp) + each
	}
	t, _ := cues.Find(p.Kind)
	return strings.ToLower(t.Title[:1]) + t.Title[1:] + ": " + what
}

// piecesOf names what a proposal takes.
func piecesOf(p *triage.Proposal) string {
	fresh, of := "a fresh piece of ", fmt.Sprintf("%q", p.Lot)
	switch {
	case p.Known != "":
		return fmt.Sprintf("a piece of the known snippet %q", p.Known)
	case p.Again:
		return fmt.Sprintf("piece %d of %s again", p.Piece, of)
	case p.AtOnce > 1:
		return fmt.Sprintf("%d fresh pieces of %s, picked blind", p.AtOnce, of)
	case p.Whole:
		fresh = "a whole piece of "
	case p.Kind == cues.HotWater:
		fresh = "a thin piece of "
	}
	return fresh + of
}

func salts(bin *sorting.Bin) []string {
	var out []string
	for _, b := range bin.Baths {
		if b.Salt != "" && !slices.Contains(out, b.Salt) {
			out = append(out, b.Salt)
		}
	}
	return out
}

// drawn counts the pieces of a fraction's lots that were drawn at random.
func drawn(b *triage.Belief, f sorting.Fraction) int {
	n := 0
	for _, lot := range f.Lots {
		n += b.RandomDrawn(lot)
	}
	return n
}

// demonstrated is what the pieces drawn at random from a fraction's lots support; nil without any.
func demonstrated(bin *sorting.Bin, b *triage.Belief, f sorting.Fraction) *sorting.Demonstration {
	if f.Material == "" {
		return nil
	}
	tested, wrong := 0, 0
	var against []string
	for _, lot := range f.Lots {
		t, w, rivals := b.RandomPieces(lot, f.Material)
		if t == 0 {
			return nil // a bag is as well shown as its least shown lot
		}
		tested, wrong, against = tested+t, wrong+w, join(against, rivals)
	}
	if tested == 0 {
		return nil
	}
	r, err := purity.Claim(purity.Counts{Tested: tested, Wrong: wrong}, purity.Options{})
	if err != nil {
		return nil
	}
	return &sorting.Demonstration{AtLeast: r.AtLeast, Confidence: r.Confidence, Tested: tested, Wrong: wrong, Against: against}
}
