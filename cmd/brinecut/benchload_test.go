package main

import (
	"flag"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

var (
	loadPhones = flag.Int("phones", 12, "phones of the load run")
	loadRounds = flag.Int("rounds", 4, "outcomes each of them records")
)

// times are how long requests took.
type times struct {
	mu   sync.Mutex
	list []time.Duration
}

func (x *times) add(d time.Duration) { x.mu.Lock(); x.list = append(x.list, d); x.mu.Unlock() }

// at is the time within which a share of them was answered.
func (x *times) at(share float64) time.Duration {
	slices.Sort(x.list)
	return x.list[min(int(share*float64(len(x.list))), len(x.list)-1)].Round(time.Millisecond / 10)
}

func (x *times) String() string {
	return fmt.Sprintf("half within %v, 99 %% within %v", x.at(0.5), x.at(0.99))
}

var reField = regexp.MustCompile(`<input type="hidden" name="(token|lot|known|kind)" value="([^"]*)"`)

// rounds is one phone at work: it looks at the worksheet and records an outcome on it, so often. The lots
// are named in the test: what the worksheet proposes ends when testing is done.
func rounds(t *testing.T, at string, n int, look, record *times) {
	c := http.Client{Timeout: time.Minute}
	for i := range n {
		begin := time.Now()
		a, err := c.Get(at + "/")
		if err != nil {
			t.Error(err)
			return
		}
		body, err := io.ReadAll(a.Body)
		a.Body.Close()
		if err != nil || a.StatusCode != http.StatusOK {
			t.Errorf("status %d, %v", a.StatusCode, err)
			return
		}
		look.add(time.Since(begin))
		f := url.Values{"lot": {"grey"}, "kind": {"bend"}, "outcome": {"snaps"}}
		if m := reField.FindStringSubmatch(string(body)); m != nil {
			f.Set("token", m[2])
		}
		begin = time.Now()
		r, err := http.NewRequest("POST", at+"/test", strings.NewReader(f.Encode()))
		if err != nil {
			t.Error(err)
			return
		}
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Accept", "application/json")
		if a, err = c.Do(r); err != nil {
			t.Error(err)
			return
		}
		answer, _ := io.ReadAll(a.Body)
		a.Body.Close()
		if a.StatusCode != http.StatusOK || !strings.Contains(string(answer), `"ok":true`) {
			t.Errorf("round %d: status %d, %s", i, a.StatusCode, answer)
			return
		}
		record.add(time.Since(begin))
	}
}

// Many phones at once: every outcome that was acknowledged is in the file once. The figures stand beside
// those of one phone alone on the same bin, grown to the same size. -phones 50 -rounds 10 is the run of
// docs/security.md.
func TestBenchLoad(t *testing.T) {
	path := eveningFile(t)
	p := startProcess(t, path, "127.0.0.1:0")
	at := "http://" + p.at
	var look, record, idleLook, idleRecord times
	begin := time.Now()
	var all sync.WaitGroup
	for range *loadPhones {
		all.Go(func() { rounds(t, at, *loadRounds, &look, &record) })
	}
	all.Wait()
	took := time.Since(begin)
	rounds(t, at, 20, &idleLook, &idleRecord)
	if t.Failed() {
		return
	}
	want := *loadPhones**loadRounds + 20
	if n := len(readBin(t, path).Tests); n != want {
		t.Errorf("%d outcomes acknowledged, %d in the file", want, n)
	}
	t.Logf("%d phones, %d outcomes in %v, none lost", *loadPhones, len(record.list), took.Round(time.Millisecond))
	t.Logf("an outcome is acknowledged: %v; one phone alone: %v", &record, &idleRecord)
	t.Logf("the next worksheet: %v; one phone alone: %v", &look, &idleLook)
	if slow := record.at(0.99); slow > 20*time.Second {
		t.Errorf("an outcome takes %v to be acknowledged", slow)
	}
}
