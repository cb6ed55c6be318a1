package press

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"pgregory.net/rapid"
)

func val(low, typical, high float64) *polymers.Value {
	return &polymers.Value{Low: low, Typical: typical, High: high, Source: "hand-made", Evidence: polymers.Judgement}
}

// petg is a record made by hand: conductivity, specific heat of the melt and glass transition of a PETG sheet.
func petg() polymers.Material {
	return polymers.Material{Symbol: "PETG", Base: "PETG", Polymer: "PETG", Density: *val(1.27, 1.27, 1.27), GlassTransition: val(78, 81, 88),
		Process: val(180, 230, 290), CeilingC: val(260, 260, 260), Conductivity: val(.19, .20, .21), SpecificHeat: val(1850, 1850, 1850),
		Shrinkage: val(.2, .35, .5), Rigid: true, Hazards: []polymers.Hazard{{What: "fume", Words: "styrene has been found in its fume"}},
		Dry: []polymers.Drying{{Form: "print scrap", TempC: *val(60, 65, 65), Hours: *val(4, 4, 6), MaxMoisturePercent: val(.04, .04, .04)}}}
}

func pp() polymers.Material {
	return polymers.Material{Symbol: "PP", Base: "PP", Density: *val(.905, .905, .905), GlassTransition: val(-20, -10, 0), Melt: val(160, 165, 176),
		Process: val(190, 210, 260), CeilingC: val(280, 280, 280), Conductivity: val(.2, .2, .2), SpecificHeat: val(2000, 2000, 2000), MeltEnthalpy: val(90, 103.5, 110)}
}

func sheet() Request {
	return Request{Material: petg(), Thickness: quantity.Exact(quantity.Millimeter(5)), Platen: quantity.Exact(quantity.Celsius(200)),
		Centre: quantity.Exact(quantity.Celsius(180)), Area: quantity.Exact(quantity.SquareMeter(.09))}
}

func plan(t *testing.T, r Request) Schedule {
	t.Helper()
	s, err := Plan(r)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Closed form t = h²/(pi² a) ln((4/pi)(Tp-T0)/(Tp-Tc)) with a = 0.85e-7 m2/s: 72.7 s for 5 mm, 291 s for 10, 19.4 min for
// 20 (derived from the mould-cooling formula, Rao, Design Formulas for Plastics Engineers).
func TestDerivedHeatUp(t *testing.T) {
	for mm, want := range map[float64]float64{5: 72.7, 10: 291, 20: 19.4 * 60} {
		r := sheet()
		r.Thickness, r.Diffusivity = quantity.Exact(quantity.Millimeter(mm)), .85e-7
		s := plan(t, r)
		near(t, fmt.Sprintf("%g mm", mm), float64(s.HeatUp), want, want*.002)
		if s.HeatUpEarly != s.HeatUp || s.HeatUpLate != s.HeatUp {
			t.Error("a diffusivity that was given has no spread")
		}
	}
	s := plan(t, sheet())
	near(t, "k/(rho cp), 1e-7 m2/s", s.Diffusivity.Typical*1e7, .85, .005) // .2/(1270 x 1850)
	if !(s.HeatUpEarly < s.HeatUp && s.HeatUp < s.HeatUpLate) {
		t.Errorf("no range: %v %v %v", s.HeatUpEarly, s.HeatUp, s.HeatUpLate)
	}
}

// A square of 300 mm, 5 mm of PETG: 571 g, 1.50 l of flake at 380 kg/m3 in a frame of 0.45 l: 3.34, so 4 fills; at 10 bar
// 90 kN (arithmetic of F = p A: 1 bar on 100 cm2 is 1 kN).
func TestDerivedCharge(t *testing.T) {
	r := sheet()
	r.BulkDensity, r.Pressure = quantity.Exact(quantity.GramPerCm3(.380)), quantity.Exact(quantity.Bar(10))
	s := plan(t, r)
	near(t, "charge", float64(s.Charge), 571, .6)
	near(t, "fills", float64(s.Fills), 4, 0)
	near(t, "force, kN", float64(s.Force)/1000, 90, 1e-9)
	r.FrameDepth = quantity.Exact(quantity.Millimeter(20))
	near(t, "fills of a deeper frame", float64(plan(t, r).Fills), 1, 0)
	r.Jack = quantity.Exact(quantity.Newton(45000))
	s = plan(t, r)
	near(t, "pressure that half the force makes", float64(s.Reached), 5, 1e-9)
	if s.AtOnce != 0 || !strings.Contains(strings.Join(s.Cautions, "\n"), "jack reaches 5 bar") {
		t.Errorf("a jack of half the force: %d at once, %q", s.AtOnce, s.Cautions)
	}
	r.Jack = quantity.Exact(quantity.Newton(200000))
	if s := plan(t, r); s.AtOnce != 2 {
		t.Errorf("200 kN over 90 kN: %d at once", s.AtOnce)
	}
}

// Kalpakjian & Schmid, Manufacturing Engineering and Technology, ex. 18.2: a gear of 4.5 in at 15 ksi: 15.9 in2, about 238 000
// lb each, two at once on 250 US tons.
func TestPublishedClamp(t *testing.T) {
	const inch, pound, ksi = .0254, 4.4482216, 68.9475729
	area := math.Pi / 4 * 4.5 * 4.5
	near(t, "in2", area, 15.9, .05)
	each := platenForce(15*ksi, area*inch*inch)
	near(t, "pounds", float64(each)/pound, 238000, 1000)
	r := sheet()
	r.Area, r.Pressure = quantity.Exact(quantity.SquareMeter(area*inch*inch)), quantity.Exact(quantity.Bar(999))
	r.Jack = quantity.Exact(quantity.Newton(500000 * pound * 999 / (15 * ksi))) // the same ratio below the 1000 bar a plan takes
	near(t, "at once", float64(plan(t, r).AtOnce), 2, 0)
}

// A plaque of PLA, 80 mm across and 2 mm thick, at 195 °C under 6 kN (second-hand, title not read): 11.9 bar; 12.5-12.6 g at 1.24-1.25
// g/cm3, about 13 g as printed, the rest flash.
func TestPublishedPlaque(t *testing.T) {
	area := math.Pi / 4 * .08 * .08
	near(t, "force, kN", float64(platenForce(11.9, area))/1000, 6, .05)
	near(t, "mass", float64(charge(1.24, area, 2, 0)), 12.5, .05)
	near(t, "mass", float64(charge(1.25, area, 2, 0)), 12.6, .05)
	near(t, "with 4 % flash", float64(charge(1.25, area, 2, .04)), 13, .15)
}

// Thareja, worked examples 47.8 and 47.6: brass, 500 kg, .094 kcal/kg/K, 20 to 920 °C, 39 kcal/kg, efficiency 60.2 %: 119.37 kWh;
// aluminium, 2 kg, .212, 20 to 660 °C, 77 kcal/kg, 10 min at 5 kW: 59.35 %. 860 kcal are 1 kWh. Groover (recalled): casting
// 1 m3 at 7500 kg/m3, .33 J/g/K to 800 °C, 160 J/g, 100 K more at .29: 3335e6 J.
func TestPublishedMeltHeat(t *testing.T) {
	near(t, "brass, kWh", 500*meltHeat(.094, 900, 39)/.602/860, 119.37, .005)
	near(t, "aluminium, %", 100*2*meltHeat(.212, 640, 77)/860/(5./6), 59.35, .006)
	near(t, "casting, MJ", 7500*(meltHeat(.33, 775, 160)+meltHeat(.29, 100, 0))/1000, 3335, 1)
	s := plan(t, sheet())
	near(t, "PETG from 20 to 180 °C", s.PerKg, 1.85*160, 1e-9)
	r := sheet()
	r.Material = pp()
	near(t, "PP with its melting", plan(t, r).PerKg, 2*160+103.5, 1e-9)
}

// Askeland & Phule, ex. 15.1: 360 g dry, 385 g soaked, 224 g hung in water, true density 3.2: bulk 2.236 g/cm3, true porosity 30.12 %,
// apparent 15.53 %, closed part .485.
func TestPublishedVoid(t *testing.T) {
	bulk := 360. / (385 - 224)
	near(t, "bulk", bulk, 2.236, .0005)
	near(t, "porosity, %", 100*void(bulk, 3.2), 30.12, .015)
	open := (385. - 360) / (385 - 224) // what water fills
	near(t, "apparent porosity, %", 100*open, 15.53, .005)
	near(t, "closed part of it", 1-open/void(bulk, 3.2), .485, .0005)
}

// Coulson & Richardson vol. 2, ex. 2.2: rolls let .010 m3/s through, 12 % of it solid of 2500 kg/m3 in bulk: 3 kg/s. So a frame of 1.2 l
// takes 3 kg of it in one fill, and no more.
func TestPublishedBulk(t *testing.T) {
	liters := .010 * .12 * 1000
	near(t, "fills for 3 kg", float64(fills(3000, 2.5, liters/1000, 1000)), 1, 0)
	near(t, "fills for a gram more", float64(fills(3001, 2.5, liters/1000, 1000)), 2, 0)
}

func TestAllowanceStandsApart(t *testing.T) {
	r := sheet()
	bare := plan(t, r).HeatUp
	r.Material = pp()
	s := plan(t, r)
	if s.Allow.Melting <= 1 || s.Allow.SetClock <= s.HeatUp {
		t.Errorf("nothing is allowed for melting: %+v", s.Allow)
	}
	near(t, "clock", float64(s.Allow.SetClock), float64(s.HeatUp)*s.Allow.Melting*1.75, 1e-6)
	r = sheet()
	r.OneSided = true
	near(t, "one platen", float64(plan(t, r).HeatUp), 4*float64(bare), 1e-6)
	r = sheet()
	r.Contact = 500
	if slow := plan(t, r); slow.HeatUp <= bare || !strings.Contains(slow.Basis, "Biot number 6.25") { // 500 x .0025/.2
		t.Errorf("contact: %v against %v, %q", slow.HeatUp, bare, slow.Basis)
	}
}

func refusedFor(err error) Reason {
	var r *Refusal
	if !errors.As(err, &r) || r.Fault == "" || r.Right == "" {
		return ""
	}
	return r.Reason
}

func TestRefused(t *testing.T) {
	for _, c := range []struct {
		because string
		change  func(*Request)
		want    Reason
	}{
		{"never heated", func(r *Request) { r.Material.NeverHeat, r.Material.NeverHeatWhy = true, "hydrogen chloride" }, NeverHeat},
		{"no material", func(r *Request) { r.Material = polymers.Material{} }, Unknown},
		{"other", func(r *Request) { r.Material.Symbol = polymers.Other }, Unknown},
		{"no window known", func(r *Request) { r.Material.CeilingC, r.Material.Process = nil, nil }, Unknown},
		{"soluble support", func(r *Request) { r.Material.WaterSoluble = true }, NotPossible},
		{"above the ceiling", func(r *Request) { r.Platen = quantity.Exact(quantity.Celsius(261)) }, AboveCeiling},
		{"doubt reaches above the ceiling", func(r *Request) { r.Platen = quantity.With(quantity.Celsius(250), 6) }, AboveCeiling},
		{"range reaches above the ceiling", func(r *Request) { r.Platen = quantity.MustParse[quantity.Celsius]("240-270 °C") }, AboveCeiling},
		{"centre at the platen", func(r *Request) { r.Centre = r.Platen }, NotPossible},
		{"centre above the platen", func(r *Request) { r.Centre = quantity.Exact(quantity.Celsius(210)) }, NotPossible},
		{"start above the centre", func(r *Request) { r.Start = quantity.Exact(quantity.Celsius(185)) }, NotPossible},
		{"start above the platen", func(r *Request) { r.Start = quantity.Exact(quantity.Celsius(300)) }, NotPossible},
		{"centre below the glass transition", func(r *Request) { r.Centre = quantity.Exact(quantity.Celsius(80)) }, NotPossible},
		{"damp", func(r *Request) { r.Damp = true }, Damp},
		{"too much water", func(r *Request) { r.Moisture = quantity.Exact(quantity.Share(.002)) }, Damp},
		{"no thickness", func(r *Request) { r.Thickness = quantity.Length{} }, NotPossible},
		{"NaN", func(r *Request) { r.Thickness.Value = quantity.Millimeter(math.NaN()) }, NotPossible},
		{"endless doubt", func(r *Request) { r.Platen.SD = quantity.Celsius(math.NaN()) }, NotPossible},
		{"cold platens too warm", func(r *Request) { r.ColdPlaten = quantity.Exact(quantity.Celsius(90)) }, NotPossible},
		{"release hotter than the platen", func(r *Request) { r.Release = quantity.Exact(quantity.Celsius(201)) }, NotPossible},
		{"shallow frame", func(r *Request) { r.FrameDepth = quantity.Exact(quantity.Millimeter(4)) }, NotPossible},
		{"flake denser than the solid", func(r *Request) { r.BulkDensity = quantity.Exact(quantity.GramPerCm3(1.3)) }, NotPossible},
		{"negative contact", func(r *Request) { r.Contact = -1 }, NotPossible},
	} {
		r := sheet()
		c.change(&r)
		if _, err := Plan(r); refusedFor(err) != c.want {
			t.Errorf("%s: %v", c.because, err)
		}
	}
	dry := sheet()
	dry.Moisture = quantity.Exact(quantity.Share(.0003))
	plan(t, dry)
}

// anyRequest draws a request of possible and impossible values alike.
func anyRequest(t *rapid.T) Request {
	number := func(name string, low, high float64) float64 {
		if rapid.IntRange(0, 30).Draw(t, name+" odd") == 0 {
			return rapid.SampledFrom([]float64{0, -1, math.NaN(), math.Inf(1), 1e300, math.MaxFloat64, 5e-324}).Draw(t, name)
		}
		return rapid.Float64Range(low, high).Draw(t, name)
	}
	degrees := func(name string) quantity.Temperature {
		return quantity.Temperature{Value: quantity.Celsius(number(name, -20, 320)), Text: "x"}
	}
	r := sheet()
	if rapid.Bool().Draw(t, "PP") {
		r.Material = pp()
	}
	r.Platen, r.Centre = degrees("platen"), degrees("centre")
	r.Thickness.Value = quantity.Millimeter(number("mm", .1, 40))
	r.Area.Value = quantity.SquareMeter(number("m2", .001, 1))
	for i, p := range []*quantity.Temperature{&r.Start, &r.Release, &r.ColdPlaten} {
		if rapid.Bool().Draw(t, fmt.Sprint("given ", i)) {
			*p = degrees(fmt.Sprint("temperature ", i))
		}
	}
	if rapid.Bool().Draw(t, "contact") {
		r.Contact = number("W/m2/K", 1, 5000)
	}
	if rapid.Bool().Draw(t, "own diffusivity") {
		r.Diffusivity = number("m2/s", 1e-8, 1e-6)
	}
	r.Jack = quantity.Force{Value: quantity.Newton(number("N", 100, 1e6)), Text: "x"}
	r.OneSided, r.Damp = rapid.Bool().Draw(t, "one-sided"), rapid.IntRange(0, 9).Draw(t, "damp") == 0
	return r
}

func TestNeverHeatWhateverIsAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		r.Material.NeverHeat = true
		if _, err := Plan(r); refusedFor(err) != NeverHeat {
			t.Fatalf("not refused as never heated: %v", err)
		}
		q := RegrindRequest{Material: r.Material, Share: quantity.Fraction{Value: quantity.Share(rapid.Float64().Draw(t, "share")), Text: "x"}}
		if _, err := Regrind(q); refusedFor(err) != NeverHeat {
			t.Fatalf("regrind not refused as never heated: %v", err)
		}
	})
}

func TestPlanLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		s, err := Plan(r)
		if err != nil {
			if refusedFor(err) == "" {
				t.Fatalf("an error without a reason: %v", err)
			}
			return
		}
		for what, x := range map[string]float64{"heat-up": float64(s.HeatUp), "late": float64(s.HeatUpLate), "cool-down": float64(s.CoolDown), "charge": float64(s.Charge),
			"force": float64(s.Force), "heat": s.PerKg, "clock": float64(s.Allow.SetClock), "fill": float64(s.Allow.FlakeFill), "Fourier": s.Fourier} {
			if !(x > 0) || math.IsInf(x, 0) {
				t.Fatalf("%s is %v", what, x)
			}
		}
		if float64(s.MeanThen) < float64(r.Centre.Value)-1e-6 || float64(s.MeanThen) > float64(r.Platen.Value) {
			t.Fatalf("mean %v, centre %v, platen %v", s.MeanThen, r.Centre.Value, r.Platen.Value)
		}
		if upper(r.Platen) > r.Material.CeilingC.Low || r.Damp {
			t.Fatal("planned above the ceiling, or damp")
		}
		double := r
		double.Thickness.Value *= 2
		if r.Contact == 0 {
			if d, err := Plan(double); err == nil && math.Abs(float64(d.HeatUp/s.HeatUp)-4) > 1e-6 {
				t.Fatalf("twice as thick takes %v times as long", d.HeatUp/s.HeatUp)
			}
		}
	})
}

// The handbook's records: each hard stop is refused, each other one is planned 1 K under its ceiling, in finite time, or is soluble.
func TestHandbook(t *testing.T) {
	planned := 0
	for _, m := range polymers.All() {
		r := sheet()
		r.Material = m
		if c := m.CeilingC; c != nil {
			r.Platen, r.Centre = quantity.Exact(quantity.Celsius(c.Low-1)), quantity.Exact(quantity.Celsius(c.Low-20))
		}
		s, err := Plan(r)
		switch why := refusedFor(err); {
		case m.NeverHeat && why != NeverHeat, err != nil && !m.NeverHeat && !m.WaterSoluble:
			t.Errorf("%s: %v", m.Symbol, err)
		case err == nil:
			planned++
			if !(s.HeatUp > 5 && s.HeatUp < 3600 && s.CoolDown > 1 && s.CoolDown < 3600) {
				t.Errorf("%s, 5 mm: heats %v s, cools %v s", m.Symbol, s.HeatUp, s.CoolDown)
			}
		}
	}
	if planned < 40 {
		t.Errorf("only %d records can be planned", planned)
	}
}

// Every hot step carries a caution, and the schedule asks for the probe before force.
func TestSteps(t *testing.T) {
	s := plan(t, sheet())
	text := ""
	for _, st := range s.Steps {
		if len(st.Cautions) == 0 {
			t.Errorf("%q has no caution beside it", st.Do)
		}
		text += st.Do + "\n"
	}
	for _, part := range []string{"4-6 h", "65 °C", "572 g", "probe", "90 kN", "below 68 °C"} { // release: 78 - 10
		if !strings.Contains(text, part) {
			t.Errorf("%q is not in\n%s", part, text)
		}
	}
	if strings.Index(text, "probe") > strings.Index(text, "90 kN") {
		t.Error("force before the probe")
	}
	all := strings.Join(s.Cautions, "\n")
	for _, part := range []string{"styrene has been found", "exhaust", "guard", "smaller in length"} {
		if !strings.Contains(all, part) {
			t.Errorf("%q is not in\n%s", part, all)
		}
	}
	for _, a := range s.Assumptions {
		if a.Says == "" || a.Source == "" {
			t.Errorf("an assumption without a source: %+v", a)
		}
	}
	bare := sheet()
	bare.Material.Conductivity, bare.Material.SpecificHeat, bare.Material.Filler = nil, nil, "CF"
	all = strings.Join(plan(t, bare).Cautions, "\n")
	for _, part := range []string{"no thermal data", "fibre"} {
		if !strings.Contains(all, part) {
			t.Errorf("%q is not in\n%s", part, all)
		}
	}
}

// An amorphous resin fuses from about 60 to 80 K above its glass transition (common practice), one that melts above its melting range: PETG
// (81 °C) at 180 °C is 99 K above and fuses, at 111 °C it does not.
func TestWhatFuses(t *testing.T) {
	melts, bare := pp(), petg()
	bare.GlassTransition = nil
	for _, c := range []struct {
		m      polymers.Material
		centre float64
		want   string
	}{
		{petg(), 180, ""}, {petg(), 111, "do not fuse"}, {petg(), 145, "begin to fuse"}, {petg(), 161.5, ""}, {melts, 150, "melts from 160 °C"}, {melts, 170, "by grade"}, {melts, 177, ""},
		{bare, 170, "no glass transition is known"}, {bare, 181, ""},
	} {
		r := sheet()
		r.Material, r.Centre = c.m, quantity.Exact(quantity.Celsius(c.centre))
		if got := r.fuseWords(); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s at %v: %q, want %q", c.m.Symbol, c.centre, got, c.want)
		}
		if all := strings.Join(plan(t, r).Cautions, "\n"); c.want != "" && !strings.Contains(all, c.want) {
			t.Errorf("%s at %v: %q is not in the plan", c.m.Symbol, c.centre, c.want)
		}
	}
}

func TestNearTheCeiling(t *testing.T) {
	for platen, want := range map[float64]bool{245: false, 245.5: true, 260: true} { // ceiling 260
		r := sheet()
		r.Platen = quantity.Exact(quantity.Celsius(platen))
		if all := strings.Join(plan(t, r).Cautions, "\n"); strings.Contains(all, "within 15 K of the ceiling") != want {
			t.Errorf("platens at %v: %q", platen, all)
		}
	}
}

// The range of times takes in what is published of solid and melt. PLA: k .13 W/m/K with c 2.01 kJ/kg/K gives 0.52e-7 m2/s; on the melt side
// k .195 at 190 °C gives 0.79e-7. HIPS: matmake's .124 and 1.25, makeitfrom's .22 and 1.4, and 2.15 of the melt.
func TestDiffusivityCoversSolidAndMelt(t *testing.T) {
	for _, c := range []struct {
		symbol polymers.Symbol
		values []float64 // 1e-6 m2/s: W/m/K over g/cm3 and kJ/kg/K
	}{
		{"PLA", []float64{.130 / 1.24 / 2.0075, .079}},
		{"HIPS", []float64{.124 / 1.04 / 2.15, .124 / 1.04 / 1.25, .22 / 1.04 / 2.15}},
		{"ABS", []float64{.25 / 1.04 / 2.25, .25 / 1.04 / 1.30, .19 / 1.05 / 2.25}},
		{"PC", []float64{.2 / 1.2 / 1.9, .2 / 1.2 / 1.17}},
		{"PA12", []float64{.19 / 1.01 / 1.7, .19 / 1.01 / 1.26, .19 / 1.01 / 2.5}},
	} {
		m, _ := polymers.Find(c.symbol)
		d := diffusivity(m)
		for _, a := range c.values {
			if x := a * 1e-6; x < d.Low || x > d.High {
				t.Errorf("%s: %.3g m2/s is outside %.3g to %.3g", c.symbol, x, d.Low, d.High)
			}
		}
		if d.High/d.Low < 1.3 {
			t.Errorf("%s: falsely narrow, %.3g to %.3g", c.symbol, d.Low, d.High)
		}
	}
	if d := diffusivity(petg()); d.Low > d.Typical/1.149 || d.High < d.Typical*1.149 {
		t.Errorf("single values: %+v", d)
	}
}

// Incropera & DeWitt, problem 5.50 (solution manual, 5th ed.): acrylic touched on one side, 74 s. The record is of the problem's data.
func ExamplePlan() {
	acrylic := polymers.Material{Symbol: "PMMA", Density: polymers.Value{Low: 1.99, Typical: 1.99, High: 1.99}, Process: val(90, 100, 310),
		Conductivity: val(.21, .21, .21), SpecificHeat: val(1470, 1470, 1470)}
	s, err := Plan(Request{Material: acrylic, Thickness: quantity.MustParse[quantity.Millimeter]("5 mm"), OneSided: true,
		Platen: quantity.MustParse[quantity.Celsius]("300 °C"), Centre: quantity.MustParse[quantity.Celsius]("90 °C")})
	fmt.Printf("%.0f s %v\n", float64(s.HeatUp), err)
	// Output: 74 s <nil>
}
