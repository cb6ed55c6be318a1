package main

import (
	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/reuse/press"
)

func (a *app) regrind() *cobra.Command {
	var r press.RegrindRequest
	var name string
	var flows [3]string
	c := &cobra.Command{
		Use:   "regrind --material SYMBOL --share Q",
		Short: "What repeated regrind does: passes, mean, property kept, drying",
		Example: `  brinecut regrind --material PLA --share "25 %" --retention "92 %"
  brinecut regrind --material PETG --share "20 %" --flow "12 g/10 min" --new-flow "8 g/10 min"`,
		Args: args(0, 0),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := need(c, "material", "share"); err != nil {
				return err
			}
			var err error
			if r.Material, err = material(name); err != nil {
				return err
			}
			if err := moreOfRegrind(c, &r, flows); err != nil {
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
	quantityFlag(c, &r.Usable, "usable", "share of that scrap that survives as regrind; all")
	c.Flags().IntVar(&r.Loops, "loops", 0, "mean number of melts after so many loops from all-new material")
	c.Flags().StringVar(&flows[0], "flow", "", `melt flow rate of the regrind, as "12 g/10 min"`)
	c.Flags().StringVar(&flows[1], "new-flow", "", "melt flow rate of the new material, at the same temperature and load")
	c.Flags().StringVar(&flows[2], "target-flow", "", "melt flow rate the feed should have, for the share that brings it there")
	quantityFlag(c, &r.Ground.Energy, "grinding", `energy that grinding took, as "0.05 kWh/kg", from --pieces to --screen`)
	quantityFlag(c, &r.Ground.Pieces, "pieces", `size of the pieces that went in, as "60 mm"`)
	quantityFlag(c, &r.Ground.Screen, "screen", `size of the flake that came out, as "10 mm"`)
	quantityFlag(c, &r.Ground.Finer, "finer", `size that is asked about, as "4 mm"`)
	completes(c, map[string]offers{"material": completeSymbols})
	return c
}

// moreOfRegrind reads what no quantity of the bin file has, and asks for what belongs together.
func moreOfRegrind(c *cobra.Command, r *press.RegrindRequest, flows [3]string) error {
	for i, to := range []*float64{&r.Flow.Regrind, &r.Flow.New, &r.Flow.Target} {
		x, err := readFigure([]string{"--flow", "--new-flow", "--target-flow"}[i], flows[i], "g/10 min", "12")
		if err != nil {
			return err
		}
		*to = x
	}
	if flows != [3]string{} {
		if err := need(c, "flow", "new-flow"); err != nil {
			return err
		}
	}
	for _, f := range []string{"grinding", "pieces", "screen", "finer"} {
		if c.Flags().Changed(f) {
			return need(c, "grinding", "pieces", "screen", "finer")
		}
	}
	return nil
}
