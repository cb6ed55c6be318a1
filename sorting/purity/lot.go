package purity

import (
	"math"
	"sort"
)

// upperInLot is the largest number of other-material pieces in a lot of c.Of that the counts do not rule
// out at confidence 1-alpha: the largest D with P(at most c.Wrong alarms | D) > alpha, exact hypergeometric
// (sampling without replacement), each other-material piece drawn raising an alarm with probability finds.
func upperInLot(c Counts, alpha, finds float64) int {
	least := c.Wrong // that many were seen
	most := c.Of
	if finds >= 1 {
		most = c.Of - (c.Tested - c.Wrong) // the pieces seen to be right are right
	}
	// the tail falls as D grows: the first D that is ruled out, less one
	n := sort.Search(most-least, func(i int) bool { return alarmsAtMost(c, least+1+i, finds) <= alpha })
	return least + n
}

// alarmsAtMost is the probability of at most c.Wrong alarms among c.Tested pieces drawn without
// replacement from c.Of, of which d are of another material.
func alarmsAtMost(c Counts, d int, finds float64) float64 {
	first, last := max(0, c.Tested-(c.Of-d)), min(c.Tested, d)
	sum := 0.0
	for j := first; j <= last; j++ {
		seen := binomialAtMost(c.Wrong, j, finds)
		if j > c.Wrong && seen < 1e-18 {
			break // falls on with j: nothing more to add
		}
		sum += seen * hypergeometric(j, d, c.Tested, c.Of)
	}
	return math.Min(1, sum)
}

// hypergeometric is the probability that j of the n pieces drawn from a lot of m are among its d others.
func hypergeometric(j, d, n, m int) float64 {
	return math.Exp(lchoose(d, j) + lchoose(m-d, n-j) - lchoose(m, n))
}

// Sizes are the sample sizes, none found wrong, that published rules ask for to rule out a lot of Lot
// pieces with Others of another material. Claim decides by Exact; the others are approximations in
// circulation, and may differ from it by a piece or two.
type Sizes struct {
	Lot, Others int
	Exact       int // hypergeometric, the test's misses included
	CannonRoe   int // Cannon & Roe 1982, Livestock disease surveys; for a test that misses nothing
	MacDiarmid  int // MacDiarmid 1988, Rev. sci. tech. Off. int. Epiz. 7:589; misses included
}

// Detect gives the sample sizes that would find at least one of others pieces in a lot with the given
// confidence, by a test that finds each with probability finds. It errs with a *Refusal on a confidence or
// share outside 0 to 1 and on others outside 1 to lot. Exact is 0 where testing the whole lot is not enough.
func Detect(lot, others int, confidence, finds float64) (Sizes, error) {
	if others < 1 || others > lot || lot > maxPieces {
		return Sizes{}, refuse("the others are pieces of the lot", "%d others in a lot of %d cannot be sized", others, lot)
	}
	if !(confidence > 0 && confidence < 1) || !(finds > 0 && finds <= 1) {
		return Sizes{}, refuse("give shares between 0 and 100 %", "a confidence of %s with a test that finds %s cannot be", percent(confidence), percent(finds))
	}
	alpha, n, d := 1-confidence, float64(lot), float64(others)
	missed := -math.Expm1(math.Log(alpha) / d)
	exact := 1 + sort.Search(lot, func(i int) bool {
		return alarmsAtMost(Counts{Tested: i + 1, Of: lot}, others, finds) <= alpha
	})
	if exact > lot {
		exact = 0
	}
	return Sizes{Lot: lot, Others: others, Exact: exact,
		CannonRoe:  min(lot, ceil(missed*(n-(d-1)/2))),
		MacDiarmid: min(lot, ceil(n/finds*missed))}, nil
}

// sizes for the claim: the fewest others that would break it.
func sizes(lot int, o Options) *Sizes {
	_, finds := o.misses()
	others := int(math.Floor((1-o.piecePurity())*float64(lot)+1e-9)) + 1
	s, err := Detect(lot, others, o.Confidence, finds)
	if lot == 0 || err != nil {
		return nil
	}
	return &s
}

// ceil with a guard against the last bit: 58.999999999999999 and 59.00000000000001 are 59.
func ceil(x float64) int { return int(math.Ceil(x - 1e-9)) }
