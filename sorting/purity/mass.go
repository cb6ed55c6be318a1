package purity

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Grab is one random piece, or one random grab of pieces, weighed and sorted.
type Grab struct {
	Mass   float64 // g
	Others float64 // g of it that are another material
}

// MassShare is the share of others by mass, estimated from grabs. It is an estimate, never a demonstration:
// the interval is normal-theory, and with few grabs that hold others it is too narrow.
type MassShare struct {
	Estimate
	SD               float64 // standard error of Best
	Grabs            int
	spread, meanMass float64
}

// ByMass estimates the share of others by mass from grabs drawn at random of a sack that holds of grabs in
// all (0 = many): the ratio estimator, since grabs differ in mass. It errs with a *Refusal on fewer than
// two grabs, on masses that cannot be, and where no grab holds others: then only a bound by counting holds.
func ByMass(grabs []Grab, of int, confidence float64) (MassShare, error) {
	if confidence == 0 {
		confidence = DefaultConfidence
	}
	x, y := make([]float64, len(grabs)), make([]float64, len(grabs))
	others := 0.0
	for i, g := range grabs {
		if !(g.Mass > 0 && g.Others >= 0 && g.Others <= g.Mass) || math.IsInf(g.Mass, 0) {
			return MassShare{}, refuse("weigh each grab, and the others in it", "a grab of %g g with %g g of others cannot be", g.Mass, g.Others)
		}
		x[i], y[i] = g.Mass, g.Others
		others += g.Others
	}
	switch {
	case len(grabs) < 2:
		return MassShare{}, refuse("draw more", "%d grabs have no spread", len(grabs))
	case of > 0 && of < len(grabs):
		return MassShare{}, refuse("count the grabs in the whole sack", "%d grabs of %d cannot be", len(grabs), of)
	case !(confidence > 0 && confidence < 1):
		return MassShare{}, refuse("give one between 0 and 100 %, both excluded", "a confidence of %s cannot be", percent(confidence))
	case others == 0:
		return MassShare{}, refuse("count pieces instead, and state how many times as heavy a wrong piece can be", "no grab holds others, so their mass has no spread")
	}
	r, se, spread := ratio(x, y, of)
	t := studentT(1-(1-confidence)/2, len(grabs)-1)
	return MassShare{Estimate: Estimate{Best: r, Low: clip(r - t*se), High: clip(r + t*se)}, SD: se, Grabs: len(grabs),
		spread: spread, meanMass: mean(x)}, nil
}

// GrabsFor is how many grabs like these bring the share of others to within the relative error at the
// confidence, after ASTM D5231-92: n = (t s/(e x))², t for n-1. It errs on an error or confidence outside 0 to 1.
func (m MassShare) GrabsFor(relError, confidence float64) (int, error) {
	return grabsFor(m.Best, m.spread/m.meanMass, relError, confidence)
}

func grabsFor(mean, sd, relError, confidence float64) (int, error) {
	if !(relError > 0 && relError < 1) || !(confidence > 0 && confidence < 1) || !(mean > 0) {
		return 0, refuse("give shares between 0 and 100 %", "an error of %s at %s confidence cannot be", percent(relError), percent(confidence))
	}
	q := 1 - (1-confidence)/2
	size := func(t float64) int {
		return int(math.Min(farPieces, math.Ceil(math.Pow(t*sd/(relError*mean), 2)-1e-9)))
	}
	n := max(2, size(distuv.UnitNormal.Quantile(q)))
	for n < farPieces && size(studentT(q, n-1)) > n { // the first that holds; two or three steps
		n++
	}
	return n, nil
}

// ratio is sum y over sum x, its standard error with the finite-population correction for n of the of
// grabs (0 = many), and the standard deviation of y about it (Cochran 1977, Sampling Techniques, ch. 6).
func ratio(x, y []float64, of int) (r, se, spread float64) {
	n := float64(len(x))
	mx := mean(x)
	r = mean(y) / mx
	ss := 0.0
	for i := range x {
		d := y[i] - r*x[i]
		ss += d * d
	}
	spread = math.Sqrt(ss / (n - 1))
	fpc := 1.0
	if of > 0 {
		fpc -= n / float64(of)
	}
	return r, spread / mx * math.Sqrt(fpc/n), spread
}

func mean(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s / float64(len(v))
}

func studentT(q float64, dof int) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(dof)}.Quantile(q)
}

// MassRatio (method.md (C16)) bounds how many times as heavy a wrong piece is as the mean right one, for Options: the
// heaviest piece weighed, of either kind, over the mean of the right ones. It assumes that no wrong piece
// is heavier than the heaviest seen; 0 where no right piece was weighed.
func MassRatio(right, wrong []float64) float64 {
	if len(right) == 0 {
		return 0
	}
	heaviest := 0.0
	for _, m := range append(append([]float64{}, right...), wrong...) {
		heaviest = math.Max(heaviest, m)
	}
	if m := mean(right); m > 0 {
		return heaviest / m
	}
	return 0
}
