package main

import (
	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

func (a *app) withdraw() *cobra.Command {
	var why string
	c := &cobra.Command{
		Use:     "withdraw BIN.toml ID --why TEXT",
		Short:   "Take a recorded test back; it stays in the file and counts no more",
		Example: `  brinecut withdraw bin.toml t7 --why "wrong bowl"`,
		Args:    args(2, 2),
		RunE: func(c *cobra.Command, given []string) error {
			if err := need(c, "why"); err != nil {
				return err
			}
			return a.append(given[0], "withdrawn", func(src []byte, _ *sorting.Bin) (string, []byte, error) {
				tail, err := binfile.AppendWithdrawal(src, sorting.Withdrawal{ID: given[1], Why: why})
				return given[1], tail, err
			}, "brinecut sort "+show.Word(given[0]))
		},
		ValidArgsFunction: a.completeTests,
	}
	c.Flags().StringVar(&why, "why", "", "what was wrong with it")
	return c
}
