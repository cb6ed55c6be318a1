// Package purity says what may honestly be claimed of a fraction from pieces that were drawn at random,
// tested and counted: exact, Bayesian and finite-lot limits, the allowance for a test that errs, the
// pieces a claim still needs, and the words for paper.
//
// Only random draws count. Pieces picked because they looked odd, or typical, are no part of Counts.
package purity

import "fmt"

// DefaultConfidence is the one-sided confidence of a demonstration where none is asked for (common practice).
const DefaultConfidence = 0.95

// maxPieces bounds every count that is given, farPieces the search for how many would be enough: judgement.
const (
	maxPieces = 1_000_000
	farPieces = 1_000_000_000
)

// Counts are pieces drawn at random and tested, each once.
type Counts struct {
	Tested int // pieces tested
	Wrong  int // of these, pieces the test called another material
	Of     int // pieces in the whole lot; 0 where the lot is large or uncounted
}

// Test is a test with known error rates, as shares of 0 to 1.
type Test struct {
	Finds       float64 // sensitivity: share of other-material pieces it calls wrong
	FalseAlarms float64 // 1 - specificity: share of right pieces it calls wrong
}

// Trials are the test's own trials on pieces whose material was certain.
type Trials struct {
	Found, Others int // of Others pieces of another material, Found were called wrong
	Passed, Right int // of Right pieces of the right material, Passed were called right
}

// Options of Claim. The zero value asks for 95 % confidence, no purity in particular, a test that never errs.
type Options struct {
	Confidence float64 // 0 to 1, both excluded; 0 stands for DefaultConfidence
	Purity     float64 // share of right material to be shown, up to 1; 0 = none asked
	Test       *Test   // known error rates; nil = none
	Trials     *Trials // error rates known from trials only; not beside Test
	MassRatio  float64 // mass of a wrong piece over a right one, at most; 0 = not stated: the claim is of pieces
}

// Range is an interval of a share, 0 to 1.
type Range struct{ Low, High float64 }

// Estimate is a share with its interval. It is never a demonstration.
type Estimate struct{ Best, Low, High float64 }

// Basis says what a demonstrated share is a share of.
type Basis string

// What a claim can be about.
const (
	Pieces Basis = "pieces"
	Mass   Basis = "mass"
)

// Result is what the counts support. AtLeast, Exact and Bayes are shares of right pieces as the test saw them.
type Result struct {
	Counts
	Confidence float64
	Purity     float64 // as asked; 0 = none
	AtLeast    float64 // one-sided exact lower limit; hypergeometric where Of is known
	Exact      Range   // two-sided, equal tails: Clopper-Pearson, or hypergeometric where Of is known
	Bayes      Range   // two-sided, Jeffreys prior; of the whole lot where Of is known
	Corrected  *Estimate
	// Corrected is of the share of OTHERS, test errors taken out: Rogan-Gladen with known rates,
	// Lang-Reiczigel with Trials; nil without either.

	Demonstrated float64 // AtLeast after missed pieces and unequal masses; what a claim is held against
	Basis        Basis   // of Demonstrated
	Supported    bool    // Demonstrated reaches Purity
	PiecesNeeded *int    // fewest further pieces, none wrong, that would support Purity; nil = none asked or out of reach
	Sizes        *Sizes  // the finite-lot rules side by side; nil without Of and Purity
	Wording      string  // for paper
	Avoid        []string
	Warnings     []string
}

// Refusal is the error for input that cannot be: what is wrong with it, and what would be right.
type Refusal struct{ Fault, Right string }

func (r *Refusal) Error() string { return r.Fault + "; " + r.Right }

func refuse(right, format string, a ...any) error {
	return &Refusal{Fault: fmt.Sprintf(format, a...), Right: right}
}

// Claim says what purity the counts support (method.md, purity claims). It errs, with a *Refusal, on
// counts and shares that cannot be, and on a test that finds no more than it falsely alarms.
func Claim(c Counts, o Options) (Result, error) {
	if o.Confidence == 0 {
		o.Confidence = DefaultConfidence
	}
	if err := check(c, o); err != nil {
		return Result{}, err
	}
	alpha := 1 - o.Confidence
	r := Result{Counts: c, Confidence: o.Confidence, Purity: o.Purity, Basis: Pieces}
	r.AtLeast = 1 - upperOthers(c, alpha, 1)
	r.Exact = Range{1 - upperOthers(c, alpha/2, 1), 1 - lowerOthers(c, alpha/2)}
	r.Bayes = jeffreys(c, alpha)
	r.Corrected = corrected(c, o)
	r.Demonstrated = demonstrated(c, o)
	if o.MassRatio > 0 {
		r.Basis = Mass
	}
	if o.Purity > 0 {
		r.Supported = reaches(r.Demonstrated, o.Purity)
		r.PiecesNeeded = piecesNeeded(c, o)
		r.Sizes = sizes(c.Of, o)
	}
	r.Warnings = warnings(r, o)
	r.Wording, r.Avoid = wording(r), avoid(r)
	return r, nil
}

func check(c Counts, o Options) error {
	if err := checkCounts(c); err != nil {
		return err
	}
	switch {
	case !(o.Confidence > 0 && o.Confidence < 1):
		return refuse("give one between 0 and 100 %, both excluded", "a confidence of %s cannot be", percent(o.Confidence))
	case !(o.Purity >= 0 && o.Purity <= 1):
		return refuse("give one above 0 and up to 100 %", "a purity of %s cannot be", percent(o.Purity))
	case !(o.MassRatio >= 0 && o.MassRatio <= 1e6):
		return refuse("give how many times as heavy a wrong piece can be", "a mass ratio of %g cannot be", o.MassRatio)
	case o.Test != nil && o.Trials != nil:
		return refuse("give one of them", "the test's errors are given twice, as rates and as trials")
	case o.Test != nil:
		return o.Test.check()
	case o.Trials != nil:
		return o.Trials.check()
	}
	return nil
}

func checkCounts(c Counts) error {
	const right = "tested counts every piece drawn, wrong those of them that were another material"
	switch {
	case c.Tested < 0 || c.Wrong < 0 || c.Of < 0:
		return refuse(right, "a count of pieces cannot be negative")
	case c.Tested > maxPieces || c.Of > maxPieces:
		return refuse("leave the size of so large a lot out", "more than %d pieces are more than can be counted here", maxPieces)
	case c.Wrong > c.Tested:
		return refuse(right, "%d wrong of %d tested cannot be", c.Wrong, c.Tested)
	case c.Of > 0 && c.Tested > c.Of:
		return refuse("each piece is tested once, and put aside", "%d tested of a lot of %d cannot be", c.Tested, c.Of)
	}
	return nil
}
