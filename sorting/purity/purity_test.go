package purity

import (
	"bufio"
	"errors"
	"fmt"
	"math"
	"math/big"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// rows reads a table of published values: comment lines, a head, then data.
func rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/published/sampling/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out [][]string
	for s := bufio.NewScanner(f); s.Scan(); {
		if !strings.HasPrefix(s.Text(), "#") {
			out = append(out, strings.Split(s.Text(), "\t"))
		}
	}
	return out[1:]
}

func number(t *testing.T, s string) (x float64) {
	t.Helper()
	if _, err := fmt.Sscan(s, &x); err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return x
}

func claim(t *testing.T, c Counts, o Options) Result {
	t.Helper()
	r, err := Claim(c, o)
	if err != nil {
		t.Fatalf("%+v %+v: %v", c, o, err)
	}
	return r
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.6g, published %.6g ± %g", what, got, want, tolerance)
	}
}

// Sources stand in the file. The published limits are of the share found; Claim's are of what is left.
func TestPublishedIntervals(t *testing.T) {
	for _, f := range rows(t, "limits.tsv") {
		c := Counts{Wrong: int(number(t, f[2])), Tested: int(number(t, f[3]))}
		r := claim(t, c, Options{Confidence: number(t, f[4])})
		got := r.Exact
		if f[1] == "bayes" {
			got = r.Bayes
		}
		tol := number(t, f[7])
		near(t, f[0]+" low", 1-got.High, number(t, f[5]), tol)
		near(t, f[0]+" high", 1-got.Low, number(t, f[6]), tol)
	}
}

// n = ln(1-C)/ln(R) rounded up: common tables of zero-failure demonstration; 2995 is printed in the
// documentation of the Python library "reliability", sample_size_no_failures(0.999, 95 %).
func TestPublishedZeroFailure(t *testing.T) {
	for _, c := range []struct {
		confidence, purity float64
		want               int
	}{{.90, .90, 22}, {.90, .95, 45}, {.95, .90, 29}, {.95, .95, 59}, {.95, .99, 299}, {.95, .999, 2995}} {
		r := claim(t, Counts{}, Options{Confidence: c.confidence, Purity: c.purity})
		if r.PiecesNeeded == nil || *r.PiecesNeeded != c.want {
			t.Errorf("%v/%v: %v pieces, published %d", c.confidence, c.purity, r.PiecesNeeded, c.want)
			continue
		}
		for more, want := range map[int]bool{0: true, -1: false} {
			s := claim(t, Counts{Tested: c.want + more}, Options{Confidence: c.confidence, Purity: c.purity})
			if s.Supported != want {
				t.Errorf("%v/%v with %d pieces: supported %v", c.confidence, c.purity, c.want+more, s.Supported)
			}
		}
	}
}

// Sample sizes of the manual page rsu.sssep.rs of the R package epiR (MacDiarmid 1988): 65 and 15. Cannon &
// Roe 1982: 56 and 45, and 14; exact hypergeometric 13, 56, 45 (recomputed). The rules differ by a piece or two.
func TestPublishedFiniteLots(t *testing.T) {
	for _, c := range []struct {
		lot, others              int
		finds                    float64
		exact, cannon, macDiarmd int
	}{{1000, 50, .9, 0, 0, 65}, {200, 40, 1, 13, 14, 15}, {500, 25, 1, 56, 56, 0}, {100, 5, 1, 45, 45, 0}} {
		s, err := Detect(c.lot, c.others, .95, c.finds)
		if err != nil {
			t.Fatal(err)
		}
		for what, v := range map[string][2]int{"exact": {s.Exact, c.exact}, "Cannon-Roe": {s.CannonRoe, c.cannon}, "MacDiarmid": {s.MacDiarmid, c.macDiarmd}} {
			if v[1] != 0 && v[0] != v[1] {
				t.Errorf("lot %d, others %d: %s %d, published %d", c.lot, c.others, what, v[0], v[1])
			}
		}
	}
}

// Manual page epi.prev of the R package epiR: 23 of 150, sensitivity .96, specificity .89: true share 5.1 %.
// It prints 0-13 % on Blaker's apparent limits; on Clopper-Pearson ends the upper one is .131.
func TestPublishedRoganGladen(t *testing.T) {
	r := claim(t, Counts{Tested: 150, Wrong: 23}, Options{Test: &Test{Finds: .96, FalseAlarms: .11}})
	near(t, "best", r.Corrected.Best, .051, .0005)
	near(t, "low", r.Corrected.Low, 0, 0)
	near(t, "high", r.Corrected.High, .131, .0005)
}

// Manual page prevSeSp of the R package asht, after Lang & Reiczigel 2014, Prev. Vet. Med. 113:13.
func TestPublishedLangReiczigel(t *testing.T) {
	for _, c := range []struct {
		wrong, tested  int
		trials         Trials
		low, high, tol float64
	}{
		{4060, 11284, Trials{178, 179, 358, 359}, .349, .372, .0005},
		{51, 2971, Trials{32, 33, 20, 20}, 0, .053, .0005},
		{259, 509, Trials{84, 127, 96, 109}, .58, .87, .005},
	} {
		r := claim(t, Counts{Tested: c.tested, Wrong: c.wrong}, Options{Trials: &c.trials})
		near(t, "low", r.Corrected.Low, c.low, c.tol)
		near(t, "high", r.Corrected.High, c.high, c.tol)
	}
}

// tailExact is P(at most k others in n drawn of m, d of them others) in whole numbers: no code shared.
func tailExact(k, n, d, m int) float64 {
	sum := new(big.Int)
	for j := 0; j <= k && j <= d; j++ {
		a := new(big.Int).Binomial(int64(d), int64(j))
		if n-j > m-d {
			continue
		}
		sum.Add(sum, a.Mul(a, new(big.Int).Binomial(int64(m-d), int64(n-j))))
	}
	f, _ := new(big.Rat).SetFrac(sum, new(big.Int).Binomial(int64(m), int64(n))).Float64()
	return f
}

func TestLotLimitAgainstWholeNumbers(t *testing.T) {
	for _, m := range []int{1, 7, 40, 120} {
		for n := 0; n <= m; n += max(1, m/9) {
			for k := 0; k <= n; k += max(1, n/4) {
				most := k
				for d := k; d <= m-(n-k); d++ {
					if tailExact(k, n, d, m) > .05 {
						most = d
					}
				}
				r := claim(t, Counts{Tested: n, Wrong: k, Of: m}, Options{})
				near(t, fmt.Sprintf("%d of %d, lot %d", k, n, m), r.AtLeast, 1-float64(most)/float64(m), 1e-12)
			}
		}
	}
}

func TestWholeLotTestedIsKnown(t *testing.T) {
	r := claim(t, Counts{Tested: 40, Wrong: 3, Of: 40}, Options{Purity: .95})
	for what, v := range map[string]float64{"at least": r.AtLeast, "low": r.Exact.Low, "high": r.Exact.High, "bayes": r.Bayes.Low} {
		near(t, what, v, 37./40, 1e-12)
	}
	if r.Supported || r.PiecesNeeded != nil {
		t.Errorf("92.5 %% known for certain, 95 %% asked: supported %v, needed %v", r.Supported, r.PiecesNeeded)
	}
}

func TestRefused(t *testing.T) {
	bad := math.NaN()
	for _, c := range []struct {
		because string
		c       Counts
		o       Options
	}{
		{"more wrong than tested", Counts{Tested: 3, Wrong: 4}, Options{}},
		{"negative", Counts{Tested: -1}, Options{}},
		{"negative wrong", Counts{Tested: 1, Wrong: -1}, Options{}},
		{"more tested than there are", Counts{Tested: 9, Of: 8}, Options{}},
		{"too many", Counts{Tested: 1 << 30}, Options{}},
		{"confidence 1", Counts{}, Options{Confidence: 1}},
		{"confidence NaN", Counts{}, Options{Confidence: bad}},
		{"purity above 1", Counts{}, Options{Purity: 1.01}},
		{"purity NaN", Counts{}, Options{Purity: bad}},
		{"mass ratio", Counts{}, Options{MassRatio: -1}},
		{"finds no more than it falsely alarms", Counts{}, Options{Test: &Test{Finds: .2, FalseAlarms: .2}}},
		{"finds nothing", Counts{}, Options{Test: &Test{}}},
		{"finds more than all", Counts{}, Options{Test: &Test{Finds: 1.2}}},
		{"rates NaN", Counts{}, Options{Test: &Test{Finds: 1, FalseAlarms: bad}}},
		{"trials of nothing", Counts{}, Options{Trials: &Trials{}}},
		{"found more than tried", Counts{}, Options{Trials: &Trials{5, 4, 4, 4}}},
		{"trials tell nothing apart", Counts{}, Options{Trials: &Trials{2, 4, 2, 4}}},
		{"errors given twice", Counts{}, Options{Test: &Test{Finds: 1}, Trials: &Trials{4, 4, 4, 4}}},
	} {
		_, err := Claim(c.c, c.o)
		var r *Refusal
		if !errors.As(err, &r) || r.Fault == "" || r.Right == "" {
			t.Errorf("%s: %v", c.because, err)
		}
	}
}

// What holds for every claim: shares stay shares, limits stand in order, doubt never helps.
func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 400).Draw(t, "tested")
		c := Counts{Tested: n, Wrong: rapid.IntRange(0, n).Draw(t, "wrong")}
		if rapid.Bool().Draw(t, "counted lot") {
			c.Of = n + rapid.IntRange(0, 300).Draw(t, "rest")
		}
		o := Options{Confidence: rapid.Float64Range(.5, .999).Draw(t, "confidence"), Purity: rapid.Float64Range(.01, 1).Draw(t, "purity")}
		plain, err := Claim(c, o)
		if err != nil {
			t.Fatal(err)
		}
		ordered := plain.Exact.Low <= plain.AtLeast+1e-9 && plain.Exact.Low <= plain.Exact.High && plain.Bayes.Low <= plain.Bayes.High
		if !ordered || plain.Exact.Low < 0 || plain.Exact.High > 1 || plain.Bayes.Low < 0 || plain.Bayes.High > 1 || math.IsNaN(plain.AtLeast) {
			t.Fatalf("limits out of order: %+v", plain)
		}
		if need := plain.PiecesNeeded; need != nil {
			if (*need == 0) != plain.Supported {
				t.Fatalf("supported %v, needs %d more", plain.Supported, *need)
			}
			if *need > 0 && *need < 1e5 {
				grown := c
				grown.Tested += *need
				if r, _ := Claim(grown, o); !r.Supported {
					t.Fatalf("%d more do not support %v", *need, o.Purity)
				}
				grown.Tested--
				if r, _ := Claim(grown, o); r.Supported {
					t.Fatalf("one fewer than %d is enough", *need)
				}
			}
		}
		doubt := o
		doubt.Test = &Test{Finds: rapid.Float64Range(.3, 1).Draw(t, "finds"), FalseAlarms: rapid.Float64Range(0, .25).Draw(t, "false alarms")}
		doubt.MassRatio = rapid.Float64Range(1, 20).Draw(t, "mass ratio")
		r, err := Claim(c, doubt)
		if err != nil {
			t.Fatal(err)
		}
		if r.Demonstrated > plain.Demonstrated+1e-9 || r.Demonstrated < 0 || math.IsNaN(r.Demonstrated) {
			t.Fatalf("doubt raised %v to %v", plain.Demonstrated, r.Demonstrated)
		}
		if r.AtLeast != plain.AtLeast {
			t.Fatalf("the counts' own limit moved with the test's errors")
		}
	})
}

// A lot of nearly the same size as an endless one gives nearly the same limit.
func TestLargeLotMeetsBinomial(t *testing.T) {
	a := claim(t, Counts{Tested: 60, Wrong: 2}, Options{})
	b := claim(t, Counts{Tested: 60, Wrong: 2, Of: 500_000}, Options{})
	near(t, "at least", b.AtLeast, a.AtLeast, 1e-4)
	near(t, "bayes low", b.Bayes.Low, a.Bayes.Low, 1e-4)
	near(t, "bayes high", b.Bayes.High, a.Bayes.High, 1e-4)
}
