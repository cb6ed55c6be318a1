package page

import (
	"fmt"
	"hash/fnv"
	"net/http"
	"sync"
	"time"
)

// versionOf names a state of the file.
func versionOf(src []byte) string {
	h := fnv.New64a()
	h.Write(src)
	return fmt.Sprintf("%x-%d", h.Sum64(), len(src))
}

// benchNews tells open pages that the file has changed. It looks at the file only while somebody listens.
type benchNews struct {
	stamp func() (string, error)

	mu     sync.Mutex
	ears   map[chan string]bool
	looks  bool // somebody watches the file
	closed chan struct{}
	once   sync.Once
}

func newBenchNews(stamp func() (string, error)) *benchNews {
	return &benchNews{stamp: stamp, ears: map[chan string]bool{}, closed: make(chan struct{})}
}

func (n *benchNews) close() { n.once.Do(func() { close(n.closed) }) }

// How often the file is looked at, and an idle stream is kept awake; common practice, no source.
const (
	benchLook  = 400 * time.Millisecond
	benchAwake = 15 * time.Second
)

// listen adds an ear; nil where there are too many.
func (n *benchNews) listen() chan string {
	n.mu.Lock()
	defer n.mu.Unlock()
	if len(n.ears) >= benchMostLive {
		return nil
	}
	c := make(chan string, 1)
	n.ears[c] = true
	if !n.looks {
		n.looks = true
		go n.watch()
	}
	return c
}

func (n *benchNews) leave(c chan string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	delete(n.ears, c)
}

// watch looks until nobody listens any more.
func (n *benchNews) watch() {
	last, _ := n.stamp()
	t := time.NewTicker(benchLook)
	defer t.Stop()
	for {
		select {
		case <-n.closed:
			return
		case <-t.C:
		}
		now, err := n.stamp()
		if err != nil {
			now = "unreadable"
		}
		n.mu.Lock()
		if len(n.ears) == 0 {
			n.looks = false
			n.mu.Unlock()
			return
		}
		if now != last {
			last = now
			for c := range n.ears {
				select {
				case c <- now:
				default: // it has not read the last one yet, and will look at the file as it is then
				}
			}
		}
		n.mu.Unlock()
	}
}

// live is the stream of changes, as server-sent events. It carries no content: the page fetches the news.
func (p *BenchPage) live(w http.ResponseWriter, r *http.Request) {
	c := p.news.listen()
	if c == nil {
		p.fail(w, r, benchFault{Code: http.StatusServiceUnavailable, Says: "Too many pages are open at once.", Cure: "This page asks now and then instead."})
		return
	}
	defer p.news.leave(c)
	out := http.NewResponseController(w)
	_ = out.SetReadDeadline(time.Time{}) // the stream outlasts the time that a form may take
	send := func(text string) error {
		_ = out.SetWriteDeadline(time.Now().Add(2 * benchAwake))
		if _, err := w.Write([]byte(text)); err != nil {
			return err
		}
		return out.Flush()
	}
	w.Header().Set("Content-Type", "text/event-stream")
	w.WriteHeader(http.StatusOK)
	if send("retry: 2000\nevent: here\ndata: .\n\n") != nil {
		return
	}
	awake := time.NewTicker(benchAwake)
	defer awake.Stop()
	for {
		text := ": awake\n\n"
		select {
		case <-r.Context().Done():
			return
		case <-p.news.closed:
			return
		case <-c:
			text = "event: bin\ndata: .\n\n"
		case <-awake.C:
		}
		if send(text) != nil {
			return
		}
	}
}
