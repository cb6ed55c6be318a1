// Package ledger is the bin file on disk: it is read whole, and added to at its end under a lock, so
// that nothing recorded is ever lost and a reader never meets half a record.
package ledger

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// Problem is why a file could not be read or added to, and what helps.
type Problem struct {
	Says, Hint string
	Err        error // what the system said; may be nil
}

func (p *Problem) Error() string {
	if p.Err == nil {
		return p.Says
	}
	return p.Says + ": " + p.Err.Error()
}

func (p *Problem) Unwrap() error { return p.Err }

// patience is how long Append waits for other writers; tests alone change it.
var patience = 30 * time.Second

// page is what one write is copied in: a record that lies within one is there whole or not at all,
// at whatever instant the writer is killed.
const page = 4096

// Read gives the bytes of a bin file.
func Read(path string) ([]byte, error) {
	if err := usable(path); err != nil {
		return nil, err
	}
	src, err := os.ReadFile(path)
	if err != nil {
		return nil, &Problem{Says: "could not read " + path, Hint: "see that it may be read by you", Err: reason(err)}
	}
	return src, nil
}

// Create writes a new file and never touches one that is there.
func Create(path string, src []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return &Problem{Says: path + " is there already and is left as it is", Hint: "choose another name, or move that file away first"}
	}
	if err != nil {
		return &Problem{Says: "could not write " + path, Hint: "see that the folder is there and may be written to", Err: reason(err)}
	}
	_, err = f.Write(src)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		os.Remove(path)
		return &Problem{Says: "could not write " + path, Hint: "see that there is room on the disk", Err: reason(err)}
	}
	return nil
}

// Append adds to the end of a bin file what record gives for its bytes as they are under the lock. The
// tail is written at once and synced; where that fails the file is cut back to what it was. An error of
// record is returned as it is, with nothing written.
func Append(path string, record func(src []byte) (tail []byte, err error)) error {
	if err := writable(path); err != nil {
		return err
	}
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return &Problem{Says: "could not follow " + path, Hint: "see where the link leads", Err: reason(err)}
	}
	unlock, f, err := open(real)
	if err != nil {
		return err
	}
	defer unlock()
	defer f.Close()
	src, err := io.ReadAll(f)
	if err != nil {
		return &Problem{Says: "could not read " + path, Hint: "see that it may be read by you", Err: reason(err)}
	}
	tail, err := record(src)
	if err != nil {
		return err
	}
	if err := put(f, int64(len(src)), tail); err != nil {
		return err
	}
	if !same(f, real) {
		return &Problem{Says: path + " was replaced by another program while this was written, so the record is not in it",
			Hint: "close the editor that has it open, then record again"}
	}
	return nil
}

// open locks the file and opens it; where it was replaced between the two, once more.
func open(path string) (unlock func(), f *os.File, err error) {
	until := time.Now().Add(patience)
	for {
		l, err := lock(path, time.Until(until))
		if err != nil {
			return nil, nil, err
		}
		f, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND, 0)
		if err != nil {
			l.Unlock()
			return nil, nil, &Problem{Says: "could not write to " + path, Hint: "see that it may be written to by you", Err: reason(err)}
		}
		if same(f, path) && guards(l, f) {
			return func() { l.Unlock() }, f, nil
		}
		f.Close()
		l.Unlock()
	}
}

// lock waits in line for the lock that goes with a file.
func lock(path string, most time.Duration) (*flock.Flock, error) {
	l := flock.New(lockPath(path), flock.SetFlag(lockFlag))
	got := make(chan error, 1)
	go func() { got <- l.Lock() }()
	select {
	case err := <-got:
		if err != nil {
			return nil, &Problem{Says: "could not lock " + path, Hint: "keep the bin file on a disk of this machine: some network file systems cannot lock", Err: reason(err)}
		}
		return l, nil
	case <-time.After(most):
		go func() { // the wait itself cannot be broken off: let go of what it brings
			if <-got == nil {
				l.Unlock()
			}
		}()
		return nil, &Problem{Says: fmt.Sprintf("other programs have been writing to %s for %.0f s", path, patience.Seconds()),
			Hint: "wait for them to end, then try again; nothing was recorded"}
	}
}

// same reports whether the open file is the one that the path leads to now.
func same(f *os.File, path string) bool {
	a, err := f.Stat()
	if err != nil {
		return false
	}
	b, err := os.Stat(path)
	return err == nil && os.SameFile(a, b)
}
