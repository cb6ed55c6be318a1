package bath

import "math"

// electrolyte holds the coefficients of one salt in M. Laliberté, J. Chem. Eng. Data 54 (2009)
// 1725-1760, doi 10.1021/je8008123, supporting tables: density c0..c4, viscosity v1..v6. They are
// written in full: rounding them moves the result, because c0 and the exponential nearly cancel.
type electrolyte struct {
	c [5]float64
	v [6]float64
}

// The salts, as Laliberté (2009) prints them.
var (
	sodiumChloride = electrolyte{
		c: [5]float64{-0.00324112223655149, 0.0636354335906616, 1.01371399467365, 0.0145951015210159, 3317.34854426537},
		v: [6]float64{16.221788633396, 1.32293086770011, 1.48485985010431, 0.00746912559657377, 30.7802007540575, 2.05826852322558},
	}
	calciumChloride = electrolyte{
		c: [5]float64{-9.72893747074295, 14.7005352975276, 4.19033341468332, 0.0397403624277021, 2708.12778894614},
		v: [6]float64{32.0143699446531, 0.788104085857794, -1.14120453890547, 0.00270010693201763, 776516.746907194, 5.83888130672249},
	}
	magnesiumSulfate = electrolyte{
		c: [5]float64{98.1201663080777, 59.265764731786, -0.0303404982114453, 0.000503619228557116, 1763.7594229147},
		v: [6]float64{75.332237160797, 2.22798929550577, 6.58441504882381, 0.00784500761585228, 1650.84454992458, 5.48823459576185},
	}
	magnesiumChloride = electrolyte{
		c: [5]float64{-0.0215001423271867, 0.0441202083909434, 1.53227586827304, -0.0098078506056196, -3478.36496883693},
		v: [6]float64{35.3996277859551, 2.73271428999181, 3.92973827779435, 0.0204320817584697, -1.11964615409186, 0.14494238171532},
	}
	sodiumBromide = electrolyte{
		c: [5]float64{23.765937876294, 210.721942848473, 2.01023472140861, 0.0163941235513688, 1941.82908042744},
		v: [6]float64{13.02905395428, 1.74783698289335, 0.604127008790876, 0.0108036956912202, 17.6807414205322, 2.3830591098608},
	}
	// potassiumCarbonate is used for its viscosity alone: its density coefficients lie 3 to 7
	// kg/m3 below the handbook table up to 36 % and useless above, see carbonateDensity.
	potassiumCarbonate = electrolyte{
		v: [6]float64{41.3874564880263, 3.67791349310373, 3.26807400039543, 0.00876702412403997, 8684.04398141182, 12.7276295460364},
	}
)

// apparent is the apparent density of the dissolved salt in kg/m3 at total solute mass fraction
// w: Laliberté and Cooper, J. Chem. Eng. Data 49 (2004) 1141-1151, equation 6.
func (e electrolyte) apparent(w, t float64) float64 {
	c := e.c
	return (c[0]*w + c[1]) * math.Exp(1e-6*(t+c[4])*(t+c[4])) / (w + c[2] + c[3]*t)
}

// density of the solution in kg/m3: specific volumes of water and salt add (equation 5 there).
func (e electrolyte) density(w, t float64) float64 {
	return 1 / ((1-w)/kell(t) + w/e.apparent(w, t))
}

// viscosity of the solution in mPa s: logarithms of water and salt weighted by mass
// (Laliberté, J. Chem. Eng. Data 52 (2007) 321-335 and 1507-1508).
func (e electrolyte) viscosity(w, t float64) float64 {
	v := e.v
	solute := (v[0]*math.Pow(w, v[1])+v[2])/(v[3]*t+1) - math.Log(v[4]*math.Pow(w, v[5])+1)
	return math.Exp((1-w)*math.Log(waterViscosity(t)) + w*solute)
}
