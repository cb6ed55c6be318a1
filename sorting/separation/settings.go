package separation

import (
	"math"
	"slices"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// test is one parting that could be made.
type test struct {
	kind     cues.Kind // empty for picking by hand
	split    sorting.SplitKind
	density  quantity.GramPerCm3
	bath     string
	temp     quantity.Celsius
	outcomes [2]string
	setUp    float64   // minutes, once however often it is made
	after    float64   // minutes, each time it is made
	each     float64   // minutes a piece
	wrong    float64   // share put on the wrong side by chance
	low      []float64 // by product: share on the first side, before chance
	cautions []string
}

// Handfuls: so many pieces are in the bath, the pan or the jar at once, so that a piece costs that part
// of its minutes alone; and what picking and cutting cost. Judgement, all of them.
const (
	floatHandful = 20
	heatHandful  = 10
	soakHandful  = 50
	pickEach     = 0.05 // minutes a piece
	cutEach      = 0.15 // minutes a piece
	rinseMinutes = 5    // after a bath that is not plain water: two rinses and spreading out
)

// What picking soluble support out dry finds, and what else goes along; judgement.
const (
	pickFinds = 0.90
	pickTakes = 0.01
	pickFrom  = 0.02 // expected share from which it is picked out before anything gets wet
)

// water is plain water at room temperature (Tanaka et al. 2001: 0.9982 g/cm3 at 20 °C).
const water quantity.GramPerCm3 = 0.998

// plain reports whether a liquid is plain water: it needs no mixing, and nothing that was in it rinsing.
func plain(x quantity.GramPerCm3) bool { return math.Abs(float64(x-water)) <= 0.003 }

// settings chooses the partings that are weighed against each other. Baths come in order of density,
// then waters in order of temperature, then what is told by bending or a soak.
func settings(d *deck, prep sorting.Prep, menu sorting.Menu, opt PlanOptions, p price) []test {
	var out, other []test
	if share, is := d.soluble(); share > pickFrom && share < 1-pickFrom {
		out = append(out, d.pick(is))
	}
	for _, o := range menu.Offers {
		if slices.Contains(menu.Forbidden[d.feed.Lot.Name], o.Kind) {
			continue
		}
		switch o.Kind {
		case cues.Float:
			out = append(out, d.choose(d.baths(o), prep, p, opt.Baths)...)
		case cues.HotWater:
			out = append(out, d.choose(d.waters(o), prep, p, opt.Waters)...)
		case cues.Bend:
			other = append(other, d.shown(o, "rubbery", 1, func(m polymers.Material) bool { return !m.Rigid })...)
		case cues.Soak:
			other = append(other, d.shown(o, "slimy", soakHandful, func(m polymers.Material) bool { return m.WaterSoluble })...)
		}
	}
	out = append(out, d.choose(other, prep, p, opt.Others)...)
	return append(out, d.choose(d.colours(), prep, p, opt.Colours)...)
}

// picked is the side of soluble support that is picked out dry.
const picked = "soluble support"

// pick is soluble support picked out by hand, dry.
func (d *deck) pick(is []bool) test {
	t := test{split: sorting.ByHand, outcomes: [2]string{picked, "the rest"}, each: pickEach,
		cautions: []string{"keep it dry until then: it turns to glue on everything else in water", "gloves: support edges are sharp"}}
	for _, k := range d.key {
		if is[k] {
			t.low = append(t.low, pickFinds)
		} else {
			t.low = append(t.low, pickTakes)
		}
	}
	return t
}

// baths lists the float cuts worth a trial: between each two neighbouring densities of what is in the
// lot, as far as the kit reaches, and the baths that stand mixed, and plain water.
func (d *deck) baths(o sorting.Offer) []test {
	var out []test
	add := func(x quantity.GramPerCm3) {
		if !reaches(o, x) || slices.ContainsFunc(out, func(t test) bool { return math.Abs(float64(t.density-x)) < 0.0025 }) {
			return
		}
		t := test{kind: o.Kind, split: sorting.ByFloat, density: x, outcomes: [2]string{"floats", "sinks"},
			wrong: response.Misplaced(o.Kind), each: o.Minutes / floatHandful, cautions: o.Cautions}
		t.setUp = 2 * witnessMinutes
		var stands int
		if stands, t.bath = d.model.BathFor(x); !plain(x) {
			t.after = rinseMinutes
			if stands == response.NewBath {
				t.setUp += o.SetUp
			}
		} else {
			t.cautions = []string{"a tub kept for this and never for food, out of reach of children and animals; wipe up what drips"}
		}
		out = append(out, t)
	}
	for _, x := range d.model.Baths() {
		add(quantity.GramPerCm3(x))
	}
	add(water)
	ds := d.densities()
	for i := 0; i+1 < len(ds); i++ {
		for _, f := range []float64{0.5, 0.25, 0.75, 0} { // air lowers the best cut towards the lighter one
			add(quantity.GramPerCm3(math.Round((float64(ds[i])*(1-f)+float64(ds[i+1])*f)*200) / 200))
		}
	}
	slices.SortStableFunc(out, func(a, b test) int { return order(float64(a.density), float64(b.density)) })
	return out
}

// reaches reports whether an offer can mix a liquid of that density: its Densities are pairs of ends.
// Plain water is always there.
func reaches(o sorting.Offer, x quantity.GramPerCm3) bool {
	if math.Abs(float64(x-water)) < 1e-9 {
		return true
	}
	for i := 0; i+1 < len(o.Densities); i += 2 {
		if x >= o.Densities[i]-1e-9 && x <= o.Densities[i+1]+1e-9 {
			return true
		}
	}
	return false
}

// matters is the expected share from which a key has a say in which baths are tried: judgement.
const matters = 0.005

// densities of the keys that matter, in order.
func (d *deck) densities() []quantity.GramPerCm3 {
	var out []quantity.GramPerCm3
	for k, m := range d.mean {
		if x, ok := d.density(k); ok && m > matters*d.total {
			out = append(out, x)
		}
	}
	slices.Sort(out)
	return out
}

func (d *deck) waters(o sorting.Offer) []test {
	var out []test
	for _, t := range o.Temps {
		out = append(out, test{kind: o.Kind, split: sorting.ByHotWater, temp: t, outcomes: [2]string{"soft", "stiff"},
			wrong: response.Misplaced(o.Kind), setUp: o.SetUp, each: o.Minutes / heatHandful, cautions: o.Cautions})
	}
	return out
}

// shown is a sort by what one test shows, where the lot holds anything that it is about.
func (d *deck) shown(o sorting.Offer, outcome string, handful float64, about func(polymers.Material) bool) []test {
	for c, cand := range d.model.Candidates {
		m, ok := polymers.Find(cand.Symbol)
		if k := d.feed.KeyOf[c]; ok && about(m) && d.mean[k] > matters*d.total {
			return []test{{kind: o.Kind, split: splitKinds[o.Kind], outcomes: [2]string{outcome, "the rest"}, setUp: o.SetUp,
				each: o.Minutes / handful, cautions: o.Cautions}}
		}
	}
	return nil
}

// ask is the test as the response model is asked for it.
func (t *test) ask(prep sorting.Prep) response.Ask {
	return response.Ask{Kind: t.kind, Density: t.density, Temp: t.temp, Prep: prep}
}

// table of the first side's shares; every n-th scenario.
func (d *deck) table(t *test, prep sorting.Prep, every int) [][]float64 {
	switch t.kind {
	case cues.Float, cues.HotWater:
		return d.feed.Drawn.Lower(t.ask(prep), d.wanted, every)
	case byColour:
		return d.ofColour(t.outcomes[0])
	case cues.Soak:
		return d.feed.Drawn.Showing(t.kind, prep, "slimy", "dissolves")
	}
	return d.feed.Drawn.Showing(t.kind, prep, t.outcomes[0])
}

func order(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
