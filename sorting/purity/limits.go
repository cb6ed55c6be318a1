package purity

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// upperOthers is the one-sided upper limit, at confidence 1-alpha, of the share of other-material pieces,
// for a test that finds them with probability finds and whose every alarm is held to be right.
// Clopper & Pearson 1934, Biometrika 26:404, divided by finds; hypergeometric where the lot is counted.
func upperOthers(c Counts, alpha, finds float64) float64 {
	switch {
	case c.Of > 0:
		return float64(upperInLot(c, alpha, finds)) / float64(c.Of)
	case c.Wrong == c.Tested: // also when nothing was tested
		return 1
	case c.Wrong == 0: // closed form of the same limit
		return math.Min(1, -math.Expm1(math.Log(alpha)/float64(c.Tested))/finds)
	}
	u := betaQuantile(1-alpha, float64(c.Wrong)+1, float64(c.Tested-c.Wrong))
	return math.Min(1, u/finds)
}

// lowerOthers is the one-sided lower limit of the share of other-material pieces as the test saw them.
func lowerOthers(c Counts, alpha float64) float64 {
	switch {
	case c.Of > 0: // right and wrong change places
		mirror := Counts{Tested: c.Tested, Wrong: c.Tested - c.Wrong, Of: c.Of}
		return float64(c.Of-upperInLot(mirror, alpha, 1)) / float64(c.Of)
	case c.Wrong == 0:
		return 0
	case c.Wrong == c.Tested:
		return math.Exp(math.Log(alpha) / float64(c.Tested))
	}
	return betaQuantile(alpha, float64(c.Wrong), float64(c.Tested-c.Wrong)+1)
}

// jeffreys is the equal-tailed interval of the share of right pieces under the Jeffreys prior, its ends
// set to 0 and 1 where no, or every, piece was right (Brown, Cai & DasGupta 2001, Statist. Sci. 16:101,
// section 4.1.2). Where the lot is counted it is of the whole lot: the untested rest is beta-binomial.
func jeffreys(c Counts, alpha float64) Range {
	right := c.Tested - c.Wrong
	a, b := float64(right)+0.5, float64(c.Wrong)+0.5
	var r Range
	if c.Of > 0 {
		rest := c.Of - c.Tested
		low, high := betaBinomialQuantiles(rest, a, b, alpha)
		r = Range{float64(right+low) / float64(c.Of), float64(right+high) / float64(c.Of)}
	} else {
		r = Range{betaQuantile(alpha/2, a, b), betaQuantile(1-alpha/2, a, b)}
	}
	if right == 0 {
		r.Low = 0
	}
	if c.Wrong == 0 {
		r.High = 1
	}
	return r
}

// betaQuantile inverts the regularised incomplete beta function by bisection, which cannot run away.
func betaQuantile(p, a, b float64) float64 {
	low, high := 0.0, 1.0
	for range 200 {
		mid := (low + high) / 2
		if mid == low || mid == high {
			break
		}
		if mathext.RegIncBeta(a, b, mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// binomialAtMost is P(X <= k) of n trials with probability p.
func binomialAtMost(k, n int, p float64) float64 {
	switch {
	case k >= n || p <= 0:
		return 1
	case p >= 1:
		return 0
	}
	return mathext.RegIncBeta(float64(n-k), float64(k)+1, 1-p)
}

// betaBinomialQuantiles are the alpha/2 and 1-alpha/2 quantiles of a beta-binomial number of n.
func betaBinomialQuantiles(n int, a, b, alpha float64) (low, high int) {
	low, high = -1, n
	sum := 0.0
	for k := 0; k <= n; k++ {
		x, y := float64(k), float64(n-k)
		sum += math.Exp(lchoose(n, k) + mathext.Lbeta(x+a, y+b) - mathext.Lbeta(a, b))
		if low < 0 && sum >= alpha/2 {
			low = k
		}
		if sum >= 1-alpha/2 {
			return max(low, 0), k
		}
	}
	return max(low, 0), high
}

func lchoose(n, k int) float64 {
	return lgamma(n+1) - lgamma(k+1) - lgamma(n-k+1)
}

func lgamma(n int) float64 {
	v, _ := math.Lgamma(float64(n))
	return v
}
