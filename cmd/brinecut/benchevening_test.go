package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"brinecut/polymers/quantity"
)

// eveningBin is invented: six piles of one printer, the truth of which the test knows.
const eveningBin = `title = "Invented evening"
currency = "EUR"

[bin]
gross  = "4.1 kg"
tare   = "200 g"
origin = "own-print"

[[known]]
name     = "red PETG"
material = "PETG"

[[lot]]
name = "white <b>gloss</b>"
could_be = ["PETG", "PLA", "ABS", "TPU"]
mass = "900 g"

[[lot]]
name = "grey"
could_be = ["PETG", "PLA", "ABS", "TPU"]
mass = "700 g"

[[lot]]
name = "soft"
could_be = ["PETG", "TPU", "PLA"]
mass = "400 g"

[[lot]]
name = "black"
could_be = ["PETG", "PLA", "ABS", "TPU"]
mass = "600 g"

[[lot]]
name = "green"
could_be = ["PETG", "PLA", "ABS", "TPU"]
mass = "500 g"

[[lot]]
name  = "crumbs"
mass  = "800 g"
mixed = true
could_be = ["PETG", "PLA", "ABS", "TPU"]

[kit]
has    = ["table salt", "kettle", "thermometer", "scale 1 g"]
forbid = ["weigh"]

[worth]
hour = "1 EUR/h"
`

// truthOf plays the bench: densities and softening temperatures as the handbook has them, without doubt.
func truthOf(a asked) string {
	density, softens, bends := 1.27, 78.0, "bends"
	switch a.Lot {
	case "grey", "green":
		density, softens, bends = 1.24, 58, "snaps"
	case "black":
		density, softens, bends = 1.05, 100, "whitens"
	case "soft":
		density, softens, bends = 1.21, -20, "rubbery"
	}
	switch a.Kind {
	case "float":
		q, err := quantity.Parse[quantity.GramPerCm3](a.Density)
		if err == nil && float64(q.Value) > density {
			return "floats"
		}
		return "sinks"
	case "hot-water":
		q, err := quantity.Parse[quantity.Celsius](a.Temp)
		if err == nil && float64(q.Value) > softens {
			return "soft"
		}
		return "stiff"
	case "bend":
		return bends
	case "soak":
		return "unchanged"
	}
	return "unclear"
}

// ledgerOf an evening: what was tapped, in order.
type evening struct {
	t       *testing.T
	path    string
	process *benchProcess
	air     *wireless
	tapped  int // outcomes that must be in the file, once each
	outcome map[string]string
}

// answered taps the outcome that is true for the step, and remembers that it must be recorded.
func (e *evening) tap(h *handset) asked {
	e.t.Helper()
	a := h.asked()
	if a.Kind == "" {
		e.t.Fatalf("%s: no step:\n%s", h.name, js[string](h, "document.body.innerText"))
	}
	e.outcome[a.Token] = truthOf(a)
	e.tapped++
	h.tap(truthOf(a))
	return a
}

// next waits until the tapped step is acknowledged and another one stands there.
func (e *evening) next(h *handset, a asked) {
	e.t.Helper()
	h.until("the next step", `(() => { const f = document.querySelector('form[action="/test"] [name=token]'); return document.querySelector("main h1") && (!f || f.value !== "`+a.Token+`") && document.getElementById("line").textContent.startsWith("Connected") })()`)
}

// written holds the file to what was tapped so far.
func (e *evening) written(when string) {
	e.t.Helper()
	bin := readBin(e.t, e.path)
	if n := len(bin.Tests) + len(bin.Withdrawn); n != e.tapped {
		e.t.Fatalf("%s: %d outcomes tapped, %d in the file:\n%s", when, e.tapped, n, testsByLot(bin))
	}
	for _, o := range bin.Tests {
		_, token, _ := strings.Cut(o.ID, "-")
		if want, ok := e.outcome[token]; ok && want != o.Outcome {
			e.t.Errorf("%s: %s is recorded as %s, tapped was %s", when, o.ID, o.Outcome, want)
		}
	}
}

// A whole evening: two phones at one bin, an impatient thumb, a network that fails in three ways, a
// server that dies. What was tapped is in the file, each once.
func TestBenchEvening(t *testing.T) {
	if testing.Short() {
		t.Skip("drives a browser")
	}
	ctx := browser(t)
	path := filepath.Join(t.TempDir(), "evening.toml")
	if err := os.WriteFile(path, []byte(eveningBin), 0o644); err != nil {
		t.Fatal(err)
	}
	process := startProcess(t, path, "127.0.0.1:0")
	air := newWireless(t, process.at)
	e := &evening{t: t, path: path, process: process, air: air, outcome: map[string]string{}}
	home := "http://" + air.l.Addr().String()
	a, b := newHandset(t, ctx, "phone A", home), newHandset(t, ctx, "phone B", home)

	a.open("/")
	a.until("the connection", `document.getElementById("line").textContent.startsWith("Connected")`)
	b.open("/")
	b.until("the connection", `document.getElementById("line").textContent.startsWith("Connected")`)
	if x, y := a.asked(), b.asked(); x.Lot == y.Lot {
		t.Errorf("both phones are sent to %q", x.Lot)
	}
	a.shot("worksheet")

	e.impatient(a)
	e.others(a, b)
	e.cutOff(a, b)
	e.lostAnswers(a)
	e.killed(a, b)
	e.undone(a)
	e.timed(b)
	e.locked(newHandset(t, ctx, "phone D, locked", home))
	e.unscripted(newHandset(t, ctx, "phone C, without script", home))
	e.sheets(a)
	e.skipped(b)
	e.counted(b)
	e.toTheEnd(a, b)
	noRequestLeaves(a)
	noRequestLeaves(b)
	e.written("at the end")
	if len(e.outcome) < 12 {
		t.Errorf("only %d outcomes were tapped", len(e.outcome))
	}
	t.Logf("%d outcomes tapped, each in the file once", e.tapped)
}

// impatient taps twice, and on two outcomes.
func (e *evening) impatient(h *handset) {
	e.t.Helper()
	a := h.asked()
	e.tapped++
	e.outcome[a.Token] = truthOf(a)
	js[bool](h, `(() => { const b = document.querySelector(".o-`+truthOf(a)+`"), other = document.querySelector(".o-unclear"); b.click(); b.click(); other.click(); return true })()`)
	e.next(h, a)
	e.written("after a double tap")
}

// others: what one phone records is seen on the other, whose step stays where it is.
func (e *evening) others(a, b *handset) {
	e.t.Helper()
	before := b.asked()
	x := e.tap(a)
	e.next(a, x)
	b.until("the other phone's record", `document.querySelectorAll("#news li").length >= `+strconv.Itoa(min(e.tapped, 6)))
	if after := b.asked(); after != before {
		e.t.Errorf("the step of phone B moved under the thumb: %v, then %v", before, after)
	}
	b.shot("moved")
}

// cutOff: the network is gone while both tap, and comes back.
func (e *evening) cutOff(a, b *handset) {
	e.t.Helper()
	e.air.set("cut")
	x, y := e.tap(a), e.tap(b)
	a.until("the word that it is kept", `document.getElementById("line").textContent.includes("Kept on this phone: 1")`)
	b.until("the word that it is kept", `document.getElementById("line").textContent.includes("Kept on this phone: 1")`)
	a.shot("cut-off")
	e.air.set("")
	e.next(a, x)
	e.next(b, y)
	e.written("after the network came back")
}

// lostAnswers: the bench hears the tap, the phone never hears the answer, and sends again.
func (e *evening) lostAnswers(h *handset) {
	e.t.Helper()
	e.air.set("deaf")
	x := e.tap(h)
	h.until("the word that it is kept", `document.getElementById("line").textContent.includes("Kept on this phone: 1")`)
	e.air.set("")
	e.next(h, x)
	e.written("after answers were lost")
}

// killed: the server dies, is tapped at, and is started again where it was.
func (e *evening) killed(a, b *handset) {
	e.t.Helper()
	e.process.kill()
	x := e.tap(a)
	a.until("the word that it is kept", `document.getElementById("line").textContent.includes("Kept on this phone: 1")`)
	e.process = startProcess(e.t, e.path, e.process.at)
	e.next(a, x)
	y := e.tap(b) // a form that the dead server made
	e.next(b, y)
	e.written("after the server was killed")
}

// undone: the last test is taken back in two taps.
func (e *evening) undone(h *handset) {
	e.t.Helper()
	h.do(chromedp.Tap("#box .undo"))
	h.until("the question why", `document.querySelector("form[action='/undo'] button")`)
	h.shot("undo")
	h.do(chromedp.Tap("form[action='/undo'] button"))
	h.until("the word that it is taken back", `document.getElementById("box").textContent.includes("Taken back: ") && document.querySelector("#news")`)
	if n := len(readBin(e.t, e.path).Withdrawn); n != 1 {
		e.t.Errorf("%d tests withdrawn, want 1", n)
	}
	e.written("after an undo")
}

// timed: a timer runs on though the page was left.
func (e *evening) timed(h *handset) {
	e.t.Helper()
	h.open("/test?lot=grey&kind=float&density=1.25")
	h.do(chromedp.Tap(".pauses button"))
	h.until("a timer", `/^1:\d\d to go$/.test((document.querySelector(".left") || {}).textContent)`)
	h.open("/known")
	h.open("/")
	h.until("the timer after the page was left", `/^1:\d\d to go$/.test((document.querySelector(".left") || {}).textContent)`)
	h.shot("timer")
	h.do(chromedp.Tap(".timer button"))
	h.until("no timer", `!document.querySelector(".timer")`)
}

// locked: while a screen is locked its page is frozen, and no script of it runs; the timer has gone on all
// the same (Page Lifecycle, W3C Community Group draft, 2020: frozen). This phone is laid aside after it:
// the browser hands no touch to a page that was frozen by command.
func (e *evening) locked(h *handset) {
	e.t.Helper()
	h.open("/test?lot=grey&kind=float&density=1.25")
	h.do(chromedp.Tap(".pauses button"))
	h.until("a timer", `/^1:\d\d to go$/.test((document.querySelector(".left") || {}).textContent)`)
	const left = `(() => { const [m, s] = document.querySelector(".left").textContent.split(" ")[0].split(":"); return 60 * m + Number(s) })()`
	before, began := js[float64](h, left), time.Now()
	for _, state := range []page.SetWebLifecycleStateState{"frozen", "active"} {
		if _, err := chromedp.Call(h.ctx, page.SetWebLifecycleState, page.SetWebLifecycleStateParams{State: state}); err != nil {
			e.t.Fatal(err)
		}
		if state == "frozen" {
			time.Sleep(4 * time.Second)
		}
	}
	h.until("the timer after a lock", fmt.Sprintf("%s <= %v", left, before-4))
	if after, gone := js[float64](h, left), time.Since(began).Seconds(); math.Abs(before-after-gone) > 2 {
		e.t.Errorf("%.1f s went by, the timer lost %.0f", gone, before-after)
	}
}

// unscripted: the same without any script.
func (e *evening) unscripted(h *handset) {
	e.t.Helper()
	h.unscripted()
	h.open("/")
	x := e.tap(h)
	h.until("the next page", `document.querySelector(".told") && document.querySelector(".told").textContent.startsWith("Recorded: ")`)
	if y := h.asked(); y.Token == x.Token {
		e.t.Error("without script the step stays")
	}
	h.shot("unscripted")
	e.written("without script")
}

// sheets fills in what is not a test.
func (e *evening) sheets(h *handset) {
	e.t.Helper()
	h.open("/bath?target=1.150")
	h.shot("bath")
	for name, value := range map[string]string{"#f-empty": "32", "#f-water": "532", "#f-filled": "607", "#f-name": "A"} {
		h.do(chromedp.SendKeys(name, value))
	}
	h.do(chromedp.Tap("button[value=record]"))
	h.until("the bath", `document.getElementById("box").textContent.includes("Recorded: bath")`)
	h.open("/lot")
	h.shot("lot")
	h.do(chromedp.SendKeys("#f-name", "late blue"), chromedp.SendKeys("#f-mass", "150"),
		chromedp.Tap("button[value=record]"))
	h.until("the lot", `document.getElementById("box").textContent.includes("Recorded: lot")`)
	bin := readBin(e.t, e.path)
	if l, ok := bin.Lot("late blue"); !ok || l.Mass.Value != 150 {
		e.t.Errorf("the new lot is %+v", l)
	}
	if x, ok := bin.BathOf("A"); !ok || x.Density.Value < 1.145 || x.Density.Value > 1.152 { // (607-32)/(532-32) times water at 20 °C
		e.t.Errorf("the bath is %+v", x)
	}
	h.open("/test?lot=grey&kind=float&bath=A&many=1")
	h.shot("many")
	h.open("/known")
	h.do(chromedp.SendKeys("#f-name", "clear PLA"), chromedp.SendKeys("#f-material", "PLA"), chromedp.SendKeys("#f-density", "1.241"),
		chromedp.Tap("button[value=record]"))
	h.until("the snippet", `document.getElementById("box").textContent.includes("Recorded: known snippet")`)
	h.open("/split")
	h.shot("split")
	js[bool](h, `(() => { for (const [n, v] of [["lot", "crumbs"], ["kind", "float"], ["bath", "A"], ["outcome1", "floats"], ["outcome2", "sinks"]]) document.getElementById("f-" + n).value = v; return true })()`)
	for name, value := range map[string]string{"#f-side1": "crumbs up", "#f-mass1": "190", "#f-side2": "crumbs down", "#f-mass2": "600", "#f-loss": "10"} {
		h.do(chromedp.SendKeys(name, value))
	}
	h.do(chromedp.Tap("button[value=record]"))
	h.until("the split", `document.getElementById("box").textContent.includes("divided into 2")`)
	bin = readBin(e.t, e.path)
	if len(bin.Known) != 2 || bin.Known[1].Material != "PLA" {
		e.t.Errorf("known snippets %+v", bin.Known)
	}
	if len(bin.Splits) != 1 || bin.Splits[0].Bath != "A" || len(bin.Splits[0].Into) != 2 || bin.Splits[0].Into[0].Mass.Value != 190 || bin.Splits[0].Into[1].Mass.Value != 600 || bin.Splits[0].Loss.Value != 10 {
		e.t.Errorf("splits %+v", bin.Splits)
	}
	h.open("/")
}

// counted: eight pieces of one lot counted on the line itself, with a thumb that taps twice.
func (e *evening) counted(h *handset) {
	e.t.Helper()
	h.open("/")
	a := h.asked()
	for ; a.Lot == ""; a = h.asked() { // a known snippet is one piece
		e.next(h, e.tap(h))
	}
	e.outcome[a.Token] = ""
	e.tapped++
	if js[bool](h, `!!document.querySelector(".many summary")`) { // else they stand open
		h.do(chromedp.Tap(".many summary"))
	}
	h.do(chromedp.SendKeys("#n-"+truthOf(a), "8"))
	h.shot("counts")
	js[bool](h, `(() => { const b = document.querySelector("button[name=counted]"); b.click(); b.click(); return true })()`)
	e.next(h, a)
	for _, o := range readBin(e.t, e.path).Tests {
		if strings.HasSuffix(o.ID, a.Token) && (len(o.Counts) != 1 || o.Counts[0].N != 8 || o.Counts[0].Outcome != truthOf(a) || o.Lot != a.Lot) {
			e.t.Errorf("counted %+v", o)
		}
	}
	e.written("after counts")
}

// skipped: a kind that is skipped is not proposed to this phone until it is taken up again.
func (e *evening) skipped(h *handset) {
	e.t.Helper()
	h.open("/")
	kind := h.asked().Kind
	h.do(chromedp.Tap("form[action='/skip'] button[name=kind]"))
	h.until("another kind", `document.querySelector("button[name=again]") && (!document.querySelector("form[action='/test']") || document.querySelector("form[action='/test'] [name=kind]").value !== "`+kind+`")`)
	h.do(chromedp.Tap("button[name=again]"))
	h.until("the kind again", `!document.querySelector("button[name=again]")`)
}

// toTheEnd works on until the page says that testing is done, or long enough.
func (e *evening) toTheEnd(a, b *handset) {
	e.t.Helper()
	for i := range 30 {
		h := []*handset{a, b}[i%2]
		h.open("/")
		if h.asked().Kind == "" || js[bool](h, `document.body.textContent.includes("Testing is done")`) {
			h.shot("done")
			return
		}
		e.next(h, e.tap(h))
	}
}
