package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// looksAt is what a page is measured for, at the width of a small phone. Figures are of the Web Content
// Accessibility Guidelines 2.2 (W3C, 2023): text 4.5:1 and large text 3:1 on its ground (1.4.3), no
// scrolling sideways at 320 CSS px (1.4.10), a name for every control (4.1.2). A target of 48 px in
// both directions, 64 px for an outcome, is asked for by wet hands: more than the 44 px of 2.5.5.
const looksAt = `(() => {
	const wrong = [], rgb = (s) => (s.match(/[\d.]+/g) || []).map(Number);
	const light = ([r, g, b]) => { const f = (c) => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4; return 0.2126 * f(r) + 0.7152 * f(g) + 0.0722 * f(b) };
	const ground = (e) => { for (; e; e = e.parentElement) { const c = rgb(getComputedStyle(e).backgroundColor); if (c.length === 3 || c[3] > 0.99) return c } return [255, 255, 255] };
	const seen = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().height > 0 && e.getBoundingClientRect().right > 0;
	const say = (e, s) => wrong.push(e.tagName.toLowerCase() + " " + (e.className || e.name || e.textContent.trim().slice(0, 30)) + ": " + s);
	for (const d of document.querySelectorAll("details")) d.open = true;
	if (document.documentElement.scrollWidth > innerWidth) wrong.push("it scrolls sideways: " + document.documentElement.scrollWidth + " px");
	if (document.querySelectorAll("h1").length !== 1) wrong.push("it has not one heading");
	if (!document.documentElement.lang) wrong.push("it names no language");
	for (const e of document.querySelectorAll("a, button, select, summary, input:not([type=hidden])")) {
		if (!seen(e)) continue;
		const box = (e.type === "checkbox" ? e.closest("label") : e).getBoundingClientRect(), least = e.name === "outcome" ? 64 : 48;
		if (box.height < least || box.width < 48) say(e, "only " + Math.round(box.width) + " x " + Math.round(box.height) + " px");
		if (e.tabIndex < 0) say(e, "no key reaches it");
		const name = e.getAttribute("aria-label") || e.textContent.trim() || (e.labels && e.labels[0] && e.labels[0].textContent.trim());
		if (!name || (/^(input|select)$/i.test(e.tagName) && !(e.labels && e.labels.length))) say(e, "no name");
	}
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	for (let n; n = walk.nextNode();) {
		const e = n.parentElement;
		if (!n.data.trim() || !seen(e)) continue;
		const s = getComputedStyle(e), a = light(rgb(s.color)), b = light(ground(e)), ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
		const size = parseFloat(s.fontSize), large = size >= 24 || size >= 18.66 && s.fontWeight >= 700;
		if (ratio < (large ? 3 : 4.5)) say(e, "contrast " + ratio.toFixed(2));
		if (size < 14) say(e, "letters of " + size + " px");
	}
	return wrong;
})()`

// Every page of the bench can be hit, read, named and reached by keys.
func TestBenchFitsHandsAndEyes(t *testing.T) {
	if testing.Short() {
		t.Skip("drives a browser")
	}
	ctx := browser(t)
	path := filepath.Join(t.TempDir(), "evening.toml")
	text := eveningBin + "\n[[bath]]\nname = \"A\"\ndensity = \"1.25 g/cm3\"\n\n[[test]]\nid = \"t1\"\nlot = \"grey\"\nkind = \"bend\"\noutcome = \"snaps\"\n"
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	h := newHandset(t, ctx, "phone", "http://"+startProcess(t, path, "127.0.0.1:0").at)
	pages := map[string]string{"worksheet": "/", "float": "/test?lot=grey&kind=float&bath=A", "hot-water": "/test?lot=grey&kind=hot-water&temp=66", "soak": "/test?lot=grey&kind=soak",
		"snippet": "/test?known=red+PETG&kind=bend", "many": "/test?lot=grey&kind=float&bath=A&many=1", "choose": "/test", "bath": "/bath?target=1.150",
		"lot": "/lot", "known": "/known", "split": "/split", "undo": "/undo?id=t1", "lost": "/no-such-page"}
	for name, path := range pages {
		for _, width := range []int64{320, 390} {
			h.do(chromedp.EmulateViewport(width, 844, chromedp.EmulateMobile, chromedp.EmulateTouch))
			h.open(path)
			for _, w := range js[[]string](h, looksAt) {
				t.Errorf("%s at %d px: %s", name, width, w)
			}
		}
		h.shot("hands-" + name)
	}
}

// A step can be done by keys alone: the outcome is reached and pressed, and where it was is said.
func TestBenchByKeys(t *testing.T) {
	if testing.Short() {
		t.Skip("drives a browser")
	}
	ctx := browser(t)
	path := filepath.Join(t.TempDir(), "evening.toml")
	if err := os.WriteFile(path, []byte(eveningBin), 0o644); err != nil {
		t.Fatal(err)
	}
	h := newHandset(t, ctx, "keyboard", "http://"+startProcess(t, path, "127.0.0.1:0").at)
	h.open("/")
	h.until("the connection", `document.getElementById("line").textContent.startsWith("Connected")`)
	for i := 0; js[string](h, `document.activeElement.name || ""`) != "outcome"; i++ {
		if i > 30 {
			t.Fatal("no outcome is reached by tabbing")
		}
		h.do(chromedp.KeyEvent("\t"))
	}
	want := js[string](h, `document.activeElement.value`)
	h.do(chromedp.KeyEvent("\r"))
	h.until("the word that it is recorded", `document.querySelector("#box[role=status]").textContent.startsWith("Recorded: ")`)
	h.until("the focus on the new step", `document.activeElement.id === "main"`)
	if bin := readBin(t, path); len(bin.Tests) != 1 || bin.Tests[0].Outcome != want {
		t.Errorf("by keys %q was chosen, recorded is\n%s", want, testsByLot(bin))
	}
}

// Enter in a field records nothing: the first button of a form is an outcome, and a phone's keyboard has
// a key that would press it.
func TestBenchEnterRecordsNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("drives a browser")
	}
	ctx := browser(t)
	path := filepath.Join(t.TempDir(), "evening.toml")
	if err := os.WriteFile(path, []byte(eveningBin), 0o644); err != nil {
		t.Fatal(err)
	}
	h := newHandset(t, ctx, "phone", "http://"+startProcess(t, path, "127.0.0.1:0").at)
	h.open("/test?lot=grey&kind=hot-water&temp=66")
	h.do(chromedp.SendKeys("#s-temp", "7\r"))
	h.open("/")
	if n := len(readBin(t, path).Tests); n != 0 {
		t.Errorf("%d tests recorded by Enter", n)
	}
}
