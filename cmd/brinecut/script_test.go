package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"brinecut": main})
}

// TestScripts runs what a user types: each script in testdata/script is one errand.
func TestScripts(t *testing.T) {
	bins, err := filepath.Abs("../../testdata/bins")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:   "testdata/script",
		Setup: func(e *testscript.Env) error { e.Setenv("BINS", bins); return nil },
		Cmds:  map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// exits CODE COMMAND… runs a command and holds it to its exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.Atoi(args[0])
	if err != nil || neg {
		ts.Fatalf("usage: exits CODE COMMAND…")
	}
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	got := 0
	switch {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// example.toml is what start --example writes: it has to be the usual bin of the tests.
func TestTheExampleIsTheUsualBin(t *testing.T) {
	want, err := os.ReadFile("../../testdata/bins/drawbridge.toml")
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != string(exampleFile) {
		t.Error("example.toml is not testdata/bins/drawbridge.toml: copy it here")
	}
}
