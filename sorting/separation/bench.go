package separation

import (
	"fmt"
	"math"
	"slices"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Step is one thing to do at the bench to carry a plan out.
type Step struct {
	Do       string
	Minutes  float64 // hands on; waiting is said in words
	Cautions []string
}

// Minutes around the partings, hands on; common practice, no source.
const (
	sieveMinutes   = 5
	wetMinutes     = 5
	witnessMinutes = 2
	dryMinutes     = 5
	noteMinutes    = 3
)

// wettingSoluble is the warmest water for a lot that may still hold soluble support, °C: warm water makes
// glue of it sooner (it dissolves faster the warmer it is; common practice).
const wettingSoluble = 20

// wettingMost is the warmest water that pieces are wetted in, °C; common practice. The ceiling of the
// lot comes on top.
const wettingMost = 45

// Steps spells a plan out in bench order: what comes out dry, then wetting, the baths with a check before
// and after, rinsing, drying, writing down. None where the lot is not to be parted. A sieve, where there
// is one, first takes out what is too small to be floated.
func Steps(p LotPlan, sieve bool) []Step {
	if p.First == nil {
		return nil
	}
	var out []Step
	wet, begun := false, false
	for _, x := range p.Partings() {
		if x.Kind == sorting.ByFloat && !begun {
			out, begun = append(out, p.beforeFloating(sieve)...), true
		}
		out = append(out, x.steps(p.Lot)...)
		wet = wet || x.Kind != sorting.ByHand
	}
	if begun {
		out = append(out, Step{Do: "put the two witnesses into every bath again before it is put away: if one goes the other way now, or swims more than it did, the bath has drifted, and what was floated since the last check is floated again",
			Minutes: witnessMinutes * float64(p.baths())})
	}
	if wet {
		out = append(out, p.dry())
	}
	return append(out, Step{Do: fmt.Sprintf("weigh every side of %q dry and write each parting down as a [[split]]", p.Lot), Minutes: noteMinutes})
}

// baths counts the baths that are set up; one that is used twice counts once.
func (p *LotPlan) baths() int {
	n := 0
	for _, x := range p.Partings() {
		if x.Kind == sorting.ByFloat && x.SetUp > 0 {
			n++
		}
	}
	return n
}

// beforeFloating is what pieces and baths need first. Bubbles, not the liquid, are the largest error:
// better than 0.01 g/cm3 takes complete wetting (M. Hu, N. Fraunholz, P. Rem, Open Waste Manag. J. 3
// (2010) 71). Detergent of 0.1-0.2 g/l already wets ABS and HIPS (E. Malinowska et al., Appl. Sci. 14
// (2024) 4407), and salts out in brine, so it goes into the water before. A 1 mm bubble makes a piece of
// 1.27 g/cm3 0.001 lighter at 1 cm3, 0.003 at 0.2 cm3, 0.013 at 0.05 cm3: pieces under 6 mm are left out.
func (p *LotPlan) beforeFloating(sieve bool) []Step {
	var out []Step
	if p.Cutting > 0 {
		out = append(out, Step{Do: fmt.Sprintf("cut %q into pieces of 6 to 8 mm with side cutters, so that no infill is closed in: closed air floats anything", p.Lot), Minutes: p.Cutting,
			Cautions: []string{"bits fly: goggles, and point the cut into a bag", "fibre-filled pieces are cut wet, with gloves, or not at all: loose fibres get on skin and into the air"}})
	}
	if sieve {
		out = append(out, Step{Do: fmt.Sprintf("sieve the crumbs under 6 mm out of %q and bag them as a mixture: on them one bubble decides", p.Lot), Minutes: sieveMinutes})
	}
	most := quantity.Celsius(math.Min(wettingMost, float64(p.Driest.Temp)))
	cautions := []string{"no warmer: loose thin prints soften and stick, and hot water scalds (docs/safety.md, section 6)"}
	if p.soluble() {
		most = min(most, wettingSoluble)
		cautions = append(cautions, "what turns slimy is soluble support that was missed: take it out and change the water before it coats the rest")
	}
	return append(out,
		Step{Do: fmt.Sprintf("wet %q: ten minutes in fresh water of at most %s with a drop of dish soap to the litre, stirred, dunked in a sieve and tapped until no bubble clings; soap goes in here and not into the brine", p.Lot, quantity.Format(most)), Minutes: wetMinutes, Cautions: cautions},
		Step{Do: "find two witnesses for every bath: solid, void-free pieces you know, one that has to float and one that has to sink, and see that they do", Minutes: witnessMinutes * float64(p.baths()),
			Cautions: []string{"let a bath that warmed up while it was mixed cool first: warm it reads too light, and softens PLA"}})
}

// soluble reports a plan that reckons with soluble support in the lot.
func (p *LotPlan) soluble() bool {
	return p.DryFirst() > 0 || slices.ContainsFunc(p.Partings(), func(x *Parting) bool { return x.Kind == sorting.BySoak })
}

// steps of one parting.
func (x *Parting) steps(lot string) []Step {
	out := []Step{{Do: x.words(lot) + "; " + x.expects(), Minutes: x.Minutes, Cautions: x.Cautions}}
	if x.Kind == sorting.ByFloat && x.SetUp > 0 {
		out[0].Minutes -= 2 * witnessMinutes // these have steps of their own
	}
	if x.Kind == sorting.ByFloat && !plain(x.Density) {
		out[0].Minutes -= rinseMinutes
		out = append(out, Step{Do: "rinse both sides twice in clean water, three times after calcium or magnesium chloride: what stays of these draws water from the air and never dries, and weighs with the plastic", Minutes: rinseMinutes,
			Cautions: []string{"rinse between two baths of different salts: potassium carbonate turns to chalk with calcium or magnesium salts, calcium chloride to gypsum with Epsom salt", "wet salty floors are slippery; keep brine off mains leads and steel tools"}})
	}
	if s := x.Second; s != nil && s.Pays {
		out = append(out, Step{Do: fmt.Sprintf("run what %s through the same once more: it brings that side to about %s", says(x, s.Side), percent(s.Purity)), Minutes: s.Minutes, Cautions: x.Cautions})
	}
	return out
}

func (x *Parting) words(lot string) string {
	what := fmt.Sprintf("%q", lot)
	if x.N > 1 {
		what = fmt.Sprintf("what is left of %q (%s)", lot, grams(x.Feed.Mean))
	}
	switch x.Kind {
	case sorting.ByFloat:
		return fmt.Sprintf("float %s in %s, some %d pieces at a time: push every piece under and let go, count only what rises again, %s, then skim", what, x.Liquid(), floatHandful, x.waits())
	case sorting.ByHotWater:
		return fmt.Sprintf("warm %s in water of %s, some %d pieces at a time, half a minute for 2 mm and three for 4 mm, and press each with tongs under water: limp ones to one side, stiff ones to the other", what, quantity.Format(x.Temp), heatHandful)
	case sorting.BySoak:
		return fmt.Sprintf("leave %s in cold water for an hour, stirring, and rub what is slimy off or sort it out", what)
	}
	switch x.Sides[0].Outcome {
	case "rubbery":
		return fmt.Sprintf("bend every piece of %s a little by hand, gloved: what is rubbery to one side", what)
	case picked:
		return fmt.Sprintf("pick the soluble support out of %s dry, by hand: it breaks away and feels tacky", what)
	}
	return fmt.Sprintf("pick %s over by eye, dry and in daylight: what is %s to one side", what, x.Sides[0].Outcome)
}

// Liquid names what a float is made in.
func (x *Parting) Liquid() string {
	switch {
	case x.Bath != "":
		return "bath " + x.Bath + " (" + quantity.Format(x.Density) + ")"
	case plain(x.Density):
		return "plain water"
	}
	return "a bath of " + quantity.Format(x.Density)
}

// waits says how long pieces take to rise or to sink.
func (x *Parting) waits() string {
	if x.Wait <= 0 {
		return "two minutes at least in salt water and a quarter of an hour in syrup"
	}
	return fmt.Sprintf("after %s of rest at least (%s; flat pieces and smaller differences are slower)", said(x.Wait), x.In)
}

// said is a time in words, in full minutes.
func said(t quantity.Second) string {
	if n := math.Ceil(t.Minutes() - 1e-9); n > 1 {
		return fmt.Sprintf("%.0f minutes", n)
	}
	return "a minute"
}

// expects says what should come out.
func (x *Parting) expects() string {
	out := "expect: "
	for i, s := range x.Sides {
		if i > 0 {
			out += "; "
		}
		out += fmt.Sprintf("what %s, %s (%s to %s), is %s %s (%s to %s), and %s of all %s (%s to %s)", says(x, i), grams(s.Mass.Mean), grams(s.Mass.Low), grams(s.Mass.High),
			percent(s.Purity.Mean), s.Main, percent(s.Purity.Low), percent(s.Purity.High), percent(s.Recovery.Mean), s.Main, percent(s.Recovery.Low), percent(s.Recovery.High))
	}
	if x.Second != nil && !x.Second.Pays {
		out += "; a second pass would not pay"
	}
	return out
}

// says names a side as the end of "what …".
func says(x *Parting, side int) string {
	switch o := x.Sides[side].Outcome; o {
	case "floats", "sinks":
		return o
	case "soft":
		return "goes limp"
	case "stiff":
		return "stays stiff"
	case "the rest":
		return "is left"
	default:
		return "is " + o
	}
}

// dry: scrap sticks above its lowest glass transition, and a mass weighed wet is only an upper bound.
func (p *LotPlan) dry() Step {
	limit := quantity.Format(p.Driest.Temp)
	if p.Driest.Of != "" {
		limit += fmt.Sprintf(" (%s in it begins to stick above)", p.Driest.Of)
	}
	return Step{Do: fmt.Sprintf("spread all sides of %q out thin and dry them overnight, in air or in warmth of at most %s; weigh again the next day: a mass that still falls is water", p.Lot, limit), Minutes: dryMinutes,
		Cautions: []string{"never in an oven that food goes into, and never unattended (docs/safety.md, section 7)"}}
}

func grams(g float64) string {
	if g >= 1000 {
		return fmt.Sprintf("%.2f kg", g/1000)
	}
	return fmt.Sprintf("%.0f g", g)
}

func percent(x float64) string { return fmt.Sprintf("%.0f %%", 100*x) }

// PlanAssumptions lists the constants that plans lean on.
func PlanAssumptions(plans []LotPlan, opt PlanOptions) []sorting.Assumption {
	opt = opt.withDefaults()
	out := []sorting.Assumption{
		{Says: fmt.Sprintf("a piece weighs %.0f g where a lot does not say how many there are", float64(opt.PieceMass)), Key: "[[lot]] pieces", Source: "judgement"},
		{Says: fmt.Sprintf("%d pieces share a bath and %d a pan of hot water, so that a piece costs that part of its minutes alone", floatHandful, heatHandful), Key: "[kit] minutes", Source: "judgement"},
		{Says: fmt.Sprintf("cutting a piece small takes %.2f min, picking soluble support out %.2f min a piece, finding %.0f %% of it", cutEach, pickEach, 100*pickFinds), Key: "[[lot]] prep", Source: "judgement"},
		{Says: fmt.Sprintf("a lot is planned for where less than %.0f %% of it goes one way, in %.0f %% of what it may be", 100*opt.Clean, 100*opt.Doubt), Key: "[[lot]] mixed", Source: "judgement"},
	}
	if slices.ContainsFunc(plans, func(p LotPlan) bool { return p.ByColour }) {
		out = append(out, sorting.Assumption{Says: fmt.Sprintf("%.0f %% of a material's spools have the colour of its known snippets, the rest any that the lot says; picked by eye, %.0f %% is put wrong", 100*ofKnown, 100*eyeErrs),
			Key: "[[known]] colour", Source: "judgement"})
	}
	return out
}
