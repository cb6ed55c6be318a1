package bath

import (
	"errors"
	"math"
	"testing"
)

// Contents from molar masses (CRC Handbook 102nd ed.): MgSO4 120.368 in MgSO4·7H2O 246.47, CaCl2
// 110.984 in CaCl2·2H2O 147.015, MgCl2 95.211 in MgCl2·6H2O 203.30, K2CO3 138.206 in
// K2CO3·1.5H2O 165.23; labels as the trade prints them.
func TestReadProduct(t *testing.T) {
	for text, want := range map[string]struct {
		liquid  Liquid
		content float64
		stated  bool
	}{
		"Epsom salt":                          {EpsomSalt, 120.368 / 246.47, false},
		"MgSO4·7H2O":                          {EpsomSalt, 120.368 / 246.47, false},
		"epsom salt 99.5 %":                   {EpsomSalt, 0.995 * 120.368 / 246.47, true},
		"epsom salt 48.5%":                    {EpsomSalt, 0.485, true},
		"calcium chloride dihydrate 77 %":     {CalciumChloride, 0.77, true},
		"calcium chloride dihydrate 99 %":     {CalciumChloride, 0.99 * 110.984 / 147.015, true},
		"calcium chloride dihydrate":          {CalciumChloride, 110.984 / 147.015, false},
		"CaCl2.2H2O":                          {CalciumChloride, 110.984 / 147.015, false},
		"calcium chloride flakes 77-80 %":     {CalciumChloride, 0.785, true},
		"calcium chloride 94-97 %":            {CalciumChloride, 0.955, true},
		"CaCl2 anhydrous 95 %":                {CalciumChloride, 0.95, true},
		"MgCl2*6H2O":                          {MagnesiumChloride, 95.211 / 203.30, false},
		"magnesium chloride hexahydrate 47 %": {MagnesiumChloride, 0.47, true},
		"magnesium chloride":                  {MagnesiumChloride, 95.211 / 203.30, false},
		"K2CO3":                               {PotassiumCarbonate, 0.99, false},
		"potassium carbonate sesquihydrate":   {PotassiumCarbonate, 138.206 / 165.23, false},
		"NaBr 99 %":                           {SodiumBromide, 0.99, true},
		"sodium chloride":                     {TableSalt, 0.99, false},
		"sucrose":                             {Sugar, 1, false},
		"glycerin 86 %":                       {Glycerol, 0.86, true},
		"ethanol 55 % vol":                    {Ethanol, 0.4719, true}, // OIML R 22: 54.98 % vol is 47.17 %
		"96 % ethanol":                        {Ethanol, 0.9385, true}, // OIML R 22
		"ethanol":                             {Ethanol, 0.9385, false},
		"isopropanol 70 % by mass":            {Isopropanol, 0.70, true},
		"IPA 99 % mass":                       {Isopropanol, 0.99, true},
		"water":                               {Water, 1, false},
	} {
		p, err := ReadProduct(text)
		if err != nil || p.Liquid != want.liquid || math.Abs(float64(p.Content)-want.content) > 2e-4 || p.Stated != want.stated {
			t.Errorf("%q: %v %.4f stated %v, want %v %.4f %v; %v", text, p.Liquid, float64(p.Content), p.Stated, want.liquid, want.content, want.stated, err)
		}
	}
	// Rubbing alcohol of 70 % by volume: specific gravity 0.872 to 0.883 in the pharmacopoeia (from memory).
	p := product(t, "rubbing alcohol")
	if rho, err := Density(p.Liquid, p.Content, 20); err != nil || rho < 0.870 || rho > 0.882 {
		t.Errorf("rubbing alcohol: %v %v, %v", p.Content, rho, err)
	}
}

func TestProductRefused(t *testing.T) {
	for _, text := range []string{"", "kettle", "zinc chloride", "potassium chloride", "epsom salt 80 %", "table salt 0 %", "table salt 120 %",
		"calcium chloride 1,234 %", "glycerol 80 % vol", "table salt dihydrate", "MgSO4·9H2O"} {
		p, err := ReadProduct(text)
		var refusal *Refusal
		if !errors.As(err, &refusal) {
			t.Errorf("%q read as %s %v, %v", text, p.Name, p.Content, err)
		}
	}
}

func FuzzReadProduct(f *testing.F) {
	for _, s := range []string{"calcium chloride dihydrate 77 %", "MgSO4·7H2O", "77-80 % calcium chloride", "isopropanol 70 % vol", "sugar"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := ReadProduct(s)
		if err != nil {
			return
		}
		if !(p.Content > 0 && p.Low <= p.Content && p.Content <= p.High && p.High <= 1) {
			t.Errorf("%q: %v in %v to %v", s, p.Content, p.Low, p.High)
		}
		if _, err := spanOf(p, 20, 20); err != nil {
			t.Errorf("%q is read but reaches nothing: %v", s, err)
		}
	})
}
