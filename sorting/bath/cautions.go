package bath

import (
	"fmt"

	"brinecut/polymers/quantity"
)

// Caution is what can hurt someone or spoil the work, beside the step it belongs to.
type Caution struct{ Says, Source string }

// String is the caution alone, without its source.
func (c Caution) String() string { return c.Says }

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
			{"magnesium chloride corrodes steel tools and keeps pieces damp: rinse both", common},
			{"keep it out of eyes and wounds: wear goggles when pouring", common},
		}
	case PotassiumCarbonate:
		return []Caution{
			{"potassium carbonate is strongly alkaline (pH about 11.5) and can injure eyes: always goggles and gloves", alkaliSource},
			{"no aluminium vessels or tools: the alkali attacks them and gives off hydrogen", chemistry},
			{"keep polyesters (PLA, PETG, PET) in it for minutes only, cold, and rinse", polyesterSrc},
		}
	case EpsomSalt, TableSalt:
		return []Caution{{"the brine is not for drinking; it corrodes steel: rinse tools and keep it off electronics", common}}
	case SodiumBromide:
		return []Caution{{"sodium bromide is a sedative if swallowed: label the vessel, keep it from children and pets, rinse tools", fromMemory}}
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

var alcoholCautions = []Caution{
	{"alcohol burns even when diluted, and its vapour can be lit: no flame, heat gun, hot plate, kettle, dryer or running printer in the room", fireSource},
	{"small amounts only, covered vessel, open window; keep it from children and pets", common},
	{"it evaporates, so the density rises: measure again before each use; it may craze ABS and polystyrene under stress", fromMemory},
}

// NeverCombine says what must not meet the liquid, in a vessel or on wet pieces.
func NeverCombine(l Liquid) []Caution {
	solid := "a solid carbonate drops out and the bath is lost"
	switch l {
	case PotassiumCarbonate:
		return []Caution{
			{"never with calcium chloride, magnesium chloride or epsom salt: " + solid, chemistry},
			{"never with alcohol: it is salted out as a layer of its own that can burn", saltingOut},
			{"never with acids, vinegar included, except slowly and much diluted: it foams with carbon dioxide", chemistry},
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
	reuse := Caution{"reuse first: let it settle, pour it through a coffee filter so that no plastic fines reach a drain, bottle it and label it with liquid, date and density", common}
	never := Caution{"never onto soil or plants, nor into a storm drain: salt injures plants, and sodium closes clay soil", septicSource}
	local := Caution{"the rules of the place decide; ask the local waste or water authority", common}
	if l.Flammable() {
		return []Caution{reuse, {"give alcohol baths to the household hazardous waste collection as flammable liquid, never into a drain", common}, local}
	}
	if l == Water {
		return []Caution{{"filter the fines out before pouring water away", common}}
	}
	return []Caution{reuse, drainWords(l, d), never, local}
}

func drainWords(l Liquid, d Drain) Caution {
	switch d {
	case DrainSewer:
		if l == PotassiumCarbonate {
			return Caution{"small volumes only: dilute it well, neutralise it slowly with vinegar (it foams), then to the sanitary sewer with plenty of water where local rules allow it", common}
		}
		return Caution{"small volumes to the sanitary sewer with plenty of water, where local rules allow it", common}
	case DrainSeptic:
		if l == Sugar || l == Glycerol {
			return Caution{"not by the litre into a septic tank: it loads the bacteria; take it to a household waste collection", common}
		}
		return Caution{"not into a septic tank: sodium and strong brine can close the drain field; keep it for reuse or take it to a household waste collection", septicSource}
	case DrainNone:
		return Caution{"there is no drain here: keep it for reuse, or take it in closed bottles to a household waste collection", common}
	}
	return Caution{"where the drain leads is not known: keep the bath for reuse until it is (sewer or septic tank decides), or take it to a household waste collection", common}
}

// Flash points of ethanol and water by volume: a published list of ethanol flash points as quoted
// in a chemical safety mailing list, January 2015 (secondary). 2-propanol lies lower: pure 12 °C
// (53 °F: NIOSH Pocket Guide to Chemical Hazards, isopropyl alcohol), so 5 K are taken off.
var ethanolFlash = monotone(
	[]float64{0.10, 0.20, 0.30, 0.40, 0.50, 0.60, 0.70, 0.80, 0.90, 0.96, 1},
	[]float64{49, 36, 29, 26, 24, 22, 21, 20, 17, 17, 16.6})

// flashPoint in °C of an alcohol at a mass fraction; ok is false below 10 % by volume, where
// none is listed.
func flashPoint(l Liquid, w float64) (t float64, ok bool) {
	v := float64(VolumePercent(l, quantity.Share(w)))
	if v < 0.10 {
		return 0, false
	}
	t = ethanolFlash.Predict(v)
	if l == Isopropanol {
		t -= 5
	}
	return t, true
}

// Room temperature above which an alcohol bath counts as warmed, and the distance it must keep
// from its flash point when warmer: judgement.
const (
	roomLimit   = 25 // °C
	flashMargin = 5  // K
)

// alcoholRefusal is the hard stop for alcohol that is warmed or stands beside a heat source.
func alcoholRefusal(l Liquid, w, temp float64, beside []string) error {
	if !l.Flammable() {
		return nil
	}
	instead := "use it at 20 °C in a room without heat sources, or sort what floats on plain water another way (hand, marking, hot water in another room)"
	if len(beside) > 0 {
		return refuse(instead, "%s is not mixed or used beside a heat source (%s): its vapour can be lit", l, beside[0])
	}
	flash, ok := flashPoint(l, w)
	if temp > roomLimit && (!ok || temp > flash-flashMargin) {
		why := "warmed alcohol gives off vapour that can be lit"
		if ok {
			why = fmt.Sprintf("its flash point is about %.0f °C", flash)
		}
		return refuse(instead, "%s is not used at %.4g °C: %s", l, temp, why)
	}
	return nil
}
