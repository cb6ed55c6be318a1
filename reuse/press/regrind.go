package press

import (
	"fmt"
	"math"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
)

// RegrindRequest is a loop in which each batch is Share of regrind, taken at random from the last output, and
// the rest new material.
type RegrindRequest struct {
	Material  polymers.Material
	Share     quantity.Fraction // of regrind in the feed, below 100 %
	Retention quantity.Fraction // of a property kept at each melting; from published data where not given

	Scrap  quantity.Fraction // part of the output that becomes scrap, for what the loop can supply
	Usable quantity.Fraction // part of that scrap which survives as regrind; all where not given

	Loops  int   // loops from all-new material, for the start-up; 0 asks for none
	Flow   Flows // melt flow rates; none where zero
	Ground Ground
}

// Flows are melt flow rates in g/10 min, all at one temperature and load; zero is not given.
type Flows struct{ Regrind, New, Target float64 }

// Ground is what grinding took once, and the finer size that is asked about.
type Ground struct {
	Energy                quantity.Of[quantity.KilowattHoursKg] // measured, from Pieces to Screen
	Pieces, Screen, Finer quantity.Length
}

// Passes is what the steady loop gives out. Melts are counted, not regrind generations: material that was
// melted once, when new, is in Shares[0].
type Passes struct {
	Shares    []float64 // of the output that has seen exactly 1, 2, … melts
	Rest      float64   // that has seen more than len(Shares)
	Mean      float64   // melts
	Retention *float64  // of the VIRGIN value, linear mixing; nil where no retention was given
	Published []Kept    // what studies found for this polymer, each carried to the steady loop
	Range     *Span     // of the strength kept in the loop over those studies; nil where fewer than two give a number
	Studied   string    // how much the studies carry, in words; says so where none was found
	LetDown   LetDown
	Supply    *Supply  // nil without Scrap
	MeanAfter *float64 // melts on average after Loops; nil without Loops
	FeedFlow  *float64 // g/10 min of the feed at Share; nil without the two rates
	FlowShare *float64 // share of regrind that brings the feed to the target rate; nil without one
	Finer     *Span    // kWh/kg to grind the pieces to the finer size; nil without Ground
	Drying    string
	NotFor    []string
	Cautions  []string
}

// Supply is what the loop's own scrap can feed.
type Supply struct {
	Most    float64 // largest share of regrind it can keep up
	Surplus float64 // kg of regrind left over for each kg of good parts; 0 where the loop asks for more than there is
	Short   bool    // the share asked for is more than the scrap can feed
}

// Regrind says what a steady share of regrind does. The error is a *Refusal: never-heat and unknown materials
// first, then shares that cannot be; 100 % regrind has no steady state, it only ages.
func Regrind(r RegrindRequest) (Passes, error) {
	if err := mayBeHot(r.Material); err != nil {
		return Passes{}, err
	}
	if err := r.possible(); err != nil {
		return Passes{}, err
	}
	share := float64(r.Share.Value)
	p := Passes{Mean: 1 / (1 - share)}
	p.Shares, p.Rest = passes(share)
	if r.Retention.Given() {
		kept := kept(share, float64(r.Retention.Value))
		p.Retention = &kept
	}
	p.Published, p.Range = published(r.Material, share)
	p.Studied = studied(r.Material, p.Published, p.Range)
	p.LetDown = letDown(r.Material)
	p.Supply = r.supply()
	if err := r.more(&p); err != nil {
		return Passes{}, err
	}
	p.Drying = dryingWords(r.Material)
	p.NotFor = notFor
	p.Cautions = r.cautions(p)
	return p, nil
}

func (r RegrindRequest) possible() error {
	share, q := float64(r.Share.Value), float64(r.Retention.Value)
	switch {
	case !(share >= 0 && share <= 1):
		return refuse(NotPossible, "give one of 0 to below 100 %", "a share of %s cannot be", num(share))
	case share > 0.999:
		return refuse(NotPossible, "add some new material: after k loops all of it has seen k melts", "a loop with no new material has no steady state")
	case r.Retention.Given() && !(q > 0 && q <= 1.5):
		return refuse(NotPossible, "give the part kept at one melting, as 95 %", "a retention of %s cannot be", num(q))
	}
	if s := r.Scrap.Value; r.Scrap.Given() && !(s >= 0 && s < 1) {
		return refuse(NotPossible, "some output must be good", "a scrap share of %s cannot be", num(float64(s)))
	}
	if u := r.Usable.Value; r.Usable.Given() && !(u >= 0 && u <= 1) {
		return refuse(NotPossible, "give one of 0 to 100 %", "a usable share of %s cannot be", num(float64(u)))
	}
	return nil
}

// passes are the shares of the output that have seen exactly 1, 2, … melts, (1-r) r^(n-1), until less than
// one part in ten thousand is left, and that rest. method.md (P13).
func passes(r float64) (shares []float64, rest float64) {
	rest = 1
	for n := 0; n < 60 && (n == 0 || rest > 1e-4); n++ {
		shares = append(shares, (1-r)*rest)
		rest *= r
	}
	return shares, rest
}

// kept is the property of the steady output relative to virgin, for q kept at each melting and linear mixing:
// (1-r) q/(1-r q). Impact and elongation fall faster than they mix: an upper bound. method.md (P14).
func kept(r, q float64) float64 { return (1 - r) * q / (1 - r*q) }

// MeanAfter is the mean number of melts after k loops from all-new material: (1-r^k)/(1-r). method.md (P15). It
// errs on a share outside 0 to 1 and on no loops.
func MeanAfter(share float64, loops int) (float64, error) {
	switch {
	case !(share >= 0 && share <= 1) || loops < 1 || loops > 1_000_000:
		return 0, refuse(NotPossible, "a share of 0 to 100 %, one loop or more", "%d loops of a share of %s cannot be", loops, num(share))
	case share == 1:
		return float64(loops), nil
	}
	return (1 - math.Pow(share, float64(loops))) / (1 - share), nil
}

// more fills what is asked for beside the steady loop: its start, the melt flow of the feed, finer flake.
func (r RegrindRequest) more(p *Passes) error {
	share := float64(r.Share.Value)
	if r.Loops != 0 {
		m, err := MeanAfter(share, r.Loops)
		if err != nil {
			return err
		}
		p.MeanAfter = &m
	}
	if f := r.Flow; f.Regrind != 0 || f.New != 0 {
		rate, err := BlendFlow([]FlowPart{{f.Regrind, share}, {f.New, 1 - share}})
		if err != nil {
			return err
		}
		p.FeedFlow = &rate
	}
	if f := r.Flow; f.Target != 0 {
		w, err := FlowShare(f.Regrind, f.New, f.Target)
		if err != nil {
			return err
		}
		p.FlowShare = &w
	}
	if g := r.Ground; g.Energy.Given() {
		kick, rittinger, err := GrindingHeat(float64(g.Energy.Value), float64(g.Pieces.Value), float64(g.Screen.Value), float64(g.Pieces.Value), float64(g.Finer.Value))
		if err != nil {
			return err
		}
		p.Finer = &Span{min(kick, rittinger), (kick + rittinger) / 2, max(kick, rittinger)}
	}
	return nil
}

// supply: scrap s of the output, y of it usable, feeds a share s y; what the loop does not take is left over.
func (r RegrindRequest) supply() *Supply {
	if !r.Scrap.Given() {
		return nil
	}
	s := float64(r.Scrap.Value)
	most := s * float64(r.Usable.Or(1))
	over := most - float64(r.Share.Value)
	return &Supply{Most: most, Surplus: math.Max(0, over) / (1 - s), Short: over < 0}
}

// notFor is what regrind is not made into.
var notFor = []string{
	"anything that touches food, or goes in the mouth",
	"toys for small children",
	"electrical insulation, and anything fire safety hangs on",
	"anything whose breaking can hurt: load-bearing, pressure, helmets, vehicle parts",
	"medical use",
}

func (r RegrindRequest) cautions(p Passes) []string {
	c := []string{
		"granulating: chips fly, goggles and hearing protection, never a hand near the inlet, plug out before the lid opens; never a kitchen blender (common practice)",
		"dust: P2 or FFP2 mask, wet wipe, no compressed air; sieve the fines out, they melt first and make specks",
		"no metal, magnets or inserts: one ruins knives and screw",
		"a 10 mm screen gives flake near the size of pellets; small filament extruders want 3-5 mm (trade notes, common practice)",
		"drying: " + warmth,
		fume, burn, seeHeat, seeDust,
	}
	if share := float64(r.Share.Value); share > p.LetDown.High {
		c = append(c, fmt.Sprintf("%s of regrind is above the usual ceiling of %s (%s): test a part before you trust it", quantity.Format(r.Share.Value), percentSpan(p.LetDown), p.LetDown.Source))
	}
	if p.FeedFlow != nil || p.FlowShare != nil {
		c = append(c, "a mixing rule of melt flow holds for one polymer, all rates at one temperature and load, and rates no more than 3.28 times apart: measure the regrind, do not take its spool's figure")
	}
	if r.Retention.Given() {
		c = append(c, "linear mixing is an upper bound for impact and elongation: they fall faster")
	}
	if w := hydrolysisWords(r.Material); w != "" {
		c = append(c, w)
	}
	if p.Supply != nil && p.Supply.Short {
		c = append(c, fmt.Sprintf("this loop's scrap feeds a share of %s at most, not %s", quantity.Format(quantity.Share(p.Supply.Most)), quantity.Format(r.Share.Value)))
	}
	if r.Material.Filler != "" {
		c = append(c, "filled: fibres get shorter at each pass and wear knives; keep it apart from unfilled material")
	}
	for _, h := range r.Material.Hazards {
		c = append(c, h.Words)
	}
	return c
}
