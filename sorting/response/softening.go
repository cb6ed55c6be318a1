package response

import "math"

// heatWindow is what hot-water tests of one piece leave of its softening temperature.
type heatWindow struct{ low, high float64 }

// probability that a piece of a product softening at s is stiff at low and soft at high, °C
// (method.md, response 3).
func (w heatWindow) probability(s float64) float64 {
	soft := func(t float64) float64 {
		switch {
		case math.IsInf(s, 1):
			return 0
		case math.IsInf(s, -1):
			return 1
		}
		return phi((t - s) / heatSD)
	}
	p := 1.0
	if !math.IsInf(w.high, 1) {
		p = soft(w.high)
	}
	if !math.IsInf(w.low, -1) {
		p -= soft(w.low)
	}
	return clamp(p)
}
