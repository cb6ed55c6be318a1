package response

import (
	"encoding/json"
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"
)

// cases: density looked at, product, scatter, mean air share.
var airy = [][4]float64{{1.255, 1.27, 0.003, 0.02}, {1.255, 1.24, 0.003, 0.02}, {1.25, 1.25, 0.003, 0.006}, {1.0, 1.04, 0.003, 0.02}, {1.20, 1.27, 0.004, 0.05}, {1.27, 1.27, 0.003, 0.001}}

// TestAiryAgainstScipy checks the law of an airy piece against scipy.stats.exponnorm, an independent
// implementation of the exponentially modified normal distribution: -x follows it with K = d a / sd.
func TestAiryAgainstScipy(t *testing.T) {
	script := "import json,sys\nfrom scipy.stats import exponnorm\nout=[]\nfor x,d,s,a in json.load(sys.stdin):\n k=d*a/s\n out.append([float(exponnorm.sf(-x,k,loc=-d,scale=s)),float(exponnorm.pdf(-x,k,loc=-d,scale=s))])\nprint(json.dumps(out))"
	in, _ := json.Marshal(airy)
	cmd := exec.Command("python3", "-c", script)
	cmd.Path = pythonWithScipy(t)
	cmd.Stdin = strings.NewReader(string(in))
	raw, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var want [][2]float64
	if err := json.Unmarshal(raw, &want); err != nil {
		t.Fatal(err)
	}
	for i, c := range airy {
		if got := airyCDF(c[0], c[1], c[2], c[3]); math.Abs(got-want[i][0]) > 1e-9 {
			t.Errorf("%v: cdf %.12f, scipy %.12f", c, got, want[i][0])
		}
		if got := airyPDF(c[0], c[1], c[2], c[3]); math.Abs(got-want[i][1]) > 1e-7*(1+want[i][1]) {
			t.Errorf("%v: pdf %.10f, scipy %.10f", c, got, want[i][1])
		}
	}
}

// pythonWithScipy finds Debian's python with scipy, or skips.
func pythonWithScipy(t *testing.T) string {
	t.Helper()
	for _, p := range []string{"/usr/bin/python3", "python3"} {
		path, err := exec.LookPath(p)
		if err == nil && exec.Command(path, "-c", "import scipy.stats").Run() == nil {
			return path
		}
	}
	t.Skip("no python3 with scipy here: install Debian's python3-scipy to run this comparison")
	return ""
}

// TestAiryAgainstIntegral integrates the exponential by hand (Simpson), a second way.
func TestAiryAgainstIntegral(t *testing.T) {
	for _, c := range airy {
		x, d, sd, a := c[0], c[1], c[2], c[3]
		const n = 20000
		top := 40 * a
		sum := 0.0
		for i := 0; i <= n; i++ {
			v := top * float64(i) / n
			f := math.Exp(-v/a) / a * phi((x-d*(1-v))/sd)
			switch {
			case i == 0 || i == n:
			case i%2 == 1:
				f *= 4
			default:
				f *= 2
			}
			sum += f
		}
		if want, got := sum*top/n/3, airyCDF(x, d, sd, a); math.Abs(got-want) > 1e-4 {
			t.Errorf("%v: %.8f, integral %.8f", c, got, want)
		}
	}
}

// TestAirlessIsNormal: without air the law is the normal one; P(X < mean + 1.96 sd) = 0.975 (any table
// of the normal distribution).
func TestAirlessIsNormal(t *testing.T) {
	if p := airyCDF(1.25+1.959964*0.003, 1.25, 0.003, 0); math.Abs(p-0.975) > 1e-6 {
		t.Errorf("P = %.7f, want 0.975", p)
	}
}

// TestWindowsSumToOne: floats, hovers and sinks share out all of the probability.
func TestWindowsSumToOne(t *testing.T) {
	for _, c := range airy {
		b := c[0]
		s := window{math.Inf(-1), b - hover}.probability(c[1], c[3]) + window{b - hover, b + hover}.probability(c[1], c[3]) +
			window{b + hover, math.Inf(1)}.probability(c[1], c[3])
		if math.Abs(s-1) > 1e-9 {
			t.Errorf("%v: outcomes sum to %.12f", c, s)
		}
	}
}

func Example_sinker() {
	// The hand calculation of docs/method.md: one sinker at 1.255 of a product known to be 1.270, 2 % air.
	fmt.Printf("%.2f\n", 1-airyCDF(1.255+hover, 1.270, pieceSD, 0.02))
	// Output: 0.37
}
