package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// usual is the bin that errands below are run on.
const usual = root + "/testdata/bins/drawbridge.toml"

// ran runs a command line, its words apart by |, and gives its streams and exit code.
func ran(in, line string) (out, errs string, code int) {
	var o, e bytes.Buffer
	code = run(strings.Split(line, "|"), strings.NewReader(in), &o, &e)
	return o.String(), e.String(), code
}

// errands has for each command, by exit code, a line that ends with it. Commands that cannot fail once
// they are understood have no 1; bench serves until it is stopped, so that only its refusals are here.
func errands(dir string) map[string]map[int]string {
	mine, missing, gone := filepath.Join(dir, "mine.toml"), filepath.Join(dir, "no.toml"), filepath.Join(dir, "no", "x")
	at := "|--at|2031-05-04"
	return map[string]map[int]string{
		"start":    {0: "start|" + mine + "|--example", 1: "start|" + mine, 2: "start"},
		"sort":     {0: "sort|" + usual, 1: "sort|" + missing, 2: "sort|" + root + "/testdata/bins/refused-three-mistakes.toml"},
		"balance":  {0: "balance|" + usual, 1: "balance|" + missing, 2: "balance"},
		"next":     {0: "next|" + usual, 1: "next|" + missing, 2: "next|" + usual + "|--skip|smell"},
		"record":   {0: "record|" + mine + "|--lot|crumbs|bend|snaps" + at, 1: "record|" + missing + "|--lot|a|bend|snaps", 2: "record|" + mine + "|--lot|crumbs|bend|breaks" + at},
		"withdraw": {0: "withdraw|" + mine + "|t1|--why|wrong bowl", 1: "withdraw|" + missing + "|t1|--why|x", 2: "withdraw|" + mine + "|t1"},
		"bath":     {0: "bath|--density|1.2 g/cm3", 1: "bath|--density|1.3 g/cm3|--salt|table salt", 2: "bath"},
		"bath check": {0: "bath|check|--empty|32 g|--water|532 g|--filled|657 g", 1: "bath|check|--empty|32 g|--water|532 g|--filled|657 g|--name|A|--record|" + missing,
			2: "bath|check|--empty|32 g"},
		"cut":     {0: "cut|" + usual + "|--lot|crumbs|--density|1.15 g/cm3", 1: "cut|" + missing + "|--lot|crumbs|--density|1.15 g/cm3", 2: "cut|" + usual},
		"claim":   {0: "claim|--tested|59|--wrong|0|--purity|95 %", 1: "claim|" + usual + "|--fraction|PETG", 2: "claim|--tested|5|--wrong|6"},
		"bag":     {0: "bag|" + mine + "|A1|--lot|white gloss|--gross|1.84 kg|--tare|20 g", 1: "bag|" + missing + "|A1|--lot|a|--gross|1 kg", 2: "bag|" + mine + "|A1"},
		"merge":   {0: "merge|" + mine + "|--lot|soft|--lot|black|--into|dark", 1: "merge|" + missing + "|--lot|a|--lot|b|--into|c", 2: "merge|" + mine + "|--lot|sofd|--lot|black|--into|x"},
		"take":    {0: "take|" + mine + "|--lot|crumbs|--mass|100 g|--for|sheet 1", 1: "take|" + missing + "|--lot|a|--mass|1 g", 2: "take|" + mine + "|--lot|crumbs"},
		"polymer": {0: "polymer|PETG", 2: "polymer|PETGG"},
		"mark":    {0: "mark|>PETG<", 2: "mark|>XYZ<"},
		"press": {0: "press|--material|PETG|--thickness|6 mm|--platen|220 °C|--centre|200 °C", 1: "press|--material|PVC-U|--thickness|6 mm|--platen|180 °C|--centre|170 °C",
			2: "press|--material|PETG"},
		"regrind": {0: "regrind|--material|PLA|--share|25 %", 1: "regrind|--material|PVC-U|--share|25 %", 2: "regrind|--material|PLA"},
		"label":   {0: "label|" + usual + "|-o|" + filepath.Join(dir, "l.pdf"), 1: "label|" + usual + "|-o|" + gone, 2: "label|" + usual},
		"report":  {0: "report|" + usual + "|-o|" + filepath.Join(dir, "r.html"), 1: "report|" + usual + "|-o|" + gone, 2: "report|" + usual},
		"bench":   {1: "bench|" + missing, 2: "bench|-"},
		"man":     {0: "man|" + dir, 1: "man|" + gone, 2: "man"},
	}
}

// visible are the commands of the program and of all below, by the words that call them.
func visible(c *cobra.Command, under string) (out []string) {
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() && sub.Name() != "help" {
			name := strings.TrimSpace(under + " " + sub.Name())
			out = append(append(out, name), visible(sub, name)...)
		}
	}
	return out
}

// Every command ends as README.md says: 0 done, 1 could not be done, 2 wrong use or a refused file. Where
// it fails, standard error alone says why and what helps; what it then writes to standard output is the
// answer of a bath out of reach.
func TestExitCodes(t *testing.T) {
	list := errands(t.TempDir())
	for _, name := range visible((&app{}).root(), "") {
		if list[name] == nil {
			t.Errorf("%s: no errand here", name)
		}
		for _, want := range []int{0, 1, 2} {
			line, ok := list[name][want]
			if !ok {
				continue
			}
			out, errs, code := ran("", line)
			if code != want {
				t.Errorf("%s: exit code %d, want %d\n%s", line, code, want, errs)
			}
			if want != exitDone && (!strings.HasPrefix(errs, "brinecut: error: ") || !strings.Contains(errs, "\nbrinecut: hint: ") || out != "" && name != "bath") {
				t.Errorf("%s: writes %q and complains %q", line, out, errs)
			}
		}
	}
}

// No terminal, no environment changes a byte: there is no colour to be turned off or forced.
func TestNoColour(t *testing.T) {
	read := func(env map[string]string) string {
		for k, v := range env {
			t.Setenv(k, v)
		}
		var b strings.Builder
		list := errands(t.TempDir())
		for _, line := range []string{list["sort"][0], list["sort"][2], list["next"][0], list["balance"][0], list["polymer"][0], "--help"} {
			out, errs, _ := ran("", line)
			b.WriteString(out + errs)
		}
		return b.String()
	}
	forced := read(map[string]string{"CLICOLOR_FORCE": "1", "FORCE_COLOR": "1", "TERM": "xterm-256color"})
	if none := read(map[string]string{"NO_COLOR": "1", "TERM": "dumb"}); none != forced {
		t.Error("NO_COLOR changes what is written")
	}
	if strings.ContainsRune(forced, '\x1b') {
		t.Error("an escape is written")
	}
}

// Every command that reads a bin file takes - for standard input, and answers the same.
func TestStandardInput(t *testing.T) {
	src, err := os.ReadFile(usual)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for _, line := range []string{"sort|" + usual, "balance|" + usual, "next|" + usual, "cut|" + usual + "|--lot|crumbs|--density|1.15 g/cm3",
		"press|" + usual + "|--fraction|PETG|--thickness|6 mm|--platen|220 °C|--centre|200 °C",
		"label|" + usual + "|-o|" + filepath.Join(dir, "l.pdf"), "report|" + usual + "|-o|" + filepath.Join(dir, "r.html")} {
		file, errs, code := ran("", line+"|--json")
		if code != exitDone {
			t.Fatalf("%s: %s", line, errs)
		}
		if in, errs, code := ran(string(src), strings.Replace(line, usual, "-", 1)+"|--json"); code != exitDone || in != file {
			t.Errorf("%s: with - it ends with %d and answers otherwise\n%s", line, code, errs)
		}
	}
	for _, line := range []string{"record|-|--lot|crumbs|bend|snaps", "bag|-|A1|--lot|crumbs|--gross|1 kg", "withdraw|-|t1|--why|x", "bench|-"} {
		if _, errs, code := ran(string(src), line); code != exitWrongUse || !strings.Contains(errs, "standard input cannot be added to") {
			t.Errorf("%s: ends with %d, %s", line, code, errs)
		}
	}
}

// Each step of the job names the next sensible command, and that command is one: its words and its
// flags are known.
func TestNextCommand(t *testing.T) {
	list := errands(t.TempDir())
	for _, name := range []string{"start", "balance", "next", "record", "withdraw", "bath", "bath check", "cut", "bag", "merge", "take", "man"} {
		out, errs, code := ran("", list[name][0])
		if code != exitDone {
			t.Fatalf("%s: %s", name, errs)
		}
		lines := strings.Split(strings.ReplaceAll(out, "\\\n", ""), "\n")
		i := slices.IndexFunc(lines, func(s string) bool {
			return strings.HasPrefix(s, "next: ") || strings.HasPrefix(s, "then ")
		})
		if i < 0 {
			t.Errorf("%s names no next command:\n%s", name, out)
			continue
		}
		if _, command, ok := strings.Cut(lines[i], "brinecut "); ok {
			sound(t, name, command)
		} else if name != "man" && name != "bath check" {
			t.Errorf("%s: %q is no command", name, lines[i])
		}
	}
	for _, bin := range []string{usual, root + "/testdata/bins/contract.toml"} {
		out, _, _ := ran("", "sort|"+bin)
		if out = strings.Join(strings.Fields(out), " "); !strings.Contains(out, "brinecut sort "+bin+" --steps") || strings.Contains(out, "would gain") && !strings.Contains(out, "brinecut next "+bin) {
			t.Errorf("sort %s names no next command", bin)
		}
	}
}

// sound reports what a command line names that is not there.
func sound(t *testing.T, after, command string) {
	words, err := split(command)
	if err != nil {
		t.Errorf("after %s: %v", after, err)
		return
	}
	c, rest, err := (&app{}).root().Find(words)
	if err != nil || !c.HasParent() {
		t.Errorf("after %s: %q is no command of ours", after, command)
		return
	}
	for _, w := range rest {
		if name, ok := strings.CutPrefix(w, "--"); ok && c.Flags().Lookup(name) == nil {
			t.Errorf("after %s: %q has no flag --%s", after, command, name)
		}
	}
}

// freeText are the flags whose value is the user's own: there is nothing to offer.
var freeText = strings.Fields("into for symbol note by at why name listen size diffusivity contact flow new-flow target-flow roll offset-x offset-y date rinses packaging")

// Every flag that takes one of a set of words offers them.
func TestFlagsOfferTheirWords(t *testing.T) {
	var below func(c *cobra.Command)
	below = func(c *cobra.Command) {
		c.Flags().VisitAll(func(f *pflag.Flag) {
			if kind := f.Value.Type(); (kind == "string" || kind == "strings") && !slices.Contains(freeText, f.Name) {
				if _, ok := c.GetFlagCompletionFunc(f.Name); !ok {
					t.Errorf("%s --%s offers nothing", c.CommandPath(), f.Name)
				}
			}
		})
		for _, sub := range c.Commands() {
			below(sub)
		}
	}
	below((&app{}).root())
}

// What a shell is offered for a word begun, as cobra asks for it.
func TestCompletion(t *testing.T) {
	mine := filepath.Join(t.TempDir(), "mine.toml")
	for _, line := range []string{"start|" + mine + "|--example", "record|" + mine + "|--lot|crumbs|bend|snaps",
		"bath|check|--empty|32 g|--water|532 g|--filled|657 g|--name|B7|--record|" + mine} {
		if _, errs, code := ran("", line); code != exitDone {
			t.Fatal(errs)
		}
	}
	for line, want := range map[string]string{
		"re":                                     "record regrind report",
		"record|":                                "toml",
		"record|" + mine + "|h":                  "hot-water hot-air",
		"record|" + mine + "|bend|":              "snaps whitens bends rubbery unclear",
		"record|" + mine + "|--lot|wh":           "white gloss,white matt",
		"record|" + mine + "|--known|":           "red PETG",
		"record|" + mine + "|--bath|B":           "B7",
		"record|" + mine + "|float|--counts|s":   "sinks=",
		"record|" + mine + "|float|--drawn|r":    "random",
		"withdraw|" + mine + "|":                 "t1",
		"cut|" + mine + "|--lot|cr":              "crumbs",
		"claim|" + mine + "|--fraction|PET":      "PETG",
		"press|" + mine + "|--fraction|PET":      "PETG",
		"press|--material|PET":                   "PET PETG",
		"regrind|--material|PETG":                "PETG",
		"polymer|TP":                             "TPU",
		"mark|--of|PV":                           "PVA PVB",
		"next|" + mine + "|--skip|ac":            "acetone",
		"bath|--salt|ep":                         "epsom salt",
		"label|" + mine + "|--what|b":            "bags boxes",
		"sort|" + mine + "|--units|":             "metric us",
		"record|" + mine + "x|--lot|":            "",
		"polymer|PETG|":                          "",
		"bath|check|--record|":                   "toml",
		"bag|" + mine + "|A1|--lot|cr":           "crumbs",
		"take|" + mine + "|--lot|cr":             "crumbs",
		"bath|check|--marked|6":                  "60/60",
		"report|" + mine + "|--output|":          "html",
		"claim|--purity|95 %|--first|f":          "float flame",
		"bath|--density|1.2 g/cm3|--drain|s":     "sewer septic",
		"label|" + mine + "|--sheet|a4-2x2":      "a4-2x2-105x148.5",
		"man|":                                   "",
		"record|" + mine + "|float|floats|extra": "",
	} {
		out, _, code := ran("", "__complete|"+line)
		var got []string
		for l := range strings.Lines(out) {
			if l = strings.TrimSpace(l); l != "" && !strings.HasPrefix(l, ":") {
				word, _, _ := strings.Cut(l, "\t")
				got = append(got, word)
			}
		}
		words := strings.Fields(want)
		if strings.Contains(want, ",") || slices.Contains(got, want) {
			words = strings.Split(want, ",")
		}
		for _, w := range words {
			if !slices.Contains(got, w) {
				t.Errorf("%s offers %q, not %q", line, got, w)
			}
		}
		if code != exitDone || want == "" && len(got) > 0 {
			t.Errorf("%s offers %q and ends with %d", line, got, code)
		}
	}
}
