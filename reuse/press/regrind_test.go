package press

import (
	"math"
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"pgregory.net/rapid"
)

func loop(t *testing.T, m polymers.Material, share string, q string) Passes {
	t.Helper()
	r := RegrindRequest{Material: m, Share: quantity.MustParse[quantity.Share](share)}
	if q != "" {
		r.Retention = quantity.MustParse[quantity.Share](q)
	}
	p, err := Regrind(r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The cascade of Throne, Technology of Thermoforming, 1996 (recalled): 20 %: 80, 16, 3.2, 0.64 %, mean 1.25; 25 %: mean 1.3333; half
// regrind with 90 % kept at each melting: 0.8182 of virgin.
func TestDerivedPasses(t *testing.T) {
	p := loop(t, petg(), "20 %", "")
	for i, want := range []float64{.80, .16, .032, .0064} {
		near(t, "share", p.Shares[i], want, 1e-12)
	}
	near(t, "mean", p.Mean, 1.25, 1e-12)
	near(t, "25 %: three melts or more", 1-loop(t, petg(), "25 %", "").Shares[0]-loop(t, petg(), "25 %", "").Shares[1], .0625, 1e-12)
	near(t, "half, 90 %", *loop(t, petg(), "50 %", "90 %").Retention, .8182, .00005)
	if p.Retention != nil {
		t.Error("a retention nobody gave")
	}
}

// The whole table of shares from 10 to 75 %, printed to its digits.
func TestDerivedGenerations(t *testing.T) {
	for _, row := range rows(t, "regrind_generations.tsv") {
		shares, _ := passes(row[0])
		for n := range 5 {
			want := 0.0
			if n < len(shares) {
				want = 100 * shares[n]
			}
			near(t, "exactly n melts, %", want, row[1+n], .0101) // lists end where less than .01 % is left
		}
		near(t, "mean", 1/(1-row[0]), row[7], .00005)
		near(t, "95 %", kept(row[0], .95), row[8], .00005001)
		near(t, "90 %", kept(row[0], .90), row[9], .00005001)
	}
}

func TestDerivedStartUp(t *testing.T) {
	m, err := MeanAfter(.5, 3)
	near(t, "half regrind, three loops", m, 1.75, 1e-12)
	if err != nil {
		t.Error(err)
	}
	m, _ = MeanAfter(1, 7)
	near(t, "no new material", m, 7, 0)
	if _, err := MeanAfter(1.1, 7); err == nil {
		t.Error("a share above one was accepted")
	}
}

func TestPassesLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0, .999).Draw(t, "share")
		q := rapid.Float64Range(.3, 1).Draw(t, "kept")
		p, err := Regrind(RegrindRequest{Material: petg(), Share: quantity.Fraction{Value: quantity.Share(share), Text: "x"}, Retention: quantity.Fraction{Value: quantity.Share(q), Text: "x"}})
		if err != nil {
			t.Fatal(err)
		}
		sum, loop, melt := p.Rest, 0.0, q
		for _, s := range p.Shares {
			sum += s
			loop += s * melt
			melt *= q
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Fatalf("shares sum to %v", sum)
		}
		if *p.Retention < loop-1e-9 || *p.Retention > loop+p.Rest+1e-9 || *p.Retention > q+1e-12 {
			t.Fatalf("closed form %v, by its parts %v to %v", *p.Retention, loop, loop+p.Rest)
		}
	})
}

func TestRegrindRefused(t *testing.T) {
	for because, r := range map[string]RegrindRequest{
		"all regrind":    {Material: petg(), Share: quantity.Exact(quantity.Share(1))},
		"negative":       {Material: petg(), Share: quantity.Fraction{Value: -.1, Text: "x"}},
		"NaN":            {Material: petg(), Share: quantity.Fraction{Value: quantity.Share(math.NaN()), Text: "x"}},
		"nothing kept":   {Material: petg(), Retention: quantity.Fraction{Text: "x"}},
		"all is scrap":   {Material: petg(), Scrap: quantity.Exact(quantity.Share(1))},
		"usable above 1": {Material: petg(), Scrap: quantity.Exact(quantity.Share(.1)), Usable: quantity.Fraction{Value: 1.1, Text: "x"}},
		"unknown":        {},
	} {
		if _, err := Regrind(r); refusedFor(err) == "" {
			t.Errorf("%s: %v", because, err)
		}
	}
}

// Printed ABS, three times round: strength .90, strain 3.9 of 5.2 % (Cress et al. 2021). PLA: one laboratory lost a tenth, another gained:
// the range ends at 1.
func TestPublishedRetention(t *testing.T) {
	abs := petg()
	abs.Symbol, abs.Base, abs.Polymer = "ABS", "ABS", "ABS"
	p := loop(t, abs, "0 %", "")
	near(t, "three melts of strength", math.Pow(p.Published[0].PerMelt, 3), .90, 1e-12)
	near(t, "all new, melted once", p.Published[0].InLoop, math.Pow(.9, 1./3), 1e-12)
	if p.Range != nil || !strings.Contains(p.Studied, "one published figure") {
		t.Errorf("one study is given as a range: %+v, %q", p.Range, p.Studied)
	}
	if p := loop(t, petg(), "25 %", ""); p.Range != nil || len(p.Published) == 0 || !strings.Contains(p.Studied, "no range") {
		t.Errorf("PETG, one figure of 100 %%: %+v, %q", p.Range, p.Studied)
	}
	pla := petg()
	pla.Symbol, pla.Base, pla.Polymer = "PLA", "PLA", "PLA"
	if r := loop(t, pla, "25 %", "").Range; !(r.Low < .9 && r.High == 1) {
		t.Errorf("PLA: %+v", r)
	}
	unknown := petg()
	unknown.Symbol, unknown.Base, unknown.Polymer = "PCTG", "PCTG", "PCTG"
	if p := loop(t, unknown, "25 %", ""); p.Range != nil || p.Published != nil || p.Studied != "no study found of repeated melting of PCTG" {
		t.Errorf("numbers for a polymer nobody studied: %+v", p.Range)
	}
}

func TestSupplyAndCeilings(t *testing.T) {
	r := RegrindRequest{Material: petg(), Share: quantity.MustParse[quantity.Share]("40 %"), Scrap: quantity.MustParse[quantity.Share]("20 %"), Usable: quantity.MustParse[quantity.Share]("90 %")}
	p, _ := Regrind(r)
	near(t, "most", p.Supply.Most, .18, 1e-12)
	all := strings.Join(p.Cautions, "\n")
	if !p.Supply.Short || !strings.Contains(all, "feeds a share of 18 %") || !strings.Contains(all, "above the usual ceiling of 20-25 %") {
		t.Errorf("40 %% of regrind from 18 %% of scrap: %q", all)
	}
	r.Share = quantity.MustParse[quantity.Share]("10 %")
	p, _ = Regrind(r)
	near(t, "left over for each kg of good parts", p.Supply.Surplus, .08/.8, 1e-12)
	if strings.Contains(strings.Join(p.Cautions, "\n"), "usual ceiling") {
		t.Error("10 % is under the ceiling")
	}
	tpu := petg()
	tpu.Polymer = "TPU"
	near(t, "TPU, a supplier's note", loop(t, tpu, "5 %", "").LetDown.High, .30, 0)
}

// Stoichiometry, Mn 24 000: 50 ppm of water used up leaves 22 500, 250 ppm 18 000, 400 ppm 15 660 (derived, rounded).
func TestDerivedHydrolysis(t *testing.T) {
	for ppm, want := range map[float64]float64{50: 22500, 250: 18000, 400: 15660} {
		got, err := ChainAfterWater(24000, ppm*1e-6)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "g/mol", got, want, 10)
	}
	// The loss is M w/(18.015 + M w): 400 ppm in PETG of 20 000 and 30 000 g/mol 30.8 and 40.0 %; 250 ppm in PLA of 60 000 and 100 000
	// 45.4 and 58.1 %.
	pla := petg()
	pla.Symbol, pla.Base, pla.Polymer, pla.Dry[0].MaxMoisturePercent = "PLA", "PLA", "PLA", val(.025, .025, .025)
	for want, m := range map[string]polymers.Material{"by 31 to 40 %": petg(), "by 45 to 58 %": pla} {
		all := strings.Join(loop(t, m, "20 %", "").Cautions, "\n")
		if !strings.Contains(all, want) || !strings.Contains(all, "stoichiometric upper bound") {
			t.Errorf("%s is not said: %q", want, all)
		}
	}
	for _, s := range []polymers.Symbol{"PA6", "PA66", "PA11", "PA12"} { // near the balance of condensation and hydrolysis
		nylon, _ := polymers.Find(s)
		if all := strings.Join(loop(t, nylon, "20 %", "").Cautions, "\n"); strings.Contains(all, "stoichiometric") {
			t.Errorf("%s: %q", s, all)
		}
	}
	if all := strings.Join(loop(t, pp(), "20 %", "").Cautions, "\n"); strings.Contains(all, "stoichiometric") {
		t.Errorf("water does not cut PP: %q", all)
	}
	if _, err := ChainAfterWater(24000, -1); err == nil {
		t.Error("negative water was accepted")
	}
}

// Nielsen 1977, as a trade page prints it: equal parts of 1.0 and 2.0 give 1.4145 (the square root of two is 1.4142). A page on viscosity
// mixing: .50/.30/.20 of 46, 100, 10 cSt give 42.79 by the logarithmic rule, 37.06 mPa s of 866 kg/m3. Its other rule (39.23) is for petroleum and
// not used here.
func TestPublishedBlends(t *testing.T) {
	b, err := BlendFlow([]FlowPart{{1, .5}, {2, .5}})
	near(t, "MI", b, 1.4145, .0004)
	if err != nil {
		t.Error(err)
	}
	nu := logBlend([]FlowPart{{46, .5}, {100, .3}, {10, .2}})
	near(t, "cSt", nu, 42.79, .005)
	near(t, "mPa s at .5 x 870 + .3 x 890 + .2 x 820 kg/m3", nu*.866, 37.06, .005)
	w, err := FlowShare(1, 2, math.Sqrt2)
	near(t, "and back", w, .5, 1e-12)
	if err != nil {
		t.Error(err)
	}
	if w, err := FlowShare(2, 2, 2); err != nil || w != 1 {
		t.Errorf("one flow alone: %v, %v", w, err)
	}
	for because, parts := range map[string][]FlowPart{"too far apart": {{46, .5}, {10, .5}}, "shares": {{1, .5}, {2, .4}}, "no rate": {{0, 1}}} {
		if _, err := BlendFlow(parts); refusedFor(err) == "" {
			t.Errorf("%s: %v", because, err)
		}
	}
	if _, err := FlowShare(1, 2, 3); refusedFor(err) == "" {
		t.Error("a target outside was accepted")
	}
}

// Coulson & Richardson vol. 2, ex. 2.1 (p. 101): 13.0 kJ/kg from 50 to 10 mm; 75 to 25 mm takes 4.333 by Rittinger, 8.874 by Kick.
func TestPublishedGrinding(t *testing.T) {
	kick, rittinger, err := GrindingHeat(13.0, 50, 10, 75, 25)
	near(t, "Rittinger", rittinger, 4.333, .0005)
	near(t, "Kick", kick, 8.874, .0005)
	if err != nil {
		t.Error(err)
	}
	if _, _, err := GrindingHeat(13, 10, 50, 75, 25); refusedFor(err) == "" {
		t.Error("grinding that makes larger was accepted")
	}
}

// Loose amorphous scrap glues together near its glass transition: drying published for pellets is capped below it.
func TestDryingOfScrap(t *testing.T) {
	m := petg()
	m.Dry = []polymers.Drying{{Form: "pellet", TempC: *val(80, 85, 90), Hours: *val(4, 4, 4)}}
	if w := dryingWords(m); !strings.Contains(w, "at 73 °C") || !strings.Contains(w, "published for pellets") { // 78 - 5
		t.Errorf("%q", w)
	}
	m.Dry = nil
	if w := dryingWords(m); !strings.Contains(w, "no drying is published") {
		t.Errorf("%q", w)
	}
	if w := loop(t, petg(), "20 %", "").Drying; !strings.Contains(w, "to 0.04 % of water") {
		t.Errorf("%q", w)
	}
}

// What is asked beside the steady loop, by the same published figures: equal parts of 1.0 and 2.0 flow at 1.4145 (Nielsen 1977), half regrind
// is at 1.75 melts after three loops (derived), 13.0 kJ/kg from 50 to 10 mm carries over to 75 to 25 mm (Coulson & Richardson, ex. 2.1) by
// ln 3/ln 5 of Kick's law where the pieces are the same.
func TestWhatIsAskedBeside(t *testing.T) {
	r := RegrindRequest{Material: petg(), Share: quantity.MustParse[quantity.Share]("50 %"), Loops: 3, Flow: Flows{1, 2, math.Sqrt2},
		Ground: Ground{quantity.MustParse[quantity.KilowattHoursKg]("0.05 kWh/kg"), quantity.Exact(quantity.Millimeter(50)), quantity.Exact(quantity.Millimeter(10)), quantity.Exact(quantity.Millimeter(5))}}
	p, err := Regrind(r)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "melts after three loops", *p.MeanAfter, 1.75, 1e-12)
	near(t, "flow", *p.FeedFlow, 1.4145, .0004)
	near(t, "share for the flow", *p.FlowShare, .5, 1e-12)
	near(t, "half the size, Kick: ln 10/ln 5", p.Finer.Low, .05*math.Ln10/math.Log(5), 1e-9)
	near(t, "half the size, Rittinger: (1/5 - 1/50)/(1/10 - 1/50)", p.Finer.High, .05*2.25, 1e-9)
	if !strings.Contains(strings.Join(p.Cautions, "\n"), "measure the regrind") {
		t.Error("a mixing rule without its range")
	}
	for because, spoil := range map[string]func(r *RegrindRequest){
		"loops":         func(r *RegrindRequest) { r.Loops = -1 },
		"rates":         func(r *RegrindRequest) { r.Flow.New = 20 },
		"one rate":      func(r *RegrindRequest) { r.Flow.New = 0 },
		"target":        func(r *RegrindRequest) { r.Flow.Target = 3 },
		"larger flake":  func(r *RegrindRequest) { r.Ground.Finer.Value = 60 },
		"target, alone": func(r *RegrindRequest) { r.Flow = Flows{Target: 3} },
	} {
		bad := r
		spoil(&bad)
		if _, err := Regrind(bad); refusedFor(err) == "" {
			t.Errorf("%s: %v", because, err)
		}
	}
}
