// Command mutate asks whether the tests hold the hard stops. It disables each rule that keeps something from
// heat, one at a time, in a copy of the source, and runs the tests of its package: they must fail. A rule
// that can be taken out without a test noticing is told, and ends it with exit code 1.
//
// The rules are found in the syntax: a rule that is added is asked for by itself. One test binary is built
// for each package, with a switch before every rule, and run once for each. What stands in a condition or in a
// word is listed line by line in stops.go.
package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// env names the rule that is off.
const env = "DISABLED_RULE"

// places are the functions that keep something from heat, by file.
var places = []struct {
	pkg, file string
	funcs     []string
}{
	{"reuse", "heat.go", []string{"MayHeat", "heatOf", "originBars", "namesBar", "sharesBar", "togetherBars"}},
	{"reuse", "gates.go", []string{"flameRetardedHere", "halogenHere", "halogenPossible", "neverHeatHere", "solubleHere", "otherHere"}},
	{"reuse", "ways.go", []string{"lackHeat", "lackName", "lackTogether", "lackWindow", "lackSoluble", "lackNeat", "lackAtOdds", "lackDry"}},
	{"reuse", "outlet.go", []string{"lackClean"}},
	{"reuse/press", "refuse.go", []string{"refused", "mayBeHot", "tooHot", "wet"}},
}

// rule is one place at which something is kept from heat.
type rule struct {
	pkg, where, line string
}

func main() {
	survived := 0
	scratch, err := os.MkdirTemp("", "mutate")
	must(err)
	defer os.RemoveAll(scratch)
	var pkgs []string
	for _, p := range places {
		if !slices.Contains(pkgs, p.pkg) {
			pkgs = append(pkgs, p.pkg)
		}
	}
	for _, pkg := range pkgs {
		rules, binary := build(scratch, pkg)
		if out, held := run(binary, pkg, ""); !held {
			fmt.Printf("%s: the tests fail with every rule in place\n%s", pkg, out)
			os.Exit(1)
		}
		for i, held := range each(rules, binary) {
			if held {
				survived++
				fmt.Printf("%s: no test fails without: %s\n", rules[i].where, rules[i].line)
			}
		}
		fmt.Printf("%s: %d rules taken out one by one\n", pkg, len(rules))
	}
	survived += lines(scratch)
	if survived > 0 {
		fmt.Printf("%d rules that no test holds\n", survived)
		os.Exit(1)
	}
}

// each runs the tests once for every rule, two at a time, and tells for which they still pass.
func each(rules []rule, binary string) []bool {
	held := make([]bool, len(rules))
	var wait sync.WaitGroup
	slots := make(chan struct{}, 2)
	for i, r := range rules {
		wait.Go(func() {
			slots <- struct{}{}
			_, held[i] = run(binary, r.pkg, r.where)
			<-slots
		})
	}
	wait.Wait()
	return held
}

// run reports whether the tests pass with one rule off; to run out of time is no failure of a test.
func run(binary, pkg, off string) ([]byte, bool) {
	c := exec.Command(binary, "-test.failfast", "-test.timeout=5m", "-rapid.nofailfile")
	c.Dir, c.Env = pkg, append(os.Environ(), env+"="+off)
	out, err := c.CombinedOutput()
	return out, err == nil || bytes.Contains(out, []byte("panic: test timed out"))
}

// build makes the test binary of a package with a switch before every rule; the tree is left alone.
func build(scratch, pkg string) ([]rule, string) {
	overlay := map[string]string{}
	put := func(name, src string) {
		at := filepath.Join(scratch, strings.ReplaceAll(pkg, "/", "_")+"_"+name)
		must(os.WriteFile(at, []byte(src), 0o600))
		full, err := filepath.Abs(filepath.Join(pkg, name))
		must(err)
		overlay[full] = at
	}
	var rules []rule
	for _, p := range places {
		if p.pkg != pkg {
			continue
		}
		src, found := switched(pkg, p.file, p.funcs)
		rules = append(rules, found...)
		put(p.file, src)
	}
	put("switch.go", "package "+filepath.Base(pkg)+"\n\nimport \"os\"\n\nfunc ruleOff(at string) bool { return os.Getenv(\""+env+"\") == at }\n")
	list, err := json.Marshal(map[string]any{"Replace": overlay})
	must(err)
	at, binary := filepath.Join(scratch, "overlay.json"), filepath.Join(scratch, filepath.Base(pkg)+".test")
	must(os.WriteFile(at, list, 0o600))
	c := exec.Command("go", "test", "-vet=off", "-c", "-overlay", at, "-o", binary, "./"+pkg)
	if out, err := c.CombinedOutput(); err != nil {
		fmt.Printf("%s%v\n", out, err)
		os.Exit(1)
	}
	return rules, binary
}

// edit is text to be put in at an offset.
type edit struct {
	at   int
	text string
}

// switched gives a file's source with a switch at each rule: what is appended to the reasons is not, and
// what returns a reason, a lack or a refusal returns none.
func switched(pkg, file string, funcs []string) (string, []rule) {
	src, err := os.ReadFile(filepath.Join(pkg, file))
	must(err)
	set := token.NewFileSet()
	tree, err := parser.ParseFile(set, file, src, 0)
	must(err)
	var rules []rule
	var edits []edit
	seen := map[string]bool{}
	for _, d := range tree.Decls {
		f, ok := d.(*ast.FuncDecl)
		if !ok || !slices.Contains(funcs, f.Name.Name) {
			continue
		}
		seen[f.Name.Name] = true
		ast.Inspect(f.Body, func(n ast.Node) bool {
			before, after := "", ""
			pos := set.Position(token.Pos(1))
			if n != nil {
				pos = set.Position(n.Pos())
			}
			where := pkg + "/" + file + ":" + strconv.Itoa(pos.Line) + ":" + strconv.Itoa(pos.Column)
			switch s := n.(type) {
			case *ast.AssignStmt:
				if appended(s) {
					before, after = fmt.Sprintf("if !ruleOff(%q) { ", where), " }"
				}
			case *ast.ReturnStmt:
				if says(s) {
					before = fmt.Sprintf("if ruleOff(%q) { return nil }; ", where)
				}
			}
			if before != "" {
				line, _, _ := bytes.Cut(src[pos.Offset:], []byte("\n"))
				rules = append(rules, rule{pkg, where, string(line)})
				edits = append(edits, edit{pos.Offset, before}, edit{set.Position(n.End()).Offset, after})
			}
			return true
		})
	}
	for _, name := range funcs {
		if !seen[name] {
			fmt.Printf("%s/%s: no function %s: name the one that took its place in .ci/mutate\n", pkg, file, name)
			os.Exit(1)
		}
	}
	slices.SortStableFunc(edits, func(a, b edit) int { return b.at - a.at })
	out := string(src)
	for _, e := range edits {
		out = out[:e.at] + e.text + out[e.at:]
	}
	return out, rules
}

// appended reports a statement that adds to a list of reasons, x = append(x, ...), or sets a bound, x[k] = y.
func appended(s *ast.AssignStmt) bool {
	if len(s.Rhs) != 1 || s.Tok != token.ASSIGN {
		return false
	}
	if _, bound := s.Lhs[0].(*ast.IndexExpr); bound {
		return true
	}
	c, ok := s.Rhs[0].(*ast.CallExpr)
	if !ok {
		return false
	}
	f, ok := c.Fun.(*ast.Ident)
	return ok && f.Name == "append"
}

// says reports a return of reasons written out, or of a refusal.
func says(s *ast.ReturnStmt) bool {
	if len(s.Results) != 1 {
		return false
	}
	switch x := s.Results[0].(type) {
	case *ast.CompositeLit:
		_, list := x.Type.(*ast.ArrayType)
		return list && len(x.Elts) > 0
	case *ast.CallExpr:
		f, ok := x.Fun.(*ast.Ident)
		return ok && f.Name == "refuse"
	}
	return false
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}
