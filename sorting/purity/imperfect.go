package purity

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

func (t Test) check() error {
	switch {
	case !(t.Finds >= 0 && t.Finds <= 1):
		return refuse("give a share of 0 to 100 %", "a test that finds %s cannot be", percent(t.Finds))
	case !(t.FalseAlarms >= 0 && t.FalseAlarms <= 1):
		return refuse("give a share of 0 to 100 %", "false alarms of %s cannot be", percent(t.FalseAlarms))
	case t.Finds <= t.FalseAlarms:
		return refuse("use another test", "a test that finds %s and falsely alarms on %s tells nothing apart", percent(t.Finds), percent(t.FalseAlarms))
	}
	return nil
}

func (t Trials) check() error {
	switch {
	case t.Others < 1 || t.Right < 1:
		return refuse("try it on at least one piece of each", "a test tried on no piece of one kind has no known errors")
	case t.Found < 0 || t.Found > t.Others || t.Passed < 0 || t.Passed > t.Right || t.Others > maxPieces || t.Right > maxPieces:
		return refuse("found of others, passed of right", "trials of %d of %d and %d of %d cannot be", t.Found, t.Others, t.Passed, t.Right)
	}
	return t.Rates().check()
}

// Rates are the plain shares of the trials.
func (t Trials) Rates() Test {
	return Test{Finds: float64(t.Found) / float64(t.Others), FalseAlarms: 1 - float64(t.Passed)/float64(t.Right)}
}

// corrected is the share of others with the test's errors taken out, nil where none are stated.
func corrected(c Counts, o Options) *Estimate {
	switch {
	case o.Trials != nil:
		e := langReiczigel(c, *o.Trials, o.Confidence)
		return &e
	case o.Test != nil:
		e := roganGladen(c, *o.Test, o.Confidence)
		return &e
	}
	return nil
}

// trueShare is Rogan & Gladen 1978, Am. J. Epidemiol. 107:71: (apparent + Sp - 1)/(Se + Sp - 1), clipped to 0..1.
func (t Test) trueShare(apparent float64) float64 {
	return clip((apparent - t.FalseAlarms) / (t.Finds - t.FalseAlarms))
}

// roganGladen carries the apparent share and its Clopper-Pearson ends to the true share. The rates count as
// exact. Nothing tested says nothing: 0 to 1, and the middle for want of better.
func roganGladen(c Counts, t Test, confidence float64) Estimate {
	if c.Tested == 0 {
		return Estimate{Best: 0.5, Low: 0, High: 1}
	}
	c.Of = 0 // by contract on the binomial ends, whatever the lot
	alpha := 1 - confidence
	return Estimate{Best: t.trueShare(float64(c.Wrong) / float64(c.Tested)),
		Low: t.trueShare(lowerOthers(c, alpha/2)), High: t.trueShare(upperOthers(c, alpha/2, 1))}
}

// langReiczigel is the interval for rates that were themselves estimated (Lang & Reiczigel 2014, Prev. Vet.
// Med. 113:13): normal, on counts eased towards the middle, shifted; clipped to 0..1. Best is the plain
// Rogan-Gladen estimate.
func langReiczigel(c Counts, t Trials, confidence float64) Estimate {
	if c.Tested == 0 {
		return Estimate{Best: 0.5, Low: 0, High: 1}
	}
	z := distuv.UnitNormal.Quantile(1 - (1-confidence)/2)
	n, n1, n2 := float64(c.Tested), float64(t.Others)+2, float64(t.Right)+2
	p := (float64(c.Wrong) + z*z/2) / (n + z*z)
	se, sp := (float64(t.Found)+1)/n1, (float64(t.Passed)+1)/n2
	youden := se + sp - 1
	best := t.Rates().trueShare(float64(c.Wrong) / n)
	if youden <= 0 { // eased, so few trials tell nothing apart
		return Estimate{Best: best, Low: 0, High: 1}
	}
	theta := (p + sp - 1) / youden // not clipped: the published intervals come out so
	vSe, vSp := se*(1-se)/n1, sp*(1-sp)/n2
	shift := 2 * z * z * (theta*vSe - (1-theta)*vSp)
	half := z * math.Sqrt(p*(1-p)/(n+z*z)+theta*theta*vSe+(1-theta)*(1-theta)*vSp) / youden
	return Estimate{Best: best, Low: clip(theta + shift - half), High: clip(theta + shift + half)}
}

func clip(x float64) float64 { return math.Max(0, math.Min(1, x)) }

// misses gives the part of alpha left for the counts and the least share of others the test finds. False
// alarms are never subtracted from a demonstration: that would lean on a rate, not on pieces. Rates known
// from trials spend half of alpha on the exact lower limit of what the test finds (Bonferroni).
func (o Options) misses() (alpha, finds float64) {
	alpha = 1 - o.Confidence
	switch {
	case o.Trials != nil:
		t := Counts{Tested: o.Trials.Others, Wrong: o.Trials.Found}
		return alpha / 2, lowerOthers(t, alpha/2)
	case o.Test != nil:
		return alpha, o.Test.Finds
	}
	return alpha, 1
}

// demonstrated is the share of right material, by pieces or by mass, that the counts prove.
func demonstrated(c Counts, o Options) float64 {
	alpha, finds := o.misses()
	if finds <= 0 {
		return 0
	}
	return byMass(1-upperOthers(c, alpha, finds), o.MassRatio)
}

// byMass is the least mass share that a share of right pieces can stand for, a wrong piece being at most
// ratio times as heavy as a right one; the share itself where no ratio is stated.
func byMass(pieces, ratio float64) float64 {
	if ratio == 0 || pieces == 0 {
		return pieces
	}
	return pieces / (pieces + ratio*(1-pieces))
}

// piecePurity is the share of right pieces that stands for the purity asked for.
func (o Options) piecePurity() float64 {
	if o.MassRatio == 0 {
		return o.Purity
	}
	return o.Purity * o.MassRatio / (1 - o.Purity + o.Purity*o.MassRatio)
}

// reaches compares shares with room for the last bits of 1 - (1 - x).
func reaches(got, want float64) bool { return got >= want-1e-12 }

// piecesNeeded is the fewest further pieces, none of them wrong, after which the claim is supported; nil
// where no number of them is enough.
func piecesNeeded(c Counts, o Options) *int {
	more := func(n int) bool {
		return reaches(demonstrated(Counts{Tested: c.Tested + n, Wrong: c.Wrong, Of: c.Of}, o), o.Purity)
	}
	limit := farPieces - c.Tested
	if c.Of > 0 {
		limit = c.Of - c.Tested
	}
	high := 0
	for !more(high) {
		if high >= limit {
			return nil
		}
		high = min(limit, 2*high+1)
	}
	low := -1 // not enough, or not a number of pieces
	for n := high; n-low > 1; {
		if mid := (low + n) / 2; more(mid) {
			n, high = mid, mid
		} else {
			low = mid
		}
	}
	return &high
}
