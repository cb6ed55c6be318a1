package triage

import (
	"math"

	"brinecut/sorting/response"
)

// stream adds the laws that this package draws from to the generator of the response model.
type stream struct{ *response.Stream }

func newStream(names ...string) *stream { return &stream{response.NewStream(names...)} }

func (s *stream) normal() float64 { return -math.Sqrt2 * math.Erfcinv(2*s.Uniform()) }

// logGamma draws the logarithm of a gamma variate of shape a: Marsaglia and Tsang, A simple method for
// generating gamma variables, ACM Trans. Math. Softw. 26 (2000) 363, with their boost for a < 1.
func (s *stream) logGamma(a float64) float64 {
	boost := 0.0
	if a < 1 {
		boost = math.Log(s.Uniform()) / a
		a++
	}
	d := a - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := s.normal()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		if math.Log(s.Uniform()) < 0.5*x*x+d-d*v+d*math.Log(v) {
			return math.Log(d*v) + boost
		}
	}
}

// dirichlet draws shares with the given parameters; shares below one in ten thousand are dropped.
func (s *stream) dirichlet(alpha []float64) []float64 {
	w := make([]float64, len(alpha))
	top := math.Inf(-1)
	for i, a := range alpha {
		w[i] = math.Inf(-1)
		if a > 0 {
			w[i] = s.logGamma(a)
		}
		top = math.Max(top, w[i])
	}
	total := 0.0
	for i := range w {
		w[i] = math.Exp(w[i] - top)
		if w[i] < 1e-4 {
			w[i] = 0
		}
		total += w[i]
	}
	for i := range w {
		w[i] /= total
	}
	return w
}

// pick draws an index in proportion to the weights.
func (s *stream) pick(w []float64) int {
	total := 0.0
	for _, x := range w {
		total += x
	}
	u := s.Uniform() * total
	for i, x := range w {
		if u -= x; u < 0 {
			return i
		}
	}
	return len(w) - 1
}
