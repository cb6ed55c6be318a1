package main

import (
	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

// moves are the commands for what a hand does with lots: they go into a sack, are put together, or
// leave.
func (a *app) moves() []*cobra.Command { return []*cobra.Command{a.bag(), a.merge(), a.take()} }

func (a *app) bag() *cobra.Command {
	var b sorting.Bag
	var scale string
	c := &cobra.Command{
		Use:     "bag BIN.toml ID --lot L --gross Q --tare Q",
		Short:   "Write down a weighed bag, for its label and its hand-over sheet",
		Example: `  brinecut bag bin.toml A1 --lot "white gloss" --lot black --gross "2.96 kg" --tare "20 g"`,
		Args:    args(2, 2),
		RunE: func(c *cobra.Command, given []string) error {
			if err := need(c, "lot", "gross"); err != nil {
				return err
			}
			b.ID = given[1]
			b.Scale = scaleNamed(scale)
			return a.append(given[0], "bag", func(src []byte, _ *sorting.Bin) (string, []byte, error) {
				tail, err := binfile.AppendBag(src, b)
				return b.ID, tail, err
			}, "brinecut label "+show.Word(given[0])+" -o labels.pdf")
		},
		ValidArgsFunction: completeBin,
	}
	c.Flags().StringArrayVar(&b.Lots, "lot", nil, "a lot that is in it; may be repeated")
	quantityFlag(c, &b.Gross, "gross", "the bag on the scale, full")
	quantityFlag(c, &b.Tare, "tare", "the bag, empty")
	c.Flags().StringVar(&scale, "scale", "", `smallest step of the scale, or the name of a [[scale]]; the bin's`)
	completes(c, map[string]offers{"lot": a.ofBin(lotNames), "scale": a.ofBin(scaleNames)})
	return c
}

// scaleNamed is a step such as "1 g", or the name of a scale.
func scaleNamed(s string) sorting.ScaleRef {
	if q, err := quantity.Parse[quantity.Gram](s); err == nil {
		return sorting.ScaleRef{Step: q}
	}
	return sorting.ScaleRef{Name: s}
}

func (a *app) merge() *cobra.Command {
	var m sorting.Merge
	c := &cobra.Command{
		Use:     "merge BIN.toml --lot A --lot B --into C",
		Short:   "Put lots together, with the weakest origin and the wettest state of them",
		Example: `  brinecut merge bin.toml --lot "white gloss" --lot "white matt" --into white`,
		Args:    args(1, 1),
		RunE: func(c *cobra.Command, given []string) error {
			if err := need(c, "lot", "into"); err != nil {
				return err
			}
			return a.append(given[0], "merge", func(src []byte, _ *sorting.Bin) (string, []byte, error) {
				tail, err := binfile.AppendMerge(src, m)
				return m.Into, tail, err
			}, "brinecut sort "+show.Word(given[0]))
		},
		ValidArgsFunction: completeBin,
	}
	c.Flags().StringArrayVar(&m.From, "lot", nil, "a lot that goes into it; twice or more")
	c.Flags().StringVar(&m.Into, "into", "", "name of the new lot")
	completes(c, map[string]offers{"lot": a.ofBin(lotNames)})
	return c
}

func (a *app) take() *cobra.Command {
	var x sorting.Taken
	c := &cobra.Command{
		Use:     "take BIN.toml --lot L --mass Q --for TEXT",
		Short:   "Write down what left a lot: pressed, given away, thrown out",
		Example: `  brinecut take bin.toml --lot white --mass "400 g" --for "sheet 1"`,
		Args:    args(1, 1),
		RunE: func(c *cobra.Command, given []string) error {
			if err := need(c, "lot", "mass"); err != nil {
				return err
			}
			return a.append(given[0], "taken", func(src []byte, _ *sorting.Bin) (string, []byte, error) {
				tail, err := binfile.AppendTaken(src, x)
				return x.Lot, tail, err
			}, "brinecut sort "+show.Word(given[0]))
		},
		ValidArgsFunction: completeBin,
	}
	c.Flags().StringVar(&x.Lot, "lot", "", "the lot it left")
	quantityFlag(c, &x.Mass, "mass", "that left")
	c.Flags().StringVar(&x.For, "for", "", "what for")
	completes(c, map[string]offers{"lot": a.ofBin(lotNames)})
	return c
}
