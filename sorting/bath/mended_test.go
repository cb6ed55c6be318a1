package bath

import (
	"math"
	"strings"
	"testing"

	"brinecut/polymers/quantity"
)

func mix(t testing.TB, text string, target float64) Recipe {
	t.Helper()
	rec, err := Mix(Request{Target: density(target), Product: product(t, text)}, Options{})
	if err != nil || !rec.Reachable {
		t.Fatalf("%s at %g: reachable %v, %v", text, target, rec.Reachable, err)
	}
	return rec
}

func words(lists ...[]Caution) string {
	var b strings.Builder
	for _, list := range lists {
		for _, c := range list {
			b.WriteString(c.Says + "\n")
		}
	}
	return b.String()
}

func beside(steps []Step) string {
	out := ""
	for _, s := range steps {
		out += words(s.Cautions)
	}
	return out
}

// No bath of salt, sugar or glycerol can be lit at room temperature (glycerol's flash point is
// about 160 °C), so none may speak of fire; each bath of alcohol says it before anything is weighed.
func TestFireIsSaidOfAlcoholAlone(t *testing.T) {
	for _, l := range Liquids()[1:] {
		for _, w := range []float64{0.05, 0.2, 0.5, 0.9} {
			if _, ok := flashPoint(l, w); ok && !l.Flammable() {
				t.Errorf("%s at %g has a flash point", l, w)
			}
		}
		o, err := spanOf(product(t, l.String()), 20, 20)
		if err != nil {
			t.Fatal(err)
		}
		for _, share := range []float64{0.1, 0.5, 0.95} {
			rec := mix(t, l.String(), float64(o.Min)+share*float64(o.Max-o.Min))
			said := words(rec.Foremost, rec.Cautions, rec.Disposal) + beside(rec.Order)
			fire := strings.Contains(said, "flash point") || strings.Contains(said, " lit") || strings.Contains(said, "burns even") || strings.Contains(said, "alcohol")
			if fire != l.Flammable() {
				t.Errorf("%s at %.3f speaks of fire: %v\n%s", l, float64(rec.Target), fire, said)
			}
			if l.Flammable() && (len(rec.Order[0].Cautions) == 0 || !strings.Contains(words(rec.Order[0].Cautions), "no flame") || !strings.Contains(words(rec.Foremost), "polypropylene")) {
				t.Errorf("%s: the first step carries no fire caution, or no way without alcohol: %+v", l, rec.Order[0])
			}
		}
	}
}

// Which element harms what: sodium is in two of the salts, chloride in three, sulphate in one
// (their formulas); sugar and glycerol are no salts.
func TestDisposalNamesWhatIsInIt(t *testing.T) {
	for _, c := range []struct {
		liquids []Liquid
		holds   string
		lacks   []string
	}{
		{[]Liquid{TableSalt, SodiumBromide}, "sodium", []string{"sulphate", "alkalin", "oxygen"}},
		{[]Liquid{CalciumChloride, MagnesiumChloride}, "chloride", []string{"sodium", "sulphate", "alkalin", "oxygen"}},
		{[]Liquid{EpsomSalt}, "sulphate", []string{"sodium", "chloride", "alkalin", "oxygen"}},
		{[]Liquid{PotassiumCarbonate}, "alkalin", []string{"sodium", "sulphate", "chloride", "oxygen", "vinegar"}},
		{[]Liquid{Sugar, Glycerol}, "oxygen", []string{"sodium", "sulphate", "chloride", "alkalin", "salt", "brine"}},
		{[]Liquid{Ethanol, Isopropanol}, "oxygen", []string{"sodium", "sulphate", "chloride", "alkalin", "salt", "brine"}},
	} {
		for _, l := range c.liquids {
			for _, d := range []Drain{DrainSewer, DrainSeptic, DrainNone, DrainUnknown} {
				said := words(Disposal(l, d))
				if !strings.Contains(said, c.holds) || !strings.Contains(said, "coffee filter") || !strings.Contains(said, "20 µm") {
					t.Errorf("%s, %s: lacks %q or what the filter holds:\n%s", l, d, c.holds, said)
				}
				for _, no := range c.lacks {
					if strings.Contains(said, no) {
						t.Errorf("%s, %s: speaks of %q:\n%s", l, d, no, said)
					}
				}
			}
			if !l.Flammable() && !strings.Contains(Disposal(l, DrainSeptic)[1].Says, "not ") {
				t.Errorf("%s may go into a septic tank", l)
			}
		}
	}
}

// Goggles for every brine, as for the two that were always named.
func TestGogglesForEveryBrine(t *testing.T) {
	for l := range solubilities {
		if said := words(Cautions(l)); l != Sugar && !strings.Contains(said, "goggles") {
			t.Errorf("%s: no goggles in\n%s", l, said)
		}
	}
	if said := words(NeverCombine(PotassiumCarbonate)); strings.Contains(said, "except") {
		t.Errorf("vinegar is let in: one litre at 1.40 g/cm3 would take 9 l of 5 %% vinegar:\n%s", said)
	}
}

// Ethanol of 0.900 has about 65 % by volume, flash point about 22 °C: said before all else.
func TestFlashPointComesFirst(t *testing.T) {
	if rec := mix(t, "ethanol", 0.9); !strings.Contains(rec.Foremost[0].Says, "flash point of this bath is about 22 °C") {
		t.Errorf("%+v", rec.Foremost)
	}
}

// The water that goes in first must dissolve the whole product: CRC 98th ed. has 26.41 % NaCl and
// 25.1 % MgSO4 at 20 °C, 21.7 % MgSO4 at 10 °C.
func TestFirstWaterDissolvesTheProduct(t *testing.T) {
	for _, c := range []struct {
		text   string
		target float64
		all    bool
		warm   bool
	}{
		{"table salt", 1.10, false, false}, {"table salt", 1.195, true, true}, {"epsom salt", 1.10, false, false},
		{"epsom salt", 1.25, true, true}, {"epsom salt", 1.28, true, true}, {"sugar", 1.20, false, false}, {"calcium chloride", 1.25, false, false},
		{"magnesium chloride", 1.32, true, false}, {"potassium carbonate", 1.53, true, false},
	} {
		rec := mix(t, c.text, c.target)
		do := rec.Order[0].Do
		if got := strings.Contains(do, "all of the water"); got != c.all {
			t.Errorf("%s at %g, %.0f %% of saturation: %q", c.text, c.target, 100*float64(rec.Saturation), do)
		}
		if got := strings.Contains(do, "take it warm"); got != c.warm || c.warm && !strings.Contains(words(rec.Order[0].Cautions), "scald") {
			t.Errorf("%s at %g: warm %v, %+v", c.text, c.target, got, rec.Order[0])
		}
		first := 0.9
		if c.all {
			first = 1
		}
		solute := float64(rec.Weigh) * float64(rec.Product.Content)
		early := solute / (float64(rec.Weigh) + first*float64(rec.Water))
		if sat := float64(rec.MassFraction / rec.Saturation); early > sat {
			t.Errorf("%s at %g: %.2f %% in the first water, %.2f %% dissolve", c.text, c.target, 100*early, 100*sat)
		}
		for _, s := range rec.Order {
			if c.all && strings.Contains(s.Do, "last") {
				t.Errorf("%s at %g holds water back: %q", c.text, c.target, s.Do)
			}
		}
	}
}

// Epsom salt at 25.1 % and 20 °C is saturated (CRC); calcium chloride takes 42.13 % there.
func TestSaturatedBathSaysSoFirst(t *testing.T) {
	full, err := Density(EpsomSalt, 0.2509, 20)
	if err != nil {
		t.Fatal(err)
	}
	rec := mix(t, "epsom salt", float64(full))
	if said := words(rec.Foremost); !strings.Contains(said, "100 % of saturation") || !strings.Contains(said, "calcium chloride") || !strings.Contains(words(rec.Order[0].Cautions), "saturation") {
		t.Errorf("%s%+v", said, rec.Order[0])
	}
	if easy := mix(t, "epsom salt", 1.20); len(easy.Foremost) != 0 {
		t.Errorf("1.200 needs no such words: %+v", easy.Foremost)
	}
}

// One litre of 1.250 is 575.6 g of the heptahydrate in 1250 g, 46.0 %, that is 22.5 % of MgSO4.
func TestStrengthNamesItsBasis(t *testing.T) {
	for _, c := range []struct {
		text, want string
		target     float64
	}{
		{"epsom salt", "22.5 % by mass of anhydrous MgSO4 (46.0 % by mass of epsom salt as weighed)", 1.25},
		{"water", "plain water", 0.9982}, {"sugar", "% by mass of pure sugar", 1.2}, {"glycerol", "of pure glycerol", 1.2}, {"isopropanol 70 % vol", "of pure isopropanol (", 0.97},
	} {
		if got := mix(t, c.text, c.target).Strength(); !strings.Contains(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// 625 g of brine at 1.250 thinned to 1.0002 take about 125 times as much water; starting anew is
// the only sense. Doubling is still an addition.
func TestAbsurdAdditionStartsAnew(t *testing.T) {
	for to, want := range map[float64]string{1.0002: "start anew", 1.125: "water"} {
		w := bottle(1.25)
		w.Target, w.Bath = density(to), quantity.Exact(quantity.Gram(625))
		for _, p := range []Product{{}, product(t, "epsom salt")} {
			w.Product = p
			c, err := Check(w, CheckOptions{})
			if err != nil || c.Add.What != want || (c.Add.Mass > 0) != (want == "water") {
				t.Errorf("to %g: %+v, %v", to, c.Add, err)
			}
			if want == "start anew" && (!strings.Contains(c.Add.Note, "kg of water to 0.625 kg") || math.Abs(float64(c.Add.To)-625) > 1e-9) {
				t.Errorf("note %q", c.Add.Note)
			}
		}
	}
}
