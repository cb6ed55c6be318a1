package main

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Whatever is taken out of a bin file, doubled or exchanged in it, the answer is an answer or a refusal:
// never a panic, never a figure that cannot be, and the file in question is named.
func TestMutatedBins(t *testing.T) {
	var files [][]string
	for _, bin := range goodBins(t) {
		src, err := os.ReadFile(bin)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, strings.SplitAfter(string(src), "\n"))
	}
	rapid.Check(t, func(t *rapid.T) {
		lines := slices.Clone(rapid.SampledFrom(files).Draw(t, "bin"))
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			i, j := rapid.IntRange(0, len(lines)-1).Draw(t, "line"), rapid.IntRange(0, len(lines)-1).Draw(t, "other")
			switch rapid.SampledFrom([]string{"drop", "value", "figure"}).Draw(t, "how") {
			case "drop":
				lines = slices.Delete(lines, i, i+1)
			case "value":
				key, _, ok := strings.Cut(lines[i], "=")
				_, value, also := strings.Cut(lines[j], "=")
				if ok && also {
					lines[i] = key + "=" + value
				}
			case "figure":
				lines[i] = strings.NewReplacer("1", "9", "2", "0", "kg", "g", "0.", "10.").Replace(lines[i])
			}
			if len(lines) == 0 {
				return
			}
		}
		held(t, strings.Join(lines, ""))
	})
}

// held runs a file and holds the answer to what any answer must be.
func held(t *rapid.T, file string) {
	for _, command := range []string{"sort", "balance", "next"} {
		var out, errs bytes.Buffer
		code := run([]string{command, "-", "--json"}, strings.NewReader(file), &out, &errs)
		if code != exitDone {
			if out.Len() > 0 || !strings.HasPrefix(errs.String(), "brinecut: error: ") {
				t.Fatalf("%s: exit code %d with %q and %q", command, code, out.String(), errs.String())
			}
			continue
		}
		got := map[string]any{}
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			t.Fatalf("%s: %v", command, err)
		}
		figures(t, command, got)
	}
}

// failer is a test of either kind.
type failer interface{ Fatalf(format string, a ...any) }

// shares are the keys of an answer that lie within 0 and 1.
var shares = map[string]bool{"share": true, "share_before": true, "demonstrated": true, "at_least": true, "confidence": true, "purity_claimed": true, "waste_share": true}

// figures walks an answer: no mass or share below zero, no share above one, every range whole and around
// its mean, shares that sum.
func figures(t failer, where string, v any) {
	switch x := v.(type) {
	case []any:
		for _, e := range x {
			figures(t, where, e)
		}
	case map[string]any:
		for _, k := range [][3]string{{"low_g", "mean_g", "high_g"}, {"low", "mean", "high"}} {
			low, ok := x[k[0]].(float64)
			mean, also := x[k[1]].(float64)
			high, too := x[k[2]].(float64)
			if _, there := x[k[1]]; there && (!ok || !also || !too) || also && (mean < low || mean > high) {
				t.Fatalf("%s: %v", where, x)
			}
		}
		if m, ok := x["materials"].(map[string]any); ok {
			sum := 0.0
			for _, s := range m {
				sum += s.(float64)
			}
			if share, cut := x["share"].(float64); cut && share == 0 && sum == 0 {
				sum = 1 // a side of a cut on which nothing is
			}
			if sum < 1-1e-6 || sum > 1+1e-6 {
				t.Fatalf("%s: shares sum to %v", where, sum)
			}
		}
		for k, e := range x {
			if f, ok := e.(float64); ok && (f < 0 && strings.HasSuffix(k, "_g") && k != "size_g" && k != "measured_g" || shares[k] && (f < 0 || f > 1)) {
				t.Fatalf("%s: %s is %v", where, k, f)
			}
			figures(t, where+"."+k, e)
		}
	}
}
