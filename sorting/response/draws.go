package response

import (
	"hash/fnv"
	"math"
)

// Stream is a small, fixed generator of random numbers (splitmix64), seeded by names, so that output
// repeats and adding a lot does not reshuffle the others.
type Stream struct{ state uint64 }

// NewStream begins the stream of these names.
func NewStream(names ...string) *Stream {
	h := fnv.New64a()
	for _, n := range names {
		h.Write([]byte(n))
		h.Write([]byte{0})
	}
	return &Stream{h.Sum64()}
}

// Next is a uniform whole number.
func (s *Stream) Next() uint64 {
	s.state += 0x9e3779b97f4a7c15
	z := s.state
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return z ^ (z >> 31)
}

// Uniform is in (0, 1).
func (s *Stream) Uniform() float64 { return (float64(s.Next()>>11) + 0.5) / (1 << 53) }

// strata gives n uniforms, one from each n-th part of (0, 1), in shuffled order.
func (s *Stream) strata(n int) []float64 {
	u := make([]float64, n)
	for i := range u {
		u[i] = (float64(i) + s.Uniform()) / float64(n)
	}
	for i := n - 1; i > 0; i-- {
		j := int(s.Next() % uint64(i+1))
		u[i], u[j] = u[j], u[i]
	}
	return u
}

// normals gives n standard normal numbers, stratified.
func (s *Stream) normals(n int) []float64 {
	z := s.strata(n)
	for i, u := range z {
		z[i] = quantileNormal(u)
	}
	return z
}

// quantileNormal is the inverse of phi.
func quantileNormal(u float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*u) }
