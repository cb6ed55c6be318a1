package page

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"brinecut/cmd/brinecut/internal/ledger"
)

// ask sends one request straight to the page.
func ask(p *BenchPage, method, path, host string, header map[string]string, body string) *http.Response {
	r := httptest.NewRequest(method, "http://"+host+path, strings.NewReader(body))
	r.Host = host
	for k, v := range header {
		r.Header.Set(k, v)
	}
	w := httptest.NewRecorder()
	p.ServeHTTP(w, r)
	return w.Result()
}

var formType = map[string]string{"Content-Type": "application/x-www-form-urlencoded"}

func with(h map[string]string, k, v string) map[string]string {
	out := map[string]string{k: v}
	for a, b := range h {
		out[a] = b
	}
	return out
}

// Every answer has the policy, whatever it answers to: pages, files, redirects, faults, refusals.
func TestBenchPolicyOnEveryAnswer(t *testing.T) {
	open := startBench(t, smallBin, BenchOptions{}).page
	var key string
	keyed := startBench(t, smallBin, BenchOptions{Keyed: true, Key: func(k, _ string) { key = k }}).page
	for _, c := range []struct {
		page         *BenchPage
		method, path string
		host         string
		header       map[string]string
		want         int
	}{
		{open, "GET", "/", "localhost", nil, 200},
		{open, "HEAD", "/", "localhost", nil, 200},
		{open, "GET", "/bench.css", "localhost", nil, 200},
		{open, "GET", "/bench.js", "localhost", nil, 200},
		{open, "GET", "/bench.svg", "localhost", nil, 200},
		{open, "GET", "/news", "localhost", nil, 200},
		{open, "GET", "/nothing", "localhost", nil, 404},
		{open, "GET", "//bench.css", "localhost", nil, 307},
		{open, "PUT", "/test", "localhost", nil, 404},
		{open, "DELETE", "/", "localhost", nil, 404},
		{open, "OPTIONS", "*", "localhost", nil, 404},
		{open, "POST", "/test", "localhost", nil, 415},
		{open, "POST", "/test", "localhost", formType, 422},
		{open, "POST", "/undo", "localhost", formType, 422},
		{open, "POST", "/skip", "localhost", formType, 422},
		{open, "POST", "/timer", "localhost", formType, 422},
		{open, "POST", "/test", "localhost", with(formType, "Origin", "http://elsewhere.example"), 403},
		{open, "GET", "/", "elsewhere.example", nil, 403},
		{keyed, "GET", "/", "localhost", nil, 401},
		{keyed, "GET", "/bench.js", "localhost", nil, 401},
		{keyed, "GET", "/?key=wrong", "localhost", nil, 403},
		{keyed, "GET", "/?key=" + key, "localhost", nil, 303},
	} {
		path := c.path
		if path == "*" {
			path = "/*"
		}
		a := ask(c.page, c.method, path, c.host, c.header, "")
		if a.StatusCode != c.want {
			t.Errorf("%s %s at %s: status %d, want %d", c.method, c.path, c.host, a.StatusCode, c.want)
		}
		h := a.Header
		if got := h.Get("Content-Security-Policy"); got != benchPolicy || h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Cache-Control") != "no-store" ||
			h.Get("Referrer-Policy") != "same-origin" || h.Get("X-Frame-Options") != "DENY" {
			t.Errorf("%s %s at %s: headers %v", c.method, c.path, c.host, h)
		}
	}
	if strings.Contains(benchPolicy, "unsafe") || strings.Contains(benchPolicy, "*") || !strings.HasPrefix(benchPolicy, "default-src 'none'") {
		t.Errorf("the policy allows too much: %s", benchPolicy)
	}
}

// The page has no script and no style in it, so that the policy can forbid both.
func TestBenchHasNothingInline(t *testing.T) {
	text, err := benchFiles.ReadFile("bench.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"<style", "style=", "onclick", "onload", "javascript:", "http://", "https://"} {
		if strings.Contains(string(text), bad) {
			t.Errorf("bench.html has %q in it", bad)
		}
	}
	if n := strings.Count(string(text), "<script"); n != 1 || !strings.Contains(string(text), `<script src="/bench.js" defer></script>`) {
		t.Errorf("%d scripts", n)
	}
}

// Strange origin: a form on another page cannot record, with a browser that says where a request comes
// from in either way; where the connection is not encrypted only Origin says it.
func TestBenchStrangeOrigin(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	body := "lot=white&kind=bend&outcome=snaps"
	for name, c := range map[string]struct {
		header map[string]string
		want   int
	}{
		"another page":                 {map[string]string{"Origin": "http://elsewhere.example"}, 403},
		"another port":                 {map[string]string{"Origin": "http://localhost:1"}, 403},
		"hidden origin":                {map[string]string{"Origin": "null"}, 403},
		"said by the browser":          {map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		"same site, another page":      {map[string]string{"Sec-Fetch-Site": "same-site"}, 403},
		"the page itself, unencrypted": {map[string]string{"Origin": "http://localhost:7420"}, 303},
		"the page itself":              {map[string]string{"Origin": "http://localhost:7420", "Sec-Fetch-Site": "same-origin"}, 303},
	} {
		h := with(c.header, "Content-Type", "application/x-www-form-urlencoded")
		if a := ask(b.page, "POST", "/test", "localhost:7420", h, body); a.StatusCode != c.want {
			t.Errorf("%s: status %d, want %d", name, a.StatusCode, c.want)
		}
	}
	if n := len(b.read().Tests); n != 2 {
		t.Errorf("%d tests recorded, want the page's own 2", n)
	}
}

// Strange host: a name that somebody else made lead here is not answered, so no page can reach in by it.
func TestBenchStrangeHost(t *testing.T) {
	p := startBench(t, smallBin, BenchOptions{Hosts: []string{"192.0.2.7", "Bench.local"}}).page
	for host, want := range map[string]int{
		"localhost": 200, "localhost:7420": 200, "LOCALHOST:7420": 200, "127.0.0.1:7420": 200, "[::1]:7420": 200, "192.0.2.7:7420": 200, "bench.local:7420": 200,
		"elsewhere.example": 403, "elsewhere.example:7420": 403, "127.0.0.1.elsewhere.example": 403, "localhost.elsewhere.example:7420": 403,
		"192.0.2.8": 403, "xlocalhost": 403, "": 403, "localhost@elsewhere.example": 403, "0.0.0.0:7420": 403, "2130706433": 403,
	} {
		if got := ask(p, "GET", "/", host, nil, "").StatusCode; got != want {
			t.Errorf("host %q: status %d, want %d", host, got, want)
		}
	}
}

// Replayed key: a key lets one phone in, once, also where two come at one moment.
func TestBenchReplayedKey(t *testing.T) {
	var mu sync.Mutex
	var keys []string
	b := startBench(t, smallBin, BenchOptions{Keyed: true, Key: func(k, _ string) { mu.Lock(); keys = append(keys, k); mu.Unlock() }})
	first := keys[0]
	var all sync.WaitGroup
	in := make(chan string, 20)
	for range 20 {
		all.Go(func() {
			p := b.phone()
			if code, _ := p.get("/?key=" + first); code == http.StatusOK {
				in <- p.jar[b.page.gate.cookie]
			}
		})
	}
	all.Wait()
	if len(in) != 1 {
		t.Fatalf("%d phones came in with one key", len(in))
	}
	if code, _ := b.phone().get("/?key=" + first); code != http.StatusForbidden {
		t.Errorf("a key that was used: status %d", code)
	}
	if len(keys) != 2 || keys[1] == first {
		t.Fatalf("keys shown %v, want a fresh one after the first was used", len(keys))
	}
	second := b.phone()
	if code, _ := second.get("/?key=" + keys[1]); code != http.StatusOK {
		t.Errorf("the next key: status %d", code)
	}
	if code, _ := second.get("/lot"); code != http.StatusOK {
		t.Errorf("a phone that is in: status %d", code)
	}
}

// A browser or a messenger that looks at an address before anybody opens it does not use up the key.
func TestBenchLookingAheadKeepsTheKey(t *testing.T) {
	var key string
	b := startBench(t, smallBin, BenchOptions{Keyed: true, Key: func(k, _ string) { key = k }})
	was := key
	for _, h := range []map[string]string{{"Sec-Purpose": "prefetch;prerender"}, {"Purpose": "prefetch"}, {"X-Moz": "prefetch"}} {
		if a := ask(b.page, "GET", "/?key="+was, "localhost", h, ""); a.StatusCode != http.StatusForbidden {
			t.Errorf("%v: status %d", h, a.StatusCode)
		}
	}
	if a := ask(b.page, "HEAD", "/?key="+was, "localhost", nil, ""); a.StatusCode != http.StatusForbidden {
		t.Errorf("HEAD: status %d", a.StatusCode)
	}
	if code, _ := b.phone().get("/?key=" + was); code != http.StatusOK || key == was {
		t.Errorf("the key afterwards: status %d", code)
	}
}

// Guessed key: a key and a cookie have 160 bits, no two are alike, and no guess near one gets in.
func TestBenchGuessedKey(t *testing.T) {
	var key string
	b := startBench(t, smallBin, BenchOptions{Keyed: true, Key: func(k, _ string) { key = k }})
	if len(key) != 32 { // base32: 5 bits a character
		t.Errorf("a key of %d characters", len(key))
	}
	seen := map[string]bool{}
	for range 1000 {
		s := secret()
		if seen[s] || len(s) != 32 {
			t.Fatalf("key %q came twice or is short", s)
		}
		seen[s] = true
	}
	guesses := []string{"", "0", key[:31], key + "a", strings.Repeat("a", 32), key[:31] + string(rune('a'+(key[31]-'a'+1)%26)), "%00" + key, key + "%00", strings.Repeat("a", 5000)}
	for range 300 {
		guesses = append(guesses, secret())
	}
	for _, g := range guesses {
		if code := ask(b.page, "GET", "/?key="+url.QueryEscape(g), "localhost", nil, "").StatusCode; code != 401 && code != 403 {
			t.Errorf("guess %q: status %d", g, code)
		}
	}
	for _, c := range []string{"", "x", strings.Repeat("a", 32), key} {
		if code := ask(b.page, "GET", "/", "localhost", map[string]string{"Cookie": b.page.gate.cookie + "=" + c}, "").StatusCode; code != 401 {
			t.Errorf("cookie %q: status %d", c, code)
		}
	}
	if a := ask(b.page, "POST", "/test", "localhost", formType, "lot=white&kind=bend&outcome=snaps"); a.StatusCode != 401 || len(b.read().Tests) != 0 {
		t.Errorf("a form without a key: status %d, %d tests", a.StatusCode, len(b.read().Tests))
	}
	if code, _ := b.phone().get("/?key=" + strings.ToUpper(key)); code != http.StatusOK { // typed by hand
		t.Errorf("the right key in capitals: status %d", code)
	}
}

// A key shown on a phone ends after some minutes; those in the terminal do not.
func TestBenchKeyOnAPhoneEnds(t *testing.T) {
	now := time.Unix(1e9, 0)
	g := newBenchGate(BenchOptions{}, "c")
	short, long := g.key(now.Add(benchKeyLasts)), g.key(time.Time{})
	if g.use(short, now.Add(benchKeyLasts+time.Second)) || !g.use(long, now.Add(100*time.Hour)) || g.use(long, now) {
		t.Error("keys end when they should not, or do not when they should")
	}
	for range 10 * benchMostKeys {
		g.key(now.Add(time.Hour))
	}
	if len(g.keys) > benchMostKeys+1 {
		t.Errorf("%d keys stand", len(g.keys))
	}
	for range 2 * benchMostPhones {
		g.letIn(httptest.NewRecorder(), now)
	}
	if len(g.phones) > benchMostPhones {
		t.Errorf("%d phones are remembered", len(g.phones))
	}
}

// Oversized: a body, a header, a name, a number of fields.
func TestBenchOversized(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	send := func(body string) int {
		return ask(b.page, "POST", "/test", "localhost", formType, body).StatusCode
	}
	if code := send("lot=white&kind=bend&outcome=snaps&note=" + strings.Repeat("a", benchMostBody)); code != http.StatusRequestEntityTooLarge {
		t.Errorf("a body over the limit: status %d", code)
	}
	if code := send("lot=white&kind=bend&outcome=snaps&note=" + strings.Repeat("a", benchMostBody/2)); code != http.StatusUnprocessableEntity {
		t.Errorf("a note of 8 kB: status %d", code)
	}
	if code := send(strings.Repeat("a=1&", 4000) + "lot=white&kind=bend&outcome=snaps"); code != http.StatusSeeOther {
		t.Errorf("thousands of fields nobody asked for: status %d", code)
	}
	r, err := http.NewRequest("GET", b.URL+"/", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("X-Long", strings.Repeat("a", 4*benchMostHeader))
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	a.Body.Close()
	if a.StatusCode != http.StatusRequestHeaderFieldsTooLarge {
		t.Errorf("a header of 64 kB: status %d", a.StatusCode)
	}
	if n := len(b.read().Tests); n != 1 {
		t.Errorf("%d tests, want the 1 that fits", n)
	}
}

// Slow: whoever sends a form or a header drop by drop is cut off, and the page stays there for others.
func TestBenchSlowBody(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bin.toml")
	if err := os.WriteFile(path, []byte(smallBin), 0o644); err != nil {
		t.Fatal(err)
	}
	p := Bench(binAt(path), BenchOptions{})
	real := p.Server()
	for what, d := range map[string]time.Duration{"header": real.ReadHeaderTimeout, "body": real.ReadTimeout, "answer": real.WriteTimeout, "idle": real.IdleTimeout} {
		if d <= 0 || d > time.Minute {
			t.Errorf("limit for the %s is %v", what, d)
		}
	}
	s := httptest.NewUnstartedServer(p)
	s.Config = p.Server()
	s.Config.ReadTimeout, s.Config.ReadHeaderTimeout = 300*time.Millisecond, 300*time.Millisecond
	s.Start()
	b := &bench{s, t, path, p}
	t.Cleanup(b.end)
	for _, start := range []string{"GET / HTTP/1.1\r\nHost: localhost\r\nX-A: ", "POST /test HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 5000\r\n\r\nlot=white&kind=bend&outcome=snaps&note="} {
		c, err := net.Dial("tcp", strings.TrimPrefix(b.URL, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		if _, err := io.WriteString(c, start); err != nil {
			t.Fatal(err)
		}
		go func() {
			for range 100 {
				time.Sleep(50 * time.Millisecond)
				if _, err := io.WriteString(c, "a"); err != nil {
					return
				}
			}
		}()
		_ = c.SetReadDeadline(time.Now().Add(4 * time.Second))
		if _, err := io.Copy(io.Discard, c); errors.Is(err, os.ErrDeadlineExceeded) {
			t.Errorf("a slow sender is still connected after 4 s: %.20q", start)
		}
	}
	if code, _ := b.phone().get("/"); code != http.StatusOK || len(b.read().Tests) != 0 {
		t.Errorf("afterwards: status %d, %d tests", code, len(b.read().Tests))
	}
}

// Path tricks: no path leads to a file, not even to the bin file.
func TestBenchPathTricks(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	if err := os.WriteFile(filepath.Join(filepath.Dir(b.path), "secret.txt"), []byte("SECRET"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/bin.toml", "/secret.txt", "/../secret.txt", "/%2e%2e/secret.txt", "/..%2fsecret.txt", "/bench.css/../../secret.txt", "//secret.txt",
		"/bench.css%00.txt", "/.", "/..", "/bench_guard.go", "/bench.html", "/\\secret.txt", "/undo?id=../secret.txt", "/test?lot=../secret.txt&kind=bend", b.path} {
		c, err := net.Dial("tcp", strings.TrimPrefix(b.URL, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(c, "GET %s HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n", path)
		a, err := http.ReadResponse(bufio.NewReader(c), nil)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		body, _ := io.ReadAll(a.Body)
		c.Close()
		if strings.Contains(string(body), "SECRET") || strings.Contains(string(body), "could_be") || strings.Contains(string(body), filepath.Dir(b.path)) {
			t.Errorf("%s gives a file away:\n%s", path, body)
		}
		if a.StatusCode == http.StatusOK && !strings.HasPrefix(path, "/test") {
			t.Errorf("%s: status 200", path)
		}
	}
	for _, page := range []string{"/", "/news", "/lot", "/bath", "/split", "/test", "/known"} {
		if _, body := b.phone().get(page); strings.Contains(body, filepath.Dir(b.path)) {
			t.Errorf("%s tells where the file lies", page)
		}
	}
}

// Script in names: what stands in the file, in a form or in an address comes back as text.
func TestBenchScriptInNames(t *testing.T) {
	evil := `<script>alert(1)</script>`
	text := strings.ReplaceAll(strings.ReplaceAll(smallBin, `"white"`, `"'\"><img src=x onerror=alert(1)>"`), "Invented test bin", evil)
	b := startBench(t, text, BenchOptions{})
	p := b.phone()
	code, page := p.get("/")
	pages := []string{page}
	f, words := p.step(page)
	f.Set("outcome", words[0])
	f.Set("note", evil)
	_, page = p.send("/test", f)
	pages = append(pages, page)
	if code != http.StatusOK || len(b.read().Tests) != 1 || b.read().Tests[0].Note != evil {
		t.Errorf("status %d, recorded %+v", code, b.read().Tests)
	}
	id := b.read().Tests[0].ID
	for _, path := range []string{"/test", "/split", "/undo?id=" + id, "/undo?id=" + url.QueryEscape(evil), "/test?kind=float&lot=" + url.QueryEscape(f.Get("lot")), "/bath?target=" + url.QueryEscape(evil), "/news"} {
		_, page = p.get(path)
		pages = append(pages, page)
	}
	for _, x := range []string{"/lot", "/known", "/split", "/bath", "/test", "/skip", "/timer"} {
		_, page = p.send(x, url.Values{"name": {evil}, "mass": {evil}, "material": {evil}, "lot": {evil}, "kind": {evil}, "salt": {evil}, "side1": {evil}, "side2": {evil}, "what": {evil}, "seconds": {"60"}})
		pages = append(pages, page)
	}
	for _, page := range pages {
		if strings.Contains(page, evil) || strings.Contains(page, "<img") {
			t.Errorf("a name became part of the page:\n%s", page)
		}
	}
}

// Several writers: phones, a command line beside them, and somebody who forgets the lock of a form. No
// record is lost, none is doubled, no two pieces share a number.
func TestBenchSeveralWriters(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	const phones, each = 6, 8
	var all sync.WaitGroup
	for n := range phones {
		all.Go(func() {
			p := b.phone()
			for i := range each {
				f := url.Values{"lot": {"white"}, "kind": {"bend"}, "outcome": {"snaps"}, "token": {token()}, "note": {fmt.Sprint(n, " ", i)}}
				p.send("/test", f)
			}
		})
	}
	for i := range each {
		all.Go(func() {
			err := ledger.Append(b.path, func(src []byte) ([]byte, error) {
				return fmt.Appendf(nil, "\n[[test]]\nid = \"cli%d\"\nlot = \"grey\"\nkind = \"bend\"\noutcome = \"snaps\"\n", i), nil
			})
			if err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	bin := b.read()
	if n := len(bin.Tests); n != phones*each+each {
		t.Errorf("%d tests, want %d", n, phones*each+each)
	}
	pieces := map[int]string{}
	for _, o := range bin.Tests {
		if o.Lot == "white" && (pieces[o.Piece] != "" || o.Piece == 0) {
			t.Errorf("piece %d of white is in %s and %s", o.Piece, pieces[o.Piece], o.ID)
		}
		pieces[o.Piece] += o.ID
	}
}
