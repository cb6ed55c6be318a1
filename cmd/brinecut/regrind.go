package main

import (
	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/reuse/press"
)

func (a *app) regrind() *cobra.Command {
	var r press.RegrindRequest
	var name string
	c := &cobra.Command{
		Use:     "regrind --material SYMBOL --share Q",
		Short:   "What repeated regrind does: passes, mean, property kept, drying",
		Example: `  brinecut regrind --material PLA --share "25 %" --retention "92 %"`,
		Args:    args(0, 0),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := need(c, "material", "share"); err != nil {
				return err
			}
			var err error
			if r.Material, err = material(name); err != nil {
				return err
			}
			out, err := press.Regrind(r)
			if err != nil {
				return err
			}
			return a.tableOr(show.RegrindCSV(out), show.RegrindJSON(out), func(p *show.Page) { show.Regrind(p, r, out) })
		},
	}
	a.tabled(c, "the passes")
	c.Flags().StringVar(&name, "material", "", "what is melted again")
	quantityFlag(c, &r.Share, "share", "share of regrind in the feed")
	quantityFlag(c, &r.Retention, "retention", "share of a property kept at each melting; from published studies")
	quantityFlag(c, &r.Scrap, "scrap", "share of the output that becomes scrap, for what the loop can feed itself")
	completes(c, map[string]offers{"material": completeSymbols})
	return c
}
