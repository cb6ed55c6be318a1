package page

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/cues"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

// benchBook is the bin as the page sees it: what is made of it, worked out once a change, and what is
// added to it.
type benchBook struct {
	bin   BenchBin
	now   func() time.Time
	names func(*sorting.Bin) []string

	pen   sync.Mutex // phones take turns here, in the order they came, before the lock of the file is asked for
	mu    sync.Mutex
	lines map[string]*benchLine // by the kinds that are skipped
	title string                // of the bin, as it was last read
	kept  []string              // names in it that look like a measure, see show.Kept
}

// named is the title of the bin; empty where it has none.
func (b *benchBook) named() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.title
}

// keeps are the names of the bin that are written in no other units.
func (b *benchBook) keeps() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.kept
}

// benchLine works out the answer for one set of skipped kinds. Whoever asks is given an answer for the
// file as it was when they asked, or as it is since; all who ask meanwhile share one.
type benchLine struct {
	run, next *benchRun
}

type benchRun struct {
	done    chan struct{}
	ended   bool
	stamp   string
	answer  advice.Answer
	doubts  []sorting.Warning
	version string
	err     error
}

const benchMostLines = 16 // sets of skipped kinds remembered

// judge gives what is made of the bin now; ok is false where patience ran out first.
func (b *benchBook) judge(skip []cues.Kind, patience time.Duration) (run *benchRun, ok bool) {
	run = b.ask(skip)
	t := time.NewTimer(patience)
	defer t.Stop()
	select {
	case <-run.done:
		return run, true
	case <-t.C:
		return nil, false
	}
}

func (b *benchBook) ask(skip []cues.Kind) *benchRun {
	var key strings.Builder
	for _, k := range skip {
		key.WriteString(string(k) + " ")
	}
	stamp, err := b.bin.Stamp()
	b.mu.Lock()
	defer b.mu.Unlock()
	l := b.lines[key.String()]
	if l == nil {
		b.trim()
		l = &benchLine{}
		b.lines[key.String()] = l
	}
	switch {
	case l.run != nil && err == nil && l.run.stamp == stamp && !(l.run.ended && l.run.err != nil):
		return l.run
	case l.run == nil || l.run.ended:
		l.run = &benchRun{done: make(chan struct{}), stamp: stamp}
		go b.work(l, l.run, skip)
		return l.run
	case l.next == nil:
		l.next = &benchRun{done: make(chan struct{})}
	}
	return l.next
}

// trim forgets the lines nobody waits for, where there are too many.
func (b *benchBook) trim() {
	for k, l := range b.lines {
		if len(b.lines) >= benchMostLines && (l.run == nil || l.run.ended) {
			delete(b.lines, k)
		}
	}
}

// work does one run, then the one that was asked for meanwhile.
func (b *benchBook) work(l *benchLine, run *benchRun, skip []cues.Kind) {
	for run != nil {
		b.reckon(run, skip)
		b.mu.Lock()
		run.ended = true
		if run.answer.Bin != nil {
			b.title, b.kept = run.answer.Bin.Title, show.Kept(b.names(run.answer.Bin)...)
		}
		close(run.done)
		if run = l.next; run != nil {
			l.run, l.next = run, nil
			run.stamp, _ = b.bin.Stamp() // taken before the file is read: a change in between is seen later
		}
		b.mu.Unlock()
	}
}

// reckon fills in a run. A fault of the reckoning must not take the page down with it: recording goes on.
func (b *benchBook) reckon(run *benchRun, skip []cues.Kind) {
	defer func() {
		if x := recover(); x != nil {
			run.err = fmt.Errorf("the reckoning broke off: %v", x)
		}
	}()
	src, err := b.bin.Read()
	if err != nil {
		run.err = err
		return
	}
	run.version = versionOf(src)
	bin, doubts, err := b.bin.Parse(src)
	if err != nil {
		run.err = err
		return
	}
	run.doubts = doubts
	run.answer = advice.Answer{Bin: bin}
	if a, err := advice.Sort(bin, advice.Options{Skip: skip}); err != nil {
		run.err = benchFault{Code: http.StatusConflict, Says: "Nothing can be made of this bin yet: " + err.Error() + ".", Cure: "Add a lot, or mend what the file says."}
	} else {
		run.answer = a
	}
}

// benchEntry is what was added to the file, or was in it already.
type benchEntry struct {
	ID     string
	Says   string // what was recorded, in a sentence
	Twice  bool   // it was there: nothing was written
	Undo   bool   // it is a test, and can be taken back
	Doubts []string
}

// errTwice ends an append that would write a thing again.
var errTwice = errors.New("already recorded")

// add appends what record gives for the bin as it is under the lock. Where record finds that it is in
// the file already it marks the entry, and nothing is written.
func (b *benchBook) add(record func(bin *sorting.Bin, src []byte, e *benchEntry) (tail []byte, err error)) (benchEntry, error) {
	var e benchEntry
	b.pen.Lock()
	defer b.pen.Unlock()
	err := b.bin.Append(func(src []byte) ([]byte, error) {
		e = benchEntry{}
		bin, before, err := binfile.Read(b.bin.Name, src)
		if err != nil {
			return nil, err
		}
		tail, err := record(bin, src, &e)
		if e.Twice {
			return nil, errTwice
		}
		if err != nil {
			return nil, refusedEntry(err)
		}
		_, after, err := binfile.Read(b.bin.Name, slices.Concat(src, tail))
		for _, w := range after {
			if !slices.Contains(before, w) { // what contradicts only since then
				e.Doubts = append(e.Doubts, sentence(w.Says)+" "+sentence(w.Cure))
			}
		}
		return tail, err
	})
	if errors.Is(err, errTwice) {
		err = nil
	}
	return e, err
}

// refusedEntry is a fault of what was sent, which the file itself has none of.
func refusedEntry(err error) error {
	var faults binfile.Faults
	if !errors.As(err, &faults) {
		return err
	}
	f := benchFault{Code: http.StatusUnprocessableEntity, Says: "This cannot be recorded as it stands.", Cure: "Change it and send it again."}
	for _, x := range faults {
		x.File, x.Line = "", 0
		f.More = append(f.More, x.Error())
	}
	return f
}

// testID is the id of a test made on the page: a number to read it by, and the token of the form it came
// in with. The token makes a form count once, however often and whenever it is sent.
func testID(bin *sorting.Bin, token string) string {
	most := 0
	for _, id := range testIDs(bin) {
		var n int
		if _, err := fmt.Sscanf(id, "p%d-", &n); err == nil && n < 1e9 {
			most = max(most, n)
		}
	}
	return fmt.Sprintf("p%d-%s", most+1, token)
}

// sentBefore is the id of the test that a form with this token was recorded as; empty where it was not.
func sentBefore(bin *sorting.Bin, token string) string {
	for _, id := range testIDs(bin) {
		if strings.HasPrefix(id, "p") && strings.HasSuffix(id, "-"+token) {
			return id
		}
	}
	return ""
}

// testIDs are those of all tests, withdrawn ones too.
func testIDs(bin *sorting.Bin) []string {
	var out []string
	for _, o := range bin.Tests {
		out = append(out, o.ID)
	}
	for _, w := range bin.Withdrawn {
		out = append(out, w.ID)
	}
	return out
}

// putTest records an observation under the token of its form. A fresh piece gets the next number of its
// lot, under the lock: two phones never give one number to two pieces.
func (b *benchBook) putTest(o sorting.Observation, token string, fresh bool) (benchEntry, error) {
	o.At = b.now().Format(time.RFC3339)
	return b.add(func(bin *sorting.Bin, src []byte, e *benchEntry) ([]byte, error) {
		if id := sentBefore(bin, token); id != "" {
			e.ID, e.Twice, e.Says = id, true, saysTwice(bin, id, o)
			return nil, nil
		}
		if fresh && len(o.Counts) == 0 {
			o.Piece = freshPiece(bin, o)
		}
		o.ID = testID(bin, token)
		e.ID, e.Undo, e.Says = o.ID, true, "Recorded: "+sayTest(o)+"."
		return binfile.AppendTest(src, o)
	})
}

// freshPiece is the next number for a piece of the same lot or snippet; numbers of withdrawn tests are
// not known here, and may come again.
func freshPiece(bin *sorting.Bin, o sorting.Observation) int {
	top := 0
	for _, x := range bin.Tests {
		if x.Lot == o.Lot && x.Known == o.Known {
			top = max(top, x.Piece)
		}
	}
	return top + 1
}

// saysTwice tells what a form that came again was recorded as.
func saysTwice(bin *sorting.Bin, id string, sent sorting.Observation) string {
	i := slices.IndexFunc(bin.Tests, func(o sorting.Observation) bool { return o.ID == id })
	switch {
	case i < 0:
		return "This was recorded before and has been taken back since; nothing was added."
	case bin.Tests[i].Outcome != sent.Outcome:
		return "This worksheet was recorded already, as: " + sayTest(bin.Tests[i]) + ". A second answer on it was not added; undo the first if it is wrong."
	}
	return "This is in the file already, once: " + sayTest(bin.Tests[i]) + "."
}

// takeBack withdraws a test.
func (b *benchBook) takeBack(id, why string) (benchEntry, error) {
	return b.add(func(bin *sorting.Bin, src []byte, e *benchEntry) ([]byte, error) {
		e.ID = id
		if slices.ContainsFunc(bin.Withdrawn, func(w sorting.Withdrawal) bool { return w.ID == id }) {
			e.Twice, e.Says = true, "This was taken back already."
			return nil, nil
		}
		e.Says = "Taken back; it stays in the file and counts no more."
		if i := slices.IndexFunc(bin.Tests, func(o sorting.Observation) bool { return o.ID == id }); i >= 0 {
			e.Says = "Taken back: " + sayTest(bin.Tests[i]) + "."
		}
		return binfile.AppendWithdrawal(src, sorting.Withdrawal{ID: id, Why: why})
	})
}

// putNamed records what has a name of its own. Where the name is taken by the very same thing, the form
// was sent before.
func (b *benchBook) putNamed(says string, same func(*sorting.Bin) bool, tail func(src []byte) ([]byte, error)) (benchEntry, error) {
	return b.add(func(bin *sorting.Bin, src []byte, e *benchEntry) ([]byte, error) {
		if same(bin) {
			e.Twice, e.Says = true, "This is in the file already, once: "+says+"."
			return nil, nil
		}
		e.Says = "Recorded: " + says + "."
		return tail(src)
	})
}
