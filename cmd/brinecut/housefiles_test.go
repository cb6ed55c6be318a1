package main

import (
	"bytes"
	"go/ast"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestTopLevel: the top of the tree holds these and nothing else, dot-files apart.
func TestTopLevel(t *testing.T) {
	want := []string{"CHANGELOG.md", "DEVELOPERS.md", "LICENSE", "README.md", "cmd", "docs", "go.mod", "go.sum", "polymers", "reuse", "sorting", "testdata"}
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !ignored(e.Name()) {
			got = append(got, e.Name())
		}
	}
	for _, w := range want {
		if !slices.Contains(got, w) {
			t.Errorf("%s is missing at the top", w)
		}
	}
	for _, g := range got {
		if !slices.Contains(want, g) {
			t.Errorf("%s does not belong at the top", g)
		}
	}
}

// ignored reports whether a file is one that .gitignore names: built, measured, written by a test.
func ignored(name string) bool {
	return name == "brinecut" || name == "dist" || slices.Contains([]string{".test", ".out", ".got", ".prof"}, filepath.Ext(name))
}

// eachText calls do with every text file of the tree. Dot-directories but the checks, and what is built,
// are left out.
func eachText(t *testing.T, do func(name string, text []byte)) {
	t.Helper()
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && p != root && strings.HasPrefix(d.Name(), ".") && d.Name() != ".ci" {
			return filepath.SkipDir
		}
		if d.IsDir() || (p != filepath.Join(root, "cmd", "brinecut") && ignored(d.Name())) {
			return nil
		}
		text, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		if !bytes.ContainsRune(text, 0) {
			do(filepath.ToSlash(strings.TrimPrefix(p, root+string(filepath.Separator))), text)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// strangers are words that have no business in the tree: places of the machine it was written on, the
// way it was written, and the hosts that modules come from. Split up, so that this list is not in it.
var strangers = regexp.MustCompile(`(?i)` + strings.Join([]string{
	`\.\./sha` + `red`, `/wo` + `rk/(main|shared|\.)`, `/tmp/(br` + `ief|bash)`, `/ro` + `ot/`, `\.lib` + `rary/`,
	`help` + `er session`, `sub` + `-?agent`, `filed by a ses` + `sion`, `language mo` + `del`, `DESI` + `GN\.md`, `CONTR` + `ACT\.md`,
	`(proxy|sum)\.go` + `lang\.org`, `py` + `pi\.org`, `npm` + `js\.(org|com)`, `crates\.` + `io`, `deb\.deb` + `ian\.org`, `GOPR` + `OXY`,
}, `|`))

// TestSpeaksOfItselfAlone: the project stands by itself wherever it is copied to.
func TestSpeaksOfItselfAlone(t *testing.T) {
	seen := 0
	eachText(t, func(name string, text []byte) {
		seen++
		for i, line := range strings.Split(string(text), "\n") {
			if w := strangers.FindString(line); w != "" {
				t.Errorf("%s:%d: names %q", name, i+1, w)
			}
		}
	})
	if seen < 100 {
		t.Fatalf("only %d files were read", seen)
	}
}

// longest is the most lines of a file of logic; tables, and what is generated, may be longer.
const longest = 350

// TestFileLength: a file that no longer fits in the head is two.
func TestFileLength(t *testing.T) {
	tables := []string{"polymers/table_gen.go"}
	list, _ := sources(t)
	for _, s := range list {
		if s.lines > longest && !slices.Contains(tables, s.name) {
			t.Errorf("%s has %d lines, more than %d", s.name, s.lines, longest)
		}
	}
}

// TestExportedNamesSayWhatTheyMean: every exported type, function, method, constant and variable has a
// comment; one on the group of constants or variables will do.
func TestExportedNamesSayWhatTheyMean(t *testing.T) {
	list, set := sources(t)
	for _, s := range list {
		for _, d := range s.file.Decls {
			for _, n := range undocumented(d) {
				t.Errorf("%s: %s has no comment", set.Position(n.Pos()), n.Name)
			}
		}
	}
}

func undocumented(d ast.Decl) []*ast.Ident {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Name.IsExported() && d.Doc == nil && exportedReceiver(d) && !errorMethod(d) {
			return []*ast.Ident{d.Name}
		}
	case *ast.GenDecl:
		if d.Doc == nil {
			return undocumentedSpecs(d)
		}
	}
	return nil
}

// errorMethod reports a method of the error interfaces, whose meaning is the language's.
func errorMethod(f *ast.FuncDecl) bool {
	return f.Recv != nil && (f.Name.Name == "Error" || f.Name.Name == "Unwrap")
}

func exportedReceiver(f *ast.FuncDecl) bool {
	if f.Recv == nil {
		return true
	}
	name := ""
	ast.Inspect(f.Recv.List[0].Type, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok && name == "" {
			name = id.Name
		}
		return true
	})
	return token.IsExported(name)
}

func undocumentedSpecs(d *ast.GenDecl) []*ast.Ident {
	var out []*ast.Ident
	for _, spec := range d.Specs {
		switch spec := spec.(type) {
		case *ast.TypeSpec:
			if spec.Name.IsExported() && spec.Doc == nil && spec.Comment == nil {
				out = append(out, spec.Name)
			}
		case *ast.ValueSpec:
			for _, n := range spec.Names {
				if n.IsExported() && spec.Doc == nil && spec.Comment == nil {
					out = append(out, n)
				}
			}
		}
	}
	return out
}
