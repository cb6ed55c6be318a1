package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Every threat of docs/security.md names a test that there is, and the tests of the page that stand for a
// threat are named there.
func TestThreatsHaveTests(t *testing.T) {
	doc := readDoc(t, "docs/security.md")
	code := testCode(t)
	named := regexp.MustCompile("`((?:Test|Fuzz)[A-Za-z]+)`")
	for _, row := range strings.Split(doc, "\n") {
		if !strings.HasPrefix(row, "| **") {
			continue
		}
		tests := named.FindAllStringSubmatch(row, -1)
		if len(tests) == 0 {
			t.Errorf("a threat without a test: %s", row)
		}
		for _, m := range tests {
			if !strings.Contains(code, "func "+m[1]+"(") {
				t.Errorf("there is no test %s", m[1])
			}
		}
	}
	guard, err := os.ReadFile("internal/page/bench_guard_test.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`func (TestBench\w+)\(`).FindAllStringSubmatch(string(guard), -1) {
		if !strings.Contains(doc, "`"+m[1]+"`") {
			t.Errorf("docs/security.md does not name %s", m[1])
		}
	}
}

// testCode is the text of the tests of the commands and of the bench page.
func testCode(t *testing.T) string {
	t.Helper()
	var code strings.Builder
	for _, pattern := range []string{"*_test.go", "internal/page/*_test.go"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			code.Write(text)
		}
	}
	return code.String()
}
