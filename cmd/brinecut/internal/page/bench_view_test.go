package page

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

// A float step says how to mix its bath; a bath that was checked is named from then on.
func TestBenchFloatStep(t *testing.T) {
	text := strings.Replace(smallBin, "[kit]\n", "[kit]\nforbid = [\"bend\", \"soak\", \"hot-water\", \"marked\", \"weigh\"]\n", 1)
	b := startBench(t, text, BenchOptions{})
	p := b.phone()
	_, page := p.get("/")
	f, words := p.step(page)
	if f.Get("kind") != "float" || strings.Join(words, " ") != "floats hovers sinks unclear" {
		t.Fatalf("proposed %v with %v", f, words)
	}
	target, _, ok := strings.Cut(f.Get("density"), " g/cm3")
	if !ok || !strings.Contains(page, `href="/bath?target=`+target+`"`) {
		t.Fatalf("density %q, page\n%s", f.Get("density"), page)
	}
	_, recipe := p.get("/bath?target=" + target)
	benchHas(t, "the recipe", recipe, "To mix one litre of "+target, "g of table salt")
	f.Set("outcome", "sinks")
	p.send("/test", f)
	p.send("/bath", url.Values{"empty": {"0"}, "water": {"1000"}, "filled": {"1150"}, "name": {"A"}, "do": {"record"}})
	_, page = p.get("/test?kind=float&lot=white&bath=A")
	f, _ = p.step(page)
	if f.Get("bath") != "A" {
		t.Errorf("the bath that was chosen is not: %v", f)
	}
	f.Set("outcome", "hovers")
	p.send("/test", f)
	bin := b.read()
	if len(bin.Tests) != 2 || bin.Tests[0].Density.Text != target+" g/cm3" || bin.Tests[1].Bath != "A" || bin.Tests[1].Density.Given() {
		t.Errorf("recorded %+v", bin.Tests)
	}
}

// A whole bin worked through without script until testing is done: every step can be recorded as it
// stands on the page, and the end says so.
func TestBenchToTheEnd(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	p := b.phone()
	_, page := p.get("/")
	n := 0
	for ; !strings.Contains(page, "Testing is done"); n++ {
		if n == 60 {
			t.Fatal("60 tests and no end")
		}
		f, words := p.step(page)
		f.Set("outcome", words[0])
		_, page = p.send("/test", f)
		benchHas(t, "the page after an outcome", page, "Recorded: ")
	}
	if len(b.read().Tests) != n || n == 0 {
		t.Errorf("%d steps, %d tests", n, len(b.read().Tests))
	}
	benchHas(t, "the end", page, "Go on all the same", `name="outcome"`)
}

// Where the next step takes long the page says so and loses nothing; recording does not wait for it.
func TestBenchWhileItIsWorkedOut(t *testing.T) {
	slow := make(chan bool)
	b := startBench(t, smallBin, BenchOptions{Patience: 50 * time.Millisecond})
	parse := b.page.book.bin.Parse
	b.page.book.bin.Parse = func(src []byte) (*sorting.Bin, []sorting.Warning, error) { <-slow; return parse(src) }
	p := b.phone()
	code, page := p.get("/")
	if code != http.StatusOK || !strings.Contains(page, "Working out the next test") {
		t.Errorf("status %d:\n%s", code, page)
	}
	if code, page = p.get("/split"); code != http.StatusServiceUnavailable || !strings.Contains(page, "still being worked out") {
		t.Errorf("status %d:\n%s", code, page)
	}
	p.send("/test", url.Values{"lot": {"white"}, "kind": {"bend"}, "outcome": {"snaps"}})
	if n := len(b.read().Tests); n != 1 {
		t.Errorf("%d tests", n)
	}
	close(slow)
	for range 100 {
		if _, page = p.get("/"); strings.Contains(page, `name="outcome"`) {
			return
		}
	}
	t.Errorf("no step in the end:\n%s", page)
}

// A fault of the reckoning leaves the page standing.
func TestBenchReckoningBreaksOff(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	b.page.book.bin.Parse = func([]byte) (*sorting.Bin, []sorting.Warning, error) { panic("broken") }
	code, page := b.phone().get("/")
	if code != http.StatusInternalServerError || !strings.Contains(page, "safe in the bin file") {
		t.Errorf("status %d:\n%s", code, page)
	}
	b.phone().send("/test", url.Values{"lot": {"white"}, "kind": {"bend"}, "outcome": {"snaps"}})
	if n := len(b.read().Tests); n != 1 {
		t.Errorf("%d tests", n)
	}
}

// The reason is a sentence without a figure in it.
func TestWhyThis(t *testing.T) {
	p := &triage.Proposal{Lot: "white", Kind: cues.Float, MainBefore: "PETG", ShareBefore: 0.61, Outcomes: []triage.Expected{
		{Outcome: "floats", Probability: 0.3, Main: "PLA", Share: 0.8}, {Outcome: "hovers", Main: "PLA"}, {Outcome: "sinks", Main: "PETG"}}}
	if got, want := whyThis(p), "As things stand “white” goes with PETG; floats or hovers would turn that to PLA."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	p.Outcomes = p.Outcomes[2:]
	if got, want := whyThis(p), "As things stand “white” goes with PETG; this makes that surer for the least work."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	p.MainBefore = "other"
	if got := whyThis(p); !strings.Contains(got, "what is not identified; sinks would turn that to PETG") {
		t.Errorf("%q", got)
	}
}

// Every outcome of every kind on the page has words for its button.
func TestSightsAreWhole(t *testing.T) {
	for _, test := range cues.All() {
		for _, c := range choices(test) {
			if c.Sight == "" {
				t.Errorf("%s %s has no words", test.Kind, c.Word)
			}
		}
	}
}
