package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/response"
	"brinecut/sorting/separation"
)

// usualSharpness is Ep of a bath stirred by hand with wetted pieces; judgement.
const usualSharpness quantity.GramPerCm3 = 0.005

// cutFlags are what cut reads.
type cutFlags struct {
	lot, table, prep   string
	density, sharpness quantity.Density
}

func (a *app) cut() *cobra.Command {
	var f cutFlags
	c := &cobra.Command{
		Use:   "cut (BIN.toml --lot L | --table FILE.csv) --density Q",
		Short: "What one bath would part, before it is mixed",
		Long: `What would float and what would sink in one bath. A lot of a bin file goes through the same model of
its pieces, their air and the bath as everything else that is said of it; --sharpness puts a partition
curve of your own over it. A table, with the columns material, share and density_g_cm3, goes through the
logistic partition curve; labels are free, positive shares are normalised.`,
		Example: `  brinecut cut bin.toml --lot crumbs --density "1.150 g/cm3"
  brinecut cut --table feed.csv --density "1.255 g/cm3" --sharpness "0.004 g/cm3"`,
		Args:              args(0, 1),
		RunE:              func(c *cobra.Command, given []string) error { return a.cutOnce(c, &f, given) },
		ValidArgsFunction: completeBin,
	}
	c.Flags().StringVar(&f.lot, "lot", "", "the lot of the bin file to be cut")
	c.Flags().StringVar(&f.table, "table", "", "or a CSV file with material, share, density_g_cm3")
	quantityFlag(c, &f.density, "density", `of the bath, as "1.150 g/cm3"`)
	quantityFlag(c, &f.sharpness, "sharpness", `probable error Ep of the cut, "0 g/cm3" for a perfect one; for a table 0.005 g/cm3 (judgement)`)
	c.Flags().StringVar(&f.prep, "prep", "", "pieces of the lot as-is, cut or flake: how much air; as the lot is")
	a.tabled(c, "both sides")
	completes(c, map[string]offers{"lot": a.ofBin(lotNames), "table": files("csv"), "prep": fixed("as-is", "cut", "flake")})
	return c
}

func (a *app) cutOnce(c *cobra.Command, f *cutFlags, given []string) error {
	if len(given) == 1 && f.lot == "" && f.table == "" {
		return a.whichLot(given[0])
	}
	if err := need(c, "density"); err != nil {
		return err
	}
	if f.sharpness.Given() && f.sharpness.Value < 0 {
		return wrongUse("--sharpness: a probable error cannot be below zero (read "+quote(f.sharpness.Text)+")", `write it as "0.004 g/cm3"`)
	}
	if f.density.Value <= 0 {
		return wrongUse("--density: a density is above zero (read "+quote(f.density.Text)+")", `write it as "1.150 g/cm3"`)
	}
	switch {
	case f.table != "" && (f.lot != "" || f.prep != "" || len(given) > 0):
		return wrongUse("a table and a lot are both named", "leave one of the two out; --prep is of a lot")
	case f.table != "":
		return a.cutTable(f)
	case len(given) == 1 && f.lot != "":
		return a.cutLot(f, given[0])
	}
	return wrongUse("it is not said what is cut", "name a bin file with --lot, or a table with --table")
}

func (a *app) cutTable(f *cutFlags) error {
	feed, err := readTable(f.table)
	if err != nil {
		return err
	}
	feed.Density, feed.Sharpness = f.density.Value, f.sharpness.Or(usualSharpness)
	floats, sinks, err := separation.Cut(feed.Parts, feed.Density, feed.Sharpness)
	if err != nil {
		return wrongUse(err.Error(), "give each material a share and a density above zero")
	}
	return a.cutAnswer(feed, floats, sinks)
}

func (a *app) cutAnswer(feed show.Feed, floats, sinks separation.Product) error {
	return a.tableOr(show.CutCSV(feed, floats, sinks), show.CutJSON(feed, floats, sinks), func(p *show.Page) {
		show.Cut(p, feed, floats, sinks)
		show.Then(p, fmt.Sprintf(`brinecut bath --density "%s"`, quantity.Format(feed.Density)))
	})
}

// whichLot refuses a bin file without a lot, and names those there are.
func (a *app) whichLot(path string) error {
	bin, _, err := a.open(path)
	if err != nil {
		return err
	}
	return wrongUse("it is not said which lot is cut", "name it with --lot: "+strings.Join(lotNames(bin), ", "))
}

// solubleInLot is the upper bound of soluble support from which a lot is no longer put into water without
// a word; judgement.
const solubleInLot = 0.02

// cutLot answers for a lot of a bin file, by the model that all else is said by.
func (a *app) cutLot(f *cutFlags, path string) error {
	ask := advice.Cut{Lot: f.lot, Bath: separation.Bath{Density: f.density.Value, Prep: sorting.Prep(f.prep)}}
	if preps := []sorting.Prep{sorting.AsIs, sorting.Cut, sorting.Flake}; f.prep != "" && !slices.Contains(preps, ask.Prep) {
		return wrongUse("--prep: pieces are as-is, cut or flake (read "+quote(f.prep)+")", "say how the pieces are when they meet the bath")
	}
	if f.sharpness.Given() {
		ask.Ep = &f.sharpness.Value
	}
	ans, err := a.judgeWith(path, advice.Options{Cut: &ask})
	if err != nil {
		return err
	}
	i := slices.Index(ans.Composition.Lots, f.lot)
	if i < 0 {
		return wrongUse("there is no lot "+quote(f.lot)+" now", didYouMean(f.lot, ans.Composition.Lots, "lots are "+strings.Join(ans.Composition.Lots, ", ")))
	}
	feed := show.Feed{Of: f.lot, Labels: ans.Composition.Keys, Density: f.density.Value, Sharpness: f.sharpness.Or(response.Sharpness()),
		Preview: ans.Preview, Cautions: cutCautions(ans, i)}
	if ans.Lots[i].Lot.Prep == sorting.AsIs && f.prep == "" {
		feed.Notes = append(feed.Notes, "the pieces go in as they are, and air in them makes some float that should sink: --prep cut shows what cutting them small would do")
	}
	floats, sinks := ans.Preview.Sides[0].Product, ans.Preview.Sides[1].Product
	return a.cutAnswer(feed, floats, sinks)
}

// cutCautions stand before the water is poured.
func cutCautions(ans advice.Answer, lot int) []string {
	var out []string
	for k, key := range ans.Composition.Keys {
		high := ans.Lots[lot].Ranges[k].High
		if m, ok := polymers.Find(polymers.Symbol(strings.Split(key, "/")[0])); ok && m.WaterSoluble && high > solubleInLot {
			out = append(out, fmt.Sprintf("up to %s of this lot may be %s, a soluble support: in any bath it turns to glue on everything else, so pick it out dry first",
				show.Percent(high), key))
		}
	}
	if !ans.Lots[lot].Heat.May {
		out = append(out, "this lot is not cleared of what must never be heated or cut: float whole pieces, and keep them apart from the rest")
	}
	return out
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
