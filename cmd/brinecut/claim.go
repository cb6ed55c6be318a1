package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/purity"
)

// claimFlags are what claim reads.
type claimFlags struct {
	counts                                 purity.Counts
	fraction, masses, material             string
	against, first                         []string
	ratio                                  float64
	flake                                  quantity.Length
	purity, confidence, finds, falseAlarms quantity.Fraction
}

func (a *app) claim() *cobra.Command {
	var f claimFlags
	c := &cobra.Command{
		Use:   "claim [BIN.toml --fraction F] [--tested N --wrong K]",
		Short: "What purity the tested pieces support, and how many more a claim needs",
		Long: `What may be claimed from pieces drawn at random: exact and Bayesian limits, corrected for the test's own
errors, by pieces and by mass, and how to draw the pieces that are still needed. Errors come from --finds
and --false-alarms, or from the bin's known snippets where they were tested as the drawn pieces were.
A table for --masses has the columns mass_g and others_g, one row a piece (or grab) drawn at random.`,
		Example: `  brinecut claim --tested 60 --wrong 0 --purity "95 %"
  brinecut claim bin.toml --fraction PETG --purity "95 %"
  brinecut claim --masses pieces.csv --purity "95 %"
  brinecut claim --purity "95 %" --false-alarms "9 %" --material PETG --against PLA --first float`,
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
	s.StringVar(&f.masses, "masses", "", "a CSV file of weighed pieces or grabs: mass_g, others_g")
	s.Float64Var(&f.ratio, "mass-ratio", 0, "how many times as heavy as a right piece a wrong one can be: a claim of mass")
	s.StringVar(&f.material, "material", "", "what is claimed, to have a second test named")
	s.StringSliceVar(&f.against, "against", nil, "what it may be mixed up with")
	s.StringSliceVar(&f.first, "first", nil, "the kind of the first test")
	quantityFlag(c, &f.flake, "flake", "size that nearly all flake passes: how flake is drawn, not pieces")
	a.tabled(c, "the limits")
	completes(c, map[string]offers{"fraction": a.completeFractions, "masses": files("csv"), "material": completeSymbols, "against": completeSymbols,
		"first": fixed(plainWords(cues.Kinds())...)})
	return c
}

func (a *app) makeClaim(c *cobra.Command, f *claimFlags, given []string) error {
	stand := &standing{}
	var err error
	switch {
	case f.fraction != "" || len(given) > 0:
		err = a.countedIn(f, stand, given)
	case f.masses != "":
		err = f.countMasses(stand)
	case !f.purity.Given() && !c.Flags().Changed("tested"):
		err = wrongUse("nothing is counted and nothing is asked", "give --tested and --wrong, or --purity for the pieces it needs")
	}
	if err != nil {
		return err
	}
	o, err := f.options(c, stand)
	if err != nil {
		return err
	}
	r, err := purity.Claim(f.counts, o)
	if err != nil {
		return err
	}
	out, err := f.claimed(r, o, stand)
	if err != nil {
		return err
	}
	return a.tableOr(show.ClaimCSV(out), show.ClaimJSON(out), func(p *show.Page) {
		show.Claim(p, out)
		if len(given) > 0 {
			show.Then(p, afterClaim(out, given[0]))
		}
	})
}

// afterClaim is the next sensible command for a fraction of a bin: the label, or more pieces.
func afterClaim(c show.Claimed, file string) string {
	if c.Purity > 0 && !c.Supported {
		return "brinecut record " + show.Word(file) + " --lot L KIND OUTCOME --drawn random"
	}
	return "brinecut label " + show.Word(file) + " -o labels.pdf"
}

// options of the claim, as the flags and the weighed pieces give them.
func (f *claimFlags) options(c *cobra.Command, s *standing) (purity.Options, error) {
	o := purity.Options{Purity: float64(f.purity.Value), Confidence: float64(f.confidence.Value), MassRatio: f.ratio}
	for _, x := range []struct {
		name string
		q    quantity.Fraction
	}{{"purity", f.purity}, {"confidence", f.confidence}} {
		if x.q.Given() && x.q.Value <= 0 {
			return o, wrongUse("--"+x.name+": this is no share above zero", `write it as "95 %"`)
		}
	}
	if c.Flags().Changed("mass-ratio") && f.ratio < 1 {
		return o, wrongUse("--mass-ratio: a ratio below 1 would make wrong pieces count for less", "give how many times as heavy as a right piece a wrong one can be, 1 or more")
	}
	if f.masses != "" && o.MassRatio == 0 {
		o.MassRatio = s.ratio()
	}
	if f.finds.Given() || f.falseAlarms.Given() {
		t := purity.Test{Finds: float64(f.finds.Or(1)), FalseAlarms: float64(f.falseAlarms.Value)}
		o.Test = &t
	}
	return o, nil
}

// countedIn takes the pieces drawn at random from a fraction's lots.
func (a *app) countedIn(f *claimFlags, s *standing, given []string) error {
	ans, frac, err := a.fractionOf(given, f.fraction)
	if err != nil {
		return err
	}
	if f.counts.Tested > 0 || f.counts.Wrong > 0 || f.masses != "" {
		return wrongUse("--fraction and counts of your own are both given", "the pieces of a fraction are counted from the bin file: leave one of the two out")
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
		s.drawn = &show.Drawn{Material: frac.Material, Against: d.Against, NotTold: max(0, frac.Drawn-d.Tested)}
		s.ground, s.flake = frac.Ground, frac.Prep == sorting.Flake
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
	ans, err := a.judgeWith(given[0], advice.Options{Claims: true})
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
