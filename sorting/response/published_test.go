package response

import (
	"math"
	"testing"
)

// Rounded weighings: Gelman and others, Bayesian Data Analysis, exercise 3.5: five weighings of one thing
// read 10 10 12 11 9 to the nearest unit, the prior level in (mu, log sigma). Taken as exact mu has
// mean 10.4 and follows t4(10.4, 0.51) (published); with the rounding allowed for, a grid of another
// program gives mean 10.4006, standard deviation 0.7085 (exact: 0.721), 95 % from 9.002 to 11.786.
func TestRoundedWeighings(t *testing.T) {
	read := []float64{10, 10, 12, 11, 9}
	rounded := func(y, mu, sd float64) float64 { return airyCDF(y+0.5, mu, sd, 0) - airyCDF(y-0.5, mu, sd, 0) }
	exact := func(y, mu, sd float64) float64 { return normalPDF(y, mu, sd) }
	for _, x := range []struct {
		what              string
		likelihood        func(y, mu, sd float64) float64
		mean, sd          float64
		low, high, within float64
	}{
		{"as exact", exact, 10.400, 0.721, 8.978, 11.809, 0.003},
		{"as rounded", rounded, 10.4006, 0.7085, 9.002, 11.786, 0.003},
	} {
		var total, first, second float64
		const n = 4001
		share := make([]float64, n)
		var nodes []float64
		for logSD := -3.0; logSD < 5; logSD += 0.02 {
			sd := math.Exp(logSD)
			mu, cum, z := grid(-20, 40, n, func(mu float64) float64 {
				f := 1.0
				for _, y := range read {
					f *= x.likelihood(y, mu, sd)
				}
				return f
			})
			nodes = mu
			for i := range mu {
				p := z * cum[i]
				if i > 0 {
					p -= z * cum[i-1]
				}
				share[i] += p
				total, first, second = total+p, first+p*mu[i], second+p*mu[i]*mu[i]
			}
		}
		mean := first / total
		sd := math.Sqrt(second/total - mean*mean)
		cum := make([]float64, n)
		sum := 0.0
		for i := range share {
			sum += share[i] / total
			cum[i] = sum
		}
		low, high := pick(nodes, cum, 0.025), pick(nodes, cum, 0.975)
		if math.Abs(mean-x.mean) > 0.001 || math.Abs(sd-x.sd) > x.within || math.Abs(low-x.low) > 0.01 || math.Abs(high-x.high) > 0.01 {
			t.Errorf("%s: mean %.4f sd %.4f, 95 %% %.3f to %.3f; published %.4f %.4f %.3f %.3f", x.what, mean, sd, low, high, x.mean, x.sd, x.low, x.high)
		}
	}
}
