package main

import (
	"slices"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/cues"
)

func (a *app) next() *cobra.Command {
	var skip []string
	c := &cobra.Command{
		Use:   "next BIN.toml",
		Short: "The one test to do next, why, and what to be careful of",
		Example: `  brinecut next bin.toml
  brinecut next bin.toml --skip acetone --skip hot-air`,
		Args: args(1, 1),
		RunE: func(_ *cobra.Command, given []string) error {
			kinds, err := readKinds("skip", skip)
			if err != nil {
				return err
			}
			ans, err := a.judge(given[0], kinds)
			if err != nil {
				return err
			}
			return a.tableOr(show.NextCSV(ans), show.NextJSON(ans), func(p *show.Page) { show.Next(p, ans, given[0]) })
		},
		ValidArgsFunction: completeBin,
	}
	c.Flags().StringSliceVar(&skip, "skip", nil, "a kind of test not to propose now; may be repeated")
	a.tabled(c, "what each outcome would tell")
	completes(c, map[string]offers{"skip": fixed(plainWords(cues.Kinds())...)})
	return c
}

// readKinds refuses what is no kind of test.
func readKinds(flag string, list []string) ([]cues.Kind, error) {
	var out []cues.Kind
	for _, s := range list {
		if !slices.Contains(cues.Kinds(), cues.Kind(s)) {
			return nil, wrongUse("--"+flag+": there is no such kind of test (read "+quote(s)+")", didYouMean(s, plainWords(cues.Kinds()), "kinds are "+words(cues.Kinds())))
		}
		out = append(out, cues.Kind(s))
	}
	return out, nil
}
