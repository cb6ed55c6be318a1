package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// method is docs/method.md as far as citations need it: the equations of each chapter.
type method map[string]map[string]bool // package -> labels such as "B3" or "triage 2"

var (
	chapterHead = regexp.MustCompile("^## .*\\(`([a-z/]+)`\\)$")
	defined     = regexp.MustCompile(`^(?:- )?\*\*\(([A-Z]\d+|[a-z]+ \d+)\)\*\* `)
)

func readMethod(t *testing.T) method {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, "docs", "method.md"))
	if err != nil {
		t.Fatal(err)
	}
	m, chapter := method{}, ""
	for i, line := range strings.Split(string(text), "\n") {
		if strings.HasPrefix(line, "## ") {
			h := chapterHead.FindStringSubmatch(line)
			if h == nil {
				t.Errorf("docs/method.md:%d: a chapter names its package: ## Title (`package`)", i+1)
				continue
			}
			chapter = h[1]
			m[chapter] = map[string]bool{}
		}
		if d := defined.FindStringSubmatch(line); d != nil {
			if m[chapter][d[1]] {
				t.Errorf("docs/method.md:%d: (%s) stands twice in its chapter", i+1, d[1])
			}
			m[chapter][d[1]] = true
		}
	}
	return m
}

// A citation is the page's name with labels behind it, or "equation (X) of" before it. A comment may
// break anywhere; joined makes it one line first.
var (
	joined   = regexp.MustCompile(`\n\s*(?://|#) ?|\s+`)
	label    = `(?:[A-Z]\d+|(?:cues|response|triage) \d+(?:-\d+)?)`
	after    = regexp.MustCompile(`(?i:method\.md),?:? \(?(` + label + `(?:\)?(?:-|, | to | and )\(?` + label + `)*)`)
	before   = regexp.MustCompile(`\(?(` + label + `)\)? of docs/method\.md`)
	oneLabel = regexp.MustCompile(`([A-Z]|[a-z]+ )(\d+)\)?(?:(?:-| to )\(?(?:[A-Z])?(\d+))?`)
)

// TestCitations: every equation of docs/method.md that the code cites stands in the chapter of the
// package that cites it, or, where the label names its chapter, in that one.
func TestCitations(t *testing.T) {
	m, cited := readMethod(t), 0
	eachText(t, func(name string, text []byte) {
		if name == "docs/method.md" || strings.HasSuffix(name, "housemethod_test.go") {
			return
		}
		s := joined.ReplaceAllString(string(text), " ")
		for _, c := range append(after.FindAllStringSubmatch(s, -1), before.FindAllStringSubmatch(s, -1)...) {
			for _, l := range labels(c[1]) {
				cited++
				if !m.has(filepath.ToSlash(filepath.Dir(name)), l) {
					t.Errorf("%s cites %q: no (%s) in the chapter", name, c[0], l)
				}
			}
		}
	})
	if cited < 30 {
		t.Errorf("found only %d citations: does this test still read them?", cited)
	}
}

// has looks for a label in the chapter of a package, or of the nearest directory above it that has one;
// labels that name their chapter, and files of test data, may cite any.
func (m method) has(pkg, l string) bool {
	if strings.Contains(l, " ") || strings.HasPrefix(pkg, "testdata") {
		for _, chapter := range m {
			if chapter[l] {
				return true
			}
		}
		return false
	}
	for ; pkg != "."; pkg = filepath.ToSlash(filepath.Dir(pkg)) {
		if chapter, ok := m[pkg]; ok {
			return chapter[l]
		}
	}
	return false
}

// labels spells out "B1)-(B4", "P4), (P5" and "triage 1-3".
func labels(s string) []string {
	var out []string
	for _, f := range oneLabel.FindAllStringSubmatch(s, -1) {
		from, _ := strconv.Atoi(f[2])
		to := from
		if f[3] != "" {
			to, _ = strconv.Atoi(f[3])
		}
		for n := from; n <= to; n++ {
			out = append(out, fmt.Sprint(f[1], n))
		}
	}
	return out
}

// TestNumbersRunOn: the equations of a chapter count from one without a gap.
func TestNumbersRunOn(t *testing.T) {
	for chapter, has := range readMethod(t) {
		prefix := ""
		for l := range has {
			prefix = strings.TrimRight(l, "0123456789")
		}
		for n := 1; n <= len(has); n++ {
			if !has[fmt.Sprint(prefix, n)] {
				t.Errorf("docs/method.md: chapter of %s has %d equations but no (%s%d)", chapter, len(has), prefix, n)
			}
		}
	}
}

func TestReadsCitations(t *testing.T) {
	for in, want := range map[string]string{
		"method.md (B1)-(B6); Narasimhan": "[B1 B2 B3 B4 B5 B6]",
		"method.md (P4), (P5), (P7)":      "[P4 P5 P7]",
		"method.md, triage 1-3)":          "[triage 1 triage 2 triage 3]",
		"Method.md, response 2.":          "[response 2]",
		"method.md S2)":                   "[S2]",
	} {
		c := after.FindStringSubmatch(in)
		if c == nil || fmt.Sprint(labels(c[1])) != want {
			t.Errorf("%q: read %v, want %s", in, c, want)
		}
	}
}
