package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// root is the top of the module, seen from this package.
const root = "../.."

// house is the import table of DEVELOPERS.md: what each package may import of ours.
var house = map[string][]string{
	"polymers/quantity":          {},
	"polymers":                   {"polymers/quantity"},
	"polymers/internal/table":    {},
	"polymers/internal/tablegen": {"polymers/internal/table"},
	"polymers/cues":              {"polymers", "polymers/quantity"},

	"sorting":            {"polymers", "polymers/cues", "polymers/quantity"},
	"sorting/binfile":    {"sorting", "polymers", "polymers/cues", "polymers/quantity"},
	"sorting/bath":       {"polymers/quantity"},
	"sorting/purity":     {},
	"sorting/response":   {"sorting", "polymers", "polymers/cues", "polymers/quantity"},
	"sorting/balance":    {"sorting", "polymers", "polymers/quantity"},
	"sorting/triage":     {"sorting", "sorting/response", "polymers", "polymers/cues", "polymers/quantity"},
	"sorting/separation": {"sorting", "sorting/response", "polymers", "polymers/cues", "polymers/quantity"},

	"reuse":       {"sorting", "polymers", "polymers/quantity"},
	"reuse/press": {"polymers", "polymers/quantity"},
	"reuse/advice": {"reuse", "reuse/press", "sorting", "sorting/bath", "sorting/purity", "sorting/response", "sorting/balance",
		"sorting/triage", "sorting/separation", "polymers", "polymers/cues", "polymers/quantity"},

	"cmd/brinecut":                 {"*"},
	"cmd/brinecut/internal/show":   {"*"},
	"cmd/brinecut/internal/page":   {"*"},
	"cmd/brinecut/internal/chart":  {},
	"cmd/brinecut/internal/paper":  {"reuse"},
	"cmd/brinecut/internal/ledger": {"sorting", "sorting/binfile"},
}

// doors names for each outside library, or package of one, who may import it and what is below it.
var doors = map[string][]string{
	"github.com/BurntSushi/toml":      {"sorting/binfile", "polymers/internal/table", "cmd/brinecut/internal/paper"},
	"github.com/agnivade/levenshtein": {"polymers", "sorting/binfile", "cmd/brinecut"},
	"github.com/boombuler/barcode":    {"cmd/brinecut/internal/paper"},
	"github.com/gofrs/flock":          {"cmd/brinecut/internal/ledger"},
	"github.com/spf13/cobra":          {"cmd/brinecut"},
	"github.com/spf13/pflag":          {"cmd/brinecut"},
	"codeberg.org/go-pdf/fpdf":        {"cmd/brinecut/internal/paper"},
	"golang.org/x/image":              {"cmd/brinecut/internal/paper"},
	"gonum.org/v1/gonum/interp":       {"sorting/bath"},
	"gonum.org/v1/gonum/mat":          {"sorting/balance"},
	"gonum.org/v1/gonum/mathext":      {"reuse", "sorting/purity"},
	"gonum.org/v1/gonum/stat/distuv":  {"sorting/balance", "sorting/purity"},
}

// world names who may import the packages of the standard library that touch the world. tablegen is
// the program that writes the handbook's Go table: it runs when the house is built, not in it.
var world = map[string][]string{
	"os":        {"cmd/brinecut", "cmd/brinecut/internal/ledger", "polymers/internal/tablegen"},
	"os/exec":   {},
	"os/signal": {"cmd/brinecut"},
	"time":      {"cmd/brinecut", "cmd/brinecut/internal/ledger", "cmd/brinecut/internal/page"},
	"net":       {"cmd/brinecut"},
	"net/http":  {"cmd/brinecut", "cmd/brinecut/internal/page"},
	"net/url":   {"cmd/brinecut", "cmd/brinecut/internal/page"},
	"log":       {},
	"log/slog":  {},
	"syscall":   {"cmd/brinecut/internal/ledger"},
}

// source is one Go file that is not a test.
type source struct {
	pkg, name string // directory and path below the module root
	file      *ast.File
	lines     int
}

// sources parses every Go file of the module that is not a test. It reads the files itself: a test that
// asks the go tool is answered from the test cache after a law was broken.
func sources(t *testing.T) ([]source, *token.FileSet) {
	t.Helper()
	set := token.NewFileSet()
	var out []source
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && p != root && strings.HasPrefix(d.Name(), ".") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(p, ".go") || strings.HasSuffix(p, "_test.go") {
			return nil
		}
		text, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(set, p, text, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, p)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		out = append(out, source{path.Dir(rel), rel, f, strings.Count(string(text), "\n")})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out, set
}

// TestHouse holds the import table: nothing is imported that the table does not allow, and no package
// stands on disk that it does not name.
func TestHouse(t *testing.T) {
	list, _ := sources(t)
	used := map[string]bool{}
	for _, s := range list {
		if _, ok := house[s.pkg]; !ok {
			t.Errorf("%s: package %s is not in the house: give it a row in this table and in DEVELOPERS.md", s.name, s.pkg)
		}
		for _, i := range s.file.Imports {
			imported, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			if why := forbidden(s.pkg, imported); why != "" {
				t.Errorf("%s imports %s: %s", s.name, imported, why)
			}
			used[door(imported)+" "+s.pkg] = true
		}
	}
	for row := range house {
		if !slices.ContainsFunc(list, func(s source) bool { return s.pkg == row }) {
			t.Errorf("the table names %s, which is not on disk", row)
		}
	}
	for d, who := range doors {
		for _, pkg := range who {
			if !used[d+" "+pkg] {
				t.Errorf("the table lets %s import %s, which it does not: close the door", pkg, d)
			}
		}
	}
}

// forbidden says why a package may not import another; empty where it may.
func forbidden(pkg, imported string) string {
	if ours, ok := strings.CutPrefix(imported, "brinecut/"); ok {
		if !slices.Contains(house[pkg], "*") && !slices.Contains(house[pkg], ours) {
			return "the table does not allow it"
		}
		return ""
	}
	if strings.Contains(strings.Split(imported, "/")[0], ".") {
		if !slices.Contains(doors[door(imported)], pkg) {
			return "another package is the door for it, or it has none yet"
		}
		return ""
	}
	if who, named := world[imported]; named && !slices.Contains(who, pkg) {
		return "it touches the world, which is for cmd alone"
	}
	return ""
}

// door is the row of the table that an import path falls under; empty where there is none.
func door(imported string) string {
	for d := range doors {
		if imported == d || strings.HasPrefix(imported, d+"/") {
			return d
		}
	}
	return ""
}

// TestLaws holds the table itself to the laws it stands for, so that a row cannot be widened past them.
func TestLaws(t *testing.T) {
	stages := []string{"sorting/balance", "sorting/triage", "sorting/separation"}
	leaves := []string{"sorting/bath", "sorting/response", "sorting/purity"}
	never := func(law string, who, what []string) {
		for _, w := range who {
			for _, x := range what {
				if w != x && slices.Contains(reach(w), x) {
					t.Errorf("%s reaches %s: %s", w, x, law)
				}
			}
		}
	}
	never("stages never import each other", stages, stages)
	never("leaves never import a stage", leaves, stages)
	never("leaves never import each other", leaves, leaves)
	never("reuse sees fractions and candidates, never how they were found", []string{"reuse", "reuse/press"},
		append(append([]string{"sorting/binfile"}, stages...), leaves...))
	never("the job stands above the reading of its file", []string{"reuse/advice"}, []string{"sorting/binfile"})
	for row := range house {
		if strings.HasPrefix(row, "cmd/") {
			continue
		}
		for _, r := range reach(row) {
			if strings.HasPrefix(r, "cmd/") || r == "*" {
				t.Errorf("%s reaches %s: the library never imports the command", row, r)
			}
		}
	}
	for _, pkg := range []string{"reuse", "reuse/press"} {
		if slices.Contains(house[pkg], "polymers/cues") {
			t.Errorf("%s imports polymers/cues: reuse never sees tests", pkg)
		}
	}
}

// reach lists what the table lets a package import, directly or through others.
func reach(pkg string) []string {
	var out []string
	for _, p := range house[pkg] {
		out = append(out, p)
		out = append(out, reach(p)...)
	}
	return out
}

// TestWorld holds the calls that imports alone do not show: only main ends the process, only seeded
// generators make random numbers, and the library prints to no stream of its own choice.
func TestWorld(t *testing.T) {
	list, set := sources(t)
	mains := []string{"cmd/brinecut/main.go", "polymers/internal/tablegen/main.go"}
	for _, s := range list {
		ast.Inspect(s.file, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			x, ok := sel.X.(*ast.Ident)
			if !ok {
				return true
			}
			call := x.Name + "." + sel.Sel.Name
			switch {
			case call == "os.Exit" && !slices.Contains(mains, s.name),
				(call == "fmt.Print" || call == "fmt.Println" || call == "fmt.Printf"),
				(call == "os.Stdout" || call == "os.Stderr" || call == "os.Stdin") && !slices.Contains(mains, s.name),
				call == "time.Now" && !strings.HasPrefix(s.pkg, "cmd/"),
				x.Name == "rand" && !strings.HasPrefix(sel.Sel.Name, "New") && ast.IsExported(sel.Sel.Name) && imports(s.file, "math/rand/v2") &&
					sel.Sel.Name != "Rand" && sel.Sel.Name != "Source" && sel.Sel.Name != "PCG":
				t.Errorf("%s: %s is not for this file", set.Position(sel.Pos()), call)
			}
			return true
		})
	}
}

func imports(f *ast.File, p string) bool {
	return slices.ContainsFunc(f.Imports, func(i *ast.ImportSpec) bool { return i.Path.Value == strconv.Quote(p) })
}
