package bath

import (
	"errors"
	"math"
	"testing"

	"brinecut/polymers/quantity"
)

// Highest densities that are comfortable, at most 90 % of saturation at 20 °C (CRC solubilities
// through the density sources, worked apart and rounded down).
func TestEasyReach(t *testing.T) {
	want := map[Liquid]float64{TableSalt: 1.18, CalciumChloride: 1.37, EpsomSalt: 1.25, MagnesiumChloride: 1.29, PotassiumCarbonate: 1.50, SodiumBromide: 1.45, Sugar: 1.28}
	kit := []string{"kettle", "scale 0.1 g", "table salt", "calcium chloride", "epsom salt", "magnesium chloride", "potassium carbonate", "sodium bromide", "sugar"}
	offered := Reach(kit, Place{})
	if len(offered) != 8 || offered[0].Product.Liquid != Water || offered[1].Product.Liquid != TableSalt {
		t.Fatalf("offers: %+v", offered)
	}
	for _, o := range offered[1:] {
		if w := want[o.Product.Liquid]; math.Abs(float64(o.Easy)-w) > 0.01 || o.Easy > o.Max || !o.InKit {
			t.Errorf("%s: easy up to %.4f, want %g", o.Product.Name, float64(o.Easy), w)
		}
	}
}

func TestPropose(t *testing.T) {
	all := []string{"table salt", "epsom salt", "sugar", "calcium chloride", "potassium carbonate", "isopropanol"}
	for _, c := range []struct {
		name   string
		target float64
		kit    []string
		at     Place
		want   Liquid
		inKit  bool
	}{
		{"plain water", 0.9982, all, Place{}, Water, true},
		{"the cheapest", 1.10, all, Place{}, TableSalt, true},
		{"clear of saturation", 1.195, all, Place{}, EpsomSalt, true},
		{"salt alone goes to its end", 1.195, []string{"table salt"}, Place{}, TableSalt, true},
		{"epsom salt is too near its end", 1.275, all, Place{}, CalciumChloride, true},
		{"a cold garage", 1.26, []string{"epsom salt", "sugar"}, Place{Coldest: degrees(8)}, Sugar, true},
		{"the kit comes first", 1.10, []string{"sugar"}, Place{}, Sugar, true},
		{"nothing in the kit", 1.25, []string{"kettle"}, Place{}, EpsomSalt, false},
		{"heavy", 1.45, all, Place{}, PotassiumCarbonate, true},
		{"light", 0.95, all, Place{}, Isopropanol, true},
		{"weak grade", 1.20, []string{"glycerol 70 %", "sugar"}, Place{}, Sugar, true},
	} {
		o, err := Propose(quantity.GramPerCm3(c.target), c.kit, c.at)
		if err != nil || o.Product.Liquid != c.want || o.InKit != c.inKit {
			t.Errorf("%s: %s in kit %v, want %s %v; %v", c.name, o.Product.Name, o.InKit, c.want, c.inKit, err)
		}
	}
}

func TestNoAlcoholBesideAFlame(t *testing.T) {
	for name, c := range map[string]struct {
		kit []string
		at  Place
	}{
		"heat gun in the kit":   {[]string{"isopropanol", "heat gun"}, Place{}},
		"lighter in the kit":    {[]string{"ethanol", "lighter"}, Place{}},
		"printer in the room":   {[]string{"ethanol"}, Place{Beside: []string{"running printer"}}},
		"warm room":             {[]string{"ethanol"}, Place{Temp: degrees(32)}},
		"nothing reaches 2.400": {[]string{"sugar"}, Place{}},
	} {
		target := quantity.GramPerCm3(0.95)
		if name == "nothing reaches 2.400" {
			target = 2.4
		}
		o, err := Propose(target, c.kit, c.at)
		var refusal *Refusal
		if !errors.As(err, &refusal) {
			t.Errorf("%s: proposed %s, %v", name, o.Product.Name, err)
		}
		for _, o := range Reach(c.kit, c.at) {
			if o.Product.Liquid.Flammable() {
				t.Errorf("%s: offers %s", name, o.Product.Name)
			}
		}
	}
}

// What the safety notes of each liquid must hold.
func TestCautions(t *testing.T) {
	for _, l := range Liquids()[1:] {
		for _, list := range [][]Caution{Cautions(l), Disposal(l, DrainSewer), Disposal(l, DrainSeptic), Disposal(l, DrainNone), Disposal(l, "")} {
			if len(list) == 0 {
				t.Errorf("%s has no cautions or disposal", l)
			}
			for _, c := range append(list, NeverCombine(l)...) {
				if c.Says == "" || c.Source == "" {
					t.Errorf("%s: %+v lacks words or source", l, c)
				}
			}
		}
	}
	if len(NeverCombine(PotassiumCarbonate)) < 3 {
		t.Error("potassium carbonate must never meet calcium or magnesium salts, alcohol, acids")
	}
	if a, b := Disposal(TableSalt, ""), Disposal(TableSalt, DrainUnknown); a[1] != b[1] || a[1] == Disposal(TableSalt, DrainSewer)[1] {
		t.Error("an unknown drain must not be taken for a sewer")
	}
}
