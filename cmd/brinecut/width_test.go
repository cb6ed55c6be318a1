package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
)

// columns a terminal is taken to have.
const columns = 100

func narrow(t *testing.T, what, text string) {
	t.Helper()
	for line := range strings.Lines(text) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > columns {
			t.Errorf("%s: %d columns: %s", what, n, line)
		}
	}
}

func TestHelpKeepsToTheWidth(t *testing.T) {
	var names func(c *cobra.Command, path []string)
	names = func(c *cobra.Command, path []string) {
		var out, errs bytes.Buffer
		if code := run(append(path, "--help"), nil, &out, &errs); code != exitDone {
			t.Errorf("%v: %s", path, &errs)
		}
		narrow(t, strings.Join(path, " "), out.String())
		for _, sub := range c.Commands() {
			if sub.Runnable() && !sub.Hidden {
				names(sub, append(path[:len(path):len(path)], sub.Name()))
			}
		}
	}
	names((&app{}).root(), nil)
}

// Names as long as they may be push no line over the width.
func TestLongNamesKeepToTheWidth(t *testing.T) {
	long := strings.Repeat("a rather long name ", 4)
	src := strings.NewReplacer("regional recycler", long+"of an outlet", "white gloss", long+"of a lot", "finished model", strings.Repeat("x", 150)).
		Replace(string(exampleFile))
	path := filepath.Join(t.TempDir(), strings.Repeat("y", 120)+".toml")
	if err := os.WriteFile(path, []byte(src), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, command := range []string{"sort", "balance", "next"} {
		for _, units := range []string{"metric", "us"} {
			var out, errs bytes.Buffer
			if code := run([]string{command, path, "--units", units}, nil, &out, &errs); code != exitDone {
				t.Fatalf("%s: %s", command, &errs)
			}
			narrow(t, command, strings.ReplaceAll(out.String(), path, "bin.toml"))
		}
	}
}
