package main

import (
	"bytes"
	"flag"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"brinecut/sorting"
)

var (
	mostKills   = flag.Int("kills", 40, "kills of TestRecordKilled")
	mostWriters = flag.Int("writers", 20, "writers of TestRecordAtOnce")
)

// recorders gives the program as another process, and the arguments that record one outcome.
func recorders(t *testing.T) (path string, record func() *exec.Cmd) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(t.TempDir(), "brinecut") // the test binary is the program under that name
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	path = eveningFile(t)
	return path, func() *exec.Cmd {
		return exec.Command(program, "record", path, "--lot", "grey", "bend", "snaps", "--note", strings.Repeat("n", rand.IntN(150)))
	}
}

var reRecorded = regexp.MustCompile(`recorded test (t\d+) `)

// kept holds the file to the ids that were acknowledged: it reads, and each of them is in it once.
func kept(t *testing.T, bin *sorting.Bin, ids []string) {
	t.Helper()
	seen := map[string]int{}
	for _, o := range bin.Tests {
		seen[o.ID]++
	}
	for _, id := range ids {
		if seen[id] != 1 {
			t.Fatalf("%s was acknowledged and stands %d times in the file", id, seen[id])
		}
	}
}

// TestRecordKilled: whenever in its run record is killed, the file reads, and what record said it had
// written is there. -kills 1000 is the run of DEVELOPERS.md.
func TestRecordKilled(t *testing.T) {
	path, record := recorders(t)
	begin := time.Now()
	if out, err := record().CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	whole := time.Since(begin)
	ids, kills, runs, written := []string{"t1"}, 0, 0, 0
	for ; kills < *mostKills && runs < 5**mostKills; runs++ {
		var out bytes.Buffer
		c := record()
		c.Stdout = &out
		begin := time.Now()
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		stop := time.AfterFunc(time.Duration(rand.Int64N(int64(whole))), func() { _ = c.Process.Kill() })
		err := c.Wait()
		stop.Stop()
		if m := reRecorded.FindStringSubmatch(out.String()); m != nil {
			ids = append(ids, m[1])
		}
		bin := readBin(t, path)
		kept(t, bin, ids)
		written = len(bin.Tests)
		if err != nil {
			kills++
		} else {
			whole = (9*whole + time.Since(begin)) / 10 // it grows with the file
		}
	}
	if kills < *mostKills {
		t.Errorf("%d runs were killed %d times", runs, kills)
	}
	t.Logf("%d kills in %d runs: %d records acknowledged, all of %d in the file", kills, runs, len(ids), written)
}

// TestRecordAtOnce: writers that all begin at once take turns, and none of them loses a record or takes
// an id that another has.
func TestRecordAtOnce(t *testing.T) {
	path, record := recorders(t)
	var (
		all sync.WaitGroup
		mu  sync.Mutex
		ids []string
	)
	begin := time.Now()
	for range *mostWriters {
		all.Go(func() {
			out, err := record().CombinedOutput()
			m := reRecorded.FindSubmatch(out)
			if err != nil || m == nil {
				t.Errorf("%v: %s", err, out)
				return
			}
			mu.Lock()
			ids = append(ids, string(m[1]))
			mu.Unlock()
		})
	}
	all.Wait()
	bin := readBin(t, path)
	kept(t, bin, ids)
	if len(bin.Tests) != *mostWriters || len(ids) != *mostWriters {
		t.Errorf("%d writers, %d acknowledged, %d in the file", *mostWriters, len(ids), len(bin.Tests))
	}
	t.Logf("%d writers in %v", *mostWriters, time.Since(begin).Round(time.Millisecond))
}
