//go:build !windows

package ledger

import (
	"os"

	"github.com/gofrs/flock"
)

// lockFlag opens the file to be locked: for writing, which locks over a network file system need, and
// without making one.
const lockFlag = os.O_RDWR

// lockPath is the file itself: the lock goes where the file goes, and leaves nothing behind.
func lockPath(path string) string { return path }

// guards reports whether the lock is on the very file that was opened.
func guards(l *flock.Flock, f *os.File) bool {
	a, err := l.Stat()
	if err != nil {
		return false
	}
	b, err := f.Stat()
	return err == nil && os.SameFile(a, b)
}
