package bath

import "gonum.org/v1/gonum/interp"

// Coefficients of OIML R 22 (1975), International alcoholometric tables: row of powers of the mass
// fraction, of the temperature difference to 20 °C, and of their products.
var (
	oimlA = []float64{998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
		306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426}
	oimlB = []float64{0, -0.20618513, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.169354e-9, -9.9739231e-11}
	oimlC = [][]float64{
		{0, 0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792, 3924.090430035045,
			-12101.64659068747, 22486.46550400788, -26055.62982188164, 18523.73922069467, -7420.201433430137, 1285.617841998974},
		{0, -0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029, -50.29988758547014,
			109.635566657757, -142.2753946421155, 108.043594285623, -44.14153236817392, 7.442971530188783},
		{0, -6.802995733503803e-4, 1.876837790289664e-2, -0.2002561813734156, 1.02299296671922, -2.895696483903638,
			4.810060584300675, -4.672147440794683, 2.458043105903461, -0.5411227621436812},
		{0, 4.075376675622027e-6, -8.76305857347111e-6, 6.515031360099368e-6, -1.51578483698721e-6},
		{0, -2.788074354782409e-8, 1.345612883493354e-8},
	}
)

// ethanolDensity in kg/m3 by OIML R 22 (1975), 0 to 100 % and -20 to 40 °C.
func ethanolDensity(w, t float64) float64 {
	dt := t - 20
	rho, power := polynomial(oimlA, w)+polynomial(oimlB, dt), dt
	for _, row := range oimlC {
		rho += polynomial(row, w) * power
		power *= dt
	}
	return rho
}

// Density of 2-propanol in water at 20 °C: R. B. Lebo, J. Am. Chem. Soc. 43 (1921) 1005-1011.
var (
	leboMass    = []float64{0, .0958, .2139, .3317, .4302, .5307, .6522, .7435, .8509, .9035, 1}
	leboDensity = []float64{998.2, 982.93, 968.47, 945.90, 924.18, 898.68, 870.03, 848.28, 822.82, 808.66, 785.56}
	lebo        = monotone(leboMass, leboDensity)
)

// propanolDensity in kg/m3 within 1.5 kg/m3 at 20 °C. The temperature slope is weighed by mass
// between water and the pure alcohol's 0.83 kg/m3/K (from memory; mixtures not verified), so the
// range ends at 15 and 25 °C.
func propanolDensity(w, t float64) float64 {
	return lebo.Predict(w) - (0.21+0.62*w)*(t-20)
}

// Viscosity in mPa s at 20 °C: CRC Handbook of Chemistry and Physics, 102nd ed. (2021),
// Concentrative Properties of Aqueous Solutions; 2-propanol from 40 to 80 % from memory, 100 %
// CRC Handbook 44th ed.
var (
	ethanolMu = monotone(
		[]float64{0, .05, .10, .15, .20, .26, .30, .36, .42, .50, .56, .60, .70, .80, .90, 1},
		[]float64{1.002, 1.228, 1.501, 1.826, 2.142, 2.476, 2.667, 2.803, 2.852, 2.813, 2.701, 2.547, 2.214, 1.881, 1.542, 1.203})
	propanolMu = monotone(
		[]float64{0, .05, .10, .16, .20, .4, .6, .8, 1},
		[]float64{1.002, 1.287, 1.629, 2.16, 2.55, 3.7, 3.8, 3.2, 2.37})
)

// atTemperature carries a 20 °C viscosity table to t by the ratio for water.
func atTemperature(table *interp.FritschButland) func(w, t float64) float64 {
	return func(w, t float64) float64 { return table.Predict(w) * waterViscosity(t) / waterViscosity(20) }
}

// monotone interpolates a table without overshoot: F. N. Fritsch and J. Butland, SIAM J. Sci.
// Stat. Comput. 5 (1984) 300-304.
func monotone(x, y []float64) *interp.FritschButland {
	var f interp.FritschButland
	if err := f.Fit(x, y); err != nil {
		panic("bath: broken table: " + err.Error())
	}
	return &f
}
