package page

import (
	"embed"
	"encoding/json"
	"errors"
	"hash/fnv"
	"html/template"
	"net/http"
	"strconv"
	"strings"
	"time"

	"brinecut/cmd/brinecut/internal/ledger"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

//go:embed bench.html bench.css bench.js bench.svg
var benchFiles embed.FS

var benchTemplates = template.Must(template.ParseFS(benchFiles, "bench.html"))

// BenchBin is how the bench page reaches the bin file. The page opens nothing itself: the command fills
// this in.
type BenchBin struct {
	Name  string                 // as people know the file; shown
	Path  string                 // where it lies: tells one bin from another, never shown
	Stamp func() (string, error) // changes whenever the file does
	Read  func() ([]byte, error)
	Parse func(src []byte) (*sorting.Bin, []sorting.Warning, error) // job lists filled in

	// Append adds at the end, under a lock, what record gives for the bytes as they are then.
	Append func(record func(src []byte) (tail []byte, err error)) error
}

// BenchOptions of Bench. The zero value is a page for this machine alone.
type BenchOptions struct {
	Hosts    []string               // further names and addresses it answers to, without a port
	Keyed    bool                   // whoever comes needs a key
	Key      func(key, from string) // is given a fresh key at the start, and after each use, with who used it
	Now      func() time.Time       // time.Now
	Patience time.Duration          // how long a page waits for the next test to be worked out; 10 s
	Units    show.Units             // that masses and temperatures are shown in, and bare numbers taken in

	// Names are the words of a bin that its owner chose: they are written in no other units.
	Names func(*sorting.Bin) []string
}

// BenchPage is the page for a phone at the bench. It records into one bin file and serves no other.
type BenchPage struct {
	bin   BenchBin
	opt   BenchOptions
	id    string // of the bin, in cookies and forms
	doors http.Handler
	gate  *benchGate
	book  *benchBook
	news  *benchNews
}

// Bench makes the page for a bin. Close ends what is still being told to phones.
func Bench(bin BenchBin, o BenchOptions) *BenchPage {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Names == nil {
		o.Names = func(*sorting.Bin) []string { return nil }
	}
	if o.Patience <= 0 {
		o.Patience = 10 * time.Second
	}
	h := fnv.New32a()
	h.Write([]byte(bin.Path))
	p := &BenchPage{bin: bin, opt: o, id: strconv.FormatUint(uint64(h.Sum32()), 36)}
	p.gate = newBenchGate(o, "bench_"+p.id)
	p.book = &benchBook{bin: bin, now: o.Now, names: o.Names, lines: map[string]*benchLine{}}
	p.news = newBenchNews(bin.Stamp)
	p.doors = p.guard(p.routes())
	return p
}

// ServeHTTP answers a request.
func (p *BenchPage) ServeHTTP(w http.ResponseWriter, r *http.Request) { p.doors.ServeHTTP(w, r) }

// Close ends the open streams, so that a server can stop.
func (p *BenchPage) Close() { p.news.close() }

// Limits of what the page takes in.
const (
	benchMostBody   = 16 << 10 // bytes of a form: the longest split is a tenth of it
	benchMostHeader = 16 << 10
	benchMostPhones = 500
	benchMostLive   = 100 // open streams
)

// Server is a server for the page with limits on how long anybody may take; common practice, no source.
func (p *BenchPage) Server() *http.Server {
	s := &http.Server{
		Handler:                      p,
		ReadHeaderTimeout:            5 * time.Second,
		ReadTimeout:                  15 * time.Second,
		WriteTimeout:                 30 * time.Second,
		IdleTimeout:                  60 * time.Second,
		MaxHeaderBytes:               benchMostHeader,
		DisableGeneralOptionsHandler: true,
	}
	s.RegisterOnShutdown(p.Close)
	return s
}

func (p *BenchPage) routes() http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("GET /{$}", p.worksheet)
	m.HandleFunc("GET /news", p.tellNews)
	m.HandleFunc("GET /live", p.live)
	m.HandleFunc("GET /test", p.testSheet)
	m.HandleFunc("GET /bath", p.bathSheet)
	m.HandleFunc("GET /lot", p.lotSheet)
	m.HandleFunc("GET /known", p.knownSheet)
	m.HandleFunc("GET /split", p.splitSheet)
	m.HandleFunc("GET /undo", p.undoSheet)
	m.HandleFunc("GET /phone", p.phoneSheet)
	m.HandleFunc("POST /test", p.form(p.takeTest))
	m.HandleFunc("POST /bath", p.form(p.takeBath))
	m.HandleFunc("POST /lot", p.form(p.takeLot))
	m.HandleFunc("POST /known", p.form(p.takeKnown))
	m.HandleFunc("POST /split", p.form(p.takeSplit))
	m.HandleFunc("POST /undo", p.form(p.takeBack))
	m.HandleFunc("POST /skip", p.form(p.skip))
	m.HandleFunc("POST /timer", p.form(p.timer))
	for name, kind := range map[string]string{"bench.css": "text/css", "bench.js": "text/javascript", "bench.svg": "image/svg+xml"} {
		m.HandleFunc("GET /"+name, p.asset(name, kind))
	}
	m.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		p.fail(w, r, benchFault{Code: http.StatusNotFound, Says: "There is no such page here.", Cure: "Go back to the worksheet."})
	})
	return m
}

func (p *BenchPage) asset(name, kind string) http.HandlerFunc {
	text, err := benchFiles.ReadFile(name)
	if err != nil {
		panic(err) // embedded: a test has opened it
	}
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", kind+"; charset=utf-8")
		_, _ = w.Write(text)
	}
}

// benchFault is why something was not done. Keep asks the phone to hold on to what it sent and to try
// again: the fault is not in it.
type benchFault struct {
	Code       int
	Says, Cure string
	More       []string
	Keep       bool
}

func (f benchFault) Error() string { return strings.Join(append([]string{f.Says}, f.More...), " ") }

// faultOfBench puts an error into words.
func faultOfBench(err error) benchFault {
	var (
		own     benchFault
		problem *ledger.Problem
		faults  binfile.Faults
	)
	switch {
	case errors.As(err, &own):
		return own
	case errors.As(err, &problem):
		return benchFault{Code: http.StatusServiceUnavailable, Says: "The bin file cannot be used just now: " + problem.Error() + ".", Cure: problem.Hint, Keep: true}
	case errors.As(err, &faults):
		f := benchFault{Code: http.StatusServiceUnavailable, Says: "The bin file has mistakes in it, so nothing can be recorded.", Cure: "Mend it; this page reads it again by itself.", Keep: true}
		for _, x := range faults[:min(len(faults), 20)] {
			x.File = ""
			f.More = append(f.More, x.Error())
		}
		return f
	}
	return benchFault{Code: http.StatusInternalServerError, Says: "This could not be worked out: " + err.Error() + ".", Cure: "What was recorded is safe in the bin file."}
}

// fail answers with a fault: as JSON to the script, else as a page.
func (p *BenchPage) fail(w http.ResponseWriter, r *http.Request, f benchFault) {
	if wantsJSON(r) {
		p.tell(w, f.Code, benchAnswer{Says: f.Says, Cure: f.Cure, More: f.More, Keep: f.Keep})
		return
	}
	p.render(w, f.Code, "fault", struct {
		benchFrame
		Fault benchFault
	}{p.frame(r, "Not done"), f})
}

// benchAnswer is what the script of the page is told of a form it sent.
type benchAnswer struct {
	OK    bool     `json:"ok"`
	Says  string   `json:"says"`
	Cure  string   `json:"cure,omitempty"`
	More  []string `json:"more,omitempty"`
	Keep  bool     `json:"keep,omitempty"`  // not done, and not the form's fault: try again
	Twice bool     `json:"twice,omitempty"` // it was in the file already
	Next  string   `json:"next,omitempty"`  // where to go now
	Undo  string   `json:"undo,omitempty"`  // id of the test that can be taken back
}

func wantsJSON(r *http.Request) bool {
	return strings.HasPrefix(r.Header.Get("Accept"), "application/json")
}

// tell answers the script, in the units of the page.
func (p *BenchPage) tell(w http.ResponseWriter, code int, a benchAnswer) {
	kept := p.book.keeps()
	a.Says, a.Cure = p.opt.Units.In(a.Says, kept...), p.opt.Units.In(a.Cure, kept...)
	more := make([]string, len(a.More))
	for i, s := range a.More {
		more[i] = p.opt.Units.In(s, kept...)
	}
	a.More = more
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(code)
	_ = json.NewEncoder(w).Encode(a) // the phone may be gone: nobody is left to tell
}

// render writes a page whole or, where the template is broken, not at all.
func (p *BenchPage) render(w http.ResponseWriter, code int, name string, view any) {
	var b strings.Builder
	if err := benchTemplates.ExecuteTemplate(&b, name, view); err != nil {
		http.Error(w, "the page is broken: "+err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	_, _ = w.Write([]byte(inUnits(b.String(), p.opt.Units, p.book.keeps())))
}
