package separation

import (
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// PlanOptions of Plan; the zero value is the documented default.
type PlanOptions struct {
	Clean     float64       // a draw counts as a mixture where less than this goes one way; 0.90, as in Gather
	Doubt     float64       // share of the draws in which a lot has to be a mixture to be planned for; 0.50
	PieceMass quantity.Gram // of a piece, where a lot does not say how many there are; 5 g
	Baths     int           // float cuts weighed against each other; 4
	Waters    int           // hot-water sorts weighed against each other; 2
	Others    int           // sorts by bending or soaking; 1
	Colours   int           // sorts by colour; 1
}

func (o PlanOptions) withDefaults() PlanOptions {
	if o.Clean == 0 {
		o.Clean = 0.90
	}
	if o.Doubt == 0 {
		o.Doubt = 0.50
	}
	if o.PieceMass == 0 {
		o.PieceMass = 5
	}
	if o.Baths == 0 {
		o.Baths = 4
	}
	if o.Waters == 0 {
		o.Waters = 2
	}
	if o.Others == 0 {
		o.Others = 1
	}
	if o.Colours == 0 {
		o.Colours = 1
	}
	return o
}

// Feed is one lot as Plan gets to know it, beside what the composition says of it.
type Feed struct {
	At        int // its place among the composition's lots
	Lot       sorting.Lot
	Drawn     *response.Drawn
	Scenarios []float64 // weights of the model's scenarios, given the lot's tests; they sum to one
	KeyOf     []int     // by candidate: index of its key
	Within    []float64 // by candidate: its share of its key
	NoCutting bool      // its pieces must not be cut
	Past      []Past    // splits it came out of
	Known     []sorting.Known
}

// LotPlan is the best that can be done with one lot that stays mixed.
type LotPlan struct {
	Lot     string
	First   *Parting // nil: do not part it
	Why     string
	Keep    float64 // money: worth of the lot bagged as it is
	Value   float64 // money: worth of the bags that the plan makes, less its bench time
	Minutes float64
	Cutting float64 // minutes of Minutes that it takes to cut the pieces small first; 0 where they need not be
	Bags    []Bag
	Driest  Ceiling

	ByColour bool // picking by colour was among what was weighed
}

// Parting is one division of what is in hand.
type Parting struct {
	N       int // place at the bench, from 1
	Kind    sorting.SplitKind
	Density quantity.GramPerCm3 // float
	Bath    string              // the [[bath]] of that density, where there is one
	Temp    quantity.Celsius    // hot water
	Feed    sorting.Range       // g
	Sides   [2]Side             // lighter, limp, or what the test shows; then the rest
	Minutes float64
	SetUp   float64         // of these, setting up its bath or water; 0 where it stands from an earlier parting
	Wait    quantity.Second // float: at least so long from the last stir to the skimming; 0 where the liquid is not known
	In      string          // float: the liquid, where it is known

	// Of the first side's material: Newton's efficiency is recovery of the wanted plus rejection of the
	// rest less one, the overall effectiveness their product. They are different figures.
	Newton, Overall float64

	Second   *SecondPass
	Cautions []string
}

// Side is one side of a parting. Ranges hold 90 % of the probability.
type Side struct {
	Outcome  string
	Mass     sorting.Range // g
	Main     string        // the key there is most of
	Purity   sorting.Range // share of what goes the same way as Main
	Recovery sorting.Range // how much of that in the feed ends on this side
	Next     *Parting      // nil: it is bagged
	Bag      string        // key it is bagged as; empty for a mixture, and where it is parted again
}

// SecondPass says what running one side through the same parting again would bring. It takes back what
// was misplaced by chance; what lies on the wrong side of the bath stays there.
type SecondPass struct {
	Side    int
	Purity  float64 // expected, of that side after it
	Gain    float64 // money, before its minutes
	Minutes float64
	Pays    bool
}

// Bag is what the plan ends in: all sides that go the same way together.
type Bag struct {
	Main     string // empty for a mixture
	Mass     sorting.Range
	Purity   sorting.Range
	Recovery sorting.Range // of the lot
}

// Plan finds for each lot that stays mixed the best tree of partings (method.md S3-S7): the
// worth of the bags, each valued at its expected make-up, less the bench minutes. A lot counts as mixed
// where in enough of the draws no way takes a clean share of it. Doing nothing is always a candidate.
func Plan(c *sorting.Composition, model *response.Model, feeds []Feed, menu sorting.Menu, stakes sorting.Stakes, opt PlanOptions) []LotPlan {
	opt = opt.withDefaults()
	var out []LotPlan
	for _, f := range feeds {
		if mixed(c, f.At, stakes, opt) {
			out = append(out, planLot(c, model, f, menu, stakes, opt))
		}
	}
	return out
}

// mixed reports whether a lot holds materials that go different ways, more likely than not.
func mixed(c *sorting.Composition, l int, s sorting.Stakes, opt PlanOptions) bool {
	K, n, all := len(c.Keys), 0, 0
	for _, g := range c.Grams {
		ways, total := make([]float64, K), 0.0
		for k, x := range g[l*K : (l+1)*K] {
			ways[s.SameWay[k]] += x
			total += x
		}
		if total <= 0 {
			continue
		}
		all++
		if ways[largest(ways)] < opt.Clean*total {
			n++
		}
	}
	return all > 0 && float64(n) >= opt.Doubt*float64(all)
}

// planLot weighs the pieces as they are against cutting them small first.
func planLot(c *sorting.Composition, model *response.Model, f Feed, menu sorting.Menu, stakes sorting.Stakes, opt PlanOptions) LotPlan {
	preps := []sorting.Prep{f.Lot.Prep}
	if f.Lot.Prep == sorting.AsIs && !f.NoCutting {
		preps = append(preps, sorting.Cut)
	}
	price := newPrice(c.Keys, stakes)
	var best *board
	for _, prep := range preps {
		d := newDeck(c, model, f, opt)
		b := newBoard(d, prep, settings(d, prep, menu, opt, price), price)
		b.solve()
		if best == nil || b.value > best.value+worthwhile {
			best = b
		}
	}
	return best.report(c, f)
}

// splitKinds says as which kind of split the bin file writes a parting by a test.
var splitKinds = map[cues.Kind]sorting.SplitKind{
	cues.Float: sorting.ByFloat, cues.HotWater: sorting.ByHotWater, cues.Soak: sorting.BySoak, cues.Bend: sorting.ByHand,
}
