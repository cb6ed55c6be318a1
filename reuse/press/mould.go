package press

import (
	"math"

	"brinecut/polymers/quantity"
)

// filling works out charge, fills, force and shrinkage. method.md (P8)-(P11).
func (r Request) filling(s *Schedule) error {
	if v := r.Material.Shrinkage; v != nil {
		s.Shrinks = &Span{v.Low, v.Typical, v.High}
	}
	if !r.Area.Given() {
		return nil
	}
	solid := r.Material.Density.Typical
	s.Charge = charge(solid, float64(r.Area.Value), float64(r.Thickness.Value), float64(r.Flash.Value))
	if !r.Flash.Given() {
		s.assume("no flash in the charge", "flash", practice)
	}
	bulk := float64(r.BulkDensity.Value)
	if !r.BulkDensity.Given() {
		bulk = loose * solid
		s.assume("loose flake of "+num(bulk)+" g/cm3, 0.3 of the solid (0.30-0.45 for granulate of a 5-8 mm screen), "+num(100*void(bulk, solid))+" % of it air", "bulk-density", practice)
	}
	if bulk > solid {
		return refuse(NotPossible, "weigh a litre of the loose flake", "a bulk density of %s g/cm3 is above that of the solid", num(bulk))
	}
	depth := float64(r.FrameDepth.Or(r.Thickness.Value))
	if depth < float64(r.Thickness.Value) {
		return refuse(NotPossible, "give a frame at least as deep as the sheet", "a frame of %s mm holds no sheet of %s mm", num(depth), num(float64(r.Thickness.Value)))
	}
	s.Fills = fills(float64(s.Charge), bulk, float64(r.Area.Value), depth)
	if !r.Pressure.Given() {
		s.assume("pressure 10 bar (5-50 are usual)", "pressure", practice)
	}
	r.force(s)
	return nil
}

// charge is the mass in g to weigh out: rho A h, and what is lost as flash. The sheet's mass does not depend on
// shrinkage: hot melt is thinner by as much as it fills more. rho in g/cm3, A in m2, h in mm.
func charge(rho, area, thickness, flash float64) quantity.Gram {
	return quantity.Gram(rho * area * thickness * 1000 / (1 - flash))
}

// fills is how many times the frame is filled with loose flake: m/(rho_b A d), rounded up.
func fills(grams, bulk, area, depth float64) int {
	return max(1, int(math.Ceil(grams/(bulk*area*depth*1000)-1e-9)))
}

// void is the share of air in a loose or porous body.
func void(bulk, solid float64) float64 { return 1 - bulk/solid }

// force is p A, and what the jack makes of it.
func (r Request) force(s *Schedule) {
	area, p := float64(r.Area.Value), float64(r.Pressure.Or(press10))
	s.Force = platenForce(p, area)
	s.Reached = quantity.Bar(p)
	if !r.Jack.Given() {
		return
	}
	s.AtOnce = int(math.Floor(float64(r.Jack.Value)/float64(s.Force) + 1e-9))
	if s.AtOnce < 1 {
		s.Reached = quantity.Bar(float64(r.Jack.Value) / area / 1e5)
	}
}

// platenForce is p A in N, of bar and m2: 1 bar on 100 cm2 is 1 kN.
func platenForce(bar, area float64) quantity.Newton { return quantity.Newton(bar * 1e5 * area) }

const (
	bedConductivity = 0.12 // W/m/K of a bed of loose flake, 0.10-0.15: from memory
	prudent         = 1.75 // 1.5-2: common practice, no source
	coolPrudent     = 1.25 // 1.10-1.25: common practice, no source
)

// allow works out what loose flake, melting and prudence add. method.md (P6), (P12).
func (r Request) allow(b body, s *Schedule) {
	a := &s.Allow
	rise := float64(r.Centre.Value - r.Start.Or(room))
	a.Melting = 1 + latent(r.Material, float64(r.Centre.Value))/(b.cp/1000*rise)
	a.Prudence = Span{1.5, prudent, 2}
	a.SetClock = s.HeatUp * quantity.Second(a.Melting*prudent)
	a.CoolLonger = Span{1.10, coolPrudent, 1.25}
	a.CoolAtLeast = s.CoolDown * coolPrudent
	bulk := float64(r.BulkDensity.Or(quantity.GramPerCm3(loose*r.Material.Density.Typical))) * 1000
	depth := float64(r.FrameDepth.Or(r.Thickness.Value)) / 1000
	if !r.OneSided {
		depth /= 2
	}
	diffusivity := bedConductivity / (bulk * b.cp * a.Melting)
	bed := newSlab(math.Inf(1))
	theta := float64(r.Platen.Value-r.Centre.Value) / float64(r.Platen.Value-r.Start.Or(room))
	a.FlakeFill = quantity.Second(bed.fourier(theta) * depth * depth / diffusivity)
	s.assume("loose flake conducts as 0.12 W/m/K (0.10-0.15)", "", practice)
	s.assume("clock set to 1.75 times (1.5-2) the bare heat-up time, cooling 1.25 times (1.1-1.25)", "", practice)
}
