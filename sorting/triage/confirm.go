package triage

import (
	"math"
	"slices"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// Second is a test that could be made on a piece that another test called wrong, with its errors by the
// response model: how sure it is to find what a claim is held against, and how often it alarms on the
// material itself.
type Second struct {
	sorting.Offer
	Density     quantity.GramPerCm3 // float
	Temp        quantity.Celsius    // hot water
	Alarms      []string            // outcomes that speak for another material
	Finds       float64             // of the rival it finds worst
	FalseAlarms float64
}

// Seconds (method.md, purity claims) lists, for each kind of the menu that no drawn piece of the lot went through (two looks of one
// kind err together), the setting that tells the key best from what the lot's claim is held against;
// kinds that do not tell them apart are left out.
func (b *Belief) Seconds(lot, key string, menu sorting.Menu) []Second {
	l := slices.Index(b.Lots, lot)
	if l < 0 {
		return nil
	}
	used := map[cues.Kind]bool{}
	for _, o := range b.randomTests(lot) {
		used[o.Kind] = true
	}
	var out []Second
	for _, o := range menu.Offers {
		if used[o.Kind] || slices.Contains(menu.Forbidden[lot], o.Kind) || o.Kind == cues.Marked || o.Kind == cues.Weigh {
			continue
		}
		var best Second
		for _, s := range settingsOf(o) {
			s.Offer = o
			b.errors(l, key, &s, menu.Whole[lot])
			if s.Finds-s.FalseAlarms > best.Finds-best.FalseAlarms {
				best = s
			}
		}
		if best.Kind != "" {
			out = append(out, best)
		}
	}
	return out
}

// settingsOf lists the settings of an offer that are weighed: baths in steps of 0.005 g/cm3.
func settingsOf(o sorting.Offer) []Second {
	const step = 0.005
	var out []Second
	switch o.Kind {
	case cues.Float:
		for i := 0; i+1 < len(o.Densities); i += 2 {
			for n := math.Ceil(float64(o.Densities[i]) / step); n*step <= float64(o.Densities[i+1]); n++ {
				out = append(out, Second{Density: quantity.GramPerCm3(n * step)})
			}
		}
	case cues.HotWater:
		for _, t := range o.Temps {
			out = append(out, Second{Temp: t})
		}
	default:
		out = []Second{{}}
	}
	return out
}

// errors fills in what a test finds and how often it alarms falsely: an outcome is an alarm where it is
// likelier under some rival than under the key.
func (b *Belief) errors(l int, key string, s *Second, whole bool) {
	against := b.rivals(l, key)
	even := make([]float64, len(b.model.Scenarios))
	for j := range even {
		even[j] = 1
	}
	weights := make([][]float64, len(b.Candidates))
	for c, k := range b.keyOf {
		if b.Keys[k] == key || against[k] {
			weights[c] = even
		}
	}
	prep := sorting.Cut
	if whole {
		prep = sorting.AsIs
	}
	look := b.piles[l].drawn.Outlook(response.Ask{Kind: s.Kind, Density: s.Density, Temp: s.Temp, Prep: prep}, weights)
	names := response.OutcomesOf(s.Kind)
	finds := make([]float64, len(b.Keys))
	for o, row := range look {
		p := b.byKey(row, key, against)
		own := p[slices.Index(b.Keys, key)]
		if rival := slices.Max(except(p, slices.Index(b.Keys, key))); rival <= own {
			continue
		}
		s.Alarms = append(s.Alarms, names[o])
		s.FalseAlarms += own
		for k := range finds {
			finds[k] += p[k]
		}
	}
	s.Finds = 1
	for k := range finds {
		if against[k] {
			s.Finds = min(s.Finds, finds[k])
		}
	}
}

// byKey is the mean over the candidates of each key.
func (b *Belief) byKey(row []float64, key string, against []bool) []float64 {
	out, n := make([]float64, len(b.Keys)), make([]float64, len(b.Keys))
	for c, k := range b.keyOf {
		if b.Keys[k] == key || against[k] {
			out[k], n[k] = out[k]+row[c], n[k]+1
		}
	}
	for k := range out {
		if n[k] > 0 {
			out[k] /= n[k]
		}
	}
	return out
}

func except(x []float64, at int) []float64 { return slices.Delete(slices.Clone(x), at, at+1) }
