package balance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"pgregory.net/rapid"
)

// A single Gaussian cut off at zero has closed forms (Johnson, Kotz & Balakrishnan 1994, Continuous
// Univariate Distributions, vol. 1, section 13.10.1): with a = -m/s, mean m + s phi(a)/(1-Phi(a)), and
// the p-quantile m + s z where 1-Phi(z) = (1-p)(1-Phi(a)).
func TestOneBoundInClosedForm(t *testing.T) {
	for _, m := range []float64{-3, -1, 0, 0.5, 2} {
		p := Problem{Unknowns: []Unknown{{Name: "x"}}, Readings: []Reading{{Terms: []Term{{0, 1}}, Value: m, SD: 1}}}
		e := solve(t, p).Of([]Term{{0, 1}})
		tail := math.Erfc(-m/math.Sqrt2) / 2
		phi := math.Exp(-m*m/2) / math.Sqrt(2*math.Pi)
		near(t, "mean", e.Mean, m+phi/tail, 1e-3)
		near(t, "sd", e.SD, math.Sqrt(1-m*phi/tail-phi*phi/tail/tail), 2e-3)
		near(t, "5 %", e.Low, m+upperQuantile(0.95*tail), 3e-3)
		near(t, "95 %", e.High, m+upperQuantile(0.05*tail), 3e-3)
	}
}

// Against rejection sampling: Gaussian draws of the unbounded solution, kept where no stream is
// negative. It shares nothing with the sampler but the covariance, which the published examples fix.
func TestRangesAgainstRejection(t *testing.T) {
	tried := 0
	for seed := uint64(1); tried < 4 && seed < 60; seed++ {
		rng := rand.New(rand.NewPCG(seed, 99))
		p := randomNetwork(rng, 6, 2)
		s := solve(t, p)
		kept := rejected(rng, s, 60000)
		if len(kept) < 8000 || len(s.Active) == 0 {
			continue
		}
		tried++
		for j := range p.Unknowns {
			e := s.Of([]Term{{j, 1}})
			x := make([]float64, len(kept))
			for d, row := range kept {
				x[d] = row[j]
			}
			sort.Float64s(x)
			what := fmt.Sprintf("seed %d stream %d", seed, j)
			near(t, what+" 5 %", e.Low, quantile(x, 0.05), 0.1*e.SD+1e-9)
			near(t, what+" 95 %", e.High, quantile(x, 0.95), 0.1*e.SD+1e-9)
		}
	}
	if tried < 4 {
		t.Fatalf("only %d networks had a bound near", tried)
	}
}

func rejected(rng *rand.Rand, s *Solution, proposals int) [][]float64 {
	n := len(s.problem.Unknowns)
	mean, l := make([]float64, n), square(n)
	for i := range n {
		mean[i] = s.free1([]Term{{i, 1}})
		for j := 0; j <= i; j++ {
			c := s.across(s.combine(s.r.inMeasured(makeVec([]Term{{i, 1}}, 0))), []combo{s.combine(s.r.inMeasured(makeVec([]Term{{j, 1}}, 0)))})[0]
			for k := range j {
				c -= l[i][k] * l[j][k]
			}
			switch {
			case i == j:
				l[i][i] = math.Sqrt(max(c, 0))
			case l[j][j] > 1e-6:
				l[i][j] = c / l[j][j]
			}
		}
	}
	var out [][]float64
	z, x := make([]float64, n), make([]float64, n)
	for range proposals {
		for k := range z {
			z[k] = rng.NormFloat64()
		}
		ok := true
		for i := 0; i < n && ok; i++ {
			x[i] = mean[i]
			for k := 0; k <= i; k++ {
				x[i] += l[i][k] * z[k]
			}
			ok = x[i] > -1e-6
		}
		if ok {
			out = append(out, append([]float64(nil), x...))
		}
	}
	return out
}

// Splitting an undetermined part more finely says nothing new, and must change no range.
func TestSplitOfUndeterminedChangesNothing(t *testing.T) {
	problem := func(parts int) Problem {
		p := Problem{Unknowns: []Unknown{{Name: "in"}, {Name: "out"}}}
		p.Readings = []Reading{{Terms: []Term{{0, 1}}, Value: 500, SD: 30}, {Terms: []Term{{1, 1}}, Value: 490, SD: 30}}
		lost := []Term{{0, 1}, {1, -1}}
		for k := range parts {
			p.Unknowns = append(p.Unknowns, Unknown{Name: fmt.Sprint("lost ", k)})
			lost = append(lost, Term{2 + k, -1})
		}
		p.Constraints = []Constraint{{Terms: lost}}
		return p
	}
	one, five := solve(t, problem(1)), solve(t, problem(5))
	for j := range 2 {
		a, b := one.Of([]Term{{j, 1}}), five.Of([]Term{{j, 1}})
		near(t, "low", b.Low, a.Low, 1e-9)
		near(t, "high", b.High, a.High, 1e-9)
	}
	if five.Of([]Term{{2, 1}}).Determined {
		t.Error("a fifth of the loss is undetermined")
	}
}

// Laws on random networks, some of them nonsense: every balance holds, nothing is negative, nothing is
// NaN, ranges are in order, chi-square under bounds is not below the free one.
func TestLaws(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 1))
		p := randomNetwork(rng, rapid.IntRange(1, 25).Draw(rt, "streams"), rapid.Float64Range(0, 1.2).Draw(rt, "measured"))
		s, err := Reconcile(p)
		if err != nil {
			rt.Fatalf("a network with doubts everywhere always has an answer: %v", err)
		}
		for _, c := range p.Constraints {
			if e := s.At(c.Terms); e.Determined && math.Abs(e.Value) > 1e-7*p.scale() {
				rt.Fatalf("%s is off by %g", c.Name, e.Value)
			}
		}
		for j := range p.Unknowns {
			e := s.Of([]Term{{j, 1}})
			if !e.Determined {
				continue
			}
			for _, x := range []float64{e.Value, e.Mean, e.SD, e.Low, e.High} {
				if !finite(x) {
					rt.Fatalf("stream %d: %+v", j, e)
				}
			}
			if e.Value < -1e-7*p.scale() || e.Low > e.High || e.Low < -1e-6*p.scale() {
				rt.Fatalf("stream %d: %+v", j, e)
			}
		}
		if s.ChiSquare < s.FreeChiSquare || !finite(s.ChiSquare) {
			rt.Fatalf("chi-square %g, free %g", s.ChiSquare, s.FreeChiSquare)
		}
	})
}

// A rectangular reading that nothing checks is level between its ends: 90 % of 1 to 3 lies between 1.1
// and 2.9, its standard deviation is 2/sqrt 12 (JCGM 100:2008, 4.3.7).
func TestRectangularReading(t *testing.T) {
	p := Problem{Unknowns: []Unknown{{Name: "x"}}, Readings: []Reading{{Terms: []Term{{0, 1}}, Value: 2, SD: 1 / math.Sqrt(3), Half: 1}}}
	e := solve(t, p).Of([]Term{{0, 1}})
	near(t, "5 %", e.Low, 1.1, 0.02)
	near(t, "95 %", e.High, 2.9, 0.02)
	near(t, "sd", e.SD, 2/math.Sqrt(12), 0.01)
}
