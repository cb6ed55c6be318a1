package main

import (
	"go/ast"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Packages of the standard library through which a program can speak to others, and what of them is
// used to answer only: nothing that asks.
var answering = map[string][]string{
	"net": strings.Fields("Addr Conn IPNet InterfaceAddrs JoinHostPort Listen Listener ParseIP SplitHostPort TCPAddr"),
	"net/http": strings.Fields("Cookie CrossOriginProtection Error Handler HandlerFunc MaxBytesError MaxBytesReader MethodGet NewResponseController NewServeMux Redirect Request " +
		"ResponseWriter SameSiteLaxMode Server SetCookie"),
}

// speaks are the files that import one of them: the page at the bench, and what serves it.
var speaks = []string{"cmd/brinecut/bench", "cmd/brinecut/internal/page/bench"}

// No file asks anything of a network: there is no telemetry, no look for a newer version, no download.
// Only the bench page speaks at all, and it answers.
func TestHouseNobodyCallsOut(t *testing.T) {
	list, _ := sources(t)
	for _, s := range list {
		names := map[string]string{}
		for _, imp := range s.file.Imports {
			p, err := strconv.Unquote(imp.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			if p != "net" && !strings.HasPrefix(p, "net/") || p == "net/url" || p == "net/netip" {
				continue
			}
			if answering[p] == nil {
				t.Errorf("%s imports %s", s.name, p)
			}
			if !slices.ContainsFunc(speaks, func(begin string) bool { return strings.HasPrefix(s.name, begin) }) {
				t.Errorf("%s imports %s, and is no part of the bench page", s.name, p)
			}
			name := path.Base(p)
			if imp.Name != nil {
				name = imp.Name.Name
			}
			names[name] = p
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := sel.X.(*ast.Ident); ok && names[x.Name] != "" && !slices.Contains(answering[names[x.Name]], sel.Sel.Name) && !strings.HasPrefix(sel.Sel.Name, "Status") {
					t.Errorf("%s uses %s.%s", s.name, names[x.Name], sel.Sel.Name)
				}
			}
			return true
		})
	}
}
