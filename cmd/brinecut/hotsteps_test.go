package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
)

// safetyPage is where cautions are explained, with its section.
var safetyPage = regexp.MustCompile(`docs/safety\.md, section (\d+) \(([^)]*)\)|docs/safety\.md, section (\d+)`)

// hotDoing is a step that warms something or someone.
var hotDoing = regexp.MustCompile(`water of \d|hot water|in warmth|heat gun|hold a chip in a flame|platens|heat the|the press|the melt|pressed into|take the sheet out`)

// hotBin has a heat gun, a lighter with leave for it, and nothing else to tell three plastics apart.
const hotBin = `[bin]
gross  = "5 kg"
tare   = "0 g"
origin = "own-print"

[[lot]]
name = "white"
mass = "2 kg"
could_be = ["PP", "PETG", "ABS"]

[[lot]]
name = "grey"
mass = "2 kg"
could_be = ["PP", "PETG", "PLA"]

[[lot]]
name = "third"
mass = "1 kg"
could_be = ["PP", "ABS"]

[kit]
has   = ["heat gun", "lighter"]
allow = ["flame"]
`

// hotBins are all invented bins and hotBin, as paths.
func hotBins(t *testing.T) []string {
	own := filepath.Join(t.TempDir(), "hot.toml")
	if err := os.WriteFile(own, []byte(hotBin), 0o600); err != nil {
		t.Fatal(err)
	}
	return append(goodBins(t), own)
}

// TestHotStepsNameTheSafetyPage: no step that warms a piece, a bath, a press or a melt is without the section of
// docs/safety.md that it belongs to: in sort, next, the bench chart, the report, press and regrind.
func TestHotStepsNameTheSafetyPage(t *testing.T) {
	hot := 0
	hold := func(where, do string, cautions any) {
		if !hotDoing.MatchString(do) {
			return
		}
		hot++
		named(t, where+": "+do, cautions)
	}
	for _, bin := range hotBins(t) {
		got := wire(t, "sort", bin)
		for _, s := range got["steps"].([]any) {
			step := s.(map[string]any)
			hold("sort "+bin, step["do"].(string), step["cautions"])
		}
		for _, f := range got["fractions"].([]any) {
			if route := f.(map[string]any)["route"]; route == "sheet" || route == "regrind" {
				hot++
				named(t, bin+": a bag goes to "+route.(string), f.(map[string]any)["cautions"])
			}
		}
		next := got["next"].(map[string]any)
		if test, ok := next["test"].(map[string]any); ok && slices.Contains([]any{"hot-water", "hot-air", "flame"}, test["kind"]) {
			hot++
			named(t, "next "+bin, next["cautions"])
		}
		html := filepath.Join(t.TempDir(), "r.html")
		chart := wire(t, "report", bin, "-o", html)["chart"].(map[string]any)
		for _, l := range slices.Concat(chart["lines"].([]any), chart["first"].([]any), chart["baths"].([]any)) {
			line := l.(map[string]any)
			hold("chart of "+bin, line["do"].(string), line["cautions"])
		}
		inText(t, bin, html, got)
	}
	if hot < 10 {
		t.Errorf("only %d hot steps were met", hot)
	}
}

func named(t *testing.T, where string, cautions any) {
	t.Helper()
	for _, c := range cautions.([]any) {
		if safetyPage.MatchString(c.(string)) {
			return
		}
	}
	t.Errorf("%s: docs/safety.md is not named beside it: %v", where, cautions)
}

// inText holds the text of sort --steps and the report to the same: they name the page once a hot step at least.
func inText(t *testing.T, bin, html string, got map[string]any) {
	t.Helper()
	steps := 0
	for _, s := range got["steps"].([]any) {
		if hotDoing.MatchString(s.(map[string]any)["do"].(string)) {
			steps++
		}
	}
	var out, errs bytes.Buffer
	run([]string{"sort", bin, "--steps"}, nil, &out, &errs)
	text := strings.Join(strings.Fields(out.String()), " ")
	report, err := os.ReadFile(html)
	if err != nil {
		t.Fatal(err)
	}
	for what, s := range map[string]string{"sort --steps": text, "report": string(report)} {
		if n := strings.Count(s, "docs/safety.md, section"); n < steps {
			t.Errorf("%s of %s: %d hot steps, and the page is named %d times", what, bin, steps, n)
		}
	}
}

// TestEveryPressAndRegrindNamesTheSafetyPage: every material that can be planned, every step of it.
func TestEveryPressAndRegrindNamesTheSafetyPage(t *testing.T) {
	planned := 0
	for _, m := range polymers.All() {
		if m.NeverHeat || m.WaterSoluble || m.CeilingC == nil {
			continue
		}
		planned++
		platen, centre := quantity.Format(quantity.Celsius(m.CeilingC.Low-1)), quantity.Format(quantity.Celsius(m.CeilingC.Low-15))
		plan := wire(t, "press", "--material", string(m.Symbol), "--thickness", "4 mm", "--platen", platen, "--centre", centre, "--size", "100 x 100 mm")
		for _, s := range plan["steps"].([]any) {
			named(t, "press "+string(m.Symbol)+": "+s.(map[string]any)["do"].(string), s.(map[string]any)["cautions"])
		}
		named(t, "regrind "+string(m.Symbol), wire(t, "regrind", "--material", string(m.Symbol), "--share", "20 %")["cautions"])
	}
	if planned < 40 {
		t.Errorf("only %d materials can be planned", planned)
	}
}

// TestNamedSectionsStand: each section that a caution names stands in docs/safety.md under that number and name.
func TestNamedSectionsStand(t *testing.T) {
	safety, err := os.ReadFile(root + "/docs/safety.md")
	if err != nil {
		t.Fatal(err)
	}
	heads := map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^## (\d+)\. (.*)$`).FindAllStringSubmatch(string(safety), -1) {
		heads[m[1]] = strings.ToLower(m[2])
	}
	found := 0
	eachText(t, func(file string, text []byte) {
		if !strings.HasSuffix(file, ".go") {
			return
		}
		for _, m := range regexp.MustCompile(`(?:docs/safety\.md, |and )section (\d+) \(([a-z, ]+)\)`).FindAllStringSubmatch(string(text), -1) {
			found++
			if !strings.HasPrefix(heads[m[1]], m[2]) {
				t.Errorf("%s names section %s (%s), which is %q", file, m[1], m[2], heads[m[1]])
			}
		}
	})
	if found < 8 {
		t.Errorf("only %d names of sections were found", found)
	}
}

// TestBarredLotsOfEveryBin: whatever bars one lot or all of a bin, nothing of it takes a hot way or gets a test
// above 100 °C, with a heat gun at hand and flame allowed (docs/safety.md, section 1).
func TestBarredLotsOfEveryBin(t *testing.T) {
	own := regexp.MustCompile(`origin(\s*)= "own-print"`)
	bar := map[string]func(string) string{
		"moulded":         func(s string) string { return own.ReplaceAllString(s, `origin$1= "moulded"`) },
		"unknown":         func(s string) string { return own.ReplaceAllString(s, `origin$1= "unknown"`) },
		"not said":        func(s string) string { return own.ReplaceAllString(s, "") },
		"could be PVC":    func(s string) string { return everyLot(s, `could_be = ["PETG", "PVC-U"]`) },
		"could be POM":    func(s string) string { return everyLot(s, `could_be = ["POM"]`) },
		"flame-retarded":  func(s string) string { return everyLot(s, `additives = ["flame retardant"]`) },
		"one lot moulded": oneLotMoulded,
	}
	free := 0
	for _, path := range hotBins(t) {
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !own.Match(src) || strings.Contains(string(src), "moulded") {
			continue
		}
		text := heatAtHand(string(src))
		free += cold(t, path, text, false)
		for how, spoil := range bar {
			spoilt := spoil(text)
			if spoilt == text || how == "not said" && own.MatchString(spoilt) {
				continue // nothing there that it could bar
			}
			cold(t, path+", "+how, spoilt, how != "one lot moulded" && strings.Contains(text, "[[lot]]"))
		}
	}
	if free == 0 {
		t.Error("nothing may be heated before it is barred: the check checks nothing")
	}
}

// TestNextLeavesBarredPiecesWhole: what a piece of unknown origin is made of would be in the dust; neither the
// test nor how it is done says to cut it (docs/safety.md, section 1).
func TestNextLeavesBarredPiecesWhole(t *testing.T) {
	const bin = "[bin]\ngross = \"6.2 kg\"\ntare = \"200 g\"\norigin = \"own-print\"\n\n[kit]\nhas = [\"table salt\", \"scale 1 g\"]\n\n" +
		"[[lot]]\nname = \"white\"\nmass = \"6 kg\"\nstate = \"dry\"\ncould_be = [\"PETG\", \"ABS\"]\n"
	for origin, cut := range map[string]bool{"own-print": true, "unknown": false} {
		out, errs, code := ran(strings.Replace(bin, "own-print", origin, 1), "next|-|--skip|bend|--skip|soak")
		words := strings.Join(strings.Fields(out), " ")
		if code != exitDone || !strings.Contains(words, "do float") {
			t.Fatalf("%s: no float test is proposed: %s%s", origin, out, errs)
		}
		if strings.Contains(words, "Cut the piece") != cut || strings.Contains(words, "cut open") != cut || strings.Contains(words, "Leave the piece whole") == cut {
			t.Errorf("%s:\n%s", origin, out)
		}
	}
}

// oneLotMoulded states the first lot as moulded, whatever it said.
func oneLotMoulded(s string) string {
	head, lot, ok := strings.Cut(s, "[[lot]]\n")
	if !ok {
		return s
	}
	end := strings.Index(lot, "\n[")
	if end < 0 {
		end = len(lot)
	}
	return head + "[[lot]]\norigin = \"moulded\"\n" + regexp.MustCompile(`(?m)^origin.*\n`).ReplaceAllString(lot[:end], "") + lot[end:]
}

// everyLot puts a line into every [[lot]], instead of the line of the same key.
func everyLot(s, line string) string {
	key, _, _ := strings.Cut(line, " ")
	s = regexp.MustCompile(`(?m)^`+key+`\s*=.*\n`).ReplaceAllString(s, "")
	return strings.ReplaceAll(s, "[[lot]]\n", "[[lot]]\n"+line+"\n")
}

// heatAtHand puts a heat gun and a lighter into the kit, and allows the flame.
func heatAtHand(s string) string {
	s = regexp.MustCompile(`(?m)^\[kit\].*\n(?:[^\[\n].*\n|\n)*`).ReplaceAllString(s, "")
	return s + "\n[kit]\nhas = [\"heat gun\", \"lighter\", \"sheet press\", \"granulator\", \"filament extruder\"]\nallow = [\"flame\"]\n"
}

// cold runs sort and report on a bin, and returns how many of its lots may be heated. What may not is held to
// be cold; all asks that every lot of the file is barred.
func cold(t *testing.T, where, text string, all bool) int {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bin.toml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	got := wire(t, "sort", path)
	barred, may := map[string]bool{}, 0
	for _, l := range got["lots"].([]any) {
		lot := l.(map[string]any)
		name := lot["name"].(string)
		if barred[name] = lot["may_be_heated"] != true; !barred[name] {
			may++
			if all && name != "unsorted" {
				t.Errorf("%s: %q may be heated", where, name)
			}
		}
	}
	for _, f := range got["fractions"].([]any) {
		bag := f.(map[string]any)
		for _, lot := range bag["lots"].([]any) {
			if barred[lot.(string)] && (bag["route"] == "sheet" || bag["route"] == "regrind" || bag["may_be_heated"] == true) {
				t.Errorf("%s: %q goes to %v, may be heated %v", where, lot, bag["route"], bag["may_be_heated"])
			}
		}
	}
	for _, s := range got["steps"].([]any) {
		step := s.(map[string]any)
		if lot, ok := step["lot"].(string); ok && barred[lot] && regexp.MustCompile(`heat gun|flame|^cut |^bend `).MatchString(step["do"].(string)) {
			t.Errorf("%s: %q: %v", where, lot, step["do"])
		}
	}
	for _, l := range wire(t, "report", path, "-o", path+".html")["chart"].(map[string]any)["lines"].([]any) {
		kind := l.(map[string]any)["test"].(map[string]any)["kind"]
		if may < len(barred) && slices.Contains([]any{"hot-air", "flame", "bend"}, kind) {
			t.Errorf("%s: the chart of a bin with a barred lot asks for %v", where, kind)
		}
	}
	return may
}
