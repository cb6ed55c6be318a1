package reuse

import (
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// TestHardStops: each hard stop, alone, on a bag that would else be regrind. The rules are those of
// HSE PPS 13 (2002), INRS, and StatPearls (2023); no kit and no option opens a hot route again.
func TestHardStops(t *testing.T) {
	good := fraction("PETG", 20, 0)
	if d := choose(t, good, bench()); d.Route != Regrind || !d.MayBeHeated {
		t.Fatalf("the bag without a hard stop goes to %s: %+v", d.Route, d.Rules)
	}
	for name, spoil := range map[string]func(f *sorting.Fraction){
		"origin left out":              func(f *sorting.Fraction) { f.Origin, f.OriginGiven = sorting.UnknownOrigin, false },
		"origin own-print by default":  func(f *sorting.Fraction) { f.OriginGiven = false },
		"moulded":                      func(f *sorting.Fraction) { f.Origin = sorting.Moulded },
		"unknown origin":               func(f *sorting.Fraction) { f.Origin = sorting.UnknownOrigin },
		"could be PVC-U":               func(f *sorting.Fraction) { f.CouldBe = []polymers.Symbol{"PETG", "PVC-U"} },
		"could be PVC-P":               func(f *sorting.Fraction) { f.CouldBe = []polymers.Symbol{"PVC-P"} },
		"could be POM":                 func(f *sorting.Fraction) { f.CouldBe = []polymers.Symbol{"POM"} },
		"could be PTFE":                func(f *sorting.Fraction) { f.CouldBe = []polymers.Symbol{"PTFE"} },
		"could be something not named": func(f *sorting.Fraction) { f.CouldBe = []polymers.Symbol{polymers.Other} },
		"could be not in the handbook": func(f *sorting.Fraction) { f.CouldBe = []polymers.Symbol{"XYZ"} },
		"possible PVC-U":               func(f *sorting.Fraction) { f.Possible = []float64{0.0011, 0, 0, 0} },
		"possible PVC-P":               func(f *sorting.Fraction) { f.Possible = []float64{0, 0.0011, 0, 0} },
		"possible POM":                 func(f *sorting.Fraction) { f.Possible = []float64{0, 0, 0.0011, 0} },
		"possible PTFE":                func(f *sorting.Fraction) { f.Possible = []float64{0, 0, 0, 0.0011} },
		"hard stops never bounded":     func(f *sorting.Fraction) { f.Possible, f.HardStops = nil, nil },
		"one hard stop not bounded":    func(f *sorting.Fraction) { f.Possible = f.Possible[:3] },
		"flame retardant":              func(f *sorting.Fraction) { f.Additives = []string{"flame retardant"} },
		"FR(40)":                       func(f *sorting.Fraction) { f.Additives = []string{"FR(40)"} },
		"brominated":                   func(f *sorting.Fraction) { f.Additives = []string{"uv", "brominated"} },
		"PTFE filled":                  func(f *sorting.Fraction) { f.Additives = []string{"10 % PTFE"} },
		"PVC-P in its draws alone": func(f *sorting.Fraction) {
			f.Keys[1] = "PVC-P"
			f.Grams[3][1] = 900
			f.Grams[9][1] = 900
			f.Grams[20][1] = 900
			f.Grams[40][1] = 900
		},
		"bag without a name": func(f *sorting.Fraction) { f.Material, f.Symbols = "", nil },
		"mostly other":       func(f *sorting.Fraction) { f.Keys = []string{"other", "TPU", "PETG"} },
	} {
		f := fraction("PETG", 20, 0)
		spoil(&f)
		d := choose(t, f, bench())
		if d.Route.Hot() || d.MayBeHeated || len(d.WhyNot) == 0 {
			t.Errorf("%s: route %s, may be heated %v, why not %q", name, d.Route, d.MayBeHeated, d.WhyNot)
		}
		if len(d.Cautions) == 0 || !strings.Contains(strings.Join(d.Cautions, " "), "do not heat") {
			t.Errorf("%s: no caution says not to heat it", name)
		}
	}
	for _, m := range polymers.All() {
		if !m.NeverHeat && !m.WaterSoluble && m.Filler == "" {
			continue
		}
		if d := choose(t, fraction(string(m.Symbol), 50, 0), bench()); d.Route.Hot() || (m.NeverHeat && d.MayBeHeated) {
			t.Errorf("%s: route %s, may be heated %v", m.Symbol, d.Route, d.MayBeHeated)
		}
	}
}

func TestRoutes(t *testing.T) {
	demonstrated := func(f sorting.Fraction, q float64) sorting.Fraction {
		f.Demonstrated = &sorting.Demonstration{AtLeast: q, Confidence: 0.95, Tested: 60}
		return f
	}
	with := func(f sorting.Fraction, edit func(*sorting.Fraction)) sorting.Fraction { edit(&f); return f }
	cold := Situation{Currency: "EUR", Kit: sorting.Kit{Given: true}, Outlets: []sorting.Outlet{outlet()}}
	press := bench()
	press.Kit.Has = []string{"sheet press"}
	for name, c := range map[string]struct {
		f    sorting.Fraction
		s    Situation
		want Route
		says string // in why, lost, or what would open the next way
	}{
		"regrind":                               {fraction("PETG", 20, 0), bench(), Regrind, "let down"},
		"sheet with a press alone":              {fraction("PETG", 20, 0.01), press, Sheet, "pressed"},
		"too many others for any melt":          {fraction("PETG", 20, 0.08), bench(), Hold, "8 % other polymers"},
		"wet":                                   {with(fraction("PETG", 20, 0), func(f *sorting.Fraction) { f.State = sorting.Wet }), bench(), Hold, "dry it"},
		"a test still pays":                     {with(fraction("PETG", 20, 0), func(f *sorting.Fraction) { f.Settled = false }), bench(), Hold, "do the next test"},
		"too little for an evening":             {fraction("PETG", 0.5, 0), bench(), Hold, "not worth your evening"},
		"outlet, demonstrated":                  {demonstrated(fraction("PETG", 2, 0), 0.951), cold, Recycler, "demonstrate 95.1 %"},
		"outlet, demonstrated too little":       {demonstrated(fraction("PETG", 2, 0), 0.949), cold, Hold, "demonstrate 94.9 %"},
		"outlet, estimate is no demonstration":  {fraction("PETG", 2, 0), cold, Hold, "59 more clean random pieces"},
		"outlet, not to be expected as it lies": {fraction("PETG", 2, 0.2), cold, Hold, "sort it further, then 59"},
		"outlet, short of the minimum":          {demonstrated(fraction("PETG", 0.6, 0), 0.99), cold, Hold, "400 g more"},
		"outlet does not take it":               {demonstrated(fraction("PLA", 2, 0), 0.99), cold, Hold, "does not take PLA"},
		"outlet, ABS or ASA":                    {demonstrated(fraction("ABS/ASA", 2, 0), 0.99), cold, Hold, "does not take ASA"},
		"outlet refuses fibre":                  {demonstrated(with(fraction("PETG", 2, 0), func(f *sorting.Fraction) { f.Additives = []string{"carbon fibre"} }), 0.99), cold, Disposal, "refuses fibre"},
		"surface dry is not dry":                {with(fraction("PETG", 20, 0), func(f *sorting.Fraction) { f.State = sorting.SurfaceDry }), bench(), Hold, "dry it"},
		"ABS breaks down at the heat of PC":     {with(fraction("PC", 20, 0.1), func(f *sorting.Fraction) { f.Keys[1] = "ABS" }), press, Hold, "may be ABS, which breaks down"},
		"one draw in eight holds PVA":           {with(fraction("PETG", 20, 0), sometimesPVA), press, Hold, "up to 10 % may be PVA"},
		"no kit, no outlet":                     {fraction("PLA", 2, 0), Situation{}, Hold, "[[outlet]] that takes PLA"},
		"soluble support":                       {fraction("PVA", 2, 0), bench(), Disposal, "soluble support"},
		"mixture, settled":                      {with(fraction("PETG", 2, 0.4), func(f *sorting.Fraction) { f.Material, f.Symbols, f.Mixed = "", nil, true }), bench(), Disposal, "mixed"},
		"mixture, not settled":                  {with(fraction("PETG", 2, 0.4), func(f *sorting.Fraction) { f.Material, f.Symbols, f.Settled = "", nil, false }), bench(), Hold, "test and part"},
		"PVC":                                   {fraction("PVC-U", 2, 0), bench(), SpecialWaste, "licensed"},
		"POM":                                   {fraction("POM", 2, 0), bench(), Disposal, "never heated"},
		"flame-retarded housing":                {with(fraction("ABS", 2, 0), func(f *sorting.Fraction) { f.Additives = []string{"flame retardant"} }), cold, SpecialWaste, "collection point"},
		"moulded, PVC possible":                 {with(fraction("PETG", 2, 0), func(f *sorting.Fraction) { f.Origin, f.Possible = sorting.Moulded, []float64{0.2, 0, 0, 0} }), bench(), SpecialWaste, "up to 20 %"},
		"origin left out, PVC possible":         {with(fraction("PETG", 20, 0), func(f *sorting.Fraction) { f.OriginGiven, f.Possible = false, []float64{0.2, 0, 0, 0} }), bench(), Hold, "write where it comes from"},
		"PVA in what is pressed":                {with(fraction("PETG", 20, 0.03), func(f *sorting.Fraction) { f.Keys = []string{"PETG", "PVA", "other"} }), press, Hold, "part the PVA off"},
	} {
		d := choose(t, c.f, c.s)
		said := strings.Join(d.NextBetter, "\n")
		for _, w := range d.Why {
			said += "\n" + w.Words
			if w.Source == "" {
				t.Errorf("%s: %q has no source", name, w.Words)
			}
		}
		for _, l := range d.Rules {
			said += "\n" + l.By
		}
		if d.Route != c.want || !strings.Contains(said, c.says) {
			t.Errorf("%s: %s, want %s saying %q; said %s", name, d.Route, c.want, c.says, said)
		}
	}
}

// sometimesPVA puts 10 % PVA into one draw in eight: 1.25 % expected, 10 % at the upper bound.
func sometimesPVA(f *sorting.Fraction) {
	f.Keys[1] = "PVA"
	for i := 0; i < len(f.Grams); i += 8 {
		f.Grams[i][0], f.Grams[i][1] = f.Grams[i][0]*0.9, f.Grams[i][0]*0.1
	}
}

func TestNotWorthIsSaidFirst(t *testing.T) {
	f := fraction("PETG", 2, 0)
	f.Demonstrated = &sorting.Demonstration{AtLeast: 0.96, Confidence: 0.95, Tested: 80}
	d := choose(t, f, Situation{Outlets: []sorting.Outlet{outlet()}})
	if d.Route != Recycler || d.Worth.Keep || !strings.HasPrefix(d.Why[0].Words, "not worth your evening") {
		t.Errorf("%s, keep %v, says first %q", d.Route, d.Worth.Keep, d.Why[0].Words)
	}
}

// TestRefusals: what an outlet writes it refuses closes it, and a plain denial does not.
func TestRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		refuses string
		spoil   func(f *sorting.Fraction)
		want    Route
	}{
		"nothing refused":          {"flame retardant", func(f *sorting.Fraction) {}, Recycler},
		"denied":                   {"flame retardant", func(f *sorting.Fraction) { f.Additives = []string{"no flame retardant"} }, Recycler},
		"glass fibre":              {"fibre", func(f *sorting.Fraction) { f.Additives = []string{"glass fibre"} }, Disposal},
		"moulded":                  {"moulded parts", func(f *sorting.Fraction) { f.Origin = sorting.Moulded }, Hold},
		"own print is no mould":    {"moulded parts", func(f *sorting.Fraction) {}, Recycler},
		"a colour":                 {"black", func(f *sorting.Fraction) { f.Colours = []string{"Black"} }, Hold},
		"an additive":              {"glow", func(f *sorting.Fraction) { f.Additives = []string{"no glow"} }, Recycler},
		"an additive it does have": {"uv", func(f *sorting.Fraction) { f.Additives = []string{"UV stabiliser"} }, Hold},
	} {
		f, o := fraction("PETG", 2, 0), outlet()
		f.Demonstrated = &sorting.Demonstration{AtLeast: 0.96, Confidence: 0.95, Tested: 80}
		o.Refuses = []string{c.refuses}
		c.spoil(&f)
		if d := choose(t, f, Situation{Outlets: []sorting.Outlet{o}}); d.Route != c.want {
			t.Errorf("%s: %s, want %s: %+v", name, d.Route, c.want, d.Rules)
		}
	}
}

// TestNoMassBreaksEven: where the scrap stands in for nothing, no mass pays, and that is said first.
func TestNoMassBreaksEven(t *testing.T) {
	s := bench()
	s.Worth.AsGoodAs = quantity.MustParse[quantity.Share]("1 %")
	d := choose(t, fraction("PETG", 40, 0), s)
	if d.Route.Hot() || d.Worth.Keep || !strings.Contains(d.Why[0].Words, "no mass would change that") {
		t.Errorf("%s, keep %v: %q", d.Route, d.Worth.Keep, d.Why[0].Words)
	}
}

// TestDemonstrationBelow95 is none: paper and outlets go by 95 % one-sided.
func TestDemonstrationBelow95(t *testing.T) {
	f := fraction("PETG", 2, 0)
	f.Demonstrated = &sorting.Demonstration{AtLeast: 0.97, Confidence: 0.90, Tested: 80}
	if d := choose(t, f, Situation{Outlets: []sorting.Outlet{outlet()}}); d.Route != Hold {
		t.Errorf("a claim at 90 %% confidence opened %s", d.Route)
	}
}

func TestFlakeNeedsNoGranulator(t *testing.T) {
	s, f := bench(), fraction("TPU", 20, 0)
	s.Kit.Has, f.Prep, f.Heats, f.Keys[1] = []string{"filament extruder"}, sorting.Flake, 3, "PLA"
	d := choose(t, f, s)
	said := strings.Join(d.Cautions, "\n")
	if d.Route != Regrind || !strings.Contains(said, "rubbery") || !strings.Contains(said, "melted 3 times") {
		t.Errorf("%s: %s", d.Route, said)
	}
}

// TestHotCautions: the melt heat and the drying heat are those of the least that may be in it (PLA's
// ceiling and glass transition in a bag of PETG, as the handbook has them).
func TestHotCautions(t *testing.T) {
	f := fraction("PETG", 20, 0.01)
	f.Keys[1], f.Baths = "PLA", []string{"calcium chloride"}
	s := bench()
	s.Place = sorting.Place{}
	s.Kit.Has = []string{"granulator", "filament extruder"}
	said := strings.Join(choose(t, f, s).Cautions, "\n")
	pla, _ := polymers.Find("PLA")
	for _, part := range []string{"never above " + celsius(pla.CeilingC.Typical), "docs/safety.md, section 7", "PVC and POM must never have been in it", "exhaust is not said", "no children", "no dryer", "goggles", "calcium chloride left in it never dries"} {
		if !strings.Contains(said, part) {
			t.Errorf("%q is not said:\n%s", part, said)
		}
	}
	if tg := pla.GlassTransition; !strings.Contains(said, "dry at") || strings.Contains(said, "dry at "+celsius(tg.High)) {
		t.Errorf("drying: %s", said)
	}
}

func TestWeighedBagDecides(t *testing.T) {
	s := Situation{Outlets: []sorting.Outlet{outlet()}}
	f := fraction("PETG", 0.9, 0)
	f.Demonstrated = &sorting.Demonstration{AtLeast: 0.96, Confidence: 0.95, Tested: 80}
	m := quantity.MustParse[quantity.Gram]("1.05 kg ± 5 g")
	s.Weighed = &m
	if d := choose(t, f, s); d.Route != Recycler {
		t.Errorf("a bag of 1.05 kg on the scale goes to %s", d.Route)
	}
}

// TestMarking: ISO 11469 strings; PVA is printed as the standard's term, a group gets none.
func TestMarking(t *testing.T) {
	for material, want := range map[string]string{"PETG": ">PETG<", "PVA": ">PVAL<", "ABS/ASA": "", "": ""} {
		f := fraction("PETG", 2, 0.02)
		f.Material, f.Symbols = material, nil
		if material != "" {
			f.Keys[0], f.Symbols = material, symbolsOf(material)
		}
		if d := choose(t, f, bench()); d.Marking != want {
			t.Errorf("%q is marked %q, want %q", material, d.Marking, want)
		}
	}
	filled := fraction("PLA", 2, 0.02)
	filled.Additives = []string{"carbon fibre"}
	if d := choose(t, filled, bench()); d.Marking != "" {
		t.Errorf("a bag declared to hold carbon fibre is marked %s", d.Marking)
	}
	if d := choose(t, fraction("PETG", 2, 0.2), bench()); d.Marking != "" {
		t.Errorf("a bag with 20 %% others is marked %s", d.Marking)
	}
}

func TestRefusesBrokenDraws(t *testing.T) {
	for name, spoil := range map[string]func(f *sorting.Fraction){
		"no draws":   func(f *sorting.Fraction) { f.Grams = nil },
		"short draw": func(f *sorting.Fraction) { f.Grams[3] = f.Grams[3][:1] },
		"below zero": func(f *sorting.Fraction) { f.Grams[3][0] = -1 },
	} {
		f := fraction("PLA", 1, 0)
		spoil(&f)
		if _, err := Choose(f, bench(), Options{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestAssumedConstantsNameTheirKey(t *testing.T) {
	d := choose(t, fraction("PETG", 20, 0), bench())
	seen := map[string]bool{}
	for _, a := range d.Assumptions {
		seen[a.Key] = true
		if a.Source == "" {
			t.Errorf("%q has no source", a.Says)
		}
	}
	for key := range benchPresets {
		if !seen["[worth] "+key] {
			t.Errorf("[worth] %s was assumed and is not listed", key)
		}
	}
	s := bench()
	s.Worth = handWorth()
	for _, a := range choose(t, fraction("PETG", 20, 0), s).Assumptions {
		if strings.HasPrefix(a.Key, "[worth]") {
			t.Errorf("%s was given and is listed as assumed", a.Key)
		}
	}
}
