package bath

// Drain is where waste water goes: the [place] drain of a bin file.
type Drain string

// The drains. The zero Drain is read as DrainUnknown.
const (
	DrainSewer   Drain = "sewer"
	DrainSeptic  Drain = "septic"
	DrainNone    Drain = "none"
	DrainUnknown Drain = "unknown"
)

// Disposal says what to do with a used bath, by the drain of the place. Local rules go first.
func Disposal(l Liquid, d Drain) []Caution {
	local := Caution{"the rules of the place decide; ask the local waste or water authority", common}
	switch {
	case l == Water:
		return []Caution{{"filter the fines out before pouring water away: " + coffeeFilter, fromMemory}}
	case l.Flammable():
		return []Caution{reuse(l), {"give alcohol baths to the household hazardous waste collection as flammable liquid, never into any drain: the vapour can be lit there, and what is dissolved takes the oxygen out of water", fromMemory}, local}
	}
	return []Caution{reuse(l), drainWords(l, d), neverOutdoors(l), local}
}

const coffeeFilter = "a coffee filter holds back most of what is larger than about 20 µm, and less of what is finer"

func reuse(l Liquid) Caution {
	says := "reuse first: let it settle and pour it through a filter (" + coffeeFilter + "); "
	switch {
	case l == Sugar:
		says += "it ferments within days and bursts a closed bottle: keep it cold, the lid loose, and label it with liquid, date and density"
	case l.Flammable():
		says += "away from anything that lights it, bottle it tightly and label it with liquid, date, density and that it burns"
	default:
		says += "bottle it and label it with liquid, date and density"
	}
	return Caution{says, fromMemory}
}

const collection = "keep it for reuse or take it to a household waste collection"

func drainWords(l Liquid, d Drain) Caution {
	switch d {
	case DrainSewer:
		return sewerWords(l)
	case DrainSeptic:
		return septicWords(l)
	case DrainNone:
		bottles := "closed bottles"
		if l == Sugar {
			bottles = "bottles filled on the same day"
		}
		return Caution{"there is no drain here: keep it for reuse, or take it in " + bottles + " to a household waste collection", common}
	}
	return Caution{"where the drain leads is not known: keep the bath for reuse until it is (sewer or septic tank decides), or take it to a household waste collection", common}
}

// sewerWords say what each solute does on its way through a sewage works. The pH of a carbonate
// falls by half a unit where it is diluted tenfold: pH = (pKw + pKa + log c)/2, general chemistry.
func sewerWords(l Liquid) Caution {
	small := "small volumes to the sanitary sewer with plenty of water, where local rules allow it"
	switch l {
	case PotassiumCarbonate:
		return Caution{"ask the water authority before any of it goes to the sanitary sewer: it is strongly alkaline, and water alone hardly tames it (ten times as much lowers the pH by about half a unit); otherwise " + collection, chemistry}
	case EpsomSalt:
		return Caution{small + ": rinse it through, because sulphate attacks concrete that it stands in", fromMemory}
	case SodiumBromide:
		return Caution{"ask the water authority first: bromide passes the sewage works, and drinking water treated downstream forms harmful by-products from it; otherwise " + collection, fromMemory}
	case Sugar, Glycerol:
		return Caution{small + ": it burdens the sewage works with oxygen demand", fromMemory}
	}
	return Caution{small, common}
}

func septicWords(l Liquid) Caution {
	switch l {
	case TableSalt, SodiumBromide:
		return Caution{"not into a septic tank: sodium and strong brine can close the drain field; " + collection, septicSource}
	case CalciumChloride, MagnesiumChloride:
		return Caution{"not into a septic tank: strong brine upsets the tank, and chloride passes through the drain field into ground water; " + collection, fromMemory}
	case EpsomSalt:
		return Caution{"not into a septic tank: its sulphate turns into hydrogen sulphide, which smells, is poisonous and attacks concrete; " + collection, fromMemory}
	case PotassiumCarbonate:
		return Caution{"not into a septic tank: its alkalinity harms the bacteria; " + collection, fromMemory}
	}
	return Caution{"not by the litre into a septic tank: it loads the bacteria with oxygen demand; " + collection, fromMemory}
}

func neverOutdoors(l Liquid) Caution {
	never := "never onto soil or plants, nor into a storm drain: "
	switch l {
	case TableSalt, SodiumBromide:
		return Caution{never + "salt injures plants, and sodium closes clay soil", septicSource}
	case CalciumChloride, MagnesiumChloride:
		return Caution{never + "chloride injures plants and stays in ground water and streams", fromMemory}
	case EpsomSalt:
		return Caution{never + "so much salt injures plants, and sulphate attacks concrete", fromMemory}
	case PotassiumCarbonate:
		return Caution{never + "its alkalinity burns plants and harms water life", alkaliSource}
	}
	return Caution{never + "as it rots it takes the oxygen out of water (oxygen demand), and it draws vermin", fromMemory}
}
