package purity

import (
	"fmt"
	"math"
	"strconv"
)

// percent writes a share in percent, to a hundredth of a percent.
func percent(x float64) string {
	return strconv.FormatFloat(math.Round(x*1e4)/1e2, 'f', -1, 64) + " %"
}

// floorHundredth is percent rounded down, for a limit that must not be passed.
func floorHundredth(x float64) string {
	return strconv.FormatFloat(math.Floor(x*1e4+1e-9)/1e2, 'f', -1, 64) + " %"
}

// floorPercent writes a demonstrated share, rounded down so that paper never says more than was shown.
func floorPercent(x float64) string {
	return strconv.FormatFloat(math.Floor(x*1000+1e-9)/10, 'f', 1, 64) + " %"
}

// wording is the sentence for paper.
func wording(r Result) string {
	switch {
	case r.Tested == 0:
		return "Nothing was tested: no piece was drawn at random, so no purity is stated."
	case r.Demonstrated <= 0:
		return fmt.Sprintf("%s: this shows no purity.", found(r))
	}
	of, method := "the pieces are", "exact binomial limit"
	if r.Basis == Mass {
		of = "the mass is"
	}
	if r.Of > 0 {
		method = fmt.Sprintf("exact hypergeometric limit for a lot of %d pieces", r.Of)
	}
	return fmt.Sprintf("%s: at least %s of %s of the named material, at %s confidence (one-sided, %s). Own test and own declaration, not a certificate.",
		found(r), floorPercent(r.Demonstrated), of, percent(r.Confidence), method)
}

func found(r Result) string {
	noun := "pieces"
	if r.Tested == 1 {
		noun = "piece"
	}
	return fmt.Sprintf("%d %s drawn at random and tested, %d of another material", r.Tested, noun, r.Wrong)
}

// avoid lists wordings that the counts do not carry.
func avoid(r Result) []string {
	words := []string{
		"\"pure\", \"100 %\", \"free of other plastics\": no sample shows that, unless every piece was tested by a test that misses nothing",
		"\"certified\", \"guaranteed\", \"tested to a standard\": this is a count at a bench",
		"\"recycled content\": that is another claim, with rules of its own",
	}
	if r.Tested > 0 {
		words = append(words, fmt.Sprintf("\"%s pure\": the share of right pieces in the sample is an estimate, what is shown is %s",
			percent(float64(r.Tested-r.Wrong)/float64(r.Tested)), floorPercent(r.Demonstrated)))
	}
	if r.Basis == Pieces {
		words = append(words, "a share \"by mass\" or \"by weight\": pieces were counted, and pieces differ in mass")
	}
	if r.Purity > 0 && !r.Supported {
		words = append(words, fmt.Sprintf("\"at least %s\": not shown by these pieces", percent(r.Purity)))
	}
	return words
}

// NeverErrs is the warning of a claim in which nothing is said of the test's errors.
const NeverErrs = "the test is taken never to err; state what share of others it finds and how often it alarms falsely, or put known pieces of both through all the tests that the drawn pieces went through"

// warnings say what is doubtful and what would remove the doubt.
func warnings(r Result, o Options) []string {
	var w []string
	if r.Basis == Pieces {
		w = append(w, "this is a share of pieces; weigh the pieces, or state how many times as heavy a wrong piece can be, for a share of mass")
	}
	t := o.Test
	if o.Trials != nil {
		rates := o.Trials.Rates()
		t = &rates
	}
	if t == nil {
		w = append(w, NeverErrs)
	} else if o.Purity > 0 && t.FalseAlarms > 0 && t.FalseAlarms >= (1-o.Purity)*t.Finds {
		w = append(w, outOfReach(*t, o.Purity))
	}
	if r.Tested == 0 {
		w = append(w, "nothing was tested: the limits say only that anything is possible; draw pieces at random, test them and count them")
	}
	if r.PiecesNeeded != nil && *r.PiecesNeeded > 0 && r.Tested > 0 {
		w = append(w, "fix the number of further pieces before drawing them and count them all: stopping at the first good moment makes the stated confidence too high")
	}
	if o.Purity > 0 && r.PiecesNeeded == nil {
		w = append(w, fmt.Sprintf("no number of further clean pieces shows %s here; sort the lot again and start a new count, or ask for less", percent(o.Purity)))
	}
	return w
}

// spared is the part of the others a claim allows that the false alarms of two tests together may use up:
// a second test that only just keeps below the whole of it would ask for endless pieces (judgement).
const spared = 0.2

// SecondFalseAlarms is the share of false alarms a confirming test may have for the two together to spend a
// fifth (judgement) of what the purity allows, so that a count of usual size can still show it; 0 where
// 100 % is asked. method.md (C10).
func (t Test) SecondFalseAlarms(purity float64) float64 {
	return math.Min(1, spared*t.MostFalseAlarms(purity))
}

// outOfReach says that a test with false alarms cannot show a purity by counting, and what would.
func outOfReach(t Test, purity float64) string {
	w := fmt.Sprintf("a test with %s false alarms shows a pure lot as %s and can never show %s", percent(t.FalseAlarms), percent(t.Ceiling()), percent(purity))
	second := t.SecondFalseAlarms(purity)
	if second < 1e-4 {
		return w + "; test by a way that never alarms falsely, or ask for less"
	}
	return w + fmt.Sprintf("; repeat every alarm on the same piece by a second test of another kind that finds nearly all others and alarms falsely on no more than %s, and count a piece wrong only where both say so: a pure lot then shows %s of wrong pieces at most",
		floorHundredth(second), percent(t.FalseAlarms*second))
}
