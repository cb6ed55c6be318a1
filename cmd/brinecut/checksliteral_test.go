package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/constant"
	"go/parser"
	"go/printer"
	"go/token"
	"go/types"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// handbookRow is a row of polymers/handbook_test.go: of the table of ranges, or of that of picks.
type handbookRow struct {
	symbol, property, source string
	value, digit             float64
	pick                     bool
}

// handbookRows reads rows of the form {symbol, property, value, digit, source}.
func handbookRows(t *testing.T) (out []handbookRow) {
	f, err := parser.ParseFile(token.NewFileSet(), root+"/polymers/handbook_test.go", nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range f.Decls {
		_, inTest := d.(*ast.FuncDecl)
		ast.Inspect(d, func(n ast.Node) bool {
			l, ok := n.(*ast.CompositeLit)
			if !ok || len(l.Elts) != 5 {
				return true
			}
			v := make([]constant.Value, 5)
			for i, e := range l.Elts {
				v[i] = constantOf(e)
				if text := i < 2 || i > 3; v[i] == nil || (v[i].Kind() == constant.String) != text {
					return true
				}
			}
			out = append(out, handbookRow{constant.StringVal(v[0]), constant.StringVal(v[1]), constant.StringVal(v[4]), float(v[2]), float(v[3]), inTest})
			return true
		})
	}
	return out
}

func float(v constant.Value) float64 {
	x, _ := constant.Float64Val(constant.ToFloat(v))
	return x
}

// constantOf is the value of an expression of literals; nil where it has none.
func constantOf(e ast.Expr) constant.Value {
	tv, err := types.Eval(token.NewFileSet(), nil, token.NoPos, written(e))
	if err != nil {
		return nil
	}
	return tv.Value
}

// written is a piece of Go as it is written, on one line.
func written(n ast.Node) string {
	var b bytes.Buffer
	if err := printer.Fprint(&b, token.NewFileSet(), n); err != nil {
		return ""
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// literals lists by test the published values that stand in the tests themselves: those of calls of
// near(t, what, got, want, tolerance), and the rows that a test named as published walks over.
func literals(t *testing.T, b *strings.Builder) {
	b.WriteString("\n## Held in the tests themselves\n\nValues of published pages, and of arithmetic by hand or closed form. Ours lies within the tolerance, or the test fails; the source is what the test says of itself.\n")
	tests := 0
	for _, dir := range []string{"polymers", "reuse", "sorting"} {
		err := filepath.WalkDir(root+"/"+dir, func(p string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(p, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), p, nil, parser.ParseComments|parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			pkg, err := filepath.Rel(root, filepath.Dir(p))
			if err != nil {
				return err
			}
			for _, decl := range f.Decls {
				if fn, ok := decl.(*ast.FuncDecl); ok && strings.HasPrefix(fn.Name.Name, "Test") && fn.Doc != nil {
					tests += literal(b, filepath.ToSlash(pkg), fn)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if tests < 20 {
		t.Errorf("only %d tests with values", tests)
	}
}

// literal writes what one test holds; it says how many tests that were, one or none.
func literal(b *strings.Builder, pkg string, fn *ast.FuncDecl) int {
	values, rows := calls(fn), walked(fn)
	if len(values) == 0 && (len(rows) == 0 || !strings.Contains(fn.Name.Name, "Published")) {
		return 0
	}
	fmt.Fprintf(b, "\n**%s, %s.** %s\n", pkg, fn.Name.Name, strings.Join(strings.Fields(fn.Doc.Text()), " "))
	for _, list := range [][]string{values, rows} {
		if len(list) > 0 {
			b.WriteString("\n")
		}
		for _, v := range list {
			fmt.Fprintf(b, "- %s\n", v)
		}
	}
	return 1
}

// calls gives what near(t, what, got, want, tolerance) asserts, where want is a number as it stands.
func calls(fn *ast.FuncDecl) (out []string) {
	ast.Inspect(fn, func(n ast.Node) bool {
		c, ok := n.(*ast.CallExpr)
		if !ok || len(c.Args) != 5 || written(c.Fun) != "near" {
			return true
		}
		want := constantOf(c.Args[3])
		if want == nil {
			return true
		}
		what := written(c.Args[1])
		if v := constantOf(c.Args[1]); v != nil {
			what = constant.StringVal(v)
		} else {
			what = "`" + what + "`"
		}
		tolerance := written(c.Args[4])
		if v := constantOf(c.Args[4]); v != nil {
			tolerance = text(float(v))
		}
		out = append(out, fmt.Sprintf("%s: %s ± %s", what, strconv.FormatFloat(float(want), 'g', 8, 64), tolerance))
		return true
	})
	return out
}

// walked gives the rows of a literal table that a test ranges over, as they are written.
func walked(fn *ast.FuncDecl) (out []string) {
	ast.Inspect(fn, func(n ast.Node) bool {
		r, ok := n.(*ast.RangeStmt)
		if !ok {
			return true
		}
		l, ok := r.X.(*ast.CompositeLit)
		if !ok {
			return true
		}
		a, ok := l.Type.(*ast.ArrayType)
		if !ok {
			return true
		}
		s, ok := a.Elt.(*ast.StructType)
		if !ok {
			return true
		}
		var names []string
		for _, f := range s.Fields.List {
			for _, name := range f.Names {
				names = append(names, name.Name)
			}
		}
		for _, e := range l.Elts {
			row, ok := e.(*ast.CompositeLit)
			if !ok || len(row.Elts) != len(names) || slices.ContainsFunc(row.Elts, keyed) {
				continue
			}
			var cells []string
			for i, x := range row.Elts {
				cells = append(cells, names[i]+" "+written(x))
			}
			out = append(out, "`"+strings.Join(cells, ", ")+"`")
		}
		return true
	})
	return out
}

func keyed(e ast.Expr) bool {
	_, ok := e.(*ast.KeyValueExpr)
	return ok
}
