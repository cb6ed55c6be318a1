package page

import (
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// checkedHTML holds a page to an HTML checker of Debian's. The one it has knows no inputmode (HTML Living
// Standard, 6.8.7).
func checkedHTML(t *testing.T, what, page string) {
	t.Helper()
	tidy, err := exec.LookPath("tidy")
	if err != nil {
		t.Skip("no tidy here (Debian: tidy)")
	}
	c := exec.Command(tidy, "-q", "-e")
	c.Stdin = strings.NewReader(page)
	said, _ := c.CombinedOutput() // its exit code only repeats what it says
	for line := range strings.Lines(string(said)) {
		if !strings.Contains(line, `proprietary attribute "inputmode"`) && strings.TrimSpace(line) != "" {
			t.Errorf("%s: %s", what, strings.TrimSpace(line))
		}
	}
}

// TestBenchIsValid: every page of the bench, over every invented bin, before and after a test is recorded
// and with a timer and a skipped kind on it.
func TestBenchIsValid(t *testing.T) {
	for _, name := range binsShown {
		src, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "bins", name+".toml"))
		if err != nil {
			t.Fatal(err)
		}
		b := startBench(t, string(src), BenchOptions{Patience: 2 * time.Minute})
		p := b.phone()
		_, page := p.get("/")
		checkedHTML(t, name+", the worksheet", page)
		lot, id := "", ""
		if strings.Contains(page, `name="outcome"`) {
			f, words := p.step(page)
			lot = f.Get("lot")
			p.send("/timer", url.Values{"seconds": {"120"}, "what": {"a wait"}})
			p.send("/skip", url.Values{"kind": {"soak"}})
			f.Set("outcome", words[0])
			_, page = p.send("/test", f)
			checkedHTML(t, name+", after a test", page)
			id = b.read().Tests[len(b.read().Tests)-1].ID
		}
		q := url.QueryEscape(lot)
		for _, path := range []string{"/test", "/bath", "/bath?target=1.15", "/bath?target=2.5", "/lot", "/known", "/split", "/phone", "/undo?id=" + id, "/no-such-page",
			"/test?lot=" + q + "&kind=float", "/test?lot=" + q + "&kind=hot-water&temp=64", "/test?lot=" + q + "&kind=marked", "/test?lot=" + q + "&kind=bend&many=1"} {
			_, page := p.get(path)
			checkedHTML(t, name+" "+path, page)
		}
	}
}

// TestBenchCountsOnTheLine: many pieces are counted on the worksheet's own line, with its setting, once;
// what is half filled in is refused and comes back as it was.
func TestBenchCountsOnTheLine(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	p := b.phone()
	_, page := p.get("/")
	f, words := p.step(page)
	form := reForm.FindString(page)
	benchHas(t, "the line", form, "Many pieces at once", `name="count-`+words[0]+`"`, "Record the counts")
	if strings.Index(form, `name="drawn"`) > strings.Index(form, `name="outcome"`) {
		t.Error("how pieces were drawn is asked after the outcome")
	}
	f.Set("drawn", "random")
	f.Set("counted", "counted")
	if code, _ := p.send("/test", f); code != http.StatusUnprocessableEntity {
		t.Errorf("counts of nothing: status %d", code)
	}
	f.Set("count-"+words[0], "8")
	f.Set("count-"+words[1], "2")
	f.Set("outcome", words[0])
	code, page := p.send("/test", f)
	if code != http.StatusUnprocessableEntity || !strings.Contains(page, `value="8"`) || !strings.Contains(page, "empty the counts") {
		t.Errorf("an outcome and counts: status %d\n%s", code, page)
	}
	f.Del("outcome")
	for range 2 {
		p.send("/test", f)
	}
	bin := b.read()
	if len(bin.Tests) != 1 {
		t.Fatalf("%d tests", len(bin.Tests))
	}
	o := bin.Tests[0]
	counted := map[string]int{}
	for _, c := range o.Counts {
		counted[c.Outcome] = c.N
	}
	if counted[words[0]] != 8 || counted[words[1]] != 2 || len(counted) != 2 || o.Outcome != "" || !o.Random || o.Lot != f.Get("lot") || string(o.Kind) != f.Get("kind") {
		t.Errorf("recorded %+v", o)
	}
	if _, page = p.get("/"); !slices.ContainsFunc(strings.Split(page, "\n"), func(l string) bool { return strings.Contains(l, "8 "+words[0]) && strings.Contains(l, "Undo") }) {
		t.Error("the counts cannot be undone on the worksheet")
	}
}

// TestBenchAsksForAHandful: where several pieces are asked for at once, their counts stand open ahead of
// the outcomes of one piece; a known snippet is one piece, and nothing is counted or drawn of it.
func TestBenchAsksForAHandful(t *testing.T) {
	shown := map[string]string{}
	for _, name := range []string{"contract", "doubtful-bath"} {
		src, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "bins", name+".toml"))
		if err != nil {
			t.Fatal(err)
		}
		b := startBench(t, string(src), BenchOptions{Patience: 2 * time.Minute})
		p := b.phone()
		_, page := p.get("/")
		shown[name] = page
		f, words := p.step(page)
		if name == "contract" {
			f.Set("count-"+words[0], "5")
		} else {
			f.Set("outcome", words[0])
		}
		before := len(b.read().Tests)
		p.send("/test", f)
		bin := b.read()
		if len(bin.Tests) != before+1 {
			t.Fatalf("%s: %d tests, were %d", name, len(bin.Tests), before)
		}
		o := bin.Tests[before]
		if name == "contract" && (len(o.Counts) != 1 || o.Counts[0].N != 5 || o.Lot == "") || name != "contract" && (o.Known == "" || o.Lot != "" || o.Outcome != words[0]) {
			t.Errorf("%s: recorded %+v", name, o)
		}
	}
	many, one := shown["contract"], shown["doubtful-bath"]
	benchHas(t, "a handful", many, "5 fresh pieces of", "Each must ", "See: how many of the 5", "Or one piece alone", `name="outcome"`)
	if strings.Contains(many, `class="many"`) || strings.Index(many, `name="count-`) > strings.Index(many, `name="outcome"`) {
		t.Error("the counts of a handful are folded away, or stand behind the outcomes")
	}
	benchHas(t, "a snippet", one, "the known snippet", `name="outcome"`)
	if strings.Contains(one, `name="count-`) || strings.Contains(one, `name="drawn"`) {
		t.Error("a known snippet is counted, or drawn")
	}
}
