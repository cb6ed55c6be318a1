package triage_test

import (
	"math"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

// posed is a bin as testdata/posterior/posterior.py reads it: what the file says, the records of the
// handbook, its tables of outcomes, and what the weighings say. Nothing in it comes from response, and
// nothing from triage but the list of candidates with their weights.
type posed struct {
	Candidates []sorting.Candidate
	Products   map[polymers.Symbol][]record // by candidate: what it is sold as
	Lots       []lotAsked
	Baths      []sorting.Bath
	Known      []sorting.Known
	Tests      []sorting.Observation
	Splits     []sorting.Split
	Sheets     []sheet
	Budget     weighed
}

type record struct {
	Symbol  polymers.Symbol
	Variant string
	Density float64
	Spread  float64
	Softens *polymers.Value
	Rigid   bool
}

type lotAsked struct {
	sorting.Lot
	Grams float64
	Side  bool
	Now   bool // a lot that exists now; else one that was split
}

// sheet is one of the tables of polymers/cues as it stands.
type sheet struct {
	Kind     cues.Kind
	Outcomes []string
	Rows     map[polymers.Symbol][]float64
}

type weighed struct {
	Materials []polymers.Symbol
	Mean, Max []float64 // a negative maximum: none
	Precision [][]float64
}

func pose(t *testing.T, name string) posed {
	t.Helper()
	bin, b := read(t, name)
	p := posed{Candidates: triage.Candidates(bin, nil), Products: map[polymers.Symbol][]record{}, Baths: bin.Baths, Known: bin.Known,
		Tests: bin.Tests, Splits: bin.Splits, Budget: weighed{Materials: b.Materials, Mean: b.Mean, Precision: b.Precision}}
	for _, x := range b.Max {
		if math.IsInf(x, 1) {
			x = -1
		}
		p.Budget.Max = append(p.Budget.Max, x)
	}
	for _, l := range b.Lots {
		p.Lots = append(p.Lots, lotAsked{l.Lot, l.Mean, l.From != "", true})
	}
	for _, s := range bin.Splits {
		lot, _ := bin.Lot(s.Lot)
		p.Lots = append(p.Lots, lotAsked{lot, 0, false, false})
	}
	p.addProducts()
	p.addSheets(t)
	return p
}

func (p *posed) addProducts() {
	for _, c := range p.Candidates {
		if c.Symbol == polymers.Other {
			p.Products[c.Symbol] = []record{{Symbol: polymers.Other, Rigid: true}}
		}
		for _, m := range polymers.All() {
			if m.Symbol == c.Symbol || m.Base == c.Symbol && m.Filler == "" {
				p.Products[c.Symbol] = append(p.Products[c.Symbol], record{m.Symbol, m.Variant, m.Density.Typical, m.DensitySpread, m.Softens, m.Rigid})
			}
		}
	}
}

func (p *posed) addSheets(t *testing.T) {
	done := map[cues.Kind]bool{cues.Float: true, cues.HotWater: true}
	for _, o := range p.Tests {
		if done[o.Kind] {
			continue
		}
		done[o.Kind] = true
		s := sheet{o.Kind, cues.Seen(o.Kind, ""), map[polymers.Symbol][]float64{}}
		for _, c := range p.Candidates {
			for _, r := range p.Products[c.Symbol] {
				m, ok := polymers.Find(r.Symbol)
				if !ok {
					m = polymers.Material{Symbol: polymers.Other, Base: polymers.Other, Polymer: polymers.Other}
				}
				q, err := cues.Likelihood(o.Kind, cues.Setting{}, m)
				if err != nil {
					t.Fatal(err)
				}
				s.Rows[r.Symbol] = q
			}
		}
		p.Sheets = append(p.Sheets, s)
	}
}
