package bath

// Caution is what can hurt someone or spoil the work, beside the step it belongs to.
type Caution struct{ Says, Source string }

// Sources of the cautions.
const (
	eyeSource    = "hazard statement H319, Regulation (EC) No 1272/2008"
	alkaliSource = "makers' safety data sheets of potassium carbonate"
	polyesterSrc = "separation of PET after alkaline treatment (10 % NaOH, 70-80 °C), Polímeros 30 (2020)"
	heatSource   = "makers' data sheets of calcium chloride report 60 °C and more"
	fireSource   = "Janès and Chaineaux, Chem. Eng. Trans. 31 (2013) 943; Astbury et al., IChemE Symp. Ser. 150 (2004)"
	septicSource = "reports on softener brine in drain fields, secondary sources; they disagree on the bacteria"
	chemistry    = "general chemistry, from memory"
	saltingOut   = "published phase data of alcohol, water and potassium carbonate at 25 °C"
)

var brineInEyes = Caution{"strong brine stings eyes and wounds: wear goggles and gloves; rinse eyes with water for minutes", common}

// Cautions that belong to a liquid whatever is done with it.
func Cautions(l Liquid) []Caution {
	switch l {
	case CalciumChloride:
		return []Caution{
			{"calcium chloride irritates the eyes and dries skin: wear goggles and gloves", eyeSource},
			{"it corrodes steel and leather, and spills stay wet and slippery: rinse tools, wipe at once", fromMemory},
			{"pieces wetted with it never dry in air: rinse them well before weighing or melting", chemistry},
		}
	case MagnesiumChloride:
		return []Caution{
			brineInEyes,
			{"magnesium chloride corrodes steel tools and keeps pieces damp: rinse both", common},
		}
	case PotassiumCarbonate:
		return []Caution{
			{"potassium carbonate is a strongly alkaline salt (pH about 11.5) and can injure eyes: always goggles and gloves", alkaliSource},
			{"no aluminium vessels or tools: the alkali attacks them and gives off hydrogen", chemistry},
			{"keep polyesters (PLA, PETG, PET) in it for minutes only, cold, and rinse", polyesterSrc},
		}
	case EpsomSalt, TableSalt:
		return []Caution{
			brineInEyes,
			{"the brine is not for drinking; it corrodes steel: rinse tools and keep it off electronics", common},
		}
	case SodiumBromide:
		return []Caution{
			brineInEyes,
			{"sodium bromide is a sedative if swallowed: label the vessel, keep it from children and pets, rinse tools", fromMemory},
		}
	case Sugar:
		return []Caution{
			{"sugar left on flake chars in an extruder or press: rinse hot and well", common},
			{"syrup ferments and draws insects within days: make it fresh, keep it cold", common},
		}
	case Glycerol:
		return []Caution{{"spilt glycerol makes floors slippery: wipe it up", common}}
	case Ethanol, Isopropanol:
		return alcoholCautions
	}
	return nil
}

// Temperatures above which a bath is named hot, and from which PLA softens: judgement, from memory.
const (
	scalding  = 45 // °C
	softening = 50 // °C
)

// warmCautions belong to a bath that is used warm.
func warmCautions(temp float64) []Caution {
	var out []Caution
	if temp > scalding {
		out = append(out, Caution{"the bath is hot enough to scald: heat-safe vessel, tongs, no children or pets near (docs/safety.md, section 6)", common})
	}
	if temp > softening {
		out = append(out, Caution{"PLA softens in it: read pieces at once, or let it cool", fromMemory})
	}
	return out
}

// NeverCombine says what must not meet the liquid, in a vessel or on wet pieces.
func NeverCombine(l Liquid) []Caution {
	solid := "a solid carbonate drops out and the bath is lost"
	switch l {
	case PotassiumCarbonate:
		return []Caution{
			{"never with calcium chloride, magnesium chloride or epsom salt: " + solid, chemistry},
			{"never with alcohol: it is salted out as a layer of its own that can burn", saltingOut},
			{"never with acids, vinegar included: it foams over with carbon dioxide", chemistry},
		}
	case CalciumChloride:
		return []Caution{
			{"never with potassium carbonate: " + solid, chemistry},
			{"never with epsom salt: gypsum drops out", chemistry},
		}
	case EpsomSalt:
		return []Caution{
			{"never with calcium chloride: gypsum drops out", chemistry},
			{"never with potassium carbonate: " + solid, chemistry},
		}
	case MagnesiumChloride:
		return []Caution{{"never with potassium carbonate: " + solid, chemistry}}
	case Ethanol, Isopropanol:
		return []Caution{{"never with potassium carbonate: the alcohol separates as a layer that can burn", saltingOut}}
	}
	return nil
}
