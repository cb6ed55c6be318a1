package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// goCommands checks commands for the go tool that a page only shows: the folders they name are there, and
// each word behind -run and -bench is part of the name of some test in them.
func goCommands(t *testing.T, body []string, top string) {
	for _, line := range body {
		line, _, _ = strings.Cut(line, "#")
		for command := range strings.SplitSeq(line, "&&") {
			words, err := split(strings.TrimSpace(command))
			if err != nil || len(words) < 3 || words[0] != "go" {
				continue // a formula
			}
			names := ""
			for _, w := range words[2:] {
				if strings.HasPrefix(w, "./") && !strings.HasSuffix(w, "...") {
					names += testNames(t, filepath.Join(top, w))
				}
			}
			for i, w := range words[:len(words)-1] {
				if w != "-run" && w != "-bench" {
					continue
				}
				for word := range strings.SplitSeq(words[i+1], "|") {
					if word != "." && word != "XXX" && !strings.Contains(names, word) {
						t.Errorf("%q: no test has %q in its name", command, word)
					}
				}
			}
		}
	}
}

var reTestName = regexp.MustCompile(`(?m)^func ((?:Test|Benchmark|Fuzz)\w*)`)

func testNames(t *testing.T, dir string) (out string) {
	files, err := filepath.Glob(filepath.Join(dir, "*_test.go"))
	if err != nil || len(files) == 0 {
		t.Errorf("there are no tests in %s", dir)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range reTestName.FindAllStringSubmatch(string(text), -1) {
			out += m[1] + " "
		}
	}
	return out
}

var reInline = regexp.MustCompile("`brinecut ([a-z][^`]*)`")

// A command that a page names in passing is one of ours, with flags that it has.
func TestDocsNameCommandsThatExist(t *testing.T) {
	top, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, p := range allPages(t, top) {
		text, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range reInline.FindAllStringSubmatch(string(text), -1) {
			found++
			sound(t, filepath.Base(p), strings.Join(strings.Fields(m[1]), " "))
		}
	}
	if found < 10 {
		t.Errorf("only %d commands found", found)
	}
}

// README.md is short, and its first answer stands within 25 lines.
func TestDocsReadmeIsShort(t *testing.T) {
	text, err := os.ReadFile(root + "/README.md")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	if len(lines) >= 150 {
		t.Errorf("README.md has %d lines", len(lines))
	}
	if first := strings.Join(lines[:25], "\n"); !strings.Contains(first, "$ go run ./cmd/brinecut sort") || !strings.Contains(first, "\nthe bags") {
		t.Error("the first answer does not stand within 25 lines")
	}
}
