package page

import (
	"bufio"
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"brinecut/polymers/cues"
	"brinecut/sorting/binfile"
)

// A bath is worked out from one bottle. The figures are a bottle of 500 g of water at 20 °C that holds
// 575 g of bath: with water at 0.998207 g/cm3 (IAPWS-95, as printed in handbooks) and air at 0.0012
// g/cm3 that is 1.15 (0.998207 - 0.0012) + 0.0012 = 1.1478 g/cm3.
func TestBenchBath(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	p := b.phone()
	f := url.Values{"empty": {"32"}, "water": {"532 g"}, "filled": {"607"}, "temp": {"20"}, "salt": {"table salt"}, "do": {"check"}}
	code, page := p.send("/bath", f)
	benchHas(t, "the check", page, "The bath has 1.1478 g/cm3", `value="607"`)
	if code != http.StatusOK || len(b.read().Baths) != 0 {
		t.Errorf("a check: status %d, baths %v", code, b.read().Baths)
	}
	f.Set("do", "record")
	code, page = p.send("/bath", f)
	benchHas(t, "a bath without a name", page, "name: a bath needs one", `value="607"`)
	if code != http.StatusUnprocessableEntity {
		t.Errorf("status %d", code)
	}
	f.Set("name", "A")
	p.send("/bath", f)
	_, page = p.send("/bath", f)
	benchHas(t, "a bath sent twice", page, "in the file already, once")
	f.Set("filled", "620")
	_, page = p.send("/bath", f)
	benchHas(t, "another bath of that name", page, "cannot be recorded as it stands")
	bin := b.read()
	if len(bin.Baths) != 1 || bin.Baths[0].Salt != "table salt" || bin.Baths[0].Density.Value < 1.1477 || bin.Baths[0].Density.Value > 1.1479 || bin.Baths[0].Density.SD <= 0 {
		t.Errorf("baths %+v", bin.Baths)
	}
	f.Set("target", "1.200")
	f.Set("do", "check")
	_, page = p.send("/bath", f)
	benchHas(t, "a check with a target", page, "Add ")
	if _, page = p.send("/bath", url.Values{"empty": {"532"}, "water": {"32"}, "filled": {"607"}}); !strings.Contains(page, "weighs no more") {
		t.Errorf("weighings that cannot be: %s", page)
	}
}

// A recipe for the bath that a step asks for, with its cautions; what the kit cannot reach says so.
func TestBenchRecipe(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	_, page := b.phone().get("/bath?target=1.150")
	benchHas(t, "the recipe", page, "To mix one litre of 1.150 g/cm3", "g of table salt", "Careful", "After use")
	_, page = b.phone().get("/bath?target=1.9")
	if strings.Contains(page, "Weigh in") {
		t.Errorf("a bath of 1.9 g/cm3 from table salt:\n%s", page)
	}
}

func TestBenchLotKnownSplit(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	p := b.phone()
	for range 2 {
		p.send("/lot", url.Values{"name": {"blue"}, "mass": {"1,5 kg"}, "could_be": {"PLA, ABS"}, "mixed": {"true"}, "pieces": {"40"}, "origin": {"own-print"}})
		p.send("/known", url.Values{"name": {"clear PLA"}, "material": {"PLA"}, "density": {"1.241 ± 0.004"}})
		p.send("/split", url.Values{"lot": {"white"}, "kind": {"float"}, "density": {"1.25"}, "side1": {"white up"}, "mass1": {"210"}, "outcome1": {"floats"}, "side2": {"white down"}, "outcome2": {"sinks"}})
	}
	bin := b.read()
	l, ok := bin.Lot("blue")
	if !ok || l.Mass.Value != 1500 || len(l.CouldBe) != 2 || l.Mixed == nil || !*l.Mixed || l.Pieces != 40 || l.Origin != "own-print" || len(bin.Lots) != 3 {
		t.Errorf("lots %+v", bin.Lots)
	}
	if n := len(bin.Known); n != 2 || bin.Known[1].Density.SD != 0.004 {
		t.Errorf("known %+v", bin.Known)
	}
	if len(bin.Splits) != 1 || len(bin.Splits[0].Into) != 2 || bin.Splits[0].Into[0].Mass.Value != 210 || bin.Splits[0].Density.Value != 1.25 {
		t.Errorf("splits %+v", bin.Splits)
	}
	for path, f := range map[string]url.Values{
		"/lot":   {"name": {"red"}, "mass": {"heavy"}},
		"/known": {"name": {"x"}, "material": {"PETH"}},
		"/split": {"lot": {"grey"}, "kind": {"hand"}, "side1": {"one"}},
	} {
		code, page := p.send(path, f)
		if code != http.StatusUnprocessableEntity || !strings.Contains(page, `role="alert"`) || !strings.Contains(page, "<form") {
			t.Errorf("%s %v: status %d\n%s", path, f, code, page)
		}
		for _, v := range f {
			if !strings.Contains(page, `value="`+v[0]+`"`) {
				t.Errorf("%s: what was filled in is lost: %q", path, v[0])
			}
		}
	}
	if code, page := p.send("/lot", url.Values{"name": {"blue"}, "mass": {"2 kg"}}); code != http.StatusUnprocessableEntity || !strings.Contains(page, "blue") {
		t.Errorf("another lot of one name: status %d", code)
	}
}

// Counts, a known snippet, a kind that takes figures; what is refused keeps what was filled in.
func TestBenchOtherTests(t *testing.T) {
	b := startBench(t, strings.Replace(smallBin, `"scale 1 g"`, `"scale 0.1 g"`, 1), BenchOptions{})
	p := b.phone()
	_, page := p.get("/test?lot=white&kind=float&density=1.25&many=1")
	benchHas(t, "counts", page, `name="count-sinks"`, `name="count-unclear"`)
	p.send("/test", url.Values{"lot": {"white"}, "kind": {"float"}, "density": {"1.25"}, "count-sinks": {"10"}, "count-floats": {"2"}, "drawn": {"random"}, "token": {"aaaaaaaa"}})
	_, page = p.get("/test?known=red+PETG&kind=weigh")
	benchHas(t, "weighing a snippet", page, "Dry, in air", `name="liquid"`, "Record")
	p.send("/test", url.Values{"known": {"red PETG"}, "kind": {"weigh"}, "in_air": {"25.40"}, "in_liquid": {"5.40"}, "liquid": {"0.998"}})
	bin := b.read()
	if len(bin.Tests) != 2 {
		t.Fatalf("%d tests", len(bin.Tests))
	}
	if o := bin.Tests[0]; len(o.Counts) != 2 || o.Piece != 0 || !o.Random || o.Outcome != "" || o.ID != "p1-aaaaaaaa" {
		t.Errorf("counts %+v", o)
	}
	if o := bin.Tests[1]; o.Known != "red PETG" || o.InAir.Value != 25.4 || o.InLiquid.Value != 5.4 || o.Piece != 1 {
		t.Errorf("weighed %+v", o)
	}
	code, page := p.send("/test", url.Values{"lot": {"white"}, "kind": {"hot-water"}, "temp": {"many"}, "outcome": {"soft"}, "note": {"keep me"}})
	if code != http.StatusUnprocessableEntity || !strings.Contains(page, "keep me") || !strings.Contains(page, `value="many"`) {
		t.Errorf("a refused test: status %d\n%s", code, page)
	}
	code, page = p.send("/test", url.Values{"lot": {"white"}, "kind": {"float"}, "outcome": {"floats"}})
	if code != http.StatusUnprocessableEntity || !strings.Contains(page, "density") {
		t.Errorf("a float test without a bath: status %d\n%s", code, page)
	}
	if n := len(b.read().Tests); n != 2 {
		t.Errorf("%d tests after two that were refused", n)
	}
}

// There is no flame on the page: it is neither proposed nor offered nor taken, whatever the bin allows.
func TestBenchHasNoFlame(t *testing.T) {
	text := strings.Replace(smallBin, `has = [`, `allow = ["flame"]
forbid = ["bend", "soak", "float", "hot-water", "marked", "weigh"]
has = ["lighter", `, 1)
	b := startBench(t, text, BenchOptions{})
	p := b.phone()
	for _, path := range []string{"/", "/test", "/test?lot=white&kind=flame"} {
		if _, page := p.get(path); strings.Contains(strings.ToLower(page), "flame") {
			t.Errorf("%s has a flame on it:\n%s", path, page)
		}
	}
	if code, _ := p.send("/test", url.Values{"lot": {"white"}, "kind": {"flame"}, "outcome": {"unclear"}}); code != http.StatusUnprocessableEntity || len(b.read().Tests) != 0 {
		t.Errorf("a flame test sent by hand: status %d, %d tests", code, len(b.read().Tests))
	}
}

// A lot that must not be heated has no sheet for a test that heats it: a moulded lot stays cold though
// the bench has a heat gun and the shelf says what it is.
func TestBenchHardStop(t *testing.T) {
	text := strings.NewReplacer(`"kettle"`, `"kettle", "heat gun"`, "[[lot]]\nname     = \"white\"", "[[lot]]\norigin = \"moulded\"\nname     = \"white\"").Replace(smallBin)
	b := startBench(t, text, BenchOptions{})
	code, page := b.phone().get("/test?lot=white&kind=hot-air")
	if code != http.StatusForbidden || !strings.Contains(page, "Do not heat") || strings.Contains(page, `name="outcome"`) {
		t.Errorf("hot air on a moulded lot: status %d\n%s", code, page)
	}
	if code, page = b.phone().get("/test?lot=grey&kind=hot-air"); code != http.StatusOK || !strings.Contains(page, `value="chars"`) {
		t.Errorf("hot air on an own print: status %d", code)
	}
	benchHas(t, "hot air", page, "Own prints only")
}

// TestBenchLeavesBarredPiecesWhole: what a piece is made of would be in the dust, so that a test of a lot which
// must not be heated never tells to cut it, proposed or picked by hand.
func TestBenchLeavesBarredPiecesWhole(t *testing.T) {
	b := startBench(t, strings.ReplaceAll(smallBin, `"own-print"`, `"unknown"`), BenchOptions{})
	p := b.phone()
	for _, skipped := range []string{"hot-water", "soak", "marked", "weigh", "acetone"} {
		p.send("/skip", url.Values{"kind": {skipped}})
	}
	for _, at := range []string{"/", "/test?lot=white&kind=float"} {
		_, page := p.get(at)
		benchHas(t, at, page, "Leave the piece whole", "It must be left whole, never cut")
		if strings.Contains(page, "Cut the piece") || strings.Contains(page, "cut open") || strings.Contains(page, "cut small") {
			t.Errorf("%s tells to cut a piece of unknown origin\n%s", at, page)
		}
	}
	_, page := startBench(t, smallBin, BenchOptions{}).phone().get("/test?lot=white&kind=float")
	benchHas(t, "an own print", page, "Cut the piece")
}

func TestBenchSkipAndTimer(t *testing.T) {
	now := time.Date(2026, 3, 4, 20, 0, 0, 0, time.UTC)
	b := startBench(t, smallBin, BenchOptions{Now: func() time.Time { return now }})
	p := b.phone()
	_, page := p.get("/")
	f, _ := p.step(page)
	kind := f.Get("kind")
	_, page = p.send("/skip", url.Values{"kind": {kind}})
	g, _ := p.step(page)
	if g.Get("kind") == kind || !strings.Contains(page, `name="again" value="`+kind+`"`) {
		t.Errorf("%s was skipped, proposed is %s", kind, g.Get("kind"))
	}
	_, page = p.send("/skip", url.Values{"again": {kind}})
	if g, _ = p.step(page); g.Get("kind") != kind {
		t.Errorf("%s was taken up again, proposed is %s", kind, g.Get("kind"))
	}
	if code, _ := p.send("/skip", url.Values{"kind": {string(cues.Flame)}}); code != http.StatusUnprocessableEntity {
		t.Errorf("skipping what is not there: status %d", code)
	}
	p.send("/timer", url.Values{"seconds": {"120"}, "what": {"hot water: white"}})
	_, page = p.send("/timer", url.Values{"seconds": {"120"}, "what": {"hot water: white"}}) // a double tap
	benchHas(t, "a timer", page, "hot water: white", "2:00 to go", "up at 20:02:00")
	if n := strings.Count(page, `class="timer"`); n != 1 {
		t.Errorf("%d timers of a double tap", n)
	}
	b.end()
	now = now.Add(95 * time.Second)
	again := serveBench(t, b.path, BenchOptions{Now: func() time.Time { return now }})
	q := again.phone()
	q.jar = p.jar
	_, page = q.get("/")
	benchHas(t, "the timer after a restart", page, "0:25 to go")
	now = now.Add(time.Hour)
	_, page = q.get("/")
	benchHas(t, "the timer in the end", page, ">done<")
	_, page = q.send("/timer", url.Values{"stop": {"1772654400"}})
	if strings.Contains(page, `class="timer`) {
		t.Error("the timer that was stopped is there still")
	}
	for _, bad := range []string{"x", "~~", "1~-5~YQ", "zzzzzzzzzzzzzz~60~YQ", "1~60~!!", strings.Repeat("1~60~YQ.", 500)} {
		q.jar["timers_"+again.page.id] = bad
		if code, page := q.get("/"); code != http.StatusOK || strings.Count(page, `class="timer`) > benchMostTimers+1 {
			t.Errorf("timers %.20q: status %d", bad, code)
		}
	}
}

// An open page is told that the file has changed, whoever changed it, and is told nothing else.
func TestBenchLive(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	a, err := http.Get(b.URL + "/live")
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	if a.Header.Get("Content-Type") != "text/event-stream" || a.Header.Get("Content-Security-Policy") != benchPolicy {
		t.Errorf("headers %v", a.Header)
	}
	lines := bufio.NewScanner(a.Body)
	event := func() string {
		for lines.Scan() {
			if s, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
				return s
			}
		}
		return "ended"
	}
	if e := event(); e != "here" {
		t.Errorf("first event %q", e)
	}
	f, err := os.OpenFile(b.path, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteString("\n[[test]]\nid = \"t1\"\nlot = \"grey\"\nkind = \"bend\"\noutcome = \"snaps\"\n"); err != nil {
		t.Fatal(err)
	}
	f.Close()
	if e := event(); e != "bin" {
		t.Errorf("event after a change: %q", e)
	}
	_, page := b.phone().get("/news")
	benchHas(t, "the news", page, "grey: bend, snaps", "1 in all")
	if strings.Contains(page, `name="outcome"`) {
		t.Error("the news bring a step")
	}
	b.page.Close()
	if e := event(); e != "ended" {
		t.Errorf("event after the end: %q", e)
	}
	for range benchMostLive {
		b.page.news.ears[make(chan string)] = true
	}
	if a := ask(b.page, "GET", "/live", "localhost", nil, ""); a.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("one stream too many: status %d", a.StatusCode)
	}
}

// A file that somebody is mending by hand: the page says what is wrong, takes nothing, asks the phone
// to keep what it has, and goes on once the file is right.
func TestBenchFileWithMistakes(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	p := b.phone()
	_, page := p.get("/")
	f, words := p.step(page)
	f.Set("outcome", words[0])
	if err := os.WriteFile(b.path, []byte(smallBin+"\n[[lot]]\nnmae = \"x\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, page := p.get("/")
	if code != http.StatusServiceUnavailable || !strings.Contains(page, "nmae") || strings.Contains(page, `name="outcome"`) {
		t.Errorf("status %d:\n%s", code, page)
	}
	a := ask(b.page, "POST", "/test", "localhost", with(formType, "Accept", "application/json"), f.Encode())
	var told benchAnswer
	if err := json.NewDecoder(a.Body).Decode(&told); err != nil || a.StatusCode != http.StatusServiceUnavailable || told.OK || !told.Keep {
		t.Errorf("status %d, told %+v, error %v", a.StatusCode, told, err)
	}
	if err := os.WriteFile(b.path, []byte(smallBin), 0o644); err != nil {
		t.Fatal(err)
	}
	a = ask(b.page, "POST", "/test", "localhost", with(formType, "Accept", "application/json"), f.Encode())
	if err := json.NewDecoder(a.Body).Decode(&told); err != nil || a.StatusCode != http.StatusOK || !told.OK || told.Next != "/" {
		t.Errorf("status %d, told %+v, error %v", a.StatusCode, told, err)
	}
	if err := os.Remove(b.path); err != nil {
		t.Fatal(err)
	}
	if code, page := p.get("/"); code != http.StatusServiceUnavailable || !strings.Contains(page, "there is no file") {
		t.Errorf("without a file: status %d:\n%s", code, page)
	}
}

// What a phone kept for one bin is not taken by another that is served at the same address.
func TestBenchOfAnotherBin(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	f := url.Values{"bin": {"other"}, "lot": {"white"}, "kind": {"bend"}, "outcome": {"snaps"}}
	if code, page := b.phone().send("/test", f); code != http.StatusConflict || !strings.Contains(page, "another bin") || len(b.read().Tests) != 0 {
		t.Errorf("status %d, %d tests", code, len(b.read().Tests))
	}
}

// Two phones are sent to two lots; what keeps no cookie always sees the best step.
func TestBenchTwoPhones(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	lot := func(p *phone) string {
		_, page := p.get("/")
		f, _ := p.step(page)
		return f.Get("lot")
	}
	best := lot(b.phone())
	if again := lot(b.phone()); again != best {
		t.Errorf("without cookies: %s, then %s", best, again)
	}
	one, two := b.phone(), b.phone()
	lot(one)
	first := lot(one)
	if second := lot(two); second == first {
		t.Errorf("both phones are sent to %s", first)
	}
	if first != best {
		t.Errorf("the first phone is sent to %s, the best is %s", first, best)
	}
}

// A phone that is in can let in another by a code on its screen.
func TestBenchOneMorePhone(t *testing.T) {
	var key string
	b := startBench(t, smallBin, BenchOptions{Keyed: true, Key: func(k, _ string) { key = k }})
	p := b.phone()
	p.get("/?key=" + key)
	_, page := p.get("/phone")
	_, rest, ok := strings.Cut(page, "?key=")
	if !ok || !strings.Contains(page, `<svg class="code"`) {
		t.Fatalf("no code:\n%s", page)
	}
	if code, _ := b.phone().get("/?key=" + rest[:32]); code != http.StatusOK {
		t.Errorf("the key of the code: status %d", code)
	}
	if code, _ := b.phone().get("/phone"); code != http.StatusUnauthorized {
		t.Errorf("a stranger asks for a key: status %d", code)
	}
}

// FuzzBenchForm sends anything as a form to every door: the page answers, the file reads, and one form is
// at most one record in it.
func FuzzBenchForm(f *testing.F) {
	doors := []string{"/test", "/split", "/bath", "/lot", "/known", "/undo", "/timer", "/skip"}
	for i, body := range []string{
		"lot=white&kind=bend&outcome=snaps&token=abcdefgh",
		"lot=white&kind=float&density=1.2&side1=a&side2=b&outcome1=floats&outcome2=sinks&mass1=1e99",
		"empty=1&water=2&filled=3&name=A&do=record&temp=1e400",
		"name=%00%1b[31m&mass=-1&mixed=true",
		"name=x&material=PETG&density=NaN",
		"id=t1&why=%ff",
		"seconds=60&what=%ff%00",
		"kind=bend&again=%00",
		"lot=white&kind=float&density=1.25+%C2%B1+0.003&count-sinks=3",
	} {
		f.Add(uint8(i), body)
	}
	f.Fuzz(func(t *testing.T, door uint8, body string) {
		path := doors[int(door)%len(doors)]
		src := []byte(smallBin + "\n[[test]]\nid = \"t1\"\nlot = \"grey\"\nkind = \"bend\"\noutcome = \"snaps\"\n")
		start := len(src)
		bin := binAt("bin.toml")
		bin.Stamp = func() (string, error) { return strconv.Itoa(len(src)), nil }
		bin.Read = func() ([]byte, error) { return src, nil }
		bin.Append = func(record func([]byte) ([]byte, error)) error {
			tail, err := record(src)
			if err == nil {
				src = append(src, tail...)
			}
			return err
		}
		a := ask(Bench(bin, BenchOptions{}), "POST", path, "localhost", formType, body)
		if a.StatusCode >= 500 || a.Header.Get("Content-Security-Policy") != benchPolicy {
			t.Errorf("%s %q: status %d, headers %v", path, body, a.StatusCode, a.Header)
		}
		if _, _, err := binfile.Read("", src); err != nil {
			t.Errorf("%s %q: the file does not read: %v\n%s", path, body, err, src)
		}
		tail := string(src[start:])
		if n := strings.Count(tail, "\n[["); n > 1 || n == 0 && tail != "" {
			t.Errorf("%s %q: one form wrote\n%s", path, body, tail)
		}
	})
}
