package reuse

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// condition is one thing a way asks of the fraction. lacking returns what it lost by and what would
// mend it, or nothing where it is met.
type condition struct {
	asks    string
	source  string
	what    bool // asks what it is, not what the bench has or what it is worth
	lacking func(v *view, r Route) []lack
}

// hotConditions are what regrind and sheet ask, in order: first what no bench can mend.
var hotConditions = []condition{
	{"may be heated and ground", ruleHeat, true, lackHeat},
	{"one named material", practice, true, lackName},
	{"where its materials were not told apart, ones that melt together without limit", "compatibility table of docs/method.md, Reuse; ABS with HIPS delaminates, from memory", true, lackTogether},
	{"a melt window", "the handbook's record", true, lackWindow},
	{"not a soluble support", practice + ": swells, degrades, steam voids", true, lackSoluble},
	{"no fibre or filler", "Strelkova, Hi-AM 2025, abstract 6808 (fibres shed); ISO 293 scope leaves out reinforced plastics", true, lackNeat},
	{"nothing in it that breaks down at its melt heat (upper bound at 95 %)", practice, true, lackStable},
	{"nothing in it that stays solid at its melt heat (upper bound at 95 %)", practice + ": lumps in a sheet, a blocked nozzle", true, lackMelted},
	{"few enough other polymers", practice + ": 1-2 % in parts that do not matter, 0.1 % in filament", true, lackPure},
	{"dry", practice + ": damp flake blisters, and polyesters, PC and PA hydrolyse", false, lackDry},
	{"tests done", "rule of this tool", false, lackSettled},
	{"the tools", "[kit] has", false, lackTools},
}

// Unpressable lists what bars a fraction from a sheet press for what it is, heat first, whatever the bench
// has and whatever it is worth; empty where nothing does. An error means that it carries no usable draws.
func Unpressable(f sorting.Fraction, opt Options) ([]Asked, error) {
	if err := check(f); err != nil {
		return nil, err
	}
	v, w := look(f, Situation{}, opt), way{}
	for _, c := range hotConditions {
		if c.what {
			w.ask(c.asks, c.source, c.lacking(v, Sheet))
		}
	}
	return slices.DeleteFunc(w.asks, func(a Asked) bool { return a.Met }), nil
}

// ways are all that keep the material: the two hot ones, then each outlet in the file's order.
func (v *view) ways() []way {
	var out []way
	for _, r := range []Route{Regrind, Sheet} {
		w := way{route: r, costs: benchCosts(r, v.s), tools: v.missing(r)}
		w.real = len(w.tools) == 0
		w.worth = w.costs.appraise(v.massG)
		for _, c := range hotConditions {
			w.ask(c.asks, c.source, c.lacking(v, r))
		}
		w.ask("worth more than it costs", "method.md (R2), (R3)", v.lackWorth(w))
		out = append(out, w)
	}
	for _, o := range v.s.Outlets {
		w := way{route: Recycler, outlet: o.Name, costs: outletCosts(o, v.s)}
		for _, c := range outletConditions {
			w.ask(c.asks, c.source, c.lacking(v, o))
		}
		w.worth = w.costs.appraise(v.massG)
		w.real = !v.known() || len(v.lackAccepts(o)) == 0 // parts of a mixture may still be what it takes
		out = append(out, w)
	}
	taken := func(w way) bool { return w.route == Recycler && w.curable() }
	if (v.known() || !v.f.Settled) && !slices.ContainsFunc(out, taken) {
		out = append(out, v.noOutlet())
	}
	return out
}

func lackHeat(v *view, _ Route) []lack {
	if cure := v.originCure(); cure != "" {
		return []lack{{by: v.heat.WhyNot[0].Words, cure: cure}}
	}
	var out []lack
	for _, r := range v.heat.WhyNot {
		out = append(out, lack{by: r.Words})
	}
	return out
}

// originCure is the one thing that can still lift a bar on heat: the origin, where it was left out and
// nothing but the origin stands against heat.
func (v *view) originCure() string {
	in := v.in
	if in.OriginGiven || in.Origin == sorting.Moulded {
		return ""
	}
	in.Origin, in.OriginGiven = sorting.OwnPrint, true
	in.Possible = map[polymers.Symbol]float64{polymers.Other: 0}
	if !MayHeat(in).May {
		return ""
	}
	return "write where it comes from: origin = \"own-print\" only if every piece left your own printers"
}

// lackTogether bars a group that was not told apart, unless its members melt together without limit: as
// pure as the key looks, it is one of them or a blend that does not hold.
func lackTogether(v *view, _ Route) []lack {
	for i, a := range v.mats {
		for _, b := range v.mats[:i] {
			if carries(a, b) < 1 || carries(b, a) < 1 {
				return []lack{{by: fmt.Sprintf("%s were not told apart, and they do not melt into one sound material", strings.ReplaceAll(v.f.Material, "/", " and "))}}
			}
		}
	}
	return nil
}

func lackName(v *view, _ Route) []lack {
	if v.known() {
		return nil
	}
	l := lack{by: "not one material: a mixture is neither pressed nor drawn"}
	if !v.f.Settled {
		l.cure, l.test = "test and part it further", true
	}
	return []lack{l}
}

func lackWindow(v *view, _ Route) []lack {
	for _, m := range v.mats {
		if m.Process == nil {
			return []lack{{by: "no melt window is known for " + string(m.Symbol)}}
		}
	}
	return nil
}

func lackSoluble(v *view, _ Route) []lack {
	if slices.ContainsFunc(v.mats, func(m polymers.Material) bool { return m.WaterSoluble }) {
		return []lack{{by: "a soluble support is never pressed or ground: it degrades, and its dust is suspected of harm to the airways"}}
	}
	return nil
}

func lackNeat(v *view, _ Route) []lack {
	filled := slices.ContainsFunc(v.mats, func(m polymers.Material) bool { return m.Filler != "" })
	if filled || slices.ContainsFunc(v.f.Additives, isFilled) {
		return []lack{{by: "filled: fibre breaks shorter on each pass, sheds dust when ground, and wears the tools"}}
	}
	return nil
}

func lackStable(v *view, _ Route) []lack {
	return v.lackAtOdds(breaksDown, "breaks down")
}

// lackMelted bars pieces that do not melt with the rest.
func lackMelted(v *view, _ Route) []lack {
	return v.lackAtOdds(staysSolid, "stays solid")
}

func (v *view) lackAtOdds(atOdds func(o, main polymers.Material) bool, does string) []lack {
	limit := float64(orShare(v.o.UnstableInMelt, 0.02))
	if key, up := v.worst(atOdds); up > limit {
		return []lack{{by: fmt.Sprintf("up to %s may be %s, which %s at its melt heat (at most %s)", percent(up), key, does, percent(limit)),
			cure: "part the " + key + " off first", test: true}}
	}
	return nil
}

func lackPure(v *view, r Route) []lack {
	limit, have := v.o.foreignLimit(r), v.foreign()
	if v.known() && have > limit {
		return []lack{{by: fmt.Sprintf("about %s other polymers, at most %s", percent(have), percent(limit)),
			cure: fmt.Sprintf("test or part it until others are below %s", percent(limit)), test: true}}
	}
	return nil
}

// lackDry asks for dry scrap.
func lackDry(v *view, r Route) []lack {
	switch v.f.State {
	case sorting.Dry:
		return nil
	case "":
		return []lack{{by: "whether it is dry is not said", cure: v.dryIt(r) + ", and write state = \"dry\"", damp: true}}
	}
	return []lack{{by: fmt.Sprintf("it is %s", strings.ReplaceAll(string(v.f.State), "-", " ")), cure: v.dryIt(r), damp: true}}
}

// dryIt is how scrap is dried for a way: how warm is said only of what may be heated, on its way to a melt.
func (v *view) dryIt(r Route) string {
	if low, hours := v.oven(); r.Hot() && v.heat.May && hours > 0 {
		return fmt.Sprintf("dry it at %s for %.3g h or more", celsius(low), hours)
	}
	return "dry it"
}

func lackSettled(v *view, _ Route) []lack {
	if v.f.Settled {
		return nil
	}
	return []lack{{by: stillPays, cure: "do the next test or cut", test: true}}
}

var tools = map[Route][]string{Regrind: {"granulator", "filament extruder"}, Sheet: {"sheet press"}}

func lackTools(v *view, r Route) []lack {
	var out []lack
	for _, t := range v.missing(r) {
		out = append(out, lack{by: "no " + t + " in [kit] has", cure: "the use of a " + t + ", written in [kit] has"})
	}
	return out
}

// missing are the tools a route needs and the bench lacks. A press needs no granulator: what is pressed
// can be cut by hand.
func (v *view) missing(r Route) []string {
	var out []string
	for _, t := range tools[r] {
		if t == "granulator" && v.f.Prep == sorting.Flake {
			continue // it is flake already
		}
		if !v.has(t) {
			out = append(out, t)
		}
	}
	return out
}

func (v *view) has(tool string) bool {
	return slices.ContainsFunc(v.s.Kit.Has, func(h string) bool { return strings.EqualFold(strings.TrimSpace(h), tool) })
}

// lackWorth closes a hot way that costs the evening more than it gains.
func (v *view) lackWorth(w way) []lack {
	if w.worth.Keep {
		return nil
	}
	l := lack{worth: true, by: "not worth your evening: " + moneyRange(w.worth) + " against throwing it out"}
	if b := w.worth.BreakEvenG; b != nil {
		l.by += ", it pays from " + grams(*b)
		l.short = max(1, *b-v.mean)
		l.cure = grams(l.short) + " more"
	} else {
		l.by += ", and no mass would change that"
	}
	return []lack{l}
}

// moneyRange writes a value with its currency, and with its range where that is wider than the last
// digit shown.
func moneyRange(w Worth) string {
	mean, low, high := sumOf(w.Value.Mean), sumOf(w.Value.Low), sumOf(w.Value.High)
	if low == high || w.Value.High-w.Value.Low < lastDigit(w.Value.Mean) {
		return mean + " " + w.Currency
	}
	return fmt.Sprintf("%s %s (%s to %s)", mean, w.Currency, low, high)
}

func lastDigit(x float64) float64 {
	if math.Abs(x) >= 10 {
		return 1
	}
	return 0.1
}

// sumOf writes a sum to its last digit that means something, and no minus before a nought.
func sumOf(x float64) string {
	d := lastDigit(x)
	if x = math.Round(x/d) * d; x == 0 {
		return "0.0"
	}
	if d == 1 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.1f", x)
}

// span writes two ends, or one number where both read alike.
func span(low, high float64) string {
	a, b := fmt.Sprintf("%.3g", low), fmt.Sprintf("%.3g", high)
	if a == b {
		return a
	}
	return a + " to " + b
}
