package page

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base32"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"
)

// benchPolicy lets the page load its own style and script and talk to where it came from, nothing else.
const benchPolicy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard stands in front of every door: what each answer says to the browser, who may ask, how much.
func (p *BenchPage) guard(inner http.Handler) http.Handler {
	var origin http.CrossOriginProtection
	origin.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		p.fail(w, r, benchFault{Code: http.StatusForbidden, Says: "This form came from another page than this one, so it was not taken.", Cure: "Open the worksheet and do it there."})
	}))
	inner = origin.Handler(inner)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", benchPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		// same-origin, not no-referrer: that would blank the Origin of a form, which is what tells it
		// from one of another page where the connection is not encrypted.
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if !p.gate.answersTo(r.Host) {
			p.fail(w, r, benchFault{Code: http.StatusForbidden, Says: "This page does not answer to that name.", Cure: "Use the address that the terminal shows."})
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, benchMostBody)
		if r.URL.Path == "/bench.css" || r.URL.Path == "/bench.svg" { // also for those who are turned away
			inner.ServeHTTP(w, r)
			return
		}
		if ph, ok := p.admit(w, r); ok {
			inner.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), phoneKey{}, ph)))
		}
	})
}

// phoneKey finds the phone that sent a request in its context.
type phoneKey struct{}

// phoneOf is the phone that sent the request; nil for what keeps no cookie.
func phoneOf(r *http.Request) *benchPhone {
	ph, _ := r.Context().Value(phoneKey{}).(*benchPhone)
	return ph
}

// admit lets in a phone that is known, or that brings a key, and turns away the rest.
func (p *BenchPage) admit(w http.ResponseWriter, r *http.Request) (*benchPhone, bool) {
	key, now := r.URL.Query().Get("key"), p.opt.Now()
	ph := p.gate.phone(r, now)
	switch {
	case ph != nil && key != "" && r.Method == http.MethodGet:
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return nil, false
	case ph == nil && !p.opt.Keyed && r.Method == http.MethodGet && r.URL.Path == "/":
		return p.gate.letIn(w, now), true
	case ph != nil || !p.opt.Keyed:
		return ph, true
	}
	p.turnAway(w, r, key, now)
	return nil, false
}

// turnAway answers a phone that is not known: a key that stands lets it in, all else does not.
func (p *BenchPage) turnAway(w http.ResponseWriter, r *http.Request, key string, now time.Time) {
	switch {
	case key == "":
		w.Header().Set("WWW-Authenticate", "BenchKey")
		p.fail(w, r, benchFault{Code: http.StatusUnauthorized, Keep: true, Says: "This phone is not known at the bench.",
			Cure: "Scan the code in the terminal where the bench was started, or ask for one on a phone that is in already."})
	case r.Method != http.MethodGet || looksAhead(r):
		p.fail(w, r, benchFault{Code: http.StatusForbidden, Says: "A key is used by opening its address.", Cure: "Open it in the browser."})
	case !p.gate.use(key, now):
		p.fail(w, r, benchFault{Code: http.StatusForbidden, Says: "This key is wrong, or was used already: each lets one phone in.", Cure: "Scan the newest code in the terminal."})
	default:
		p.gate.letIn(w, now)
		http.Redirect(w, r, "/", http.StatusSeeOther)
		p.gate.freshKey(r.RemoteAddr)
	}
}

// looksAhead reports a browser that fetches a page before anybody asked for it: it must not use up a key.
func looksAhead(r *http.Request) bool {
	for _, h := range []string{"Purpose", "X-Purpose", "Sec-Purpose", "X-Moz"} {
		if v := strings.ToLower(r.Header.Get(h)); strings.Contains(v, "prefetch") || strings.Contains(v, "preview") {
			return true
		}
	}
	return false
}

// benchPhone is a phone that was here, known by its cookie.
type benchPhone struct {
	seen  time.Time
	back  bool   // it came back with its cookie
	lot   string // of the step it was shown last
	at    time.Time
	says  string // what it is to be told next
	doubt []string
}

// benchGate knows the phones and the keys.
type benchGate struct {
	mu     sync.Mutex
	hosts  []string
	cookie string
	phones map[string]*benchPhone
	keys   map[string]time.Time // when each ends; the zero time never does
	show   func(key, from string)
}

func newBenchGate(o BenchOptions, cookie string) *benchGate {
	g := &benchGate{cookie: cookie, phones: map[string]*benchPhone{}, keys: map[string]time.Time{}, show: o.Key}
	for _, h := range append([]string{"localhost", "127.0.0.1", "::1"}, o.Hosts...) {
		g.hosts = append(g.hosts, strings.ToLower(h))
	}
	if o.Keyed {
		g.freshKey("")
	}
	return g
}

// answersTo reports whether a Host header names this machine: a strange name that leads here is another
// page reaching in through the browser.
func (g *benchGate) answersTo(host string) bool {
	u := url.URL{Host: host}
	name := strings.ToLower(strings.TrimSuffix(u.Hostname(), "."))
	for _, h := range g.hosts {
		if name == h {
			return true
		}
	}
	return false
}

// secret is 160 bits that nobody guesses.
func secret() string {
	b := make([]byte, 20)
	_, _ = rand.Read(b) // never fails (crypto/rand)
	return strings.ToLower(base32.StdEncoding.EncodeToString(b))
}

// benchMostKeys is how many keys stand at once; the one in the terminal always does.
const benchMostKeys = 20

// freshKey makes a key that stands until it is used, and shows it.
func (g *benchGate) freshKey(from string) {
	k := g.key(time.Time{})
	if g.show != nil {
		g.show(k, from)
	}
}

// key makes a key that ends when it is used, and at that time where one is given.
func (g *benchGate) key(until time.Time) string {
	k := secret()
	g.mu.Lock()
	defer g.mu.Unlock()
	for old, end := range g.keys {
		if len(g.keys) > benchMostKeys && !end.IsZero() {
			delete(g.keys, old)
		}
	}
	g.keys[k] = until
	return k
}

// use spends a key. All are compared, each in constant time.
func (g *benchGate) use(key string, now time.Time) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	found := ""
	for k, until := range g.keys {
		if !until.IsZero() && now.After(until) {
			delete(g.keys, k)
			continue
		}
		if subtle.ConstantTimeCompare([]byte(k), []byte(strings.ToLower(key))) == 1 {
			found = k
		}
	}
	delete(g.keys, found)
	return found != ""
}

// letIn gives a phone its cookie.
func (g *benchGate) letIn(w http.ResponseWriter, now time.Time) *benchPhone {
	id, ph := secret(), &benchPhone{seen: now}
	g.mu.Lock()
	g.phones[id] = ph
	g.forget()
	g.mu.Unlock()
	setCookie(w, g.cookie, id)
	return ph
}

// phone is the one that sent the request; nil where it is new.
func (g *benchGate) phone(r *http.Request, now time.Time) *benchPhone {
	c, err := r.Cookie(g.cookie)
	if err != nil {
		return nil
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	ph := g.phones[c.Value]
	if ph != nil {
		ph.seen, ph.back = now, true
	}
	return ph
}

// forget drops the phone that was away longest, where there are too many.
func (g *benchGate) forget() {
	if len(g.phones) <= benchMostPhones {
		return
	}
	oldest := ""
	for id, ph := range g.phones {
		if oldest == "" || ph.seen.Before(g.phones[oldest].seen) {
			oldest = id
		}
	}
	delete(g.phones, oldest)
}

// holdTime is how long a lot that was shown to a phone is left to it.
const holdTime = 10 * time.Minute

// held lists the lots that other phones are at. Whatever never sends its
// cookie back holds nothing.
func (g *benchGate) held(self *benchPhone, now time.Time) map[string]bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	out := map[string]bool{}
	for _, ph := range g.phones {
		if ph != self && ph.back && ph.lot != "" && now.Sub(ph.at) < holdTime {
			out[ph.lot] = true
		}
	}
	return out
}

// hold leaves a lot to a phone.
func (g *benchGate) hold(ph *benchPhone, lot string, now time.Time) {
	if ph == nil {
		return
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	ph.lot, ph.at = lot, now
}

// tell keeps a word for the next page of a phone; told takes it.
func (g *benchGate) tell(ph *benchPhone, says string, doubt []string) {
	if ph == nil {
		return
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	ph.says, ph.doubt = says, doubt
}

func (g *benchGate) told(ph *benchPhone) (says string, doubt []string) {
	if ph == nil {
		return "", nil
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	says, doubt = ph.says, ph.doubt
	ph.says, ph.doubt = "", nil
	return says, doubt
}

// setCookie keeps something on the phone. The bench is not encrypted, so the cookie cannot ask for it.
func setCookie(w http.ResponseWriter, name, value string) {
	http.SetCookie(w, &http.Cookie{Name: name, Value: value, Path: "/", MaxAge: 7 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteLaxMode})
}
