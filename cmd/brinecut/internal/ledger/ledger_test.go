package ledger

import (
	"bufio"
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gofrs/flock"

	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

var megabytes = flag.Int("megabytes", 5, "comments in the file of TestManyComments")

const start = "# invented data\n[[lot]]\nname = \"white\"\nmass = \"1 kg\"\n"

func TestMain(m *testing.M) {
	if path := os.Getenv("LEDGER_WRITER"); path != "" {
		os.Exit(writer(path, os.Getenv("LEDGER_NOTE")))
	}
	os.Exit(m.Run())
}

// writer records tests until it is killed or has done 25, saying each that is safe.
func writer(path, note string) int {
	for i := 0; i < 25; i++ {
		id, err := recordOne(path, note)
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		fmt.Println(id)
	}
	return 0
}

// recordOne records a test under the next free id and returns that.
func recordOne(path, note string) (id string, err error) {
	err = Append(path, func(src []byte) ([]byte, error) {
		bin, _, err := binfile.Read(path, src)
		if err != nil {
			return nil, err
		}
		id = binfile.NextID(bin)
		return binfile.AppendTest(src, sorting.Observation{ID: id, Lot: "white", Kind: cues.Bend, Outcome: "snaps", Note: note})
	})
	return id, err
}

func write(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bin.toml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func read(t *testing.T, path string) *sorting.Bin {
	t.Helper()
	src, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	bin, _, err := binfile.Read(path, src)
	if err != nil {
		t.Fatalf("the file does not read any more: %v", err)
	}
	return bin
}

// What stood in the file stays as it was, byte for byte, whatever its line ends and its last line.
func TestAppendLeavesTheFileAsItWas(t *testing.T) {
	for name, text := range map[string]string{
		"as usual":         start,
		"no final newline": strings.TrimSuffix(start, "\n"),
		"ends in comment":  start + "# the end",
		"CRLF":             strings.ReplaceAll(start, "\n", "\r\n"),
		"byte-order mark":  "\xef\xbb\xbf" + start,
		"near a page":      start + "# " + strings.Repeat("x", page-len(start)-20) + "\n",
	} {
		t.Run(name, func(t *testing.T) {
			path := write(t, text)
			if _, err := recordOne(path, ""); err != nil {
				t.Fatal(err)
			}
			got, _ := os.ReadFile(path)
			if !bytes.HasPrefix(got, []byte(text)) {
				t.Errorf("the first %d bytes changed", len(text))
			}
			if n := len(read(t, path).Tests); n != 1 {
				t.Errorf("%d tests in the file, want 1", n)
			}
			if crlf := bytes.Count(got, []byte("\r\n")); crlf > 0 && crlf != bytes.Count(got, []byte("\n")) {
				t.Error("line ends are mixed")
			}
		})
	}
}

// Every prefix of what is written leaves a file that reads, as long as the tail lies in one page.
func TestGapKeepsARecordInOnePage(t *testing.T) {
	for size := int64(0); size < 3*page; size += 7 {
		for _, tail := range []int{1, 150, 900, page} {
			at := size + int64(len(gap(size, tail)))
			if at/page != (at+int64(tail)-1)/page {
				t.Fatalf("%d bytes behind %d cross a page", tail, size)
			}
		}
	}
	if g := gap(100, page+1); g != nil {
		t.Errorf("a tail that fits no page has a gap of %d", len(g))
	}
}

func TestAppendThroughALink(t *testing.T) {
	path := write(t, start)
	link := filepath.Join(t.TempDir(), "link.toml")
	if err := os.Symlink(path, link); err != nil {
		t.Skip("no links on this file system:", err)
	}
	if _, err := recordOne(link, ""); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is a link no more: %v %v", info, err)
	}
	if n := len(read(t, path).Tests); n != 1 {
		t.Errorf("%d tests behind the link, want 1", n)
	}
}

func TestAppendRefuses(t *testing.T) {
	protected := write(t, start)
	os.Chmod(protected, 0o444)
	socket := filepath.Join(t.TempDir(), "s")
	l, err := net.Listen("unix", socket)
	if err != nil {
		t.Skip("no file here that is no ordinary one:", err)
	}
	defer l.Close()
	for path, want := range map[string]string{
		protected:                             "write-protected",
		filepath.Join(t.TempDir(), "no.toml"): "there is no file",
		t.TempDir():                           "is a folder",
		socket:                                "no ordinary file",
	} {
		_, err := recordOne(path, "")
		var p *Problem
		if !errors.As(err, &p) || !strings.Contains(err.Error(), want) || p.Hint == "" {
			t.Errorf("%s: %v, want %q and a hint", path, err, want)
		}
	}
	if got, _ := os.ReadFile(protected); string(got) != start {
		t.Error("a write-protected file was changed")
	}
}

func TestARefusedRecordWritesNothing(t *testing.T) {
	path := write(t, start)
	no := errors.New("no")
	if err := Append(path, func([]byte) ([]byte, error) { return []byte("x"), no }); err != no {
		t.Errorf("error %v, want it as it was", err)
	}
	if got, _ := os.ReadFile(path); string(got) != start {
		t.Errorf("the file is now %q", got)
	}
}

// An editor that saves by renaming leaves the writer with a file nobody sees any more.
func TestAReplacedFileIsNoticed(t *testing.T) {
	path := write(t, start)
	err := Append(path, func(src []byte) ([]byte, error) {
		other := path + ".new"
		os.WriteFile(other, src, 0o644)
		return []byte("# more\n"), os.Rename(other, path)
	})
	if err == nil || !strings.Contains(err.Error(), "replaced by another program") {
		t.Errorf("error %v", err)
	}
}

func TestCreateNeverOverwrites(t *testing.T) {
	path := write(t, start)
	if err := Create(path, []byte("new")); err == nil || !strings.Contains(err.Error(), "there already") {
		t.Errorf("error %v", err)
	}
	if got, _ := os.ReadFile(path); string(got) != start {
		t.Error("it was overwritten")
	}
	if err := Create(path+".2", []byte(start)); err != nil {
		t.Error(err)
	}
}

// failing is a file that takes only so many bytes, or cannot be synced.
type failing struct {
	bytes.Buffer
	room   int
	nosync bool
}

func (f *failing) Write(b []byte) (int, error) {
	if len(b) <= f.room {
		return f.Buffer.Write(b)
	}
	n, _ := f.Buffer.Write(b[:f.room])
	return n, errors.New("no space left on device")
}

func (f *failing) Truncate(n int64) error { f.Buffer.Truncate(int(n)); return nil }

func (f *failing) Sync() error {
	if f.nosync {
		f.nosync = false
		return errors.New("input/output error")
	}
	return nil
}

func TestAFailedWriteIsCutBack(t *testing.T) {
	for name, f := range map[string]*failing{"full": {room: 4}, "not synced": {room: 100, nosync: true}} {
		f.Buffer.WriteString(start)
		if err := put(f, int64(len(start)), []byte("[[test]]\n")); err == nil || !strings.Contains(err.Error(), "left the file as it was") {
			t.Errorf("%s: error %v", name, err)
		}
		if f.String() != start {
			t.Errorf("%s: the file is now %q", name, f.String())
		}
	}
}

// A disk that was mounted to be read from is named as what it is, not as one that cannot lock.
func TestReadOnlyDisk(t *testing.T) {
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=32k", "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("a small disk cannot be made here: %v %s", err, out)
	}
	defer exec.Command("umount", dir).Run()
	path := filepath.Join(dir, "bin.toml")
	if err := os.WriteFile(path, []byte(start), 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("mount", "-o", "remount,ro", dir).CombinedOutput(); err != nil {
		t.Skipf("%v %s", err, out)
	}
	if _, err := recordOne(path, ""); err == nil || !strings.Contains(err.Error(), "nothing was recorded: read-only file system") {
		t.Errorf("error %v", err)
	}
}

// A file of comments without end is read and recorded into; what it takes grows with its length alone.
func TestManyComments(t *testing.T) {
	path := write(t, start+strings.Repeat("# "+strings.Repeat("x", 97)+"\n", *megabytes*10_000))
	begin := time.Now()
	if _, err := recordOne(path, ""); err != nil {
		t.Fatal(err)
	}
	took := time.Since(begin)
	if n := len(read(t, path).Tests); n != 1 {
		t.Errorf("%d records, want 1", n)
	}
	if took > 30*time.Second+time.Duration(*megabytes)*500*time.Millisecond {
		t.Errorf("%d MB took %v", *megabytes, took)
	}
	t.Logf("%d MB: a record in %v", *megabytes, took.Round(time.Millisecond))
}

// On a disk that fills up, every record acknowledged is there, and no half one.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=32k", "tmpfs", dir).CombinedOutput(); err != nil {
		t.Skipf("a small disk cannot be made here: %v %s", err, out)
	}
	defer exec.Command("umount", dir).Run()
	path := filepath.Join(dir, "bin.toml")
	if err := os.WriteFile(path, []byte(start), 0o644); err != nil {
		t.Fatal(err)
	}
	done, long := 0, strings.Repeat("n", 300)
	for ; done < 1000; done++ {
		if _, err := recordOne(path, long); err != nil {
			if !strings.Contains(err.Error(), "left the file as it was: no space left on device") {
				t.Errorf("error %v", err)
			}
			break
		}
	}
	if n := len(read(t, path).Tests); n != done || done == 0 || done == 1000 {
		t.Errorf("%d records acknowledged, %d in the file", done, n)
	}
}

// Writers in this program and in others take turns: no record is lost and no id given twice.
func TestManyWriters(t *testing.T) {
	path := write(t, start)
	var group sync.WaitGroup
	for range 4 {
		group.Go(func() {
			for range 25 {
				if _, err := recordOne(path, ""); err != nil {
					t.Error(err)
				}
			}
		})
		group.Go(func() {
			if out, err := program(path, "").CombinedOutput(); err != nil {
				t.Errorf("%v: %s", err, out)
			}
		})
	}
	group.Wait()
	if n := len(read(t, path).Tests); n != 200 { // ids are unique, or the file would be refused
		t.Errorf("%d records, want 200", n)
	}
}

// A lock that is never let go is given up on, in words, with nothing written.
func TestImpatience(t *testing.T) {
	path := write(t, start)
	other := flock.New(lockPath(path), flock.SetFlag(lockFlag))
	if err := other.Lock(); err != nil {
		t.Fatal(err)
	}
	defer func(d time.Duration) { patience = d }(patience)
	patience = 20 * time.Millisecond
	if _, err := recordOne(path, ""); err == nil || !strings.Contains(err.Error(), "have been writing") {
		t.Errorf("error %v", err)
	}
	if err := other.Unlock(); err != nil {
		t.Fatal(err)
	}
	patience = 10 * time.Second
	if _, err := recordOne(path, ""); err != nil {
		t.Errorf("once it is let go: %v", err)
	}
	if n := len(read(t, path).Tests); n != 1 {
		t.Errorf("%d records, want 1", n)
	}
}

func program(path, note string) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "LEDGER_WRITER="+path, "LEDGER_NOTE="+note)
	return c
}

// A writer killed at any instant leaves a file that reads, with every record it had acknowledged.
func TestKilledWriter(t *testing.T) {
	kills := 30
	if testing.Short() {
		kills = 5
	}
	path := write(t, start)
	acknowledged := 0
	for range kills {
		c := program(path, strings.Repeat("n", 100))
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.AfterFunc(time.Duration(rand.IntN(60))*time.Millisecond, func() { c.Process.Kill() })
		for s := bufio.NewScanner(out); s.Scan(); {
			acknowledged++
		}
		c.Wait()
		if n := len(read(t, path).Tests); n < acknowledged {
			t.Fatalf("%d records in the file, %d acknowledged", n, acknowledged)
		}
	}
	t.Logf("%d kills, %d records acknowledged, all there", kills, acknowledged)
}
