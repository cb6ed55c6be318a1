package main

import (
	"go/ast"
	"go/token"
	"regexp"
	"strings"
	"testing"
)

// grounded finds in the words beside a number what it stands on: a published source by its year or where it
// is held, or that there is none.
var grounded = regexp.MustCompile(`(?i)\b(19|20)\d\d\b|method\.md|\b(ISO|NIST|CIAAW|IUPAC)\b|source|exact|judgement|common practice|from memory`)

// TestConstantsSayWhatTheyStandOn: in the library a number with a name has its source beside it, or says that
// it has none (law 9): in its comment, in that of its group, or in the words of its own rows. What triage and
// response reckon with, and what a page or a drawing is laid out by, is judgement where it says nothing.
func TestConstantsSayWhatTheyStandOn(t *testing.T) {
	list, set := sources(t)
	seen := 0
	for _, s := range list {
		if strings.HasPrefix(s.pkg, "cmd/") || s.pkg == "sorting/triage" || s.pkg == "sorting/response" || strings.HasSuffix(s.name, "_gen.go") {
			continue
		}
		for _, d := range s.file.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST && g.Tok != token.VAR {
				continue
			}
			group := g.Doc.Text()
			for _, x := range g.Specs {
				v := x.(*ast.ValueSpec)
				figures, words := inside(v)
				if !figures {
					continue
				}
				seen++
				for _, c := range s.file.Comments { // those between the rows
					if c.Pos() > v.Pos() && c.End() < v.End() {
						words += c.Text()
					}
				}
				if !grounded.MatchString(group + v.Doc.Text() + v.Comment.Text() + words) {
					t.Errorf("%s: %s does not say what it stands on", set.Position(v.Pos()), v.Names[0].Name)
				}
			}
		}
	}
	if seen < 50 {
		t.Errorf("only %d constants were looked at", seen)
	}
}

// inside reports whether a value holds a number that says anything, and gives its names and texts.
func inside(v *ast.ValueSpec) (figures bool, words string) {
	for _, x := range v.Values {
		ast.Inspect(x, func(n ast.Node) bool {
			switch y := n.(type) {
			case *ast.FuncLit:
				return false
			case *ast.Ident:
				words += y.Name + " "
			case *ast.BasicLit:
				switch {
				case y.Kind == token.STRING:
					words += y.Value + " "
				case y.Value != "0" && y.Value != "1" && y.Value != "2":
					figures = true
				}
			}
			return true
		})
	}
	return figures, words
}
