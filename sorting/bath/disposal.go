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
