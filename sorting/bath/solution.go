package bath

import "math"

// carbonateDensity is potassium carbonate in kg/m3: a cubic through the 20 °C column of the CRC
// Handbook of Chemistry and Physics, 102nd ed. (2021), Concentrative Properties of Aqueous
// Solutions, 0 to 50 % (residuals up to 0.26 kg/m3), with the temperature slope that lies between
// Laliberté (2009) and Å. Melinder, Properties of Secondary Working Fluids (IIR, 2010); 10 to 30 °C.
func carbonateDensity(w, t float64) float64 {
	at20 := 998.2067 + w*(888.008+w*(327.996+w*128.544))
	return at20 - (0.21+0.85*w)*(t-20)
}

// Coefficients of the ICUMSA equation for sucrose, as two public transcriptions print them (their source is in docs/method.md); row i
// belongs to ((t-20)/100)^i, column j to w^(j+1).
var icumsa = [5][6]float64{
	{385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890},
	{-46.2720, -7.1720, 1.1597, 5.1126, 17.5254},
	{59.7712, 7.2491, 12.3630, -35.4791},
	{-47.2207, -21.6977, 27.6301},
	{18.3184, 12.3081},
}

// sucroseDensity in kg/m3, 0 to 85 % and 0 to 80 °C (range from memory).
func sucroseDensity(w, t float64) float64 {
	rho, power := waterDensity(t), 1.0
	for _, row := range icumsa {
		rho += power * w * polynomial(row[:], w)
		power *= (t - 20) / 100
	}
	return rho
}

// sucroseViscosity in mPa s: J. Génotelle, Industries Alimentaires et Agricoles 95 (1978) 747-755
// (formula from memory; within 4 % of the CRC column at 20 °C from 20 to 60 %).
func sucroseViscosity(w, t float64) float64 {
	x := 100 * w / (1900 - 1800*w) // mole fraction
	return math.Pow(10, 22.46*x-0.114+(30-t)/(91+t)*(1.1+43.1*math.Pow(x, 1.25)))
}

// glycerolDensity in kg/m3, 0 to 100 % and 15 to 30 °C: A. Volk and C. J. Kähler, "Density model
// for aqueous glycerol solutions", Exp. Fluids 59 (2018) 75, doi 10.1007/s00348-018-2527-y.
func glycerolDensity(w, t float64) float64 {
	water := 1000 * (1 - math.Pow(math.Abs((t-3.98)/615), 1.71))
	glycerol := 1273 - 0.612*t
	w = between(w, 0, 1)
	// The share of the volume, before contraction, that is glycerol.
	v := w / (w + glycerol/water*(1-w))
	contraction := 1.78e-6*t*t - 1.82e-4*t + 1.41e-2
	sine := math.Max(0, math.Sin(math.Pi*math.Pow(w, 1.31)))
	return (1 + contraction*math.Pow(sine, 0.81)) * (water + (glycerol-water)*v)
}

// glycerolViscosity in mPa s, 0 to 100 °C: N.-S. Cheng, "Formula for the viscosity of a
// glycerol-water mixture", Ind. Eng. Chem. Res. 47 (2008) 3285-3288, doi 10.1021/ie071349z.
func glycerolViscosity(w, t float64) float64 {
	water := 1.790 * math.Exp((-1230-t)*t/(36100+360*t))
	glycerol := 12100 * math.Exp((-1233+t)*t/(9900+70*t))
	a := 0.705 - 0.0017*t
	b := (4.9 + 0.036*t) * math.Pow(a, 2.5)
	alpha := 1 - w + a*b*w*(1-w)/(a*w+b*(1-w))
	return math.Pow(water, alpha) * math.Pow(glycerol, 1-alpha)
}

// polynomial is c0 + c1 x + c2 x^2 + … (Horner).
func polynomial(c []float64, x float64) float64 {
	y := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		y = y*x + c[i]
	}
	return y
}
