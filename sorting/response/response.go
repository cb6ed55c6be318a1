// Package response is the one forward model of how a piece answers a bench test, given its material.
// Evidence, the choice of the next test, cuts and predictions all use it.
//
// A piece comes from a product (a spool) of some material: the product has a density and a softening
// temperature. The piece holds some air, which lowers its density; the bath, the thermometer and the
// amount of air are off by amounts that all tests share. Everything shared is drawn once into
// scenarios, so that evidence is never multiplied across what it has in common (method.md, response).
package response

import (
	"fmt"
	"math"

	"brinecut/sorting"
)

// Options of the model; the zero value is the documented default.
type Options struct {
	Scenarios int     // how many scenarios of what is shared; 64
	BathSD    float64 // g/cm3, error of a bath whose ± was not given; 0.003
	ThermoSD  float64 // °C, error of a thermometer; 1.0
	Replicas  int     // products drawn in a lot that may hold several; 2

	IgnoreKnown bool // leave known snippets out (for comparisons)
	NoShared    bool // no error is shared (for comparisons)
}

func (o Options) withDefaults() Options {
	if o.Scenarios == 0 {
		o.Scenarios = 64
	}
	if o.BathSD == 0 {
		o.BathSD = 0.003
	}
	if o.ThermoSD == 0 {
		o.ThermoSD = 1.0
	}
	if o.Replicas == 0 {
		o.Replicas = 2
	}
	return o
}

// The constants of the model. Each is a judgement unless a source stands beside it; Assumptions lists them.
const (
	pieceSD   = 0.003 // g/cm3, between pieces of one product, with the reading of the float
	hover     = 0.003 // g/cm3, half-width of the band in which a piece hovers
	heatSD    = 2.0   // °C, between pieces of one product, with the feel of the finger
	airSpread = 0.5   // log standard deviation of the mean air share of a bin
	wrongRead = 0.015 // share of float readings that are simply wrong: 1-2 % taken for a careful person
	wrongHeat = 0.03  // the same for hot water
	slips     = 0.8   // log standard deviation of both together from bench to bench; known snippets narrow it
	mostWrong = 0.25  // no bench misreads more
	known     = 0.75  // share of a lot's products that are among the known snippets of that material
	core      = 0.4   // products cluster: so much of the spread holds the one half ...
	wide      = 0.5   // ... and the other half
	wideBy    = 1.3   // is spread so much wider (shape of the declared densities: two thirds of a material sit on one value)
)

// meanAir is the mean share of air by preparation, exponential from piece to piece. 2 % for printed
// pieces is the modelling value of the float study; cut and flake are judgement.
func meanAir(p sorting.Prep) float64 {
	switch p {
	case sorting.Cut:
		return 0.006
	case sorting.Flake:
		return 0.004
	}
	return 0.02
}

// Model answers for one bin.
type Model struct {
	Candidates []sorting.Candidate
	Scenarios  []Shared // equally likely

	opt   Options
	pops  []population
	baths []bathSetting
	snips []snippet
	cues  *cueTables
}

// Shared is one scenario of what tests have in common.
type Shared struct {
	Bath    []float64 // g/cm3 by bath: true less stated
	NewBath float64   // g/cm3, of a bath still to be mixed
	Thermo  float64   // °C: true less read
	Air     float64   // factor on the mean air share
	Slips   float64   // factor on the shares of readings that are simply wrong
	Known   []Product // product of each known snippet
}

// Product is a spool: what the pieces printed from it share.
type Product struct {
	Density float64 // g/cm3, without air
	Softens float64 // °C; +Inf where hot water does nothing, -Inf where it is limp when cold
	Variant int     // index into the population's variants
	Seed    uint64  // of its habits in categorical tests
}

// New builds the model of a bin for a candidate list: it learns the baths, the thermometer and the
// known products from the tests of known snippets.
func New(bin *sorting.Bin, candidates []sorting.Candidate, opt Options) (*Model, error) {
	m := &Model{Candidates: candidates, opt: opt.withDefaults()}
	for _, c := range candidates {
		p, err := populationOf(c.Symbol)
		if err != nil {
			return nil, err
		}
		m.pops = append(m.pops, p)
	}
	m.readBaths(bin)
	if err := m.readSnippets(bin); err != nil {
		return nil, err
	}
	m.cues = newCueTables(bin, m.opt.IgnoreKnown)
	m.drawShared()
	return m, nil
}

// Assumptions lists the constants the model leans on.
func (m *Model) Assumptions() []sorting.Assumption {
	return []sorting.Assumption{
		{Says: fmt.Sprintf("air in a piece: %.1f %% on average as it is, %.1f %% cut, %.1f %% flaked, exponential from piece to piece",
			100*meanAir(sorting.AsIs), 100*meanAir(sorting.Cut), 100*meanAir(sorting.Flake)), Key: "[[lot]] prep", Source: "judgement"},
		{Says: fmt.Sprintf("a bath without a ± is right within %.3f g/cm3", m.opt.BathSD), Key: "[[bath]] density", Source: "judgement"},
		{Says: fmt.Sprintf("a thermometer is right within %.1f °C", m.opt.ThermoSD), Key: "[[known]] with hot-water tests", Source: "judgement"},
		{Says: fmt.Sprintf("%.1f %% of float readings and %.0f %% of hot-water readings are simply wrong, or so much more or less as known snippets show", 100*wrongRead, 100*wrongHeat), Key: "[[known]] with tests", Source: "judgement"},
	}
}

// misread is the share of float and weigh readings that are simply wrong.
func (s *Shared) misread() float64 { return math.Min(wrongRead*s.Slips, mostWrong) }

// mishandled is the share of hot-water readings that are simply wrong.
func (s *Shared) mishandled() float64 { return math.Min(wrongHeat*s.Slips, mostWrong) }

// floored keeps a probability inside the floor of reading errors.
func floored(p, wrong float64) float64 {
	if math.IsNaN(p) {
		return wrong
	}
	return wrong + (1-2*wrong)*math.Min(math.Max(p, 0), 1)
}
