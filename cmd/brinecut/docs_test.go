package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestDocs runs every console block of every page, top to bottom, and compares what it prints.
// A block of ```toml NAME writes that file first. "$ " begins a command, what stands below it up to the
// next is its output; a last line of "..." stands for the rest. go run ./cmd/brinecut is run at the top
// of the tree, brinecut in an empty folder that lasts as long as the page.
func TestDocs(t *testing.T) {
	top, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range allPages(t, top) {
		t.Run(filepath.Base(p), func(t *testing.T) { runPage(t, p, top, t.TempDir()) })
	}
}

// allPages are the Markdown files of the project.
func allPages(t *testing.T, top string) (out []string) {
	err := filepath.WalkDir(top, func(p string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && p != top && strings.HasPrefix(d.Name(), ".") {
			return filepath.SkipDir
		}
		if err == nil && filepath.Ext(p) == ".md" {
			out = append(out, p)
		}
		return err
	})
	if err != nil || len(out) < 12 {
		t.Fatalf("%d pages, %v", len(out), err)
	}
	return out
}

func runPage(t *testing.T, page, top, dir string) {
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	lines := strings.Split(string(text), "\n")
	for i := 0; i < len(lines); {
		info, ok := strings.CutPrefix(lines[i], "```")
		if !ok {
			out = append(out, lines[i])
			i++
			continue
		}
		end := i + 1 + slices.Index(lines[i+1:], "```")
		if end == i {
			t.Fatalf("line %d: a block without an end", i+1)
		}
		body := lines[i+1 : end]
		kind, name, _ := strings.Cut(info, " ")
		switch {
		case name != "" && kind == "toml":
			if err := os.WriteFile(filepath.Join(dir, name), []byte(strings.Join(body, "\n")+"\n"), 0o644); err != nil {
				t.Fatal(err)
			}
		case kind == "console":
			got := runBlock(t, body, top, dir)
			if !*update && !slices.Equal(got, body) {
				t.Errorf("line %d:\n%s\nprints\n%s", i+1, strings.Join(body, "\n"), strings.Join(got, "\n"))
			}
			body = got
		case kind == "":
			goCommands(t, body, top)
		default:
			t.Errorf("line %d: a block of %q is neither run nor checked", i+1, info)
		}
		out = append(append(append(out, lines[i]), body...), "```")
		i = end + 1
	}
	if *update {
		if err := os.WriteFile(page, []byte(strings.Join(out, "\n")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// runBlock gives the block as it ought to be: its commands with what they print.
func runBlock(t *testing.T, body []string, top, dir string) []string {
	var out []string
	for i := 0; i < len(body); {
		command, ok := strings.CutPrefix(body[i], "$ ")
		if !ok {
			t.Fatalf("%q stands before any command", body[i])
		}
		next := i + 1
		for next < len(body) && !strings.HasPrefix(body[next], "$ ") {
			next++
		}
		out = append(out, body[i])
		printed := runLine(t, command, top, dir)
		if kept := next - i - 2; kept >= 0 && body[next-1] == "..." {
			printed = append(printed[:min(kept, len(printed))], "...")
		}
		if printed == nil && next > i+1 {
			t.Errorf("%q prints nothing", command)
		}
		out = append(out, printed...)
		i = next
	}
	return out
}

// runLine runs one command and gives what it prints, both streams; a command that is not ours and is
// known to be run elsewhere prints nothing here.
func runLine(t *testing.T, command, top, dir string) []string {
	words, err := split(command)
	if err != nil {
		t.Fatal(err)
	}
	switch {
	case len(words) > 2 && words[0] == "go" && words[1] == "run":
		t.Chdir(top)
		words = words[3:]
	case words[0] == "brinecut":
		t.Chdir(dir)
		words = words[1:]
	case slices.Contains([]string{"go test ./...", "go build ./cmd/brinecut"}, command):
		return nil
	default:
		t.Fatalf("%q is not run by this test", command)
	}
	var buf bytes.Buffer
	run(words, strings.NewReader(""), &buf, &buf)
	if buf.Len() == 0 {
		return nil
	}
	return strings.Split(strings.TrimSuffix(buf.String(), "\n"), "\n")
}

// split takes a command line apart as a shell does, quotes only.
func split(s string) ([]string, error) {
	var out []string
	var word strings.Builder
	quote, begun := rune(0), false
	for _, r := range s {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote == 0 && (r == '\'' || r == '"'):
			quote, begun = r, true
		case quote == 0 && r == ' ':
			if begun {
				out = append(out, word.String())
			}
			word.Reset()
			begun = false
		default:
			word.WriteRune(r)
			begun = true
		}
	}
	if quote != 0 {
		return nil, fmt.Errorf("a quote is left open in %s", s)
	}
	if begun {
		out = append(out, word.String())
	}
	return out, nil
}
