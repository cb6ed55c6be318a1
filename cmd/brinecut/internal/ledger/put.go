package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// target is what a tail is written to.
type target interface {
	Write([]byte) (int, error)
	Truncate(size int64) error
	Sync() error
}

// put writes the tail behind the size bytes that are there, in one write, and syncs it. Where that
// fails the file is cut back, and the error says so.
func put(t target, size int64, tail []byte) error {
	out := append(gap(size, len(tail)), tail...)
	n, err := t.Write(out)
	if err == nil && n == len(out) {
		if err = t.Sync(); err == nil {
			return nil
		}
	}
	p := &Problem{Says: "could not write the record, and left the file as it was", Hint: "see that there is room on the disk, then record again", Err: reason(err)}
	if cut := errors.Join(t.Truncate(size), t.Sync()); cut != nil {
		p.Says = fmt.Sprintf("could not write the record, nor cut the file back to the %d bytes it had", size)
		p.Hint = "look at the end of the file: delete what is left of half a record there"
	}
	return p
}

// gap is the blanks to leave before a tail so that it lies within one page: the system copies a write
// page by page, and a program that is killed between two of them would leave half a record. Blanks
// alone, whole or in part, are no fault in a file. A tail longer than a page cannot be helped.
func gap(size int64, tail int) []byte {
	used := int(size % page)
	if used+tail <= page || tail > page {
		return nil
	}
	return bytes.Repeat([]byte(" "), page-used)
}

// usable refuses what is not a file.
func usable(path string) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &Problem{Says: "there is no file " + path, Hint: "write one with: brinecut start " + path, Err: nil}
	case err != nil:
		return &Problem{Says: "could not read " + path, Hint: "see that it may be read by you", Err: reason(err)}
	case info.IsDir():
		return &Problem{Says: path + " is a folder", Hint: "name the bin file in it"}
	case !info.Mode().IsRegular():
		return &Problem{Says: path + " is no ordinary file", Hint: "name a bin file"}
	}
	return nil
}

// writable refuses what is not a file, a file that nobody may write to, whoever asks, and one that
// cannot be opened for writing: what the lock would say of that would mislead.
func writable(path string) error {
	if err := usable(path); err != nil {
		return err
	}
	if info, err := os.Stat(path); err == nil && info.Mode().Perm()&0o222 == 0 {
		return &Problem{Says: path + " is write-protected, so nothing was recorded", Hint: "allow writing to it: chmod u+w " + path}
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return &Problem{Says: "could not write to " + path + ", so nothing was recorded", Hint: "see that you may write to it, and that its disk is no read-only one", Err: reason(err)}
	}
	return f.Close()
}

// reason is what the system said, without the path that the message has already.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
