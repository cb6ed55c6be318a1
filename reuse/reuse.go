// Package reuse decides what is done with a sorted fraction: which route it takes and why, what may
// never be heated, what it is worth, what to do with brine and dust, what the bin says about the next
// build, and the words that go on a label. It sees fractions, never tests.
package reuse

import (
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Route is where a fraction goes.
type Route string

// The routes. Regrind and Sheet are hot: they melt the fraction at the bench.
const (
	Regrind      Route = "regrind"       // granulated and drawn to filament again
	Sheet        Route = "sheet"         // pressed into a flat sheet
	Recycler     Route = "recycler"      // handed to an outlet
	Hold         Route = "hold"          // kept, bagged and labelled, until something named is true
	Disposal     Route = "disposal"      // residual waste, as the local code says
	SpecialWaste Route = "special-waste" // a collection point or a licensed carrier
)

// Hot reports whether the route grinds and melts the fraction at the bench.
func (r Route) Hot() bool { return r == Regrind || r == Sheet }

// Reason is one ground for an answer, in plain words, with where it comes from: a published source,
// "common practice, no source", "from memory" or "judgement".
type Reason struct {
	Words  string
	Source string
}

// Situation is everything about the bench and its surroundings that a route depends on.
type Situation struct {
	Kit      sorting.Kit
	Place    sorting.Place
	Worth    sorting.Worth
	Outlets  []sorting.Outlet
	Currency string         // of the file; printed behind sums of money
	Weighed  *quantity.Mass // the bag as weighed; nil: the mass comes from the fraction's draws
}

// Options are the limits a route is held to. Zero fields take the documented default.
type Options struct {
	OthersInFeed     quantity.Share // other polymers in what is melted for filament; default 1 %
	LetDown          quantity.Share // part of the feed that is regrind, the rest is new; default 25 %
	OthersInSheet    quantity.Share // other polymers in a pressed sheet; default 2 %
	UnstableInMelt   quantity.Share // upper bound of a polymer that breaks down or stays solid at the melt heat; default 2 %
	GridCO2KgPerKWh  [2]float64     // low and high carbon intensity of electricity; default 0.05 to 0.7 kg/kWh
	MarkingAboveMean quantity.Share // expected share of the main material above which it is marked; default 90 %
}

// Rule is one rule that a fraction was held against: a gate, which ends the matter where it holds; a way
// that keeps the material; or the last two, holding and giving up.
type Rule struct {
	Route  Route
	Outlet string
	Taken  bool
	By     string  // what it lost by, and by how much; empty where it was taken
	Asks   []Asked // its conditions, in order
	Worth  *Worth  // what the way would be worth; nil for a rule that keeps nothing, and an outlet still to be found
}

// Asked is one condition of a rule and how the fraction stands to it.
type Asked struct {
	Asks, Source string
	Met          bool
	By           string // what is lacking; empty where it is met
	Cure         string // what would mend it; empty where nothing at the bench can
}

// Decision is the answer for one fraction.
type Decision struct {
	Route       Route
	Outlet      string   // name of the outlet, where the route is Recycler
	Why         []Reason // the shortest honest answer first
	Rules       []Rule   // every rule, in the order they are asked
	NextBetter  []string // what would have to be true for the next better way; empty where nothing would help
	NextRoute   Route    // the way that NextBetter opens
	NextOutlet  string   // whose outlet that is; empty where the way leads to none, or it is still to be found
	Drying      string   // how it is dried, "dry it at 63 °C for 4 h or more", where NextBetter asks for that; else empty
	Cautions    []string
	Marking     string // to ISO 11469; empty where the fraction is not identified well enough to mark
	Worth       Worth
	MayBeHeated bool
	WhyNot      []string // why it must not be heated
	Warnings    []sorting.Warning
	Assumptions []sorting.Assumption
}
