package main

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	reSection = regexp.MustCompile(`(?m)^## (\[{1,2})([a-z]+)\]`)
	reKey     = regexp.MustCompile("(?m)^\\| `([a-z_]+)` \\|")
	reListed  = regexp.MustCompile(`keys here are ([a-z_, ]+)\n`)
	reTables  = regexp.MustCompile(`the file has ([a-z_, ]+)\n`)
)

// The bin-file page has every table and key that is read, and none else: the reader names them itself
// where it refuses one that it does not know.
func TestBinFilePageHasEveryKey(t *testing.T) {
	page, err := os.ReadFile(root + "/docs/bin-file.md")
	if err != nil {
		t.Fatal(err)
	}
	var tables []string
	at := reSection.FindAllSubmatchIndex(page, -1)
	for i, m := range at {
		end := len(page)
		if i+1 < len(at) {
			end = at[i+1][0]
		}
		section, brackets, name := page[m[0]:end], string(page[m[2]:m[3]]), string(page[m[4]:m[5]])
		tables = append(tables, name)
		var documented []string
		for _, k := range reKey.FindAllSubmatch(section, -1) {
			documented = append(documented, string(k[1]))
		}
		header := brackets + name + strings.Repeat("]", len(brackets))
		same(t, header, documented, refused(t, fmt.Sprintf("%s\nzzzzzz = 1\n", header), reListed))
	}
	same(t, "the file", append(tables, "title", "currency"), refused(t, "zzzzzz = 1\n", reTables))
}

// refused gives the words that the refusal of a file lists.
func refused(t *testing.T, file string, list *regexp.Regexp) []string {
	t.Helper()
	var out, errs bytes.Buffer
	run([]string{"sort", "-"}, strings.NewReader(file), &out, &errs)
	m := list.FindStringSubmatch(errs.String())
	if m == nil {
		t.Fatalf("the refusal of %q lists nothing: %s", file, &errs)
	}
	return strings.Split(m[1], ", ")
}

func same(t *testing.T, what string, documented, read []string) {
	t.Helper()
	for _, k := range read {
		if !slices.Contains(documented, k) {
			t.Errorf("%s: %s is read and not on the page", what, k)
		}
	}
	for _, k := range documented {
		if !slices.Contains(read, k) {
			t.Errorf("%s: %s is on the page and not read", what, k)
		}
	}
}
