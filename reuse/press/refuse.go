package press

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
)

// Reason says why a plan was refused.
type Reason string

// The reasons.
const (
	NeverHeat    Reason = "never heat"       // hard stop of the material; nothing lifts it
	Unknown      Reason = "unknown material" // hard stop: what is unknown is not heated
	AboveCeiling Reason = "above the ceiling"
	Damp         Reason = "damp"
	NotPossible  Reason = "not possible" // a value, or two together, that cannot be
)

// Refusal is the error of Plan and Regrind: why, what is wrong, and what would be right.
type Refusal struct {
	Reason Reason
	Fault  string
	Right  string
}

func (r *Refusal) Error() string { return r.Fault + "; " + r.Right }

func refuse(why Reason, right, format string, a ...any) error {
	return &Refusal{Reason: why, Fault: fmt.Sprintf(format, a...), Right: right}
}

// refused holds the request against the hard stops first, then against what is possible.
func (r Request) refused() error {
	if err := mayBeHot(r.Material); err != nil {
		return err
	}
	if err := r.possible(); err != nil {
		return err
	}
	if err := r.tooHot(); err != nil {
		return err
	}
	return r.wet()
}

// mayBeHot is the hard stop: it looks at the material's record alone.
func mayBeHot(m polymers.Material) error {
	switch {
	case m.NeverHeat:
		why := m.NeverHeatWhy
		if why == "" {
			why = "hard stop of the handbook"
		}
		return refuse(NeverHeat, "hand it over or dispose of it cold; no setting lifts this", "%s is never heated: %s", m.Symbol, why)
	case m.Symbol == "" || m.Symbol == polymers.Other:
		return refuse(Unknown, "find out what it is first", "an unknown material is never heated")
	case m.WaterSoluble:
		return refuse(NotPossible, "take soluble support out dry", "%s holds water and foams in a press or a barrel", m.Symbol)
	case ceiling(m) == nil:
		return refuse(Unknown, "only materials with a published heat window are heated", "no published window or ceiling is known for %s", m.Symbol)
	}
	return nil
}

// ceiling is the record's ceiling, or the top of its melt window; nil where it has neither.
func ceiling(m polymers.Material) *polymers.Value {
	if m.CeilingC != nil {
		return m.CeilingC
	}
	return m.Process
}

// limit is the temperature that must not be passed: the lowest published ceiling, or the top of the window.
func limit(m polymers.Material) float64 {
	if m.CeilingC != nil {
		return m.CeilingC.Low
	}
	return m.Process.High
}

// upper is the hot end of a temperature: doubt never opens the way to more heat.
func upper(t quantity.Temperature) float64 {
	if t.Shape == quantity.Rectangular {
		return float64(t.High())
	}
	return float64(t.Value + 2*t.SD)
}

func (r Request) tooHot() error {
	if hot, most := upper(r.Platen), limit(r.Material); hot > most {
		return refuse(AboveCeiling, "set the platen to "+temp(most)+" at most", "a platen of up to %s is above the ceiling of %s, %s (%s)", temp(hot), r.Material.Symbol, temp(most), cite(ceiling(r.Material).Source))
	}
	if r.Centre.Value >= r.Platen.Value {
		return refuse(NotPossible, "ask for a centre below the platen, some 10 to 20 K", "the centre cannot reach %s between platens of %s", temp(float64(r.Centre.Value)), temp(float64(r.Platen.Value)))
	}
	if g := r.Material.GlassTransition; g != nil && r.Material.Amorphous() && float64(r.Centre.Value) <= g.Typical {
		return refuse(NotPossible, "it takes a centre well above that", "a centre of %s does not soften %s: its glass transition is %s (%s)", temp(float64(r.Centre.Value)), r.Material.Symbol, temp(g.Typical), cite(g.Source))
	}
	return nil
}

// cite gives a source by author, title and year where the bibliography has it, else by its id.
func cite(id string) string {
	s, ok := polymers.SourceOf(id)
	if !ok {
		return id
	}
	return strings.Trim(s.Author+", "+s.Title+", "+s.Year, ", ")
}

func (r Request) wet() error {
	how := dryingWords(r.Material)
	if r.Damp {
		return refuse(Damp, "dry it first: "+how, "damp flake makes steam between the platens: blisters, and a jet of hot melt")
	}
	if most := driest(r.Material); r.Moisture.Given() && most != nil && float64(r.Moisture.Value)*100 > most.High {
		return refuse(Damp, "dry it first: "+how, "%s of water is more than %s takes hot, %s %%", quantity.Format(r.Moisture.Value), r.Material.Symbol, num(most.High))
	}
	return nil
}

// possible refuses values that cannot be, and endless ones.
func (r Request) possible() error {
	for _, v := range []struct {
		what      string
		given     bool
		x         float64
		low, high float64
		right     string
	}{
		{"thickness", true, float64(r.Thickness.Value), 0.05, 200, "0.05 to 200 mm"},
		{"platen", true, float64(r.Platen.Value), 30, 450, "30 to 450 °C"},
		{"centre", true, float64(r.Centre.Value), 30, 450, "30 to 450 °C"},
		{"start", r.Start.Given(), float64(r.Start.Value), -40, 450, "-40 to 450 °C"},
		{"release", r.Release.Given(), float64(r.Release.Value), -40, 450, "-40 to 450 °C"},
		{"cold platen", r.ColdPlaten.Given(), float64(r.ColdPlaten.Value), -40, 450, "-40 to 450 °C"},
		{"area", r.Area.Given(), float64(r.Area.Value), 1e-6, 100, "1 mm2 to 100 m2"},
		{"pressure", r.Pressure.Given(), float64(r.Pressure.Value), 1e-3, 1000, "up to 1000 bar"},
		{"jack", r.Jack.Given(), float64(r.Jack.Value), 1, 1e8, "1 N to 100 MN"},
		{"flash", r.Flash.Given(), float64(r.Flash.Value), 0, 0.5, "0 to 50 %"},
		{"frame depth", r.FrameDepth.Given(), float64(r.FrameDepth.Value), 0.05, 1000, "0.05 to 1000 mm"},
		{"bulk density", r.BulkDensity.Given(), float64(r.BulkDensity.Value), 0.005, 5, "0.005 to 5 g/cm3"},
		{"moisture", r.Moisture.Given(), float64(r.Moisture.Value), 0, 1, "0 to 100 %"},
		{"diffusivity", r.Diffusivity != 0, r.Diffusivity, 1e-9, 1e-3, "1e-9 to 1e-3 m2/s; plastics 0.7e-7 to 2e-7"},
		{"contact", r.Contact != 0, r.Contact, 0.1, 1e7, "0.1 to 1e7 W/m2/K"},
		{"density", true, r.Material.Density.Typical, 0.005, 25, "a material with a density"},
	} {
		if v.given && !(v.x >= v.low && v.x <= v.high) {
			return refuse(NotPossible, "give "+v.right, "a %s of %s cannot be", v.what, num(v.x))
		}
	}
	for _, t := range []quantity.Temperature{r.Platen, r.Centre} {
		if math.IsNaN(float64(t.SD)) || math.IsInf(float64(t.SD), 0) || t.SD < 0 {
			return refuse(NotPossible, "give a doubt in kelvin", "a doubt of %s about a temperature cannot be", num(float64(t.SD)))
		}
	}
	if s := float64(r.Start.Or(room)); s >= float64(r.Platen.Value) {
		return refuse(NotPossible, "give a start below the platen", "a start of %s is not below the platen", temp(s))
	}
	return nil
}

func temp(c float64) string { return num(c) + " °C" }

// num writes a number with at most four digits that mean something.
func num(x float64) string {
	if math.Abs(x) >= 1000 && math.Abs(x) < 1e15 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return strconv.FormatFloat(x, 'g', 4, 64)
}
