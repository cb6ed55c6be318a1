package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

// goldens are whole runs held word for word, each with the reason it is kept. They are regressions, not
// facts: what the figures ought to be is tested elsewhere.
var goldens = []struct {
	name, reason string
	args         string // BINS/ is the folder of the bins
	code         int
}{
	{"drawbridge.sort", "the usual first screen, every part of it", "sort BINS/drawbridge.toml", exitDone},
	{"drawbridge.short", "the shorter form leaves out assumptions, and notes that are neither of contradiction nor of danger", "sort BINS/drawbridge.toml --short", exitDone},
	{"drawbridge.steps", "cautions stand beside the steps they belong to", "sort BINS/drawbridge.toml --steps --short", exitDone},
	{"drawbridge.balance", "two counters, a spool, hidden material: all classes of stream", "balance BINS/drawbridge.toml", exitDone},
	{"drawbridge.next", "a test with its reason, protocol, cautions and the command that records it", "next BINS/drawbridge.toml", exitDone},
	{"weighings-only.sort", "a make-up that rests on weighings and habit is marked as such", "sort BINS/weighings-only.toml", exitDone},
	{"weighings-only.balance", "what is undetermined has no figure", "balance BINS/weighings-only.toml", exitDone},
	{"weighings-only.next", "a bin without lots has one, unsorted", "next BINS/weighings-only.toml", exitDone},
	{"one-heap-no-idea.sort", "origin left out: asked for first, nothing heated", "sort BINS/one-heap-no-idea.toml", exitDone},
	{"one-heap-no-idea.balance", "a single weight: nothing to balance", "balance BINS/one-heap-no-idea.toml", exitDone},
	{"one-heap-no-idea.next", "no hot test without an origin", "next BINS/one-heap-no-idea.toml", exitDone},
	{"old-fitting-and-fr-housing.sort", "hard stops, with their reasons and where the things go", "sort BINS/old-fitting-and-fr-housing.toml", exitDone},
	{"old-fitting-and-fr-housing.balance", "lots without a bin", "balance BINS/old-fitting-and-fr-housing.toml", exitDone},
	{"old-fitting-and-fr-housing.next", "no test above 100 °C for what must not be heated, heat gun or not", "next BINS/old-fitting-and-fr-housing.toml", exitDone},
	{"contradicting-tests.sort", "tests that disagree both count and are told", "sort BINS/contradicting-tests.toml", exitDone},
	{"contradicting-tests.balance", "a bin and one lot: the rest is unsorted", "balance BINS/contradicting-tests.toml", exitDone},
	{"contradicting-tests.next", "what to do where tests disagree", "next BINS/contradicting-tests.toml", exitDone},
	{"recycler-asks-95.sort", "random draws alone meet an outlet's purity", "sort BINS/recycler-asks-95.toml", exitDone},
	{"recycler-asks-95.balance", "lots that sum to the bin check each other", "balance BINS/recycler-asks-95.toml", exitDone},
	{"recycler-asks-95.next", "what a doubtful lot still needs", "next BINS/recycler-asks-95.toml", exitDone},
	{"doubtful-bath.next", "a known snippet in a bath that carries every reading", "next BINS/doubtful-bath.toml", exitDone},
	{"refused-three-mistakes.sort", "all mistakes at once, each with its line, exit code 2", "sort BINS/refused-three-mistakes.toml", exitWrongUse},
	{"refused-three-mistakes.balance", "the same refusal by every command that reads", "balance BINS/refused-three-mistakes.toml", exitWrongUse},
	{"refused-three-mistakes.next", "the same refusal by every command that reads", "next BINS/refused-three-mistakes.toml", exitWrongUse},
}

func TestGolden(t *testing.T) {
	for _, g := range goldens {
		t.Run(g.name, func(t *testing.T) {
			if g.reason == "" {
				t.Fatal("a golden run without a reason")
			}
			bins := "../../testdata/bins/"
			var out, errs bytes.Buffer
			if code := run(strings.Fields(strings.ReplaceAll(g.args, "BINS/", bins)), nil, &out, &errs); code != g.code {
				t.Errorf("exit code %d, want %d", code, g.code)
			}
			golden(t, g.name+".stdout", strings.ReplaceAll(out.String(), bins, "BINS/"))
			golden(t, g.name+".stderr", strings.ReplaceAll(errs.String(), bins, "BINS/"))
		})
	}
}

// golden holds a text to its file; an empty text has none.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("../../testdata/golden", name)
	if *update {
		if got == "" {
			os.Remove(path)
			return
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil && got != "" {
		t.Fatalf("%v (run go test ./cmd/brinecut -update)", err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s changed (run go test ./cmd/brinecut -update if it is right):\n%s", name, diff)
	}
}

// Every golden file belongs to a run.
func TestNoGoldenIsLeftOver(t *testing.T) {
	entries, err := os.ReadDir("../../testdata/golden")
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, g := range goldens {
		known[g.name+".stdout"], known[g.name+".stderr"] = true, true
	}
	for _, e := range entries {
		if !known[e.Name()] {
			t.Errorf("%s belongs to no run", e.Name())
		}
	}
}
