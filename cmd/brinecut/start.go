package main

import (
	_ "embed"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/ledger"
	"brinecut/cmd/brinecut/internal/show"
)

//go:embed start.toml
var startFile []byte

//go:embed example.toml
var exampleFile []byte

func (a *app) start() *cobra.Command {
	var example bool
	c := &cobra.Command{
		Use:   "start FILE.toml",
		Short: "Write a commented bin file to fill in, or the invented example",
		Long:  "Write a commented bin file to fill in at the scale. A file that is there already is left as it is.",
		Example: `  brinecut start mybin.toml
  brinecut start example.toml --example`,
		Args: args(1, 1),
		RunE: func(_ *cobra.Command, given []string) error {
			src := startFile
			if example {
				src = exampleFile
			}
			if err := ledger.Create(given[0], src); err != nil {
				return err
			}
			return a.answer(show.Started{File: given[0], Example: example}, func(p *show.Page) {
				p.Title("wrote " + given[0])
				if example {
					p.Title("next: brinecut sort " + show.Word(given[0]))
					return
				}
				p.Title("next: open it, write the weights in, then brinecut sort " + show.Word(given[0]))
			})
		},
	}
	c.Flags().BoolVar(&example, "example", false, "the invented example instead, filled in")
	return c
}
