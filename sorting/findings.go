package sorting

import (
	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
)

// Warning is something doubtful that the reader must see, with what would remove it.
type Warning struct {
	About string // the lot, stream, bath or test it stands beside; empty for the whole bin
	Line  int    // of the bin file; 0 where it has none
	Says  string
	Cure  string // the measurement or entry that removes it
	Grave bool   // readings contradict each other, or somebody can come to harm: never left out
}

// Assumption is a constant an answer leaned on, with the key of the bin file that overrides it.
type Assumption struct {
	Says   string // "press energy 1.5 kWh/kg"
	Key    string // "[worth] energy"
	Source string // a source, "common practice, no source", "from memory" or "judgement"
}

// Range is an estimate: its mean, and the ends between which 90 % of the probability lies.
type Range struct {
	Mean, Low, High float64
}

// Budget is what the weighings alone say of the lots: their masses, and the totals of each material in
// all of them together. It carries no test and no prior belief. Mean and Precision come from everything
// but the weighings of the bin and its lots: those are in the masses of Lots and would count twice.
type Budget struct {
	Lots   []LotMass   // every lot that exists now, "unsorted" included, in file order
	Common [][]float64 // lower triangle L with L L' the correlation of the errors of their masses; nil where they have nothing in common

	Materials []polymers.Symbol // materials of which a weighing speaks
	Mean      []float64         // g of each in all lots together; means something only through Precision
	Precision [][]float64       // 1/g2: inverse covariance of Mean; rows of zeros where the weighings say nothing
	Max       []float64         // g: no more than this of each can be there; +Inf where nothing bounds it
	Hidden    []polymers.Symbol // materials that a counter books under another's name

	Warnings    []Warning
	Assumptions []Assumption
}

// LotMass is the mass of one lot from the weighings.
type LotMass struct {
	Lot      Lot
	Mean, SD float64  // g
	Low      float64  // g, 5 %
	High     float64  // g, 95 %
	From     string   // the lot it was split from; empty
	Parts    []string // the lots it was merged from; empty
	Unsorted bool     // the part of the bin that no lot covers
}

// Candidate is a material a piece may be of, with its prior weight.
type Candidate struct {
	Symbol polymers.Symbol // a base symbol, a filled grade, or polymers.Other
	Weight float64         // prior share of mass; sums to one over the list
	Why    string          // "counted", "on the shelf", "known snippet", "usual", …
}

// Composition is belief about the bin: equally likely joint draws of grams by lot and key.
type Composition struct {
	Lots      []string    // names, in the order of the Budget
	Keys      []string    // materials, or groups not told apart such as "ABS/ASA"; the last is "other"
	Grams     [][]float64 // [draw][lot*len(Keys)+key]
	Settled   []bool      // by lot: no allowed test is worth its minutes
	NotTold   [][]string  // groups that no allowed test tells apart
	Possible  [][]float64 // [lot][hard stop material]: upper bound (95 %) of its share by mass
	HardStops []polymers.Symbol
	Trace     []Trace // by lot: which evidence moved it how far

	Warnings    []Warning
	Assumptions []Assumption
}

// Trace tells how one lot's answer came about.
type Trace struct {
	Lot   string
	Steps []TraceStep
}

// TraceStep is one piece of evidence and what it did to the lot's leading materials.
type TraceStep struct {
	What  string  // "before any test", "t3: float at 1.250 g/cm3, sinks"
	Main  string  // the leading key after it
	Share float64 // its expected share after it
	Bits  float64 // how surprising the evidence was for the lot before it, bits
}

// Demonstration is what random draws alone support.
type Demonstration struct {
	AtLeast       float64 // one-sided lower limit of purity
	Confidence    float64
	Tested, Wrong int
	Against       []string // the materials its pieces were held against: it shows nothing of others
}

// Fraction is a bag to be: one or several lots that go the same way.
type Fraction struct {
	Name     string
	Material string            // the key of its main material; empty where it is a mixture
	Symbols  []polymers.Symbol // the materials behind the key
	Lots     []string

	Keys  []string    // as in Composition
	Grams [][]float64 // [draw][key], g

	Possible  []float64 // by HardStops: upper bound (95 %) of the share of each
	HardStops []polymers.Symbol
	CouldBe   []polymers.Symbol // what the shelf says of its lots, all together

	Origin       Origin // the weakest of its lots
	OriginGiven  bool
	State        State
	Prep         Prep
	Colours      []string
	Forms        []string
	Additives    []string
	Heats        int
	Baths        []string // salts its pieces may have been in
	Settled      bool
	Mixed        bool     // known or expected to hold more than one material
	Tested       int      // pieces tested
	Untested     []string // its lots of which no piece was tested
	Demonstrated *Demonstration
	HowTold      []string // test kinds that identified it
}

// Offer is a test the bench can do now.
type Offer struct {
	Kind      cues.Kind
	Densities []quantity.GramPerCm3 // float: reachable baths to choose from
	Temps     []quantity.Celsius    // hot water: temperatures to choose from
	Minutes   float64               // a piece
	SetUp     float64               // for a new bath or temperature
	Cautions  []string
}

// Menu is everything the bench can do, hard stops applied.
type Menu struct {
	Offers    []Offer
	Forbidden map[string][]cues.Kind // by lot: kinds its origin or could_be bars
	Whole     map[string]bool        // by lot: its pieces are tested as they are, never cut
}

// Stakes say what a kilogram is worth put right and put wrong, so that tests are chosen by what hangs on them.
type Stakes struct {
	Keys      []string
	SameWay   []int     // by key: materials with the same number go the same way
	Right     []float64 // money per kg, by key, where it goes its own way
	Wrong     []float64 // money per kg lost when it sits in another's bag
	HourValue float64   // money per hour at the bench
}
