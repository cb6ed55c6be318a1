package cues

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
)

// asks are all questions with a table.
var asks = []struct {
	kind Kind
	cue  string
}{{Bend, ""}, {Soak, ""}, {Acetone, ""}, {HotAir, ""}, {Flame, "smoke"}, {Flame, "drips"}, {Flame, "goes_out"}}

func plain(symbol string) polymers.Material {
	s := polymers.Symbol(symbol)
	return polymers.Material{Symbol: s, Base: s, Polymer: s}
}

func filledWith(filler, polymer string) polymers.Material {
	s := polymers.Symbol(polymer + "-" + filler)
	return polymers.Material{Symbol: s, Base: s, Polymer: polymers.Symbol(polymer), Filler: filler}
}

// bin is a mixture of every way in which a material finds its row.
var bin = []polymers.Material{
	plain("PLA"), {Symbol: "PLA tough", Base: "PLA", Polymer: "PLA", Variant: "tough"}, {Symbol: "PLA annealed", Base: "PLA", Polymer: "PLA", Variant: "annealed"},
	plain("PETG"), plain("PCTG"), plain("ABS"), plain("ASA"), plain("HIPS"), plain("PS"), plain("SAN"), plain("PC"), plain("PC+ABS"), plain("PA6"), plain("PA66"), plain("PA12"),
	plain("TPU"), plain("TPE-S"), plain("PP"), plain("PE-HD"), plain("PET"), plain("PBT"), plain("POM"), plain("PMMA"), plain("PVA"), plain("BVOH"), plain("PHA"),
	plain("PVC-U"), plain("PVB"), plain("CA"), plain("PCL"), plain("PEEK"), plain("PEI"), plain("PVDF"), plain("nobody knows"), plain("other"),
	filledWith("CF", "PLA"), filledWith("CF", "PETG"), filledWith("GF30", "PA66"), filledWith("CF", "PA6"), filledWith("WD", "PLA"), filledWith("GF30", "PP"), filledWith("CF", "nobody knows"),
}

func likelihood(t testing.TB, k Kind, s Setting, m polymers.Material) []float64 {
	t.Helper()
	p, err := Likelihood(k, s, m)
	if err != nil {
		t.Fatalf("%s of %s: %v", k, m.Symbol, err)
	}
	return p
}

func seconds(x float64) quantity.Time {
	return quantity.Time{Value: quantity.Second(x), Text: "t"}
}

func celsius(x float64) quantity.Temperature {
	return quantity.Temperature{Value: quantity.Celsius(x), Text: "T"}
}

// The axioms of probability, and the rules that hold for every table: a sum of one, nothing
// impossible, no ratio of likelihoods above LargestRatio.
func TestLaws(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a := asks[rapid.IntRange(0, len(asks)-1).Draw(rt, "kind")]
		s := Setting{Cue: a.cue}
		if a.kind == Soak {
			s.Time = seconds(rapid.Float64Range(0, 1e7).Draw(rt, "time"))
			s.Temp = celsius(rapid.Float64Range(-10, 200).Draw(rt, "temp"))
		}
		low, high := make([]float64, len(Seen(a.kind, a.cue))), make([]float64, len(Seen(a.kind, a.cue)))
		for i := range low {
			low[i] = 1
		}
		for _, m := range bin {
			p, err := Likelihood(a.kind, s, m)
			if err != nil || len(p) != len(low) {
				rt.Fatalf("%s %s: %v, %v", a.kind, m.Symbol, p, err)
			}
			sum := 0.0
			for i, x := range p {
				sum += x
				low[i], high[i] = min(low[i], x), max(high[i], x)
			}
			if math.Abs(sum-1) > 1e-12 {
				rt.Fatalf("%s %s sums to %v", a.kind, m.Symbol, sum)
			}
		}
		for i := range low {
			if !(low[i] > 0) || high[i]/low[i] > LargestRatio*(1+1e-12) {
				rt.Fatalf("%s: outcome %d goes from %v to %v", a.kind, i, low[i], high[i])
			}
		}
	})
}

// The cap is met, not just kept: the table with the firmest rows reaches it.
func TestCapIsReached(t *testing.T) {
	abs, pp := likelihood(t, Flame, Setting{Cue: "smoke"}, plain("HIPS")), likelihood(t, Flame, Setting{Cue: "smoke"}, plain("PMMA"))
	sooty := slices.Index(Seen(Flame, "smoke"), "sooty")
	if r := abs[sooty] / pp[sooty]; r < 10 || r > LargestRatio {
		t.Errorf("soot of HIPS against PMMA counts %.1f", r)
	}
}

// What published pages say of a material must be what is most probable for it.
func TestPublishedFacts(t *testing.T) {
	for _, c := range []struct {
		kind    Kind
		cue     string
		time    float64
		symbol  string
		outcome []string // any of these, together, most probable
		source  string
	}{
		{Soak, "", 86400, "PVA", []string{"slimy", "dissolves"}, "INRS sheet 29: poly(vinyl alcohol) is soluble in water"},
		{Soak, "", 86400, "PLA", []string{"unchanged"}, "PolyTerra TDS 5.3: equilibrium water uptake 0.36 %"},
		{Soak, "", 86400, "PETG", []string{"unchanged"}, "polydxplastic.com: 0.20 % of water in 24 h"},
		{Soak, "", 86400, "ABS", []string{"unchanged"}, "APAC Infrastructure ABS sheet: water 0.488 %"},
		{Soak, "", 86400, "PHA", []string{"unchanged"}, "youblob.com, PHB: not soluble in water"},
		{Acetone, "", 0, "ABS", []string{"dissolves"}, "INRS sheet 4: soluble in ketones and esters"},
		{Acetone, "", 0, "ASA", []string{"dissolves", "tacky"}, "design guide for bonding plastics, vol. 4, p. 20: attacked by ketones"},
		{Soak, "", 7200, "PVA", []string{"slimy", "dissolves"}, "mwpva.com: coarse granules of the 87-89 % hydrolysed grades dissolve in 1-2 h"},
		{Acetone, "", 0, "HIPS", []string{"dissolves", "tacky"}, "Katz 1998: polystyrene soft and sticky in 20 s of acetone"},
		{Acetone, "", 0, "PET", []string{"unchanged"}, "Katz 1998: poly(ethylene terephthalate) does not react"},
		{Acetone, "", 0, "PP", []string{"unchanged"}, "Heikkinen 2018: polypropylene the most resistant of ten printed plastics"},
		{HotAir, "", 0, "PET", []string{"milky-melt"}, "dryer maker: amorphous turns crystalline and white near 82 °C"},
		{HotAir, "", 0, "PC", []string{"no-change"}, "Callister appendix E: glass transition 150 °C"},
		{Bend, "", 0, "PS", []string{"snaps"}, "Conservation Science ch. 8; identification chart: brittle"},
		{Bend, "", 0, "PETG", []string{"bends", "whitens"}, "additive.tools: 20-50 % elongation along the layers"},
		{Bend, "", 0, "PLA", []string{"snaps"}, "pro3dcomposites.com: 2.5 % elongation at break"},
		{Flame, "smoke", 0, "HIPS", []string{"sooty"}, "cuttosize, MoldDB, mold-toolmaker: thick black smoke with soot (polystyrene)"},
		{Flame, "smoke", 0, "POM", []string{"none", "light"}, "cuttosize, MoldDB, mold-toolmaker: almost no smoke"},
		{Flame, "drips", 0, "PP", []string{"true"}, "cuttosize, MoldDB, mold-toolmaker, TWI: drips"},
		{Flame, "goes_out", 0, "PE-HD", []string{"false"}, "cuttosize, MoldDB, mold-toolmaker, TWI: keeps burning"},
		{Flame, "goes_out", 0, "PC", []string{"true"}, "cuttosize, MoldDB, mold-toolmaker: goes out when the flame is taken away"},
		{Flame, "goes_out", 0, "PVC-U", []string{"true"}, "mold-toolmaker, TWI: goes out at once"},
	} {
		s := Setting{Cue: c.cue}
		if c.time > 0 {
			s.Time = seconds(c.time)
		}
		p, sum := likelihood(t, c.kind, s, plain(c.symbol)), 0.0
		for _, o := range c.outcome {
			sum += p[slices.Index(Seen(c.kind, c.cue), o)]
		}
		best := slices.Index(p, slices.Max(p))
		if !slices.Contains(c.outcome, Seen(c.kind, c.cue)[best]) || sum < 0.5 && c.kind != HotAir {
			t.Errorf("%s of %s: %.2f over %v, but %s", c.kind, c.symbol, p, Seen(c.kind, c.cue), c.source)
		}
	}
}

// Longer and warmer never make a soluble support less dissolved, and do nothing to the others.
func TestSoakGoesOneWay(t *testing.T) {
	pla := likelihood(t, Soak, Setting{}, plain("PLA"))
	for _, symbol := range []string{"PVA", "BVOH"} {
		last := 1.0
		for _, time := range []float64{10, 60, 300, 900, 3600, 14400, 86400, 1e6} {
			p := likelihood(t, Soak, Setting{Time: seconds(time)}, plain(symbol))
			if p[0] > last {
				t.Errorf("%s stays unchanged with %.3f after %v s, %.3f before", symbol, p[0], time, last)
			}
			last = p[0]
			warm := likelihood(t, Soak, Setting{Time: seconds(time), Temp: celsius(40)}, plain(symbol))
			if warm[0] > p[0]+1e-12 {
				t.Errorf("%s after %v s: warm water dissolves less", symbol, time)
			}
		}
	}
	ten := likelihood(t, Soak, Setting{Time: seconds(1800), Temp: celsius(30)}, plain("PVA"))
	hour := likelihood(t, Soak, Setting{}, plain("PVA"))
	for i := range ten {
		if math.Abs(ten[i]-hour[i]) > 1e-12 {
			t.Errorf("half an hour at 30 °C is an hour at 20 °C: %v, %v", ten, hour)
		}
	}
	if day := likelihood(t, Soak, Setting{Time: seconds(86400)}, plain("PLA")); day[0] < 0.85 || pla[0] < 0.85 {
		t.Errorf("PLA in water: %v after an hour, %v after a day", pla, day)
	}
}

// A flat answer is never better for a reading than the material it speaks for.
func TestFlatNeverWins(t *testing.T) {
	for _, a := range asks {
		s := Setting{Cue: a.cue}
		for o := range Seen(a.kind, a.cue) {
			best := 0.0
			for _, m := range bin {
				if b, _ := basisOf(a.kind, s, m); !b.flat {
					best = max(best, likelihood(t, a.kind, s, m)[o])
				}
			}
			if f := likelihood(t, a.kind, s, plain("other"))[o]; f > best {
				t.Errorf("%s %s: other has %.3f of outcome %d, the best material %.3f", a.kind, a.cue, f, o, best)
			}
		}
	}
}

// Fibre makes a strip snap and holds its shape in hot air; it changes nothing in acetone.
func TestFillers(t *testing.T) {
	base, cf := plain("PA6"), filledWith("CF", "PA6")
	if b, f := likelihood(t, Bend, Setting{}, base), likelihood(t, Bend, Setting{}, cf); f[0] <= b[0] {
		t.Errorf("snaps: %.3f with fibre, %.3f without", f[0], b[0])
	}
	if b, f := likelihood(t, HotAir, Setting{}, base), likelihood(t, HotAir, Setting{}, cf); f[0] <= b[0] {
		t.Errorf("no-change: %.3f with fibre, %.3f without", f[0], b[0])
	}
	if b, f := likelihood(t, Acetone, Setting{}, base), likelihood(t, Acetone, Setting{}, cf); !slices.Equal(b, f) {
		t.Errorf("acetone: %v with fibre, %v without", f, b)
	}
	wood, fibre := likelihood(t, Bend, Setting{}, filledWith("WD", "PC")), likelihood(t, Bend, Setting{}, filledWith("GF20", "PC"))
	if !(wood[0] < fibre[0]) {
		t.Errorf("snaps: %.3f with wood, %.3f with glass fibre", wood[0], fibre[0])
	}
}

func TestWhatHasNoTable(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		cue  string
	}{{Float, ""}, {Weigh, ""}, {HotWater, ""}, {Marked, ""}, {Flame, ""}, {Flame, "smell"}, {Bend, "smoke"}, {"lick", ""}} {
		if p, err := Likelihood(c.kind, Setting{Cue: c.cue}, plain("PLA")); err == nil {
			t.Errorf("%s %q answered %v", c.kind, c.cue, p)
		}
		if _, err := basisOf(c.kind, Setting{Cue: c.cue}, plain("PLA")); err == nil {
			t.Errorf("%s %q has a basis", c.kind, c.cue)
		}
	}
}

func TestBasis(t *testing.T) {
	for _, c := range []struct {
		symbol, row string
		flat        bool
	}{{"PCTG", "PETG", false}, {"PA66", "PA6_66", false}, {"PLA", "PLA", false}, {"nobody knows", "", true}, {"other", "", true}} {
		b, err := basisOf(Acetone, Setting{}, plain(c.symbol))
		if err != nil || b.flat != c.flat || !c.flat && (len(b.rows) != 1 || b.rows[0] != c.row) {
			t.Errorf("acetone of %s stands on %+v, %v", c.symbol, b, err)
		}
	}
}
