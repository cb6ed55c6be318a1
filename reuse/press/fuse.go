package press

import "fmt"

const (
	// nearCeiling is how close platens may come to the ceiling in kelvin without a caution (judgement: thermostats
	// overshoot by several kelvin, and a sheet's face stands at the platen's heat all the time).
	nearCeiling = 15
	// an amorphous resin flows well enough for flakes to fuse from about 60 to 80 K above its glass transition:
	// common practice, no source.
	fusesFrom, fusesWell = 60, 80
)

// hotWords warn where the platens come close to the ceiling; empty where they do not.
func (r Request) hotWords() string {
	most := limit(r.Material)
	if upper(r.Platen) <= most-nearCeiling {
		return ""
	}
	return fmt.Sprintf("the platens are within %d K of the ceiling of %s, %s: thermostats overshoot, and the face of the sheet stands at it all the time; measure the platens, keep it short, and switch off at the first smoke or yellowing",
		nearCeiling, r.Material.Symbol, temp(most))
}

// fuseWords say that flakes may not fuse: by the melting range where there is one, by the glass transition
// where the material is amorphous, and by the melt window where neither is known. Empty where they will.
func (r Request) fuseWords() string {
	m, centre := r.Material, float64(r.Centre.Value)
	switch {
	case m.Melt != nil && centre < m.Melt.Low:
		return fmt.Sprintf("%s melts from %s: what is crystalline in it stays lumps at %s", m.Symbol, temp(m.Melt.Low), temp(centre))
	case m.Melt != nil && centre < m.Melt.High:
		return fmt.Sprintf("%s melts from %s to %s, by grade: at %s what is crystalline in it may stay lumps; try a strip first", m.Symbol, temp(m.Melt.Low), temp(m.Melt.High), temp(centre))
	case m.Melt != nil:
		return ""
	case m.GlassTransition == nil:
		if m.Process != nil && centre < m.Process.Low {
			return fmt.Sprintf("a centre of %s is below where %s is worked (from %s), and no glass transition is known: try a strip first", temp(centre), m.Symbol, temp(m.Process.Low))
		}
		return ""
	}
	return glassWords(string(m.Symbol), centre-m.GlassTransition.Typical, centre)
}

// glassWords judge an amorphous resin by how far above its glass transition the centre is, in kelvin.
func glassWords(symbol string, above, centre float64) string {
	switch {
	case above < fusesFrom:
		return fmt.Sprintf("a centre of %s is only %s K above the glass transition of %s: flakes stick but do not fuse; it takes %d to %d K (common practice)", temp(centre), num(above), symbol, fusesFrom, fusesWell)
	case above < fusesWell:
		return fmt.Sprintf("a centre of %s is %s K above the glass transition of %s: flakes begin to fuse at %d K and do so well from %d K (common practice); try a strip first", temp(centre), num(above), symbol, fusesFrom, fusesWell)
	}
	return ""
}
