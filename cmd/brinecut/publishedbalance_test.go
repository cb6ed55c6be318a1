package main

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
)

// TestPublishedBalances runs published reconciliation examples, written as flow sheets, through the
// command. Sources stand in the head of each file; values are held to the digits they are published to
// (six streams to 0.0015: its variances had to be written as rounded standard deviations).
func TestPublishedBalances(t *testing.T) {
	for _, c := range []struct {
		file       string
		reconciled []float64 // of streams "1", "2", …; nil where none are published as a list
		within     float64
		chiSquare  float64 // 0: not published
		chiWithin  float64
		dof        int
		suspects   []string
	}{
		{file: "bypass", reconciled: []float64{100.22, 64.50, 35.72, 64.50, 35.72, 100.22}, within: 0.005, chiSquare: 6.4075, chiWithin: 0.00005, dof: 4},
		{file: "bypass-biased", chiSquare: 16.674, chiWithin: 0.0005, dof: 4, suspects: []string{"2"}},
		{file: "recycle", reconciled: []float64{4.904952, 14.79862, 14.79862, 4.813762, 9.984857, 5.079905, 4.904952}, within: 5e-6},
		{file: "six-streams", reconciled: []float64{11.029, 9.957, 20.986, 11.029, 7.178, 3.851}, within: 0.0015},
		{file: "single-node", reconciled: []float64{8.38, 5.06, 3.32}, within: 0.005, chiSquare: 12.813, chiWithin: 0.0005, dof: 1, suspects: []string{"1", "2", "3"}},
		{file: "steam-metering", chiSquare: 10.687, chiWithin: 0.0005, dof: 11},
		{file: "three-gross-errors", chiSquare: 228.44, chiWithin: 0.005, dof: 9, suspects: []string{"16", "7", "3"}},
		{file: "bound", reconciled: []float64{501.5, 501.5, 0}, within: 0.05, chiSquare: 5.5, chiWithin: 0.05},
	} {
		t.Run(c.file, func(t *testing.T) {
			got := balanceOf(t, "../../testdata/published/balance/"+c.file+".toml")
			for i, want := range c.reconciled {
				if s := got.Streams[i]; s.Reconciled == nil || math.Abs(*s.Reconciled-want) > c.within {
					t.Errorf("stream %s: %v, published %v", s.Name, s.Reconciled, want)
				}
			}
			if c.chiSquare > 0 && math.Abs(got.ChiSquare-c.chiSquare) > c.chiWithin {
				t.Errorf("chi-square %v, published %v", got.ChiSquare, c.chiSquare)
			}
			if c.dof > 0 && got.DoF != c.dof {
				t.Errorf("%d degrees of freedom, published %d", got.DoF, c.dof)
			}
			if c.suspects != nil && !slices.Equal(got.Suspects, c.suspects) {
				t.Errorf("suspects %v, published %v", got.Suspects, c.suspects)
			}
		})
	}
}

type balanceWire struct {
	Streams []struct {
		Name       string   `json:"name"`
		Reconciled *float64 `json:"reconciled_g"`
	} `json:"streams"`
	ChiSquare float64  `json:"chi_square"`
	DoF       int      `json:"degrees_of_freedom"`
	Suspects  []string `json:"suspects"`
}

func balanceOf(t *testing.T, file string) balanceWire {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run([]string{"balance", file, "--json"}, strings.NewReader(""), &out, &errs); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	var w balanceWire
	if err := json.Unmarshal(out.Bytes(), &w); err != nil {
		t.Fatal(err)
	}
	return w
}
