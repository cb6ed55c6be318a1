package main

import (
	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/sorting/balance"
)

func (a *app) balance() *cobra.Command {
	c := &cobra.Command{
		Use:     "balance BIN.toml",
		Short:   "Where the material went by the weighings alone, and what to weigh next",
		Example: `  brinecut balance bin.toml`,
		Args:    args(1, 1),
		RunE: func(_ *cobra.Command, given []string) error {
			bin, doubts, err := a.open(given[0])
			if err != nil {
				return err
			}
			r, err := balance.Solve(bin, balance.Options{})
			if err != nil {
				return cannot(err.Error(), "give the figures that are not exact a ±, or mend the one that is wrong")
			}
			r.Warnings = append(r.Warnings, doubts...)
			return a.tableOr(show.StreamsCSV(r), show.BalanceJSON(r), func(p *show.Page) {
				show.Balance(p, bin, r)
				show.Then(p, "brinecut sort "+show.Word(given[0]))
			})
		},
		ValidArgsFunction: completeBin,
	}
	a.tabled(c, "the streams")
	return c
}
