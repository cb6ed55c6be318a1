package main

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/quantity"
)

// amount is a flag that takes a quantity.
type amount[U quantity.Unit] struct {
	to    *quantity.Of[U]
	shown string // placeholder in the help
}

func (a amount[U]) String() string {
	if a.to == nil {
		return ""
	}
	return a.to.Text
}

func (a amount[U]) Set(s string) (err error) {
	*a.to, err = quantity.Parse[U](s)
	return err
}

func (a amount[U]) Type() string { return a.shown }

// quantityFlag adds a flag that takes a quantity, such as --density "1.25 g/cm3".
func quantityFlag[U quantity.Unit](c *cobra.Command, to *quantity.Of[U], name, usage string) {
	c.Flags().Var(amount[U]{to, "QUANTITY"}, name, usage)
}

// difference is a flag that takes a difference of temperatures: in °F it has no zero to shift.
type difference struct{ amount[quantity.Celsius] }

func (d difference) Set(s string) error {
	if err := d.amount.Set(s); err != nil {
		return err
	}
	if strings.HasSuffix(strings.TrimSpace(s), "F") {
		d.to.Value += 32 / 1.8
	}
	return nil
}

func differenceFlag(c *cobra.Command, to *quantity.Temperature, name, usage string) {
	c.Flags().Var(difference{amount[quantity.Celsius]{to, "QUANTITY"}}, name, usage)
}

// truth is a flag that takes yes or no.
type truth struct{ to **bool }

func (t truth) String() string { return "" }

func (t truth) Set(s string) error {
	var yes bool
	switch strings.ToLower(s) {
	case "true", "yes":
		yes = true
	case "false", "no":
	default:
		return errors.New("this is neither true nor false")
	}
	*t.to = &yes
	return nil
}

func (t truth) Type() string { return "true|false" }

// unitsFlag takes what text is written in.
type unitsFlag string

func (u *unitsFlag) String() string { return string(*u) }

func (u *unitsFlag) Set(s string) error {
	if s != "metric" && s != "us" {
		return errors.New("there are no such units")
	}
	*u = unitsFlag(s)
	return nil
}

func (u *unitsFlag) Type() string { return "metric|us" }

func (u unitsFlag) show() show.Units {
	if u == "us" {
		return show.US
	}
	return show.Metric
}

// aboveZero refuses flags that were given and are not above zero; they come as name, value, name, value.
func aboveZero(c *cobra.Command, pairs ...any) error {
	for i := 0; i < len(pairs); i += 2 {
		name, value := pairs[i].(string), pairs[i+1].(float64)
		if f := c.Flags().Lookup(name); f.Changed && !(value > 0) {
			return wrongUse("--"+name+": this is not above zero (read "+quote(f.Value.String())+")", f.Usage)
		}
	}
	return nil
}

// need refuses a command line that leaves out flags it cannot do without, all of them at once.
func need(c *cobra.Command, names ...string) error {
	names = slices.DeleteFunc(names, func(n string) bool { return c.Flags().Changed(n) })
	switch len(names) {
	case 0:
		return nil
	case 1:
		return wrongUse(c.CommandPath()+" needs --"+names[0], "--"+names[0]+": "+c.Flags().Lookup(names[0]).Usage)
	}
	return wrongUse(c.CommandPath()+" needs --"+strings.Join(names, ", --"), "use: "+c.UseLine()+"; "+c.CommandPath()+" --help has examples")
}
