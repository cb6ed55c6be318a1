package main

import (
	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
)

func (a *app) polymer() *cobra.Command {
	var evidence, asCSV bool
	c := &cobra.Command{
		Use:   "polymer [SYMBOL]",
		Short: "The property table of the handbook, or one material's sheet with its sources",
		Example: `  brinecut polymer
  brinecut polymer PETG
  brinecut polymer --evidence`,
		Args: args(0, 1),
		RunE: func(_ *cobra.Command, given []string) error {
			if evidence {
				return a.evidence(given)
			}
			if len(given) == 0 {
				all := polymers.All()
				if asCSV {
					return a.table(show.PolymersCSV(all))
				}
				return a.answer(show.PolymersJSON(all), func(p *show.Page) { show.Polymers(p, all) })
			}
			m, err := material(given[0])
			if err != nil {
				return err
			}
			if asCSV {
				return a.table(show.PolymersCSV([]polymers.Material{m}))
			}
			return a.answer(show.PolymerJSON(m), func(p *show.Page) { show.Polymer(p, m) })
		},
		ValidArgsFunction: completeMaterials,
	}
	c.Flags().BoolVar(&asCSV, "csv", false, "write the table as CSV (RFC 4180)")
	c.Flags().BoolVar(&evidence, "evidence", false, "what kind of evidence the values rest on")
	return c
}

// evidence tallies what the whole handbook, or one record, rests on.
func (a *app) evidence(given []string) error {
	tally := polymers.EvidenceCount()
	if len(given) == 1 {
		m, err := material(given[0])
		if err != nil {
			return err
		}
		tally = m.EvidenceCount()
	}
	return a.answer(show.EvidenceJSON(tally), func(p *show.Page) { show.Evidence(p, tally) })
}

// material finds a record by any of its names.
func material(name string) (polymers.Material, error) {
	sym, err := polymers.Lookup(name)
	if err != nil {
		return polymers.Material{}, err
	}
	m, _ := polymers.Find(sym)
	return m, nil
}
