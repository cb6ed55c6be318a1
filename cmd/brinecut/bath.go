package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/quantity"
	"brinecut/sorting/bath"
)

// bathFlags are what bath reads.
type bathFlags struct {
	r            bath.Request
	salt, drain  string
	kit          []string
	besideHeater []string
	scale        quantity.Mass
	within       quantity.Temperature
}

func (a *app) bath() *cobra.Command {
	var f bathFlags
	c := &cobra.Command{
		Use:   "bath --density Q --volume Q",
		Short: "How to mix a float bath, and what to be careful of",
		Example: `  brinecut bath --density "1.250 g/cm3" --volume "2 l"
  brinecut bath --density "1.250 g/cm3" --volume "2 l" --salt "calcium chloride dihydrate 77 %"
  brinecut bath check --empty "32 g" --water "532 g" --filled "657 g" --target "1.250 g/cm3"`,
		Args: args(0, 0),
		RunE: func(c *cobra.Command, _ []string) error { return a.mixBath(c, &f) },
	}
	s := c.Flags()
	quantityFlag(c, &f.r.Target, "density", "the bath is to have, at its temperature")
	quantityFlag(c, &f.r.Volume, "volume", "of bath; 1 l")
	s.StringVar(&f.salt, "salt", "", `what it is mixed from, as "epsom salt" or "CaCl2"; left out: the cheapest and mildest that will do`)
	s.StringSliceVar(&f.kit, "kit", nil, "salts and liquids at hand, where --salt is left out")
	quantityFlag(c, &f.r.Temp, "temp", "of the bath in use; 20 °C")
	quantityFlag(c, &f.r.ColdestTemp, "coldest", "that the bath meets between uses; that of use")
	quantityFlag(c, &f.scale, "scale", "smallest step of the scale; 1 g")
	differenceFlag(c, &f.within, "temp-within", `how well the temperature is known, as "0.5 °C"; 1 °C`)
	s.StringSliceVar(&f.besideHeater, "beside", nil, "heat sources in the same room, as kettle")
	s.StringVar(&f.drain, "drain", "unknown", "sewer, septic, none or unknown: decides what may be said of used brine")
	completes(c, map[string]offers{"salt": fixed(saltNames()...), "kit": fixed(saltNames()...), "drain": fixed(drainNames()...), "beside": fixed("kettle", "heat gun", "lighter")})
	c.AddCommand(a.bathCheck())
	return c
}

func (a *app) mixBath(c *cobra.Command, f *bathFlags) error {
	if err := need(c, "density"); err != nil {
		return err
	}
	drain, err := readDrain(f.drain)
	if err != nil {
		return err
	}
	f.r.Beside = f.besideHeater
	if f.r.Product, err = f.product(); err != nil {
		return err
	}
	if err := aboveZero(c, "scale", float64(f.scale.Value), "temp-within", float64(f.within.Value)); err != nil {
		return err
	}
	r, err := bath.Mix(f.r, bath.Options{Drain: drain, ScaleStep: f.scale.Value, TempLimit: f.within.Value})
	if err != nil {
		return err
	}
	if err := a.answer(show.RecipeJSON(r), func(p *show.Page) {
		show.Recipe(p, r)
		if r.Reachable {
			show.Then(p, fmt.Sprintf(`brinecut bath check --empty Q --water Q --filled Q --target "%s" --salt %s`, quantity.Format(r.Target), show.Word(r.Product.Liquid.String())))
		}
	}); err != nil {
		return err
	}
	if !r.Reachable {
		return cannot(r.Product.Name+" does not reach "+quantity.Format(r.Target), strings.Join(r.Instead, "; "))
	}
	return nil
}

// product is the one named, or the mildest that reaches the density; where none does, the one that
// comes nearest, whose recipe says so.
func (f *bathFlags) product() (bath.Product, error) {
	if f.salt != "" {
		return readSalt(f.salt)
	}
	o, err := bath.Propose(f.r.Target.Value, f.kit, bath.Place{Temp: f.r.Temp, Coldest: f.r.ColdestTemp, Beside: f.besideHeater})
	var none *bath.Refusal
	if !errors.As(err, &none) {
		return o.Product, err
	}
	far := bath.PotassiumCarbonate
	if f.r.Target.Value < 1 {
		far = bath.Isopropanol
	}
	return bath.ReadProduct(far.String())
}

// readSalt reads a product and names the nearest where there is none.
func readSalt(text string) (bath.Product, error) {
	p, err := bath.ReadProduct(text)
	if err != nil {
		if f := faultOf(err); !strings.Contains(f.hint, "did you mean") {
			return p, wrongUse("--salt: "+f.says, didYouMean(text, saltNames(), f.hint))
		}
	}
	return p, err
}

func drainNames() []string {
	return []string{string(bath.DrainSewer), string(bath.DrainSeptic), string(bath.DrainNone), string(bath.DrainUnknown)}
}

func readDrain(s string) (bath.Drain, error) {
	names := drainNames()
	for _, n := range names {
		if s == n {
			return bath.Drain(n), nil
		}
	}
	return "", wrongUse("--drain: there is no such drain (read "+quote(s)+")", didYouMean(s, names, "write one of "+strings.Join(names, ", ")))
}
