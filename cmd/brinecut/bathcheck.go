package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/bath"
	"brinecut/sorting/binfile"
)

// checkFlags are what bath check reads.
type checkFlags struct {
	w                  bath.Weighings
	step               quantity.Mass
	fill               quantity.Volume
	within             quantity.Temperature
	salt, record, name string
	figure, limit      float64 // of a hydrometer, in place of the bottle
	marked             string
}

func (a *app) bathCheck() *cobra.Command {
	var f checkFlags
	c := &cobra.Command{
		Use:   "check (--empty Q --water Q --filled Q | --hydrometer FIGURE)",
		Short: "Density of a bath from one bottle weighed empty, with water and with the bath",
		Long: `Density of a bath from one bottle weighed empty, with water and with the bath, or from a
hydrometer, and what to add to reach a target. A hydrometer is read before any detergent goes in;
its figures are g/cm3 at 20 °C unless --marked says that they are relative density, 20/20 (°C) or
60/60 (°F).`,
		Example: `  brinecut bath check --empty "32 g" --water "532 g" --filled "657 g" --target "1.250 g/cm3" \
    --salt "epsom salt"
  brinecut bath check --empty "32 g" --water "532 g" --filled "657 g" --record bin.toml --name A
  brinecut bath check --hydrometer 1.152 --marked 60/60 --temp "70 °F" --target "1.150 g/cm3"`,
		Args: args(0, 0),
		RunE: func(c *cobra.Command, _ []string) error { return a.checkBath(c, &f) },
	}
	s := c.Flags()
	quantityFlag(c, &f.w.Empty, "empty", "the bottle, empty and dry")
	quantityFlag(c, &f.w.Water, "water", "the bottle filled to the mark with water")
	quantityFlag(c, &f.w.Filled, "filled", "the bottle filled to the mark with the bath")
	quantityFlag(c, &f.w.Temp, "temp", "of water and bath alike; 20 °C")
	quantityFlag(c, &f.w.Target, "target", "density the bath is to have: says what to add")
	quantityFlag(c, &f.w.Bath, "bath", "mass of all the bath; what the bottle holds")
	quantityFlag(c, &f.step, "scale", "smallest step of the scale; 1 g")
	quantityFlag(c, &f.fill, "fill", `how alike the bottle is filled to its mark, one standard deviation; 0.3 ml`)
	differenceFlag(c, &f.within, "temp-within", `how far water and bath may differ, as "1 °C"; 0.5 °C`)
	s.Float64Var(&f.figure, "hydrometer", 0, "what a hydrometer shows in the bath, in place of the bottle")
	s.StringVar(&f.marked, "marked", "g/cm3", "what its figures are: g/cm3, 20/20 or 60/60")
	s.Float64Var(&f.limit, "hydrometer-limit", 0, "its limit of error, as 0.001; 0.002")
	s.StringVar(&f.salt, "salt", "", "what the bath is mixed from")
	s.StringVar(&f.record, "record", "", "bin file to write the bath into")
	s.StringVar(&f.name, "name", "", "name of the bath there, as A")
	completes(c, map[string]offers{"salt": fixed(saltNames()...), "record": files("toml"), "marked": fixed("g/cm3", "20/20", "60/60")})
	return c
}

func (a *app) checkBath(c *cobra.Command, f *checkFlags) error {
	byHydrometer := c.Flags().Changed("hydrometer")
	if byHydrometer && (f.w.Empty.Given() || f.w.Water.Given() || f.w.Filled.Given()) {
		return wrongUse("a bottle and a hydrometer are both given", "check with one of the two at a time")
	}
	if !byHydrometer {
		if err := need(c, "empty", "water", "filled"); err != nil {
			return err
		}
	}
	if (f.record == "") != (f.name == "") {
		return wrongUse("--record and --name go together", "name the bin file and the bath in it, as --record bin.toml --name A")
	}
	if f.salt != "" {
		var err error
		if f.w.Product, err = readSalt(f.salt); err != nil {
			return err
		}
	}
	if err := aboveZero(c, "scale", float64(f.step.Value), "fill", float64(f.fill.Value), "temp-within", float64(f.within.Value), "hydrometer", f.figure, "hydrometer-limit", f.limit); err != nil {
		return err
	}
	r, err := f.checked()
	if err != nil {
		return err
	}
	if f.record == "" {
		return a.answer(show.CheckedJSON(r, nil), func(p *show.Page) {
			show.Checked(p, r)
			show.Then(p, "the same with --record BIN.toml --name A, to have tests made in it")
		})
	}
	return a.recordBath(f, r)
}

// hydrometers are the scales a hydrometer can be marked in.
var hydrometers = map[string]bath.Scale{"g/cm3": bath.Density20, "20/20": bath.Relative20, "60/60": bath.Relative60F}

// checked is the bath as the bottle or the hydrometer shows it.
func (f *checkFlags) checked() (bath.Checked, error) {
	o := bath.CheckOptions{ScaleStep: f.step.Value, Fill: f.fill.Value, TempLimit: f.within.Value, Hydrometer: f.limit}
	if f.figure == 0 {
		return bath.Check(f.w, o)
	}
	scale, ok := hydrometers[f.marked]
	if !ok {
		return bath.Checked{}, wrongUse("--marked: a hydrometer is not marked so (read "+quote(f.marked)+")", "write g/cm3, 20/20 or 60/60, as it stands on its scale")
	}
	return bath.CheckHydrometer(bath.Reading{Figure: f.figure, Scale: scale, Temp: f.w.Temp, Target: f.w.Target, Product: f.w.Product, Bath: f.w.Bath}, o)
}

// recordBath writes the bath into the bin file before the result is told.
func (a *app) recordBath(f *checkFlags, r bath.Checked) error {
	b := sorting.Bath{Name: f.name, Density: measured(r.Density), Temp: f.w.Temp}
	if !b.Temp.Given() {
		b.Temp = quantity.Exact(r.Temp)
	}
	if f.salt != "" {
		b.Salt = f.w.Product.Liquid.String()
	}
	done, err := a.add(f.record, "bath", func(src []byte, _ *sorting.Bin) (string, []byte, error) {
		tail, err := binfile.AppendBath(src, b)
		return f.name, tail, err
	})
	if err != nil {
		return err
	}
	return a.answer(show.CheckedJSON(r, &done), func(p *show.Page) {
		show.Checked(p, r)
		p.Section("")
		show.RecordedText(p, done, fmt.Sprintf("brinecut record %s --lot L float OUTCOME --bath %s", show.Word(f.record), show.Word(f.name)))
	})
}

// measured is a density with its standard uncertainty, written to a tenth of a milligram.
func measured(e bath.Estimate) quantity.Density {
	text := fmt.Sprintf("%.4f g/cm3 ± %.4f", float64(e.Mean), float64(e.SD))
	q, err := quantity.Parse[quantity.GramPerCm3](text)
	if err != nil {
		return quantity.With(e.Mean, e.SD)
	}
	q.Text = strings.TrimSpace(text)
	return q
}
