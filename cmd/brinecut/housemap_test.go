package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestMapIsWhole: DEVELOPERS.md has a row for every package that stands on disk, and none besides.
func TestMapIsWhole(t *testing.T) {
	list, _ := sources(t)
	text := readDoc(t, "DEVELOPERS.md")
	var onDisk, rows []string
	for _, s := range list {
		if !slices.Contains(onDisk, s.pkg) {
			onDisk = append(onDisk, s.pkg)
		}
	}
	for _, r := range regexp.MustCompile("(?m)^\\| `([a-z/]+)` \\|").FindAllStringSubmatch(text, -1) {
		rows = append(rows, r[1])
	}
	for _, p := range onDisk {
		if !slices.Contains(rows, p) {
			t.Errorf("DEVELOPERS.md has no row for %s", p)
		}
	}
	for _, r := range rows {
		if !slices.Contains(onDisk, r) {
			t.Errorf("DEVELOPERS.md has a row for %s, which is not on disk", r)
		}
	}
}

// TestDependenciesHaveReasons: every module that some file imports, tests too, is in the chapter of
// dependencies of DEVELOPERS.md, with what it is for and its licence.
func TestDependenciesHaveReasons(t *testing.T) {
	_, chapter, ok := strings.Cut(readDoc(t, "DEVELOPERS.md"), "## Dependencies")
	if !ok {
		t.Fatal("DEVELOPERS.md has no chapter of dependencies")
	}
	modules := regexp.MustCompile(`(?m)^(?:require)?\s+([a-z][^\s()]*\.[^\s()]*) v`).FindAllStringSubmatch(readDoc(t, "go.mod"), -1)
	outside := regexp.MustCompile(`(?m)^(?:import|\s)\s*(?:[\w.]+ )?"([a-z0-9-]+\.[a-z]+/[^"]+)"$`)
	imported := map[string]bool{}
	eachText(t, func(name string, text []byte) {
		if !strings.HasSuffix(name, ".go") {
			return
		}
		for _, i := range outside.FindAllStringSubmatch(string(text), -1) {
			for _, m := range modules {
				imported[m[1]] = imported[m[1]] || i[1] == m[1] || strings.HasPrefix(i[1], m[1]+"/")
			}
		}
	})
	n := 0
	for module, yes := range imported {
		if !yes {
			continue
		}
		if n++; !strings.Contains(chapter, "| "+module) && !strings.Contains(chapter, "with "+module) {
			t.Errorf("DEVELOPERS.md gives no reason for %s", module)
		}
	}
	if n < 5 {
		t.Errorf("found only %d modules that are imported: does this test still read them?", n)
	}
}

func readDoc(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
