package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting/separation"
)

// usualSharpness is Ep of a bath stirred by hand with wetted pieces; judgement.
const usualSharpness quantity.GramPerCm3 = 0.005

// cutFlags are what cut reads.
type cutFlags struct {
	lot, table         string
	density, sharpness quantity.Density
}

func (a *app) cut() *cobra.Command {
	var f cutFlags
	c := &cobra.Command{
		Use:   "cut (BIN.toml --lot L | --table FILE.csv) --density Q",
		Short: "What one bath would part, before it is mixed",
		Long: `What would float and what would sink in one bath, on the logistic partition curve. A table has the
columns material, share and density_g_cm3; labels are free, positive shares are normalised.`,
		Example: `  brinecut cut bin.toml --lot crumbs --density "1.150 g/cm3"
  brinecut cut --table feed.csv --density "1.255 g/cm3" --sharpness "0.004 g/cm3"`,
		Args:              args(0, 1),
		RunE:              func(c *cobra.Command, given []string) error { return a.cutOnce(c, &f, given) },
		ValidArgsFunction: completeBin,
	}
	c.Flags().StringVar(&f.lot, "lot", "", "the lot of the bin file to be cut")
	c.Flags().StringVar(&f.table, "table", "", "or a CSV file with material, share, density_g_cm3")
	quantityFlag(c, &f.density, "density", "of the bath")
	quantityFlag(c, &f.sharpness, "sharpness", `probable error Ep of the cut, "0 g/cm3" for a perfect one; 0.005 g/cm3 (judgement)`)
	_ = c.RegisterFlagCompletionFunc("lot", a.completeLots)
	return c
}

func (a *app) cutOnce(c *cobra.Command, f *cutFlags, given []string) error {
	if err := need(c, "density"); err != nil {
		return err
	}
	var feed show.Feed
	var err error
	switch {
	case f.table != "" && (f.lot != "" || len(given) > 0):
		return wrongUse("a table and a lot are both named", "leave one of the two out")
	case f.table != "":
		feed, err = readTable(f.table)
	case len(given) == 1 && f.lot != "":
		feed, err = a.lotFeed(given[0], f.lot)
	default:
		return wrongUse("it is not said what is cut", "name a bin file with --lot, or a table with --table")
	}
	if err != nil {
		return err
	}
	feed.Density, feed.Sharpness = f.density.Value, f.sharpness.Or(usualSharpness)
	if feed.Sharpness < 0 {
		return wrongUse("--sharpness: a probable error cannot be below zero (read "+quote(f.sharpness.Text)+")", `write it as "0.004 g/cm3"`)
	}
	floats, sinks, err := separation.Cut(feed.Parts, feed.Density, feed.Sharpness)
	if err != nil {
		return wrongUse(err.Error(), "give each material a share and a density above zero")
	}
	return a.answer(show.CutJSON(feed, floats, sinks), func(p *show.Page) { show.Cut(p, feed, floats, sinks) })
}

// solubleInLot is the upper bound of soluble support from which a lot is no longer put into water without
// a word; judgement.
const solubleInLot = 0.02

// lotFeed is what a lot is held to be made of, each material as its products are spread.
func (a *app) lotFeed(path, lot string) (show.Feed, error) {
	ans, err := a.judge(path, nil)
	if err != nil {
		return show.Feed{}, err
	}
	i := slices.Index(ans.Composition.Lots, lot)
	if i < 0 {
		return show.Feed{}, wrongUse("there is no lot "+quote(lot)+" now", didYouMean(lot, ans.Composition.Lots, "lots are "+strings.Join(ans.Composition.Lots, ", ")))
	}
	feed := show.Feed{Of: lot, Grams: ans.Lots[i].Mass.Mean, Notes: []string{"pieces are taken as void-free: air trapped in a print makes some float that should sink; " +
		"what a parting of this lot would really give, air and all, is in brinecut sort " + path}}
	for k, share := range ans.Lots[i].Shares {
		key := ans.Composition.Keys[k]
		if m, ok := polymers.Find(polymers.Symbol(strings.Split(key, "/")[0])); ok {
			if m.WaterSoluble && ans.Lots[i].Ranges[k].High > solubleInLot {
				feed.Cautions = append(feed.Cautions, fmt.Sprintf("up to %s of this lot may be %s, a soluble support: in any bath it turns to glue on everything else, so pick it out dry first",
					show.Percent(ans.Lots[i].Ranges[k].High), key))
			}
			feed.Labels = append(feed.Labels, key)
			feed.Parts = append(feed.Parts, separation.Part{Share: share, Density: quantity.GramPerCm3(m.Density.Typical), Spread: quantity.GramPerCm3(m.DensitySpread)})
		} else if share > 0.0005 {
			feed.Notes = append(feed.Notes, fmt.Sprintf("%.1f %% of the lot is of no known material and is left out", 100*share))
		}
	}
	return feed, nil
}

// tableColumns of a table to be cut.
var tableColumns = []string{"material", "share", "density_g_cm3"}

// readTable reads what is to be cut.
func readTable(path string) (show.Feed, error) {
	feed := show.Feed{Of: path}
	rows, err := readColumns(path, tableColumns)
	if err != nil {
		return feed, err
	}
	for n, row := range rows {
		share, err1 := figure(row[1])
		density, err2 := figure(row[2])
		if err1 != nil || err2 != nil || share < 0 || density <= 0 {
			return feed, rowFault(path, n, fmt.Sprintf("share %s and density %s cannot be read as figures above zero", quote(row[1]), quote(row[2])),
				"write a share such as 60 and a density such as 1.24, in g/cm3")
		}
		feed.Labels = append(feed.Labels, row[0])
		feed.Parts = append(feed.Parts, separation.Part{Share: share, Density: quantity.GramPerCm3(density)})
	}
	return feed, nil
}
