package bath

import (
	"brinecut/polymers/quantity"
)

// Liquid is one of the ten liquids, or plain water. The zero Liquid is none.
type Liquid uint8

// The liquids, in the order in which they are listed.
const (
	Water Liquid = iota + 1
	TableSalt
	EpsomSalt
	Sugar
	CalciumChloride
	MagnesiumChloride
	PotassiumCarbonate
	SodiumBromide
	Glycerol
	Ethanol
	Isopropanol
)

// liquid is what is known of one of them.
type liquid struct {
	name, formula string
	also          []string // other names, lower case
	molar         float64  // g/mol of the anhydrous solute, CRC Handbook 102nd ed.
	coldest       float64  // °C, range of the equation
	hottest       float64
	fitted        float64 // mass fraction up to which the equation was fitted or tabled
	limit         float64 // mass fraction up to which it is used at all
	doubt         float64 // kg/m3, standard uncertainty of the equation against published tables
	density       func(w, t float64) float64
	viscosity     func(w, t float64) float64
	source        string
}

const laliberte = "Laliberté, J. Chem. Eng. Data 54 (2009) 1725"

// The doubt of each liquid is the rms difference to the rows of
// testdata/published/liquids/densities.tsv, rounded up; of water it is what tap water may hold
// (0.1 to 0.5 kg/m3, from memory).
var liquids = map[Liquid]liquid{
	Water: {name: "water", formula: "H2O", also: []string{"tap water", "plain water"}, molar: 18.015, hottest: 100, doubt: 0.3,
		density:   func(_, t float64) float64 { return waterDensity(t) },
		viscosity: func(_, t float64) float64 { return waterViscosity(t) },
		source:    "Tanaka et al., Metrologia 38 (2001) 301; above 40 °C Kell, J. Chem. Eng. Data 20 (1975) 97"},
	TableSalt: {name: "table salt", formula: "NaCl", also: []string{"salt", "sodium chloride", "softener salt"}, molar: 58.443,
		hottest: 100, fitted: 0.2659, limit: 0.2805, doubt: 0.3,
		density: sodiumChloride.density, viscosity: sodiumChloride.viscosity, source: laliberte},
	EpsomSalt: {name: "epsom salt", formula: "MgSO4", also: []string{"epsom salts", "epsom", "magnesium sulfate", "magnesium sulphate"}, molar: 120.368,
		hottest: 100, fitted: 0.2682, limit: 0.309, doubt: 0.5,
		density: magnesiumSulfate.density, viscosity: magnesiumSulfate.viscosity, source: laliberte},
	Sugar: {name: "sugar", formula: "C12H22O11", also: []string{"sucrose", "white sugar", "table sugar"}, molar: 342.296,
		hottest: 80, fitted: 0.85, limit: 0.85, doubt: 0.3,
		density: sucroseDensity, viscosity: sucroseViscosity, source: "ICUMSA sucrose equation"},
	CalciumChloride: {name: "calcium chloride", formula: "CaCl2", molar: 110.984,
		coldest: 15, hottest: 100, fitted: 0.5132, limit: 0.5132, doubt: 1.0,
		density: calciumChloride.density, viscosity: calciumChloride.viscosity, source: laliberte},
	MagnesiumChloride: {name: "magnesium chloride", formula: "MgCl2", molar: 95.211,
		hottest: 98.6, fitted: 0.3238, limit: 0.3677, doubt: 0.8,
		density: magnesiumChloride.density, viscosity: magnesiumChloride.viscosity, source: laliberte},
	PotassiumCarbonate: {name: "potassium carbonate", formula: "K2CO3", also: []string{"potash", "pearl ash", "pearlash"}, molar: 138.206,
		coldest: 10, hottest: 30, fitted: 0.50, limit: 0.54, doubt: 1.0,
		density: carbonateDensity, viscosity: potassiumCarbonate.viscosity,
		source: "CRC Handbook 102nd ed., Concentrative Properties of Aqueous Solutions (cubic through the 20 °C column)"},
	SodiumBromide: {name: "sodium bromide", formula: "NaBr", molar: 102.894,
		hottest: 95, fitted: 0.5482, limit: 0.5482, doubt: 0.4,
		density: sodiumBromide.density, viscosity: sodiumBromide.viscosity, source: laliberte},
	Glycerol: {name: "glycerol", formula: "C3H8O3", also: []string{"glycerin", "glycerine"}, molar: 92.094,
		coldest: 15, hottest: 30, fitted: 1, limit: 1, doubt: 0.5,
		density: glycerolDensity, viscosity: glycerolViscosity, source: "Volk and Kähler, Exp. Fluids 59 (2018) 75"},
	Ethanol: {name: "ethanol", formula: "C2H5OH", also: []string{"ethyl alcohol", "alcohol", "denatured alcohol", "methylated spirit", "c2h6o"}, molar: 46.068,
		coldest: -20, hottest: 40, fitted: 1, limit: 1, doubt: 0.1,
		density: ethanolDensity, viscosity: atTemperature(ethanolMu), source: "OIML R 22 (1975)"},
	Isopropanol: {name: "isopropanol", formula: "C3H7OH", also: []string{"isopropyl alcohol", "2-propanol", "propan-2-ol", "ipa", "c3h8o"}, molar: 60.095,
		coldest: 15, hottest: 25, fitted: 1, limit: 1, doubt: 0.9,
		density: propanolDensity, viscosity: atTemperature(propanolMu), source: "Lebo, J. Am. Chem. Soc. 43 (1921) 1005"},
}

// Liquids lists plain water and the ten liquids, always in the same order.
func Liquids() []Liquid {
	return []Liquid{Water, TableSalt, EpsomSalt, Sugar, CalciumChloride, MagnesiumChloride,
		PotassiumCarbonate, SodiumBromide, Glycerol, Ethanol, Isopropanol}
}

// String is the liquid's name as kits and recipes write it.
func (l Liquid) String() string { return liquids[l].name }

// Formula of the anhydrous or pure solute.
func (l Liquid) Formula() string { return liquids[l].formula }

// Source of the density equation or table.
func (l Liquid) Source() string { return liquids[l].source }

// Flammable reports whether the liquid is ethanol or 2-propanol, whose baths can be lit at room
// temperature. Glycerol is none: its flash point is about 160 °C, and in water it has none in
// practice (from memory).
func (l Liquid) Flammable() bool { return l == Ethanol || l == Isopropanol }

// Density of the liquid in g/cm3 at a mass fraction of anhydrous or pure solute. It is an error
// (*Refusal) to ask outside the temperatures and fractions that the source covers; whether so
// much dissolves is not asked here, see Solubility.
func Density(l Liquid, massFraction quantity.Share, temp quantity.Celsius) (quantity.GramPerCm3, error) {
	k, err := l.at(temp)
	if err != nil {
		return 0, err
	}
	w := float64(massFraction)
	if !finite(w) || w < 0 || w > k.limit {
		return 0, refuse("ask between 0 and "+quantity.Format(quantity.Share(k.limit)),
			"the density of %s is not known at %.4g %%", k.name, 100*w)
	}
	return quantity.GramPerCm3(k.density(w, float64(temp)) / 1000), nil
}

// Concentration is the mass fraction of anhydrous or pure solute at which the liquid has the
// density at that temperature: Density turned around. It is an error (*Refusal) where no such
// fraction exists within the source's range.
func Concentration(l Liquid, density quantity.GramPerCm3, temp quantity.Celsius) (quantity.Share, error) {
	k, err := l.at(temp)
	if err != nil {
		return 0, err
	}
	at := func(w float64) float64 { return k.density(w, float64(temp)) }
	low, high, want := at(0), at(k.limit), density.KgPerM3()
	if !finite(want) || (want-low)*(want-high) > 0 || k.limit == 0 {
		return 0, refuse("choose another liquid", "%s has densities from %.3f to %.3f g/cm3 at %s, not %.3f",
			k.name, min(low, high)/1000, max(low, high)/1000, quantity.Format(temp), want/1000)
	}
	return quantity.Share(bisect(at, want, 0, k.limit)), nil
}

// at finds the liquid's record and makes sure the temperature is one its source covers.
func (l Liquid) at(temp quantity.Celsius) (liquid, error) {
	k, ok := liquids[l]
	if !ok {
		return k, refuse("name one of the ten liquids, or water", "no liquid is named")
	}
	if t := float64(temp); !finite(t) || t < k.coldest || t > k.hottest {
		return k, refuse("work between "+quantity.Format(quantity.Celsius(k.coldest))+" and "+
			quantity.Format(quantity.Celsius(k.hottest))+", best at 20 °C, or choose another liquid",
			"the density of %s is not published at %.4g °C", k.name, t)
	}
	return k, nil
}
