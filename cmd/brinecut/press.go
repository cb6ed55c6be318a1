package main

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/quantity"
	"brinecut/reuse/press"
)

// pressFlags are what press reads.
type pressFlags struct {
	r                                press.Request
	material, fraction               string
	size, diffusivity, contactFactor string
}

func (a *app) press() *cobra.Command {
	var f pressFlags
	c := &cobra.Command{
		Use:   "press (--material M | BIN.toml --fraction F) --thickness Q --platen Q --centre Q",
		Short: "How long a pressed sheet takes to heat and cool, with charge, fills, force and energy",
		Long: `Plan one sheet. The heat-up time is for the centre of a solid sheet between two hot platens in
perfect contact; what loose flake and prudence add stands apart.`,
		Example: `  brinecut press --material PETG --thickness "6 mm" --platen "220 °C" --centre "200 °C"
  brinecut press bin.toml --fraction PETG --thickness "8 mm" --platen "225 °C" --centre "205 °C" \
    --size "300 x 300 mm"`,
		Args: args(0, 1),
		RunE: func(c *cobra.Command, given []string) error { return a.planPress(c, &f, given) },
	}
	f.define(c)
	c.DisableFlagsInUseLine = true // they are named
	c.ValidArgsFunction = completeBin
	completes(c, map[string]offers{"material": completeSymbols, "fraction": a.completeFractions})
	return c
}

func (f *pressFlags) define(c *cobra.Command) {
	s := c.Flags()
	s.StringVar(&f.material, "material", "", "what is pressed")
	s.StringVar(&f.fraction, "fraction", "", "or a fraction of the bin file")
	quantityFlag(c, &f.r.Thickness, "thickness", `full thickness of the sheet, as "6 mm"`)
	quantityFlag(c, &f.r.Platen, "platen", "temperature of the hot platens")
	quantityFlag(c, &f.r.Centre, "centre", "temperature the middle of the sheet has to reach")
	quantityFlag(c, &f.r.Start, "start", "temperature of the flake; 20 °C")
	quantityFlag(c, &f.r.Release, "release", "temperature of the middle at which the sheet comes out; from the material")
	quantityFlag(c, &f.r.ColdPlaten, "cold-platen", "temperature of the cooled platens; 20 °C")
	s.StringVar(&f.size, "size", "", `size of the sheet, as "300 x 300 mm"; without it no charge, fills or force`)
	quantityFlag(c, &f.r.Pressure, "pressure", "on the sheet; 10 bar")
	s.StringVar(&f.diffusivity, "diffusivity", "", `thermal diffusivity, as "8.5e-8 m2/s"; from the handbook`)
	s.StringVar(&f.contactFactor, "contact", "", `heat transfer between platen and plastic, as "500 W/m2/K"; perfect`)
	s.BoolVar(&f.r.OneSided, "one-sided", false, "only one platen is hot, the other face insulated")
	quantityFlag(c, &f.r.Flash, "flash", "part of the charge that is pressed out; none")
	quantityFlag(c, &f.r.BulkDensity, "bulk-density", `of the loose flake, as "0.4 g/cm3"; 0.3 of the solid`)
	quantityFlag(c, &f.r.FrameDepth, "frame-depth", "of the frame; the sheet's thickness")
	quantityFlag(c, &f.r.Jack, "jack", `rating of the jack, as "60 kN"`)
	quantityFlag(c, &f.r.Moisture, "moisture", "measured moisture of the flake")
}

func (a *app) planPress(c *cobra.Command, f *pressFlags, given []string) error {
	if err := need(c, "thickness", "platen", "centre"); err != nil {
		return err
	}
	stock, err := a.pressed(f, given)
	if err != nil {
		return err
	}
	f.r.Material = stock.material
	if f.r.Area, err = readSize(f.size); err != nil {
		return err
	}
	if f.r.Diffusivity, err = readFigure("--diffusivity", f.diffusivity, "m2/s", "8.5e-8"); err != nil {
		return err
	}
	if f.r.Contact, err = readFigure("--contact", f.contactFactor, "W/m2/K", "500"); err != nil {
		return err
	}
	plan, err := press.Plan(f.r)
	if err != nil {
		return err
	}
	plan.Cautions = append(plan.Cautions, stock.cautions(plan)...)
	return a.answer(show.PressJSON(plan, stock.batch), func(p *show.Page) { show.Press(p, f.r, plan, stock.batch) })
}

// readSize reads "300 x 300 mm".
func readSize(s string) (quantity.Area, error) {
	if s == "" {
		return quantity.Area{}, nil
	}
	first, second, ok := strings.Cut(strings.ReplaceAll(s, "×", "x"), "x")
	if !ok {
		return quantity.Area{}, wrongUse("--size: this is no length by a width (read "+quote(s)+")", `write it as "300 x 300 mm"`)
	}
	b, err := quantity.Parse[quantity.Millimeter](second)
	if err != nil {
		return quantity.Area{}, wrongUse("--size: "+err.Error(), `write it as "300 x 300 mm"`)
	}
	first = strings.TrimSpace(first)
	if _, err := strconv.ParseFloat(first, 64); err == nil { // the unit stands behind the second alone
		first += strings.TrimLeft(strings.TrimSpace(second), "0123456789.,")
	}
	l, err := quantity.Parse[quantity.Millimeter](first)
	if err != nil {
		return quantity.Area{}, wrongUse("--size: "+err.Error(), `write it as "300 x 300 mm"`)
	}
	if l.Value <= 0 || b.Value <= 0 {
		return quantity.Area{}, wrongUse("--size: a sheet has a length and a width above zero", `write it as "300 x 300 mm"`)
	}
	return quantity.Exact(quantity.SquareMeter(float64(l.Value) * float64(b.Value) / 1e6)), nil
}

// readFigure reads a positive figure in a unit that the bin file does not have.
func readFigure(flag, s, unit, example string) (float64, error) {
	if s == "" {
		return 0, nil
	}
	figure, ok := strings.CutSuffix(strings.ReplaceAll(strings.TrimSpace(s), "²", "2"), unit)
	x, err := strconv.ParseFloat(strings.TrimSpace(figure), 64)
	if !ok || err != nil || !(x > 0) || x > 1e9 {
		return 0, wrongUse(flag+": this is no figure in "+unit+" (read "+quote(s)+")", `write it as "`+example+` `+unit+`"`)
	}
	return x, nil
}
