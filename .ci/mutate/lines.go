package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

// stop is a hard stop that one line holds: the line that has old in it becomes new, in which mutant(NAME) stands
// for "the stop is out". The tests of pkg that match tests have to fail then, and to pass otherwise. A line that is no
// longer there, or there twice, ends it: the list follows the code.
type stop struct {
	name, file, old, new string
	pkg, tests           string
}

const helper = `package %s

import "os"

func mutant(name string) bool { return os.Getenv("` + env + `") == name }
`

// records are the hard stops of the handbook, one for each material that is never heated: its record says then that
// it may be.
func records() []stop {
	const file = "polymers/table_gen.go"
	raw, err := os.ReadFile(file)
	must(err)
	var out []stop
	for _, m := range regexp.MustCompile(`(?s)Symbol: "([^"]+)", Name:.*?NeverHeat: (true|false)`).FindAllStringSubmatch(string(raw), -1) {
		if m[2] == "true" {
			out = append(out, stop{"record of " + m[1], file, m[0], strings.TrimSuffix(m[0], "true") + "!mutant(NAME)", "polymers", "^TestHardStopsAreWhole$"})
		}
	}
	if len(out) == 0 {
		fmt.Printf("%s: no material that is never heated: mend .ci/mutate/lines.go\n", file)
		os.Exit(1)
	}
	return out
}

// lines takes out every stop of the list in turn and counts those that no test notices. Each package is compiled
// once, with all of its stops in it and chosen by an environment variable.
func lines(scratch string) int {
	stops := append(records(), stops...)
	overlay := edited(scratch, stops)
	binaries := map[string]string{}
	survived := 0
	for _, s := range stops {
		if binaries[s.pkg] == "" {
			at, err := filepath.Abs(filepath.Join(scratch, strings.ReplaceAll(s.pkg, "/", "_")+".lines.test"))
			must(err)
			if out, err := exec.Command("go", "test", "-vet=off", "-c", "-overlay", overlay, "-o", at, "./"+s.pkg).CombinedOutput(); err != nil {
				fmt.Printf("%s%v\n", out, err)
				os.Exit(1)
			}
			binaries[s.pkg] = at
		}
		if out, ok := s.run(binaries[s.pkg], ""); !ok || strings.Contains(out, "no tests to run") {
			fmt.Printf("%s: %s of %s does not pass with every stop in place\n%s", s.name, s.tests, s.pkg, out)
			os.Exit(1)
		}
		if _, ok := s.run(binaries[s.pkg], s.name); ok {
			survived++
			fmt.Printf("%s: %s of %s does not fail without it\n", s.name, s.tests, s.pkg)
		}
	}
	fmt.Printf("%d hard stops of single lines taken out one by one\n", len(stops))
	return survived
}

func (s stop) run(binary, off string) (string, bool) {
	args := []string{"-test.run", s.tests, "-test.timeout=5m"}
	if exec.Command(binary, "-test.run=^$", "-rapid.nofailfile").Run() == nil { // where the package has property tests
		args = append(args, "-rapid.nofailfile")
	}
	c := exec.Command(binary, args...)
	c.Dir, c.Env = s.pkg, append(os.Environ(), env+"="+off)
	out, err := c.CombinedOutput()
	return string(out), err == nil || strings.Contains(string(out), "panic: test timed out")
}

// edited writes all stops of a file into one copy of it, and the overlay that puts the copies in place.
func edited(scratch string, stops []stop) string {
	texts := map[string]string{}
	for _, s := range stops {
		if texts[s.file] == "" {
			raw, err := os.ReadFile(s.file)
			must(err)
			texts[s.file] = string(raw)
		}
		if n := strings.Count(texts[s.file], s.old); n != 1 {
			fmt.Printf("%s: %q stands %d times in %s: mend .ci/mutate/stops.go\n", s.name, s.old, n, s.file)
			os.Exit(1)
		}
		texts[s.file] = strings.Replace(texts[s.file], s.old, strings.ReplaceAll(s.new, "NAME", `"`+s.name+`"`), 1)
	}
	replace := map[string]string{}
	put := func(name, text string) {
		full, err := filepath.Abs(name)
		must(err)
		replace[full] = filepath.Join(scratch, "lines_"+strings.ReplaceAll(name, "/", "_"))
		must(os.WriteFile(replace[full], []byte(text), 0o600))
	}
	for file, text := range texts {
		put(file, text)
		put(filepath.Dir(file)+"/mutant_overlay.go", fmt.Sprintf(helper, regexp.MustCompile(`(?m)^package (\w+)$`).FindStringSubmatch(text)[1]))
	}
	list, err := json.Marshal(map[string]any{"Replace": replace})
	must(err)
	at := filepath.Join(scratch, "lines.json")
	must(os.WriteFile(at, list, 0o600))
	return at
}
