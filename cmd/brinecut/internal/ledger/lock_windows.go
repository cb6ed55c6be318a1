package ledger

import (
	"fmt"
	"hash/fnv"
	"os"
	"path/filepath"
	"strings"

	"github.com/gofrs/flock"
)

// lockFlag opens the file to be locked, making it where it is not there.
const lockFlag = os.O_CREATE | os.O_RDWR

// lockPath is a file in the temporary folder: here a lock on the file itself would shut out its own
// reader.
func lockPath(path string) string {
	h := fnv.New64a()
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	h.Write([]byte(strings.ToLower(path)))
	return filepath.Join(os.TempDir(), fmt.Sprintf("brinecut-%016x.lock", h.Sum64()))
}

// guards is true: the lock stands for the path, not for one file under it.
func guards(*flock.Flock, *os.File) bool { return true }
