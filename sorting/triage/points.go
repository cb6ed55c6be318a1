package triage

import (
	"hash/fnv"
	"math"
)

// stream is a fixed generator of random numbers seeded by names (splitmix64), so that output repeats
// and one lot's numbers do not depend on the others.
type stream struct{ state uint64 }

func newStream(names ...string) *stream {
	h := fnv.New64a()
	for _, n := range names {
		h.Write([]byte(n))
		h.Write([]byte{0})
	}
	return &stream{h.Sum64()}
}

func (s *stream) next() uint64 {
	s.state += 0x9e3779b97f4a7c15
	z := s.state
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return z ^ (z >> 31)
}

// uniform is in (0, 1).
func (s *stream) uniform() float64 { return (float64(s.next()>>11) + 0.5) / (1 << 53) }

func (s *stream) normal() float64 { return -math.Sqrt2 * math.Erfcinv(2*s.uniform()) }

// logGamma draws the logarithm of a gamma variate of shape a: Marsaglia and Tsang, A simple method for
// generating gamma variables, ACM Trans. Math. Softw. 26 (2000) 363, with their boost for a < 1.
func (s *stream) logGamma(a float64) float64 {
	boost := 0.0
	if a < 1 {
		boost = math.Log(s.uniform()) / a
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
		if math.Log(s.uniform()) < 0.5*x*x+d-d*v+d*math.Log(v) {
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
	u := s.uniform() * total
	for i, x := range w {
		if u -= x; u < 0 {
			return i
		}
	}
	return len(w) - 1
}
