package balance

import (
	"math"
	"math/rand/v2"
)

// draw runs exact Hamiltonian dynamics inside the bounds (Pakman & Paninski 2014, J. Comput. Graph.
// Stat. 23:518): each draw swings a quarter turn and is mirrored at the walls it meets.
func (f *fan) draw() bool {
	rng := rand.New(rand.NewPCG(seedOfFan, uint64(len(f.near))))
	x, ok := f.inside()
	if !ok {
		return false
	}
	n := drawsMade
	v := make([]float64, len(x))
	for i := -n / 20; i < n && (i < fewestMade || f.work < mostWork); i++ {
		for k := range v {
			v[k] = rng.NormFloat64()
		}
		x = f.swing(x, v)
		if i >= 0 {
			f.draws = append(f.draws, append([]float64(nil), x...))
		}
	}
	return true
}

// swing follows xi(t) = v sin t + x cos t for a quarter turn, mirroring v at each wall.
func (f *fan) swing(x, v []float64) []float64 {
	x, v = append([]float64(nil), x...), append([]float64(nil), v...)
	left, last := math.Pi/2, -1
	for bounce := 0; bounce < mostWalls; bounce++ {
		t, wall := f.nextWall(x, v, last, left)
		sin, cos := math.Sincos(t)
		for k := range x {
			x[k], v[k] = v[k]*sin+x[k]*cos, v[k]*cos-x[k]*sin
		}
		if wall < 0 {
			return x
		}
		f.mirror(v, wall)
		left, last = left-t, wall
	}
	return x
}

// nextWall is the time until the first wall is met, not later than left.
func (f *fan) nextWall(x, v []float64, last int, left float64) (float64, int) {
	t, wall := left, -1
	f.work += float64(len(f.lower) * len(x))
	for i, row := range f.lower {
		a, b := 0.0, 0.0
		for k, l := range row {
			a += l * v[k]
			b += l * x[k]
		}
		g, square := f.near[i].mean, a*a+b*b
		if square == 0 || square <= g*g && g >= 0 {
			continue
		}
		if a < 0 && g+b <= 1e-9*f.near[i].sd {
			return 0, i // at the wall, moving out
		}
		// u(t) = g + size cos(t - phase) falls through zero at phase + acos(-g / size)
		hit := math.Atan2(a, b) + math.Acos(max(-1, min(1, -g/math.Sqrt(square))))
		if hit < 0 {
			hit += 2 * math.Pi
		}
		if i == last && (hit < 1e-9 || hit > 2*math.Pi-1e-9) {
			continue
		}
		if hit < t {
			t, wall = hit, i
		}
	}
	return t, wall
}

func (f *fan) mirror(v []float64, wall int) {
	row := f.lower[wall]
	dot, norm := 0.0, 0.0
	for k, l := range row {
		dot += l * v[k]
		norm += l * l
	}
	for k, l := range row {
		v[k] -= 2 * dot / norm * l
	}
}

// inside finds a point off every wall: from the bounded solution, at xi = L' p, it steps over the wall
// most broken, with a margin that is halved until it can be kept.
func (f *fan) inside() ([]float64, bool) {
	x := make([]float64, len(f.pivot))
	for i, row := range f.lower {
		for k, l := range row {
			x[k] += f.pull[i] * l
		}
	}
	for margin := 0.5; margin > 1e-7; margin /= 2 {
		for range 2000 {
			worst, by := f.mostBroken(x, margin)
			if worst < 0 {
				return x, true
			}
			row, norm := f.lower[worst], 0.0
			for _, l := range row {
				norm += l * l
			}
			for k, l := range row {
				x[k] += 1.1 * by / norm * l
			}
		}
	}
	return x, false
}

func (f *fan) mostBroken(x []float64, margin float64) (int, float64) {
	worst, most, by := -1, 0.0, 0.0
	for i, row := range f.lower {
		u := f.near[i].mean
		for k, l := range row {
			u += l * x[k]
		}
		if short := margin*f.near[i].sd - u; short > 0 && short/f.near[i].sd > most {
			worst, most, by = i, short/f.near[i].sd, short
		}
	}
	return worst, by
}
