package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

// There is a manual page for each command, with its flags and examples, and the same program writes the
// same bytes whenever it is asked.
func TestManualPages(t *testing.T) {
	first, second := t.TempDir(), t.TempDir()
	for _, dir := range []string{first, second} {
		if _, errs, code := ran("", "man|"+dir); code != exitDone {
			t.Fatal(errs)
		}
	}
	c := (&app{}).root()
	var names []string
	for _, name := range append(visible(c, ""), "") {
		page := strings.ReplaceAll(strings.TrimSpace("brinecut "+name), " ", "-") + ".1"
		names = append(names, page)
		text, err := os.ReadFile(filepath.Join(first, page))
		if err != nil {
			t.Error(err)
			continue
		}
		again, err := os.ReadFile(filepath.Join(second, page))
		if err != nil || !bytes.Equal(text, again) {
			t.Errorf("%s is not written alike twice (%v)", page, err)
		}
		found, _, err := c.Find(strings.Fields(name))
		if err != nil {
			t.Fatal(err)
		}
		plain := strings.ReplaceAll(string(text), `\`, "")
		found.Flags().VisitAll(func(f *pflag.Flag) {
			if !f.Hidden && !strings.Contains(plain, "--"+f.Name) {
				t.Errorf("%s does not speak of --%s", page, f.Name)
			}
		})
		if !strings.Contains(plain, "EXAMPLE") {
			t.Errorf("%s has no example", page)
		}
		formatted(t, filepath.Join(first, page))
	}
	there, err := filepath.Glob(filepath.Join(first, "*"))
	if err != nil || len(there) != len(names) {
		t.Errorf("%d pages for %d commands, %v", len(there), len(names), err)
	}
	if !slices.Contains(names, "brinecut-bath-check.1") {
		t.Error("a command below another has no page")
	}
}

// formatted has groff read a page, where there is one: it may not complain.
func formatted(t *testing.T, page string) {
	t.Helper()
	groff, err := exec.LookPath("groff")
	if err != nil {
		return
	}
	var out, errs bytes.Buffer
	c := exec.Command(groff, "-man", "-Tutf8", "-ww", page)
	c.Stdout, c.Stderr = &out, &errs
	if err := c.Run(); err != nil || errs.Len() > 0 || out.Len() < 400 {
		t.Errorf("%s: groff: %v %s", page, err, &errs)
	}
}
