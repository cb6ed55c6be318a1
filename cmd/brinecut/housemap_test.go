package main

import (
	"os"
	"path"
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

// TestDevelopersNamesWhatIsThere: what DEVELOPERS.md sets in code is there: a path on disk, or a name that
// some file of ours writes; and so is the target of every test it tells to run.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	doc := regexp.MustCompile("(?s)```.*?```").ReplaceAllString(readDoc(t, "DEVELOPERS.md"), "")
	var paths []string
	written := map[string]bool{}
	words := regexp.MustCompile(`[A-Za-z_][A-Za-z0-9_]*`)
	eachText(t, func(name string, text []byte) {
		paths = append(paths, filepath.ToSlash(name))
		if ext := filepath.Ext(name); ext == ".go" || ext == ".toml" || ext == ".mod" || strings.HasPrefix(name, ".ci") {
			for _, w := range words.FindAllString(string(text), -1) {
				written[w] = true
			}
		}
	})
	onDisk := func(p string) bool {
		p = strings.TrimSuffix(strings.TrimPrefix(p, "./"), "/")
		return slices.ContainsFunc(paths, func(have string) bool {
			fits, _ := path.Match(p, have)
			return fits || strings.HasSuffix(have, "/"+p) || strings.Contains("/"+have, "/"+p+"/")
		})
	}
	seen := 0
	for _, m := range regexp.MustCompile("`([^`\n]+)`|([a-z_]+/)*[a-z_]+\\.(go|toml|tsv|md|json)\\b").FindAllStringSubmatch(doc, -1) {
		name := m[1]
		if name == "" {
			name = m[0]
		}
		last := words.FindAllString(name, -1)
		switch {
		case strings.HasPrefix(name, "go "):
			for _, w := range strings.Fields(name)[2:] {
				if strings.Contains(w, "/") && !strings.Contains(w, "...") && !onDisk(w) || strings.HasPrefix(w, "Test") && !written[w] {
					t.Errorf("%q: there is no %s", name, w)
				}
			}
		case onDisk(name), name == "toolchain": // the line that is not to be there
		case len(last) > 0 && !strings.Contains(name, "/") && written[last[len(last)-1]]:
		default:
			t.Errorf("DEVELOPERS.md names %q, which is not there", name)
			continue
		}
		seen++
	}
	if seen < 80 {
		t.Errorf("only %d names were looked up", seen)
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
