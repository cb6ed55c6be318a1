package press

import (
	"fmt"
	"math"

	"brinecut/polymers/quantity"
)

// Step is one thing to do at the press, with the cautions that stand beside it.
type Step struct {
	Do       string
	Time     quantity.Second // 0 where the step has none of its own
	Cautions []string
}

const (
	warmth   = "not in an oven that food is cooked in, and not unattended; watch the first batch for clumping (common practice)"
	fume     = "hot plastic gives off fumes and fine particles: exhaust on, or outdoors; stay out of the room while it soaks; at visible smoke switch off, leave and air (HSE, Controlling fume during plastics processing, PPS 13, 2002)"
	burn     = "melt sticks and burns deep: heat gloves, long sleeves, goggles; cool a burn with water, do not pull the plastic off (INRS on hot polyamide; common practice)"
	fire     = "never unattended; nothing that burns within a metre, extinguisher at hand (common practice)"
	seeHeat  = "see docs/safety.md, section 7 (heat gun, oven, melt)"
	seePress = "see docs/safety.md, section 7 (heat gun, oven, melt) and section 10 (presses)"
	seeDust  = "see docs/safety.md, section 9 (knives, dust, noise)"
	jack     = "stand aside while force is on: a home-made frame can fail; stay below the rating of its weakest part, guard it, and hold to the rules and licensed practice that apply to presses where you are (common practice)"
)

// steps are the schedule as a person follows it.
func (r Request) steps(s Schedule) []Step {
	platen, centre := temp(float64(r.Platen.Value)), temp(float64(r.Centre.Value))
	steps := []Step{{Do: "dry the flake: " + dryingWords(r.Material), Cautions: []string{warmth, seeHeat}}}
	if s.Charge > 0 {
		steps = append(steps, Step{Do: fmt.Sprintf("weigh out %s of dry flake, metal and magnets taken out", grams(s.Charge)),
			Cautions: []string{"dust: P2 or FFP2 mask, wipe up wet, no compressed air (common practice)", seeDust}})
	}
	steps = append(steps,
		Step{Do: "heat the platens to " + platen + " and check both faces with a thermometer of their own", Cautions: []string{fume, burn, fire, seePress}},
		r.fillStep(s),
		Step{Do: fmt.Sprintf("close without force and heat for %s: bare time for the centre of a solid sheet %s", quantity.Format(s.Allow.SetClock), quantity.Format(s.HeatUp)),
			Time: s.Allow.SetClock, Cautions: []string{fume, fire, seePress}},
		Step{Do: "check: push a thin probe into the middle of the edge and wait until it stands still; below " + centre + " heat on for a third of the time and check again. The probe decides, not the clock",
			Cautions: []string{burn, "force off before a hand comes near", seePress}})
	steps = append(steps, r.forceStep(s))
	return append(steps,
		Step{Do: fmt.Sprintf("force held, cool the platens and wait at least %s, until the probe reads below %s", quantity.Format(s.Allow.CoolAtLeast), temp(float64(s.Release))),
			Time: s.Allow.CoolAtLeast, Cautions: []string{"water on hot platens flashes to steam: circulate it inside, or let air do it (common practice)", seePress}},
		Step{Do: "take the sheet out flat, and leave it under a weight until it is cold", Cautions: []string{"edges and flash cut, and the sheet may still be hot inside: gloves", seePress}})
}

func (r Request) fillStep(s Schedule) Step {
	do := "fill the frame with flake"
	switch {
	case s.Fills > 1:
		do = fmt.Sprintf("fill the frame level, close until the flake sinks (%s a fill to heat a loose bed through), fill up again: %d fills for the charge", quantity.Format(s.Allow.FlakeFill), s.Fills)
	case s.Fills == 1:
		do = "fill the whole charge in, level"
	}
	return Step{Do: do, Time: s.Allow.FlakeFill * quantity.Second(max(1, s.Fills)),
		Cautions: []string{burn, "scoop, not hands, into a hot frame; hands out before the press moves", seePress}}
}

func (r Request) forceStep(s Schedule) Step {
	do := "close slowly until melt shows all round, then hold"
	if s.Force > 0 {
		do = fmt.Sprintf("close slowly until melt shows all round, then hold %s kN (%s bar)", num(math.Min(float64(s.Force), jackOr(r.Jack, s.Force))/1000), num(float64(s.Reached)))
		if r.Jack.Given() && s.AtOnce < 1 {
			do += ", which is all the jack is rated for: no more, and less where the frame carries less"
		}
	}
	return Step{Do: do, Cautions: []string{jack, burn, seePress}}
}

func jackOr(j quantity.Force, f quantity.Newton) float64 {
	if j.Given() {
		return float64(j.Value)
	}
	return float64(f)
}

// cautions are what hold for the whole job and this material.
func (r Request) cautions(s Schedule) []string {
	c := []string{fume, burn, fire, jack}
	for _, h := range r.Material.Hazards {
		c = append(c, h.Words)
	}
	for _, w := range []string{r.hotWords(), r.fuseWords()} {
		if w != "" {
			c = append(c, w)
		}
	}
	if r.Material.Filler != "" {
		c = append(c, "filled: fibre and powder come free when it is cut or sanded, wet work or exhaust and a mask; no standard pressing procedure covers it (ISO 293 excludes reinforced plastics)")
	}
	if r.Jack.Given() && s.Charge > 0 && s.AtOnce < 1 {
		c = append(c, fmt.Sprintf("the jack reaches %s bar on this area, not %s: press a smaller sheet, or hold longer and expect voids", num(float64(s.Reached)), num(float64(r.Pressure.Or(press10)))))
	}
	if s.Shrinks != nil {
		c = append(c, fmt.Sprintf("the sheet comes out %s-%s %% smaller in length and width, and the frame must be deeper than the sheet by about %s %%", num(s.Shrinks.Low), num(s.Shrinks.High), num(3*s.Shrinks.Typical)))
	}
	if s.Allow.Melting > 1 {
		c = append(c, fmt.Sprintf("this material takes up heat as it melts: %.2f times the bare heat-up time", s.Allow.Melting))
	}
	if r.Diffusivity == 0 && (r.Material.Conductivity == nil || r.Material.SpecificHeat == nil) {
		c = append(c, "no thermal data of this material: the times are those of a usual plastic, trust the probe alone")
	}
	return c
}

// basis says what HeatUp means.
func (r Request) basis(b body) string {
	side := "between two platens"
	if r.OneSided {
		side = "on one platen, the other face insulated"
	}
	contact := "perfect contact"
	if r.Contact > 0 {
		contact = fmt.Sprintf("contact of %s W/m2/K (Biot number %s)", num(r.Contact), num(b.biot))
	}
	return fmt.Sprintf("centre of a solid sheet %s mm thick (full thickness; the series runs over %s mm), %s, %s, no allowance; diffusivity %s",
		num(float64(r.Thickness.Value)), num(b.half*1000), side, contact, b.source)
}

func grams(g quantity.Gram) string { return fmt.Sprintf("%.0f g", float64(g)) }
