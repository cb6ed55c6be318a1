package bath_test

import (
	"fmt"

	"brinecut/polymers/quantity"
	"brinecut/sorting/bath"
)

// Density of sodium chloride solutions at 20 °C: CRC Handbook of Chemistry and Physics, 102nd ed.
// (2021), Concentrative Properties of Aqueous Solutions, prints 1.0340 at 5 %, 1.1085 at 15 % and
// 1.1804 at 24 %; the equation of Laliberté (2009) is within 0.0005.
func ExampleDensity() {
	for _, w := range []quantity.Share{0.05, 0.15, 0.24} {
		rho, _ := bath.Density(bath.TableSalt, w, 20)
		fmt.Printf("%.3f\n", rho)
	}
	// Output:
	// 1.034
	// 1.109
	// 1.180
}

// One litre of 1.250 g/cm3 from epsom salt: w = 22.49 % MgSO4 (Laliberté 2009), so 281.1 g MgSO4
// are 575.6 g of the heptahydrate (0.48836, CRC molar masses), with 674.4 g water.
func ExampleMix() {
	epsom, _ := bath.ReadProduct("epsom salt")
	r, _ := bath.Mix(bath.Request{
		Target:  quantity.MustParse[quantity.GramPerCm3]("1.250 g/cm3"),
		Volume:  quantity.MustParse[quantity.Milliliter]("1 l"),
		Product: epsom,
	}, bath.Options{})
	fmt.Printf("%.2f %% MgSO4: %.1f g %s + %.1f g water\n", 100*r.MassFraction, r.Weigh, r.Product.Name, r.Water)
	// Output: 22.49 % MgSO4: 575.6 g epsom salt + 674.4 g water
}

// ISO 1183-1 method A with the air's buoyancy: a piece of 25.43 g that displaces 20.02 g of water
// at 21.5 °C (0.99789 g/cm3) has 1.2672 g/cm3.
func ExampleDisplacedDensity() {
	rho, _ := bath.DisplacedDensity(quantity.MustParse[quantity.Gram]("25.43 g ± 0.01"),
		quantity.MustParse[quantity.Gram]("20.02 g ± 0.02"), quantity.MustParse[quantity.GramPerCm3]("0.99789 g/cm3"))
	fmt.Printf("%.4f g/cm3\n", rho.Value)
	// Output: 1.2672 g/cm3
}
