package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	network "net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

// The bench page in a real browser: nothing but loopback addresses is spoken to.

// patient is how long anything on a page may take: the machine that tests may be busy.
const patient = 90 * time.Second

// browser starts Debian's chromium once for a test; without it the test is skipped.
func browser(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium here: apt-get install -y chromium")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.UserDataDir(t.TempDir()), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))
	all, stopAll := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, stop := chromedp.NewContext(all)
	t.Cleanup(func() { stop(); stopAll() })
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("chromium does not start: %v", err)
	}
	return ctx
}

// handset is a phone: a browser with cookies and storage of its own, at the size of one.
type handset struct {
	t    *testing.T
	name string
	ctx  context.Context
	home string
}

func newHandset(t *testing.T, parent context.Context, name, home string) *handset {
	t.Helper()
	ctx, stop := chromedp.NewContext(parent, chromedp.WithNewBrowserContext())
	t.Cleanup(stop)
	h := &handset{t, name, ctx, home}
	h.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch))
	return h
}

// do runs steps within a bounded time.
func (h *handset) do(steps ...chromedp.Action[chromedp.Void]) {
	h.t.Helper()
	if err := chromedp.Do(h.ctx); err != nil { // opens the tab: without a time limit, which would close it
		h.t.Fatalf("%s: %v", h.name, err)
	}
	ctx, stop := context.WithTimeout(h.ctx, patient)
	defer stop()
	if err := chromedp.Do(ctx, steps...); err != nil {
		h.t.Fatalf("%s: %v", h.name, err)
	}
}

// js asks the page.
func js[T any](h *handset, expression string) T {
	h.t.Helper()
	ctx, stop := context.WithTimeout(h.ctx, patient)
	defer stop()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		h.t.Fatalf("%s: %s: %v", h.name, expression, err)
	}
	return v
}

// until waits for something to be so on the page.
func (h *handset) until(what, expression string) {
	h.t.Helper()
	for end := time.Now().Add(patient); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if js[bool](h, "!!("+expression+")") {
			return
		}
	}
	h.t.Fatalf("%s: %s did not come about; the page says:\n%s", h.name, what, js[string](h, "document.body.innerText"))
}

func (h *handset) open(path string) { h.t.Helper(); h.do(chromedp.Navigate(h.home + path)) }

// shot keeps a picture of the whole page where BENCH_SHOTS names a folder, for a person to look at.
func (h *handset) shot(name string) {
	h.t.Helper()
	dir := os.Getenv("BENCH_SHOTS")
	if dir == "" {
		return
	}
	png, err := chromedp.Run(h.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		h.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
		h.t.Fatal(err)
	}
}

// asked is the step on the page.
type asked struct{ Lot, Kind, Density, Temp, Bath, Token string }

func (h *handset) asked() asked {
	h.t.Helper()
	return js[asked](h, `(() => { const f = document.querySelector('form[action="/test"]'), v = (n) => f && f.elements[n] ? f.elements[n].value : "";
		return {Lot: v("lot"), Kind: v("kind"), Density: v("density"), Temp: v("temp"), Bath: v("bath"), Token: v("token")} })()`)
}

// tap taps an outcome with a finger.
func (h *handset) tap(outcome string) {
	h.t.Helper()
	h.do(chromedp.Tap(".o-" + outcome))
}

// unscripted turns scripts off.
func (h *handset) unscripted() {
	h.t.Helper()
	if _, err := chromedp.Call(h.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		h.t.Fatal(err)
	}
}

// benchProcess is the program itself, serving one bin.
type benchProcess struct {
	t    *testing.T
	path string
	at   string // host and port
	told benchWire
	cmd  *exec.Cmd
}

// startProcess runs `brinecut bench` and gives where its page is.
func startProcess(t *testing.T, path, listen string, more ...string) *benchProcess {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(t.TempDir(), "brinecut") // the test binary is the program under that name
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	p := &benchProcess{t: t, path: path, cmd: exec.Command(program, append([]string{"bench", path, "--listen", listen, "--json"}, more...)...)}
	p.cmd.Stderr = os.Stderr
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.kill)
	if err := json.NewDecoder(out).Decode(&p.told); err != nil || len(p.told.URLs) == 0 {
		t.Fatalf("bench did not say where it is: %v", err)
	}
	go io.Copy(io.Discard, out)
	p.at = strings.TrimSuffix(strings.TrimPrefix(p.told.URLs[0], "http://"), "/")
	return p
}

// kill ends the program at once, as a dead battery would.
func (p *benchProcess) kill() {
	if p.cmd.ProcessState == nil {
		_ = p.cmd.Process.Kill()
		_ = p.cmd.Wait()
	}
}

// wireless stands between phones and bench: it can be cut, or lose every answer.
type wireless struct {
	l    network.Listener
	mu   sync.Mutex
	to   string
	mode string // "", cut, deaf
	open map[network.Conn]bool
}

func newWireless(t *testing.T, to string) *wireless {
	t.Helper()
	l, err := network.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	w := &wireless{l: l, to: to, open: map[network.Conn]bool{}}
	t.Cleanup(func() { l.Close(); w.set("cut") })
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			go w.carry(c)
		}
	}()
	return w
}

func (w *wireless) set(mode string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.mode = mode
	if mode == "cut" || mode == "deaf" {
		for c := range w.open {
			c.Close()
		}
		clear(w.open)
	}
}

func (w *wireless) carry(phone network.Conn) {
	defer phone.Close()
	w.mu.Lock()
	mode, to := w.mode, w.to
	w.open[phone] = true
	w.mu.Unlock()
	if mode == "cut" {
		return
	}
	bench, err := network.DialTimeout("tcp", to, time.Second)
	if err != nil {
		return
	}
	defer bench.Close()
	go func() {
		_, _ = io.Copy(bench, phone)
		bench.Close()
	}()
	if mode == "deaf" { // the bench hears; its answer is lost
		one := make([]byte, 1)
		_, _ = bench.Read(one)
		return
	}
	_, _ = io.Copy(phone, bench)
}

func readBin(t *testing.T, path string) *sorting.Bin {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	bin, _, err := binfile.Read(path, src)
	if err != nil {
		t.Fatalf("the file does not read: %v\n%s", err, src)
	}
	return bin
}

// noRequestLeaves is what the page may have asked for: its own address and nothing else.
func noRequestLeaves(h *handset) {
	h.t.Helper()
	for _, u := range js[[]string](h, `performance.getEntriesByType("resource").map((r) => r.name)`) {
		if !strings.HasPrefix(u, h.home) {
			h.t.Errorf("%s: the page asked for %s", h.name, u)
		}
	}
}

func testsByLot(bin *sorting.Bin) string {
	var b strings.Builder
	for _, o := range bin.Tests {
		fmt.Fprintf(&b, "%s %s piece %d %s %s\n", o.ID, o.Lot+o.Known, o.Piece, o.Kind, o.Outcome)
	}
	return b.String()
}
