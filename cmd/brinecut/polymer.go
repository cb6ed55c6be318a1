package main

import (
	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
)

func (a *app) polymer() *cobra.Command {
	var evidence, sources bool
	c := &cobra.Command{
		Use:   "polymer [SYMBOL]",
		Short: "The property table of the handbook, or one material's sheet with its sources",
		Example: `  brinecut polymer
  brinecut polymer PETG
  brinecut polymer --evidence
  brinecut polymer --sources`,
		Args: args(0, 1),
		RunE: func(_ *cobra.Command, given []string) error {
			if sources {
				return a.sources(given)
			}
			if evidence {
				return a.evidence(given)
			}
			if len(given) == 0 {
				all := polymers.All()
				return a.tableOr(show.PolymersCSV(all), show.PolymersJSON(all), func(p *show.Page) { show.Polymers(p, all) })
			}
			m, err := material(given[0])
			if err != nil {
				return err
			}
			return a.tableOr(show.PolymersCSV([]polymers.Material{m}), show.PolymerJSON(m), func(p *show.Page) { show.Polymer(p, m) })
		},
		ValidArgsFunction: completeMaterial,
	}
	a.tabled(c, "the table")
	c.Flags().BoolVar(&sources, "sources", false, "what the handbook was read from")
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
	return a.tableOr(show.EvidenceCSV(tally), show.EvidenceJSON(tally), func(p *show.Page) { show.Evidence(p, tally) })
}

// sources lists what the handbook was read from.
func (a *app) sources(given []string) error {
	if len(given) > 0 {
		return wrongUse("--sources is of the whole handbook", "brinecut polymer "+given[0]+" names the sources of one material")
	}
	list := polymers.Bibliography()
	return a.tableOr(show.SourcesCSV(list), show.SourcesJSON(list), func(p *show.Page) { show.Sources(p, list) })
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
