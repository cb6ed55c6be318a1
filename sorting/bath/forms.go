package bath

// form is a way a solute is sold. Heats are differences of standard enthalpies of formation
// (D. D. Wagman et al., The NBS tables of chemical thermodynamic properties, J. Phys. Chem. Ref.
// Data 11 Suppl. 2 (1982), from memory), except NaCl and NaBr: CRC Handbook, Enthalpy of Solution
// of Electrolytes (Parker 1965); anhydrous CaCl2 agrees with the published 81.3.
type form struct {
	liquid    Liquid
	word      string  // "dihydrate"; empty for the form meant when none is named
	hydrate   float64 // mass fraction of anhydrous salt in the pure form, 1 where labels give the anhydrous salt
	content   float64 // assumed where no percentage is written
	low, high float64
	heat      float64 // kJ for each mole of solute
	source    string
}

const (
	stoichiometric = "molar masses of CRC Handbook 102nd ed."
	common         = "common practice, no source"
	fromMemory     = "from memory"
)

var forms = []form{
	{Water, "", 1, 1, 1, 1, 0, stoichiometric},
	{TableSalt, "", 1, 0.99, 0.97, 0.999, -3.88, "food grade at least 97 %, Codex Stan 150-1985, 3.1; the rest of the span from memory"},
	{EpsomSalt, "", 0.48836, 0.48836, 0.4834, 0.4934, -11.8, "heptahydrate; sold at 99.5 % or better, loses water in dry air"},
	{EpsomSalt, "heptahydrate", 0.48836, 0.48836, 0.4834, 0.4934, -11.8, "heptahydrate; sold at 99.5 % or better, loses water in dry air"},
	{EpsomSalt, "anhydrous", 1, 0.99, 0.97, 1, 91.2, common},
	{Sugar, "", 1, 1, 0.997, 1, -5.4, fromMemory},
	{CalciumChloride, "", 1, 0.785, 0.77, 0.80, 45.9, "flake labelled 77 to 80 %; opened bags draw water and fall below"},
	{CalciumChloride, "flake", 1, 0.785, 0.77, 0.80, 45.9, "flake labelled 77 to 80 %; opened bags draw water and fall below"},
	{CalciumChloride, "pellet", 1, 0.955, 0.94, 0.97, 81.3, "pellets labelled 94 to 97 %, the rest mainly calcium hydroxide"},
	{CalciumChloride, "anhydrous", 1, 0.955, 0.94, 0.97, 81.3, "pellets labelled 94 to 97 %, the rest mainly calcium hydroxide"},
	{CalciumChloride, "dihydrate", 0.7549, 0.7549, 0.74, 0.77, 45.9, stoichiometric},
	{CalciumChloride, "hexahydrate", 0.5066, 0.5066, 0.495, 0.515, -15.8, stoichiometric},
	{MagnesiumChloride, "", 0.4683, 0.4683, 0.46, 0.47, 17.1, "hexahydrate flakes; trade 46 to 47 % (from memory)"},
	{MagnesiumChloride, "flake", 0.4683, 0.4683, 0.46, 0.47, 17.1, "hexahydrate flakes; trade 46 to 47 % (from memory)"},
	{MagnesiumChloride, "hexahydrate", 0.4683, 0.4683, 0.46, 0.47, 17.1, "hexahydrate flakes; trade 46 to 47 % (from memory)"},
	{MagnesiumChloride, "anhydrous", 1, 0.98, 0.96, 1, 160, common},
	{PotassiumCarbonate, "", 1, 0.99, 0.98, 0.995, 30.9, "trade specifications of at least 98.5 or 99 %; it picks up water"},
	{PotassiumCarbonate, "anhydrous", 1, 0.99, 0.98, 0.995, 30.9, "trade specifications of at least 98.5 or 99 %; it picks up water"},
	{PotassiumCarbonate, "sesquihydrate", 0.8365, 0.8365, 0.825, 0.845, 1.4, "molar masses 138.21 and 165.23, United States Pharmacopeia 32"},
	{SodiumBromide, "", 1, 0.99, 0.98, 1, 0.60, common},
	{Glycerol, "", 1, 0.995, 0.98, 1, 0, "pharmacy grade 99.5 %"},
	{Ethanol, "", 1, 0.9385, 0.92, 0.955, 0, "96 % by volume through OIML R 22"},
	{Isopropanol, "", 1, 0.99, 0.97, 1, 0, common},
}
