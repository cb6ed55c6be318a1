package main

import (
	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/cues"
	"brinecut/reuse/advice"
)

func (a *app) sort() *cobra.Command {
	var form show.Form
	c := &cobra.Command{
		Use:   "sort BIN.toml",
		Short: "What is in the bin, the bags, and the one thing to do next",
		Long:  "Judge a bin: what each lot is, the fractions with their routes, the test that helps most, what must\nnever be heated.",
		Example: `  brinecut sort bin.toml
  brinecut sort bin.toml --steps
  brinecut sort bin.toml --trace
  brinecut sort bin.toml --rules
  brinecut sort bin.toml --json`,
		Args: args(1, 1),
		RunE: func(_ *cobra.Command, given []string) error {
			ans, err := a.judgeWith(given[0], advice.Options{Trace: form.Trace})
			if err != nil {
				return err
			}
			form.File = given[0]
			return a.tableOr(show.BagsCSV(ans), show.AnswerJSON(ans), func(p *show.Page) { show.Answer(p, ans, form) })
		},
		ValidArgsFunction: completeBin,
	}
	a.tabled(c, "the bags")
	c.Flags().BoolVar(&form.Short, "short", false, "without residues and assumptions, and only those notes that speak of contradiction or danger")
	c.Flags().BoolVar(&form.Steps, "steps", false, "with every step at the bench, cautions beside them")
	c.Flags().BoolVar(&form.Rules, "rules", false, "with every rule each bag was held against, and what it lost by")
	c.Flags().BoolVar(&form.Trace, "trace", false, "with what each test did to each lot's answer")
	return c
}

// judge does the whole job for commands that need no more than its answer.
func (a *app) judge(path string, skip []cues.Kind) (advice.Answer, error) {
	return a.judgeWith(path, advice.Options{Skip: skip})
}

// judgeWith reads a bin file and does the whole job; what contradicts in the file stands among the
// warnings.
func (a *app) judgeWith(path string, opt advice.Options) (advice.Answer, error) {
	bin, doubts, err := a.open(path)
	if err != nil {
		return advice.Answer{}, err
	}
	ans, err := advice.Sort(bin, opt)
	if err != nil {
		return ans, cannot(err.Error(), "brinecut balance "+path+" shows the weighings")
	}
	ans.Warnings = append(ans.Warnings, doubts...)
	return ans, nil
}
