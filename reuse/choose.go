package reuse

import (
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// view is a fraction seen in its situation, with what every rule asks reckoned once.
type view struct {
	f     sorting.Fraction
	s     Situation
	o     Options
	sh    shares
	main  int // index of the main material's key; -1 where it has none
	mats  []polymers.Material
	massG []float64
	mean  float64 // g
	in    HeatInput
	heat  Heat
}

// lack is one thing that closes a way, and what would mend it; cure is empty where nothing at the
// bench can.
type lack struct {
	by, cure string
	worth    bool    // the way is open but for what it costs
	test     bool    // testing or parting mends it
	damp     bool    // drying mends it
	short    float64 // g more that mend it; zero where mass is not what is lacking
}

// way is a route that keeps the material, with what still closes it.
type way struct {
	route  Route
	outlet string
	asks   []Asked
	lacks  []lack
	worth  Worth
	costs  costs
	real   bool     // the bench has the tools, or the outlet exists and takes it
	tools  []string // what the bench lacks for it
	held   Route    // what a hold is worth as
	sought bool     // an outlet that is still to be found
}

// ask holds a way to one condition: what is lacking closes it.
func (w *way) ask(asks, source string, lacks []lack) {
	a := Asked{Asks: asks, Source: source, Met: len(lacks) == 0}
	var by, cures []string
	for _, l := range lacks {
		by = append(by, l.by)
		if l.cure != "" && !slices.Contains(cures, l.cure) {
			cures = append(cures, l.cure)
		}
	}
	a.By, a.Cure = strings.Join(by, "; "), strings.Join(cures, "; ")
	w.asks, w.lacks = append(w.asks, a), append(w.lacks, lacks...)
}

func (w way) open() bool { return len(w.lacks) == 0 }

func (w way) curable() bool {
	return !slices.ContainsFunc(w.lacks, func(l lack) bool { return l.cure == "" })
}

// onlyWorth reports a way that could be gone tonight, were it not for what it costs.
func (w way) onlyWorth() bool { return len(w.lacks) == 1 && w.lacks[0].worth }

func (w way) by() string {
	var parts []string
	for _, l := range w.lacks {
		parts = append(parts, l.by)
	}
	return strings.Join(parts, "; ")
}

// Choose takes the route of a fraction. The gates (special waste, then disposal) come first, in order;
// then every way that keeps the material is held against its conditions, and of those that are open
// the one worth most is taken; where none is open it is held, if something at the bench would open
// one, else disposed of. Purity asked by an outlet is held against f.Demonstrated alone. An error
// means that the fraction carries no usable mass draws.
func Choose(f sorting.Fraction, s Situation, opt Options) (Decision, error) {
	if err := check(f); err != nil {
		return Decision{}, err
	}
	v := look(f, s, opt)
	ways := v.ways()
	d := Decision{MayBeHeated: v.heat.May, Marking: v.marking()}
	for _, r := range v.heat.WhyNot {
		d.WhyNot = append(d.WhyNot, r.Words)
	}
	at, why := v.gate()
	if at >= 0 {
		v.take(&d, way{route: gates[at].route}, why, ways)
	} else {
		v.keep(&d, ways)
	}
	d.Rules = v.rules(d, at, ways)
	d.Cautions = v.cautions(d)
	d.Warnings = v.warnings(d)
	return d, nil
}

func look(f sorting.Fraction, s Situation, opt Options) *view {
	v := &view{f: f, s: s, o: opt, sh: sharesOf(f), massG: masses(f, s), main: -1}
	v.mean = sum(v.massG) / float64(len(v.massG))
	if f.Material != "" && f.Material != string(polymers.Other) {
		v.main = slices.Index(f.Keys, f.Material)
		for _, sym := range mainSymbols(f) {
			if m, ok := polymers.Find(sym); ok {
				v.mats = append(v.mats, m)
			}
		}
	}
	v.in = heatOf(f, v.sh)
	v.heat = MayHeat(v.in)
	return v
}

func mainSymbols(f sorting.Fraction) []polymers.Symbol {
	if len(f.Symbols) > 0 {
		return f.Symbols
	}
	return symbolsOf(f.Material)
}

// known reports a main material that the handbook has, every member of a group included.
func (v *view) known() bool {
	return v.main >= 0 && len(v.mats) > 0 && len(v.mats) == len(mainSymbols(v.f))
}

// keep takes the open way worth most, or holds, or gives up.
func (v *view) keep(d *Decision, ways []way) {
	best := -1
	for i, w := range ways {
		if w.open() && (best < 0 || w.worth.Value.Mean > ways[best].worth.Value.Mean) {
			best = i
		}
	}
	switch {
	case best >= 0:
		v.take(d, ways[best], v.whyTaken(ways[best]), ways)
	case slices.ContainsFunc(ways, way.curable):
		v.take(d, v.held(ways), v.whyHeld(ways), ways)
	case !v.f.Settled || !v.f.OriginGiven:
		v.take(d, way{route: Hold}, v.whyUnknown(), ways)
	default:
		v.take(d, way{route: Disposal}, []Reason{{"no way that keeps it can be opened at this bench: " + nearest(ways).by(), "rule of this tool"},
			{"residual waste as the local code says; never burnt", "US EPA, backyard-burning leaflet; local code first"}}, ways)
	}
}

// whyUnknown is why a fraction is kept although no way is open: what it is, or where it comes from, can
// still be said, and what is thrown out cannot be fetched back.
func (v *view) whyUnknown() []Reason {
	if !v.f.OriginGiven {
		return []Reason{{keptAs + ", and cold, until it is said where it comes from: only then can any way be opened", "rule of this tool"}}
	}
	return []Reason{{keptAs + " until it is known what it is: " + stillPays, "rule of this tool"}}
}

// take fills the decision with a way and with what the others lost by.
func (v *view) take(d *Decision, w way, why []Reason, ways []way) {
	d.Route, d.Why, d.Worth = w.route, why, w.worth
	if w.route == Recycler {
		d.Outlet = w.outlet
	}
	d.Worth.Currency = currencyOf(v.s.Currency)
	d.Assumptions = v.assumptions(w)
	if c := w.carbon(mainSymbols(v.f), v.mean/1000, v.grid()); c != nil {
		d.Worth.CO2Kg = c
		d.Assumptions = append(d.Assumptions, w.carbonAssumed(mainSymbols(v.f), v.grid())...)
	}
	v.next(d, w, ways)
}

func (v *view) grid() [2]float64 {
	g := v.o.GridCO2KgPerKWh
	if g[0] >= 0 && g[1] >= g[0] && g[1] > 0 && g[1] < 10 {
		return g
	}
	return [2]float64{0.05, 0.7}
}
