package cues

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// The tables are pinned: a row or a value that changes has to be changed here too, with its reason.
func TestTablesArePinned(t *testing.T) {
	want := map[string]struct {
		rows int
		sum  float64
	}{
		"bend": {68, 27.21}, "soak-30s": {1, 0.02}, "soak-5min": {3, 1.22}, "soak-1h": {26, 2.35}, "soak-24h": {26, 2.42}, "acetone": {51, 24.85},
		"hot-air-look": {57, 24.9}, "hot-air-bubbles": {26, 5.2}, "flame-smoke": {47, 24.91}, "flame-drips": {25, 16.04}, "flame-after": {50, 25.35},
	}
	rows, sums := map[string]int{}, map[string]float64{}
	for _, r := range lines("rows") {
		rows[r[0]]++
		sums[r[0]] += number(r[3])
	}
	for name, w := range want {
		if rows[name] != w.rows || math.Abs(sums[name]-w.sum) > 1e-9 {
			t.Errorf("%s: %d rows, sum %.2f; pinned %d, %.2f", name, rows[name], sums[name], w.rows, w.sum)
		}
	}
	if len(rows) != len(want) {
		t.Errorf("%d tables, %d pinned", len(rows), len(want))
	}
}

// Values stand on the steps the judgement was made in.
func TestSteps(t *testing.T) {
	steps := []float64{0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.97}
	for _, r := range lines("rows") {
		if !slices.Contains(steps, number(r[3])) {
			t.Errorf("%s %s %s: %s is between the steps", r[0], r[1], r[2], r[3])
		}
	}
}

// Sights that exclude each other sum to about one before they are normalised, and what a sight counts
// as sums to one.
func TestSums(t *testing.T) {
	sums, shares := map[string]float64{}, map[string]float64{}
	for _, r := range lines("rows") {
		sums[r[0]+" "+r[1]] += number(r[3])
	}
	for key, s := range sums {
		name, _, _ := strings.Cut(key, " ")
		if exclusive := name == "bend" || name == "acetone" || name == "hot-air-look" || name == "flame-smoke" || name == "flame-after"; exclusive && (s < 0.85 || s > 1.35) {
			t.Errorf("%s sums to %.2f before it is normalised", key, s)
		}
	}
	for _, r := range lines("outcomes") {
		shares[r[0]+" "+r[1]] += number(r[3])
	}
	for key, s := range shares {
		if key != "hot-air-bubbles bubbles" && math.Abs(s-1) > 1e-9 {
			t.Errorf("%s counts as %.2f of an outcome", key, s)
		}
	}
}

// Every id resolves, and every source is used.
func TestSources(t *testing.T) {
	used := map[string]bool{}
	for _, r := range lines("rows") {
		resolve(t, r[0]+" "+r[1], r[4])
		for _, id := range strings.Fields(r[4]) {
			used[id] = true
		}
	}
	for _, b := range bench {
		for _, ids := range append([]string{b.Source}, sourcesOf(b.warn)...) {
			for _, id := range strings.Fields(ids) {
				used[id] = true
			}
		}
	}
	for _, r := range lines("fillers") {
		for id := range loaded().sources {
			if strings.Contains(r[6], "("+id+")") {
				used[id] = true
			}
		}
	}
	for _, r := range lines("sources") {
		if !used[r[0]] {
			t.Errorf("source %s is used nowhere", r[0])
		}
	}
}

func sourcesOf(warn []caution) []string {
	var ids []string
	for _, w := range warn {
		ids = append(ids, w.source)
	}
	return ids
}

// A lean leads to a row that exists in at least one table.
func TestLeansLeadSomewhere(t *testing.T) {
	for _, r := range lines("leans") {
		found := false
		for name, s := range loaded().sheets {
			if (r[1] == anyRow || r[1] == name) && s.rows[r[2]] != nil {
				found = true
			}
		}
		if !found {
			t.Errorf("%s leans on %s in %s, where there is none", r[0], r[2], r[1])
		}
	}
}
