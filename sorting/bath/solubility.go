package bath

import (
	"gonum.org/v1/gonum/interp"

	"brinecut/polymers/quantity"
)

// Solubility in mass % of the anhydrous salt at 0, 10, 20, 25, 30, 40 and 50 °C: CRC Handbook of
// Chemistry and Physics, 98th ed. (2017), Aqueous Solubility of Inorganic Compounds at Various
// Temperatures. Below 0 °C nothing is tabled; above 50 °C the last value stands.
var (
	solubilityTemps = []float64{0, 10, 20, 25, 30, 40, 50}
	solubilities    = map[Liquid]*interp.FritschButland{
		TableSalt:          monotone(solubilityTemps, []float64{26.28, 26.32, 26.41, 26.45, 26.52, 26.67, 26.84}),
		EpsomSalt:          monotone(solubilityTemps, []float64{18.2, 21.7, 25.1, 26.3, 28.2, 30.9, 33.4}),
		CalciumChloride:    monotone(solubilityTemps, []float64{36.70, 39.19, 42.13, 44.83, 49.12, 52.85, 56.05}),
		MagnesiumChloride:  monotone(solubilityTemps, []float64{33.96, 34.85, 35.58, 35.90, 36.20, 36.77, 37.34}),
		PotassiumCarbonate: monotone(solubilityTemps, []float64{51.3, 51.7, 52.3, 52.7, 53.1, 54.0, 54.9}),
		SodiumBromide:      monotone(solubilityTemps, []float64{44.4, 45.9, 47.7, 48.6, 49.6, 51.6, 53.7}),
		// Sucrose: a CRC table as a public library prints it (67.09 % at 20 °C; a second table has
		// 66.74 % there and 70.22 % at 40 °C), 0 and 50 °C from memory.
		Sugar: monotone(solubilityTemps, []float64{64.2, 65.58, 67.09, 67.89, 68.8, 70.22, 72.3}),
	}
)

// Comfort is the share of saturation up to which a bath is easy to mix and keeps clear through a
// cold night: common practice, no source.
const Comfort = 0.90

// Solubility is the mass fraction of anhydrous or pure solute that stays dissolved at a
// temperature: 1 for what mixes with water in all proportions, 0 for plain water. Tabled from 0
// to 50 °C; it is an error (*Refusal) to ask below 0 °C.
func Solubility(l Liquid, temp quantity.Celsius) (quantity.Share, error) {
	table, ok := solubilities[l]
	switch {
	case !finite(float64(temp)):
		return 0, refuse("give a temperature", "the temperature is not a number")
	case l == Water:
		return 0, nil
	case !ok:
		return 1, nil
	case temp < 0:
		return 0, refuse("keep the bath above 0 °C", "the solubility of %s is not tabled at %.4g °C", l, float64(temp))
	}
	return quantity.Share(table.Predict(between(float64(temp), 0, 50)) / 100), nil
}
