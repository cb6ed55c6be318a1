package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
)

func (a *app) mark() *cobra.Command {
	var of []string
	c := &cobra.Command{
		Use:   "mark STRING | mark --of SYMBOL",
		Short: "Read a marking on a piece, or write one, to ISO 11469 and ISO 1043",
		Example: `  brinecut mark '>PA66-GF30<'
  brinecut mark 5
  brinecut mark --of PC --of ABS`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, given []string) error {
			if c.Flags().Changed("of") {
				return a.writeMark(append(of, given...))
			}
			if err := args(1, 1)(c, given); err != nil {
				return err
			}
			m, err := polymers.ReadMarking(given[0])
			if err != nil {
				return markFault(err)
			}
			return a.answer(show.MarkingJSON(m), func(p *show.Page) { show.Marking(p, m) })
		},
	}
	c.Flags().StringSliceVar(&of, "of", nil, "write the marking of these materials, the main one first")
	completes(c, map[string]offers{"of": completeSymbols})
	return c
}

func (a *app) writeMark(names []string) error {
	m, err := polymers.WriteMarking(names, polymers.MarkingOptions{})
	if err != nil {
		var unknown *polymers.UnknownError
		if errors.As(err, &unknown) {
			return err
		}
		return markFault(err)
	}
	return a.answer(show.MarkingJSON(m), func(p *show.Page) { show.Marking(p, m) })
}

// markFault is a text that is no marking: wrong use.
func markFault(err error) error {
	var m *polymers.MarkingError
	if errors.As(err, &m) {
		return &fault{code: exitWrongUse, says: strings.TrimSuffix(err.Error(), "; "+m.Right), hint: m.Right, shown: m.Caret()}
	}
	return wrongUse(err.Error(), "")
}
