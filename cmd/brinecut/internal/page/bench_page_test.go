package page

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"brinecut/cmd/brinecut/internal/ledger"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

// bench is a page over a bin file of its own.
type bench struct {
	*httptest.Server
	t    *testing.T
	path string
	page *BenchPage
}

// smallBin is invented.
const smallBin = `title = "Invented test bin"

[bin]
gross  = "1.2 kg"
tare   = "200 g"
origin = "own-print"

[[known]]
name     = "red PETG"
material = "PETG"

[[lot]]
name     = "white"
mass     = "600 g"
could_be = ["PETG", "PLA"]

[[lot]]
name     = "grey"
mass     = "400 g"
could_be = ["PETG", "ABS"]

[kit]
has = ["table salt", "kettle", "thermometer", "scale 1 g"]
`

// startBench serves a bin file in a folder that goes with the test.
func startBench(t *testing.T, text string, o BenchOptions) *bench {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bin.toml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return serveBench(t, path, o)
}

func serveBench(t *testing.T, path string, o BenchOptions) *bench {
	t.Helper()
	p := Bench(binAt(path), o)
	s := httptest.NewUnstartedServer(p)
	s.Config = p.Server()
	s.Start()
	b := &bench{s, t, path, p}
	t.Cleanup(b.end)
	return b
}

func (b *bench) end() {
	b.page.Close()
	b.CloseClientConnections()
	b.Close()
}

func binAt(path string) BenchBin {
	return BenchBin{Name: "bin.toml", Path: path,
		Stamp: func() (string, error) {
			i, err := os.Stat(path)
			if err != nil {
				return "", err
			}
			return fmt.Sprint(i.Size(), i.ModTime().UnixNano()), nil
		},
		Read:   func() ([]byte, error) { return ledger.Read(path) },
		Parse:  func(src []byte) (*sorting.Bin, []sorting.Warning, error) { return binfile.Read("bin.toml", src) },
		Append: func(record func([]byte) ([]byte, error)) error { return ledger.Append(path, record) },
	}
}

// read is the bin as it stands on disk.
func (b *bench) read() *sorting.Bin {
	b.t.Helper()
	src, err := os.ReadFile(b.path)
	if err != nil {
		b.t.Fatal(err)
	}
	bin, _, err := binfile.Read("bin.toml", src)
	if err != nil {
		b.t.Fatalf("the file does not read: %v\n%s", err, src)
	}
	return bin
}

// phone is a browser without script: it keeps cookies and follows redirects.
type phone struct {
	b    *bench
	http *http.Client
	mu   sync.Mutex
	jar  map[string]string
}

func (b *bench) phone() *phone {
	p := &phone{b: b, jar: map[string]string{}}
	p.http = &http.Client{Timeout: 30 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	return p
}

// do sends a request with the cookies, and keeps those that come.
func (p *phone) do(r *http.Request) (*http.Response, string) {
	p.b.t.Helper()
	p.mu.Lock()
	for k, v := range p.jar {
		r.AddCookie(&http.Cookie{Name: k, Value: v})
	}
	p.mu.Unlock()
	a, err := p.http.Do(r)
	if err != nil {
		p.b.t.Fatal(err)
	}
	defer a.Body.Close()
	body, err := io.ReadAll(a.Body)
	if err != nil {
		p.b.t.Fatal(err)
	}
	p.mu.Lock()
	for _, c := range a.Cookies() {
		p.jar[c.Name] = c.Value
	}
	p.mu.Unlock()
	return a, string(body)
}

// get follows redirects and gives the page it ends at.
func (p *phone) get(path string) (int, string) {
	p.b.t.Helper()
	for range 5 {
		r, err := http.NewRequest("GET", p.b.URL+path, nil)
		if err != nil {
			p.b.t.Fatal(err)
		}
		a, body := p.do(r)
		if a.StatusCode != http.StatusSeeOther {
			return a.StatusCode, body
		}
		path = a.Header.Get("Location")
	}
	p.b.t.Fatal("redirects without an end")
	return 0, ""
}

// send posts a form as a browser does, and follows to the page it leads to.
func (p *phone) send(path string, f url.Values) (int, string) {
	p.b.t.Helper()
	r, err := http.NewRequest("POST", p.b.URL+path, strings.NewReader(f.Encode()))
	if err != nil {
		p.b.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", p.b.URL)
	a, body := p.do(r)
	if a.StatusCode == http.StatusSeeOther {
		return p.get(a.Header.Get("Location"))
	}
	return a.StatusCode, body
}

var (
	reForm   = regexp.MustCompile(`(?s)<form method="post" action="/test".*?</form>`)
	reHidden = regexp.MustCompile(`<input (?:type="hidden"|id="s-[a-z]+") name="([a-z_]+)" value="([^"]*)"`)
	reButton = regexp.MustCompile(`<button name="outcome" value="([a-z-]+)"`)
	reChosen = regexp.MustCompile(`<select id="s-bath" name="bath">.*?<option value="([^"]+)" selected>`)
)

// step reads the form of the worksheet as a browser would fill it, and the outcomes it offers.
func (p *phone) step(page string) (url.Values, []string) {
	p.b.t.Helper()
	form := reForm.FindString(page)
	if form == "" {
		p.b.t.Fatalf("no step on the page:\n%s", page)
	}
	f := url.Values{}
	for _, m := range reHidden.FindAllStringSubmatch(form, -1) {
		f.Set(m[1], unescape(m[2]))
	}
	if m := reChosen.FindStringSubmatch(form); m != nil {
		f.Set("bath", m[1])
	}
	var words []string
	for _, m := range reButton.FindAllStringSubmatch(form, -1) {
		words = append(words, m[1])
	}
	return f, words
}

func unescape(s string) string {
	return strings.NewReplacer("&#34;", `"`, "&#39;", "'", "&lt;", "<", "&gt;", ">", "&#43;", "+", "&amp;", "&").Replace(s)
}

func benchHas(t *testing.T, what, text string, words ...string) {
	t.Helper()
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Errorf("%s lacks %q:\n%s", what, w, text)
		}
	}
}

// A whole line of work without script: what stands on the page, what is recorded, undo.
func TestBenchWorksWithoutScript(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	p := b.phone()
	code, page := p.get("/")
	if code != http.StatusOK {
		t.Fatalf("status %d", code)
	}
	benchHas(t, "the worksheet", page, "<dt>Take</dt>", "<dt>Do</dt>", "<legend>See</legend>", "Careful", "<b>Why.</b>", `name="outcome"`, "Skip ")
	if m := regexp.MustCompile(`\d[\d.]*\s?%[^0-9A-Fa-f].*`).FindString(page); m != "" {
		t.Errorf("the worksheet has a percentage on it: %s", m)
	}
	f, words := p.step(page)
	if len(words) < 3 || words[len(words)-1] != "unclear" {
		t.Fatalf("outcomes %v", words)
	}
	f.Set("outcome", words[0])
	code, page = p.send("/test", f)
	benchHas(t, "the next page", page, "Recorded: ", `href="/undo?id=p1-`)
	bin := b.read()
	if code != http.StatusOK || len(bin.Tests) != 1 {
		t.Fatalf("status %d, %d tests", code, len(bin.Tests))
	}
	o := bin.Tests[0]
	if o.Lot != f.Get("lot") || string(o.Kind) != f.Get("kind") || o.Outcome != words[0] || o.Piece != 1 || o.At == "" {
		t.Errorf("recorded %+v", o)
	}
	_, page = p.get("/undo?id=" + o.ID)
	benchHas(t, "the page to take back", page, "wrong button", o.ID)
	_, page = p.send("/undo", url.Values{"id": {o.ID}, "why": {"wrong button"}})
	benchHas(t, "the page after", page, "Taken back: ")
	if bin = b.read(); len(bin.Tests) != 0 || len(bin.Withdrawn) != 1 || bin.Withdrawn[0].Why != "wrong button" {
		t.Errorf("%d tests, withdrawn %v", len(bin.Tests), bin.Withdrawn)
	}
}

// The same form twice, at once, on another answer, and after a restart: it counts once.
func TestBenchAFormCountsOnce(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{})
	p := b.phone()
	_, page := p.get("/")
	f, words := p.step(page)
	f.Set("outcome", words[0])
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() { b.phone().send("/test", f) })
	}
	all.Wait()
	if n := len(b.read().Tests); n != 1 {
		t.Fatalf("%d tests of one form sent 8 times", n)
	}
	_, page = p.send("/test", f)
	benchHas(t, "the answer to a form that came again", page, "This is in the file already, once: ")
	f.Set("outcome", words[1])
	_, page = p.send("/test", f)
	benchHas(t, "the answer to a second outcome", page, "was recorded already, as: ", "undo the first")
	b.end()
	again := serveBench(t, b.path, BenchOptions{})
	f.Set("outcome", words[0])
	_, page = again.phone().send("/test", f)
	benchHas(t, "the answer after a restart", page, "<h1")
	if n := len(again.read().Tests); n != 1 {
		t.Errorf("%d tests after the form was sent to a server that was started again", n)
	}
	id := again.read().Tests[0].ID
	again.phone().send("/undo", url.Values{"id": {id}, "why": {"wrong piece or lot"}})
	again.phone().send("/undo", url.Values{"id": {id}, "why": {"wrong piece or lot"}})
	again.phone().send("/test", f)
	if bin := again.read(); len(bin.Tests) != 0 || len(bin.Withdrawn) != 1 {
		t.Errorf("after it was taken back twice and sent again: %d tests, %d withdrawn", len(bin.Tests), len(bin.Withdrawn))
	}
}
