package balance

import (
	"math"
	"math/rand/v2"
	"sort"
)

// Sizes of the work on a truncated distribution: judgement, but for the seed.
const (
	nearBound  = 5    // a bound farther than this many standard deviations is left out of the draws
	drawsMade  = 2000 // draws of the truncated distribution
	seedOfFan  = 20   // fixed, so that output repeats
	mostWork   = 4e6  // multiplications after which draws end early, in tight corners of many bounds
	fewestMade = 500
	mostWalls  = 300 // met in one draw
)

// fan holds draws of the Gaussian that the readings leave, truncated to the bounds that are near:
// u = q + L xi with xi standard normal, and all u >= 0. Everything else is Gaussian given u.
type fan struct {
	near  []combo
	pivot []int       // of near: the combinations that carry the independent directions
	lower [][]float64 // pivoted Cholesky factor of their covariance, all rows of near
	draws [][]float64 // xi
	apart []float64   // by draw: a standard normal for what is independent of near
	pull  []float64   // by near: multiplier in the bounded solution
	work  float64
}

// newFan draws where a bound is near; nil where none is. It is false where nothing lies inside.
func newFan(s *Solution) (*fan, bool) {
	f := &fan{}
	for i, b := range s.bounds {
		if b.sd > 0 && min(b.mean, s.slack[i]) < nearBound*b.sd && s.doubtful(b) {
			f.near, f.pull = append(f.near, b), append(f.pull, 0)
			for k, a := range s.active {
				if a == i {
					f.pull[len(f.pull)-1] = s.pull[k]
				}
			}
		}
	}
	if len(f.near) == 0 {
		return nil, true
	}
	f.factor(s)
	if len(f.near) == 1 {
		f.draws = line(f.near[0].mean / f.lower[0][0])
	} else if !f.draw() {
		return nil, false
	}
	f.apart = make([]float64, len(f.draws))
	for i := range f.apart {
		f.apart[i] = even(i, len(f.draws))
	}
	return f, true
}

// doubtful reports whether the variance of a combination is more than rounding: two ways of reckoning
// it agree.
func (s *Solution) doubtful(b combo) bool { return s.across(b, []combo{b})[0] > b.sd*b.sd/4 }

// factor computes the pivoted Cholesky factor of the covariance of the near bounds.
func (f *fan) factor(s *Solution) {
	n := len(f.near)
	m := make([][]float64, n)
	left := make([]float64, n)
	for i := range m {
		m[i] = s.across(f.near[i], f.near)
		left[i] = m[i][i]
	}
	f.lower = make([][]float64, n)
	for {
		best := -1
		for i := range left {
			if left[i] > 1e-9*m[i][i] && (best < 0 || left[i] > left[best]) {
				best = i
			}
		}
		if best < 0 {
			return
		}
		k := len(f.pivot)
		root := math.Sqrt(left[best])
		f.pivot = append(f.pivot, best)
		for i := range n {
			x := m[i][best]
			for j := range k {
				x -= f.lower[i][j] * f.lower[best][j]
			}
			f.lower[i] = append(f.lower[i], x/root)
			left[i] -= (x / root) * (x / root)
		}
		left[best] = 0
	}
}

// line spreads draws evenly over a single standard normal cut off below -z: exact, no chance in it.
func line(z float64) [][]float64 {
	tail := upperTail(-z)
	out := make([][]float64, drawsMade)
	for i := range out {
		p := (float64(i) + 0.5) / drawsMade
		if z < -30 { // so far out the tail is exponential: Mills' ratio
			out[i] = []float64{-z + math.Log(p)/z}
			continue
		}
		out[i] = []float64{upperQuantile(tail * p)}
	}
	rand.New(rand.NewPCG(seedOfFan, 1)).Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

func upperTail(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// upperQuantile is z with upperTail(z) = p.
func upperQuantile(p float64) float64 { return -normalQuantile(p) }

// spread fills mean, doubt and range of a combination from the draws.
func (f *fan) spread(s *Solution, c combo, e *Estimate) {
	if c.sd == 0 {
		return
	}
	slope, rest := f.regress(s, c)
	if rest >= 0.9999*c.sd {
		return // none of the near bounds has to do with it
	}
	x := make([]float64, len(f.draws))
	sum, square := 0.0, 0.0
	for i, xi := range f.draws {
		shift := 0.0
		for k, b := range slope {
			shift += b * xi[k]
		}
		sum, square = sum+shift, square+shift*shift
		x[i] = c.mean + shift + rest*f.apart[i]
	}
	n := float64(len(x))
	e.Mean = c.mean + sum/n
	e.SD = math.Sqrt(max(0, square/n-sum/n*sum/n) + rest*rest)
	sort.Float64s(x)
	e.Low, e.High = quantile(x, 0.05), quantile(x, 0.95)
}

// regress writes c as mean + slope xi + rest z with z apart from all near bounds.
func (f *fan) regress(s *Solution, c combo) (slope []float64, rest float64) {
	cov := s.across(c, f.near)
	slope = make([]float64, len(f.pivot))
	left := c.sd * c.sd
	for k, p := range f.pivot {
		x := cov[p]
		for j := range k {
			x -= slope[j] * f.lower[p][j]
		}
		slope[k] = x / f.lower[p][k]
		left -= slope[k] * slope[k]
	}
	if left < 1e-9*c.sd*c.sd {
		left = 0
	}
	return slope, math.Sqrt(left)
}

// even is the i-th of n standard normal quantiles, taken in the order of the golden ratio.
func even(i, n int) float64 {
	u := math.Mod((float64(i)+0.5)*(math.Sqrt(5)-1)/2, 1)
	return normalQuantile(max(0.5/float64(n), min(1-0.5/float64(n), u)))
}

// quantile of sorted x, between neighbours (Hyndman & Fan 1996, type 7).
func quantile(x []float64, p float64) float64 {
	at := p * float64(len(x)-1)
	i := int(at)
	if i+1 >= len(x) {
		return x[len(x)-1]
	}
	return x[i] + (at-float64(i))*(x[i+1]-x[i])
}
