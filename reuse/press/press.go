// Package press plans how scrap of one material becomes a sheet: how long the centre takes to heat and to
// cool, how much to weigh out, how often to fill the frame, what force and heat it takes, and the steps
// with their cautions; and what repeated regrind does to a material.
//
// What may be heated at all is settled before: a never-heat material is refused here whatever is asked.
package press

import (
	"math"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
)

// Request is what to press and how. Material, Thickness, Platen and Centre are needed.
type Request struct {
	Material  polymers.Material
	Thickness quantity.Length      // FULL thickness of the finished sheet
	Platen    quantity.Temperature // hot platens
	Centre    quantity.Temperature // to be reached at the middle of the sheet

	Start      quantity.Temperature // 20 °C where not given
	Release    quantity.Temperature // centre at which the sheet comes out; by default from the material
	ColdPlaten quantity.Temperature // 20 °C where not given

	Area     quantity.Area     // of the sheet; without it no charge, fills or force
	Pressure quantity.Pressure // 10 bar where not given
	Jack     quantity.Force    // rating of the jack; without it the force is not held against one
	Flash    quantity.Fraction // part of the charge that is pressed out; none where not given

	FrameDepth  quantity.Length  // the sheet's thickness where not given
	BulkDensity quantity.Density // of the loose flake; 0.3 of the solid where not given

	Diffusivity float64 // m2/s; 0 = k/(rho cp) from the handbook
	Contact     float64 // W/m2/K between platen and plastic; 0 = perfect
	OneSided    bool    // one platen hot, the other face insulated

	Damp     bool              // not known to be dry
	Moisture quantity.Fraction // measured, by mass
}

// Assumption is a constant the plan leaned on, and the entry of Request that overrides it.
type Assumption struct {
	Says   string
	Key    string
	Source string // "common practice, no source" and "from memory" where there is none
}

// Span is a value with the ends it can lie between.
type Span struct{ Low, Typical, High float64 }

// Schedule is the plan of one sheet. HeatUp is for the centre of a solid sheet as Basis says; what loose
// flake, melting and prudence add stands apart in Allowance, in force for the steps only.
type Schedule struct {
	Diffusivity Span            // m2/s
	Fourier     float64         // a t/L² at HeatUp
	HeatUp      quantity.Second // centre at Centre
	HeatUpEarly quantity.Second // with the highest published diffusivity
	HeatUpLate  quantity.Second // with the lowest
	MeanThen    quantity.Celsius
	CoolDown    quantity.Second  // from the platen's temperature until the centre is at Release
	Release     quantity.Celsius // as used

	Charge   quantity.Gram   // 0 without Area, as are the next four
	Fills    int             // frame fills of loose flake, rounded up
	Force    quantity.Newton // platen force
	AtOnce   int             // sheets of this size the jack can press side by side, rounded down; 0 without Jack
	Reached  quantity.Bar    // pressure, capped by the jack
	PerKg    float64         // kJ/kg, ideal heat from Start to Centre, melting included where it melts
	Shrinks  *Span           // linear, percent; nil where unknown
	Allow    Allowance
	Basis    string
	Steps    []Step
	Cautions []string // of the whole job; each step carries its own

	Assumptions []Assumption
}

// Allowance is what stands beside the bare heat-up time.
type Allowance struct {
	FlakeFill   quantity.Second // for one frame fill of loose flake to heat through
	Melting     float64         // factor on HeatUp for the heat of melting; 1 where nothing melts
	Prudence    Span            // factor on the time to set the clock to, before the probe decides
	SetClock    quantity.Second // last fill in and closed: HeatUp x Melting x Prudence typical
	CoolLonger  Span            // factor on CoolDown
	CoolAtLeast quantity.Second // CoolDown x CoolLonger typical
}

const (
	practice = "common practice, no source"
	memory   = "from memory"
	room     = quantity.Celsius(20) // common practice
	press10  = quantity.Bar(10)     // of 5 to 50 in use: common practice, no source
	loose    = 0.30                 // bulk over solid density of granulated print scrap, 5-8 mm screen: common practice, no source
)

// Plan works out a schedule. The error is a *Refusal where the material must not be heated, is unknown, or is
// damp, where the platen is above the material's ceiling, where the centre can never get there, and on
// values that cannot be. Never-heat comes first and nothing lifts it.
func Plan(r Request) (Schedule, error) {
	if err := r.refused(); err != nil {
		return Schedule{}, err
	}
	var s Schedule
	b := r.body(&s)
	if err := r.heating(b, &s); err != nil {
		return Schedule{}, err
	}
	if err := r.cooling(b, &s); err != nil {
		return Schedule{}, err
	}
	if err := r.filling(&s); err != nil {
		return Schedule{}, err
	}
	r.allow(b, &s)
	s.Basis = r.basis(b)
	s.Steps = r.steps(s)
	s.Cautions = r.cautions(s)
	return s, nil
}

// body is the sheet as the conduction series sees it.
type body struct {
	slab
	half   float64 // m: the length L of the series
	biot   float64
	k, cp  float64 // W/m/K, J/kg/K
	solid  float64 // kg/m3
	source string  // of the diffusivity, in words
}

func (r Request) thicknessM() float64 { return float64(r.Thickness.Value) / 1000 }

// body picks the thermal values, and notes which were assumed.
func (r Request) body(s *Schedule) body {
	b := body{half: r.thicknessM() / 2, solid: r.Material.Density.Typical * 1000}
	if r.OneSided {
		b.half *= 2
	}
	k, cp, rho := r.Material.Conductivity, r.Material.SpecificHeat, r.Material.Density
	b.k, b.cp = typicalOr(k, 0.2), typicalOr(cp, 1800)
	if k == nil && r.Contact > 0 {
		s.assume("thermal conductivity 0.2 W/m/K", "diffusivity and contact", practice)
	}
	if cp == nil {
		s.assume("specific heat 1.8 kJ/kg/K", "", practice)
	}
	switch {
	case r.Diffusivity > 0:
		s.Diffusivity = Span{r.Diffusivity, r.Diffusivity, r.Diffusivity}
		b.source = "as given"
	case k != nil && cp != nil:
		s.Diffusivity = diffusivity(r.Material)
		b.source = "k/(rho cp) of the handbook"
		s.assume("diffusivity from conductivity "+num(k.Typical)+" W/m/K, specific heat "+num(cp.Typical/1000)+" kJ/kg/K, density "+num(rho.Typical)+" g/cm3, its range over all that is published of them and 15 % at least", "diffusivity", cite(k.Source)+"; "+cite(cp.Source)+"; "+cite(rho.Source))
	default:
		s.Diffusivity = Span{0.7e-7, 1.0e-7, 1.5e-7}
		b.source = "assumed: no thermal data of this material"
		s.assume("diffusivity 1.0e-7 m2/s (0.7-1.5), as of most plastics", "diffusivity", practice)
	}
	b.biot = math.Inf(1)
	if r.Contact > 0 {
		b.biot = r.Contact * b.half / b.k
	}
	b.slab = newSlab(b.biot)
	return b
}

func (s *Schedule) assume(says, key, source string) {
	s.Assumptions = append(s.Assumptions, Assumption{Says: says, Key: key, Source: source})
}

func typicalOr(v *polymers.Value, def float64) float64 {
	if v == nil {
		return def
	}
	return v.Typical
}

// heating fills the times and the heat of warming up. method.md (P4), (P5), (P7).
func (r Request) heating(b body, s *Schedule) error {
	start, platen, centre := float64(r.Start.Or(room)), float64(r.Platen.Value), float64(r.Centre.Value)
	if !r.Start.Given() {
		s.assume("flake at 20 °C to begin with", "start", practice)
	}
	if start >= centre {
		return refuse(NotPossible, "give a start below the centre", "a start of %s is not below a centre of %s", temp(start), temp(centre))
	}
	theta := (platen - centre) / (platen - start)
	s.Fourier = b.fourier(theta)
	seconds := func(a float64) quantity.Second { return quantity.Second(s.Fourier * b.half * b.half / a) }
	s.HeatUp, s.HeatUpEarly, s.HeatUpLate = seconds(s.Diffusivity.Typical), seconds(s.Diffusivity.High), seconds(s.Diffusivity.Low)
	s.MeanThen = quantity.Celsius(platen + b.mean(s.Fourier)*(start-platen))
	s.PerKg = meltHeat(b.cp/1000, centre-start, latent(r.Material, centre))
	return nil
}

// meltHeat is the ideal heat in kJ/kg to warm by dT kelvin at cp kJ/kg/K and to melt. method.md (P7).
func meltHeat(cp, dT, latent float64) float64 { return cp*dT + latent }

// latent is the heat of melting in kJ/kg of the sample as it comes, 0 below the melting range.
func latent(m polymers.Material, centre float64) float64 {
	if m.Melt == nil || m.MeltEnthalpy == nil || centre < m.Melt.Low {
		return 0
	}
	return m.MeltEnthalpy.Typical
}

// cooling fills the time under cold platens, the whole sheet taken as hot as the hot platens were.
func (r Request) cooling(b body, s *Schedule) error {
	cold, hot := float64(r.ColdPlaten.Or(room)), float64(r.Platen.Value)
	if !r.ColdPlaten.Given() {
		s.assume("cold platens held at 20 °C", "cold-platen", practice)
	}
	s.Release = r.Release.Value
	if !r.Release.Given() {
		var why, source string
		s.Release, why, source = releaseOf(r.Material)
		s.assume("release at "+temp(float64(s.Release))+": "+why, "release", source)
	}
	out := float64(s.Release)
	if cold >= out {
		return refuse(NotPossible, "cool the platens further, or release warmer", "cold platens at %s never bring the centre down to %s", temp(cold), temp(out))
	}
	if out >= hot {
		return refuse(NotPossible, "give a release below the platens", "a release at %s is no cooling", temp(out))
	}
	s.CoolDown = quantity.Second(b.fourier((out-cold)/(hot-cold)) * b.half * b.half / s.Diffusivity.Typical)
	return nil
}

// releaseOf is the centre temperature at which a sheet is stiff: 10 K under the lowest published glass
// transition where that is above room heat, else 60 °C for what melts at 85 °C or above and 40 °C for
// what is soft.
func releaseOf(m polymers.Material) (quantity.Celsius, string, string) {
	switch {
	case m.GlassTransition != nil && m.GlassTransition.Low >= 45:
		return quantity.Celsius(m.GlassTransition.Low - 10), "10 K under the lowest glass transition published", cite(m.GlassTransition.Source) + "; the 10 K: " + practice
	case m.Melt != nil && m.Melt.Low >= 85:
		return 60, "well under the crystallisation of the melt", practice
	}
	return 40, "soft at room heat: let it go cold", practice
}
