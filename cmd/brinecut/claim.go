package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting/purity"
)

// claimFlags are what claim reads.
type claimFlags struct {
	counts                                 purity.Counts
	fraction                               string
	drawn                                  *show.Drawn // of the fraction; nil without one
	purity, confidence, finds, falseAlarms quantity.Fraction
}

func (a *app) claim() *cobra.Command {
	var f claimFlags
	c := &cobra.Command{
		Use:   "claim [BIN.toml --fraction F] [--tested N --wrong K]",
		Short: "What purity the tested pieces support, and how many more a claim needs",
		Example: `  brinecut claim --tested 60 --wrong 0 --purity "95 %"
  brinecut claim bin.toml --fraction PETG --purity "95 %"`,
		Args:              args(0, 1),
		RunE:              func(c *cobra.Command, given []string) error { return a.makeClaim(c, &f, given) },
		ValidArgsFunction: completeBin,
	}
	s := c.Flags()
	s.StringVar(&f.fraction, "fraction", "", "a fraction of the bin file: its pieces drawn at random count")
	s.IntVar(&f.counts.Tested, "tested", 0, "pieces drawn at random and tested")
	s.IntVar(&f.counts.Wrong, "wrong", 0, "of these, pieces of another material")
	s.IntVar(&f.counts.Of, "of", 0, "pieces in the whole lot, where it is small enough to count")
	quantityFlag(c, &f.purity, "purity", `purity to be claimed, as "95 %"`)
	quantityFlag(c, &f.confidence, "confidence", "of the claim; 95 %")
	quantityFlag(c, &f.finds, "finds", "share of other-material pieces that the test finds")
	quantityFlag(c, &f.falseAlarms, "false-alarms", "share of right pieces that the test calls wrong")
	return c
}

func (a *app) makeClaim(c *cobra.Command, f *claimFlags, given []string) error {
	if f.fraction != "" || len(given) > 0 {
		if err := a.countedIn(f, given); err != nil {
			return err
		}
	} else if !f.purity.Given() && !c.Flags().Changed("tested") {
		return wrongUse("nothing is counted and nothing is asked", "give --tested and --wrong, or --purity for the pieces it needs")
	}
	o := purity.Options{Purity: float64(f.purity.Value), Confidence: float64(f.confidence.Value)}
	for _, x := range []struct {
		name string
		q    quantity.Fraction
	}{{"purity", f.purity}, {"confidence", f.confidence}} {
		if x.q.Given() && x.q.Value <= 0 {
			return wrongUse("--"+x.name+": this is no share above zero", `write it as "95 %"`)
		}
	}
	if f.finds.Given() || f.falseAlarms.Given() {
		t := purity.Test{Finds: float64(f.finds.Or(1)), FalseAlarms: float64(f.falseAlarms.Value)}
		o.Test = &t
	}
	r, err := purity.Claim(f.counts, o)
	if err != nil {
		return err
	}
	return a.answer(show.ClaimJSON(r, f.drawn), func(p *show.Page) { show.Claim(p, r, f.drawn) })
}

// countedIn takes the pieces drawn at random from a fraction's lots.
func (a *app) countedIn(f *claimFlags, given []string) error {
	ans, frac, err := a.fractionOf(given, f.fraction)
	if err != nil {
		return err
	}
	if f.counts.Tested > 0 || f.counts.Wrong > 0 {
		return wrongUse("--fraction and --tested are both given", "the pieces of a fraction are counted from the bin file: leave one of the two out")
	}
	switch d := frac.Demonstrated; {
	case frac.Material == "" && frac.Drawn > 0:
		return cannot(fmt.Sprintf("%s of %s were drawn at random, but a mixture has no material to claim", pieceCount(frac.Drawn), quote(frac.Name)),
			"part it first: brinecut next "+ans.Bin.File)
	case d == nil && frac.Drawn > 0:
		return cannot(fmt.Sprintf("%s of %s were drawn at random, but not every lot of it has one whose tests tell %s from what else it could be", pieceCount(frac.Drawn), quote(frac.Name), frac.Material),
			"test drawn pieces further, each under its --piece: brinecut next "+ans.Bin.File)
	case d == nil:
		return cannot("no piece of "+quote(frac.Name)+" was drawn at random and tested, so nothing can be claimed of it",
			"draw pieces blindly and record them with --drawn random: brinecut record "+ans.Bin.File)
	default:
		f.counts.Tested, f.counts.Wrong = d.Tested, d.Wrong
		f.drawn = &show.Drawn{Material: frac.Material, Against: d.Against, NotTold: max(0, frac.Drawn-d.Tested)}
	}
	return nil
}

func pieceCount(n int) string {
	if n == 1 {
		return "1 piece"
	}
	return strconv.Itoa(n) + " pieces"
}

// fractionOf finds a fraction of a bin by its name.
func (a *app) fractionOf(given []string, name string) (advice.Answer, advice.Fraction, error) {
	if len(given) == 0 || name == "" {
		return advice.Answer{}, advice.Fraction{}, wrongUse("a bin file and --fraction go together", "name both, as bin.toml --fraction PETG")
	}
	ans, err := a.judge(given[0], nil)
	if err != nil {
		return ans, advice.Fraction{}, err
	}
	var names []string
	for _, f := range ans.Fractions {
		if f.Name == name {
			return ans, f, nil
		}
		names = append(names, f.Name)
	}
	return ans, advice.Fraction{}, wrongUse("there is no fraction "+quote(name)+" now", didYouMean(name, names, "fractions are "+strings.Join(names, ", ")))
}
