//go:build unix

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// TestWriteWholeLeavesDevicesAlone: a pipe, like a device, is never read, replaced or removed.
func TestWriteWholeLeavesDevicesAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip("no named pipes here: " + err.Error())
	}
	a := &app{out: &bytes.Buffer{}}
	if err := a.writeWhole(path, []byte("x"), wholeFile{end: ".pdf", what: "PDF", ours: func([]byte) bool { return true }}); err == nil {
		t.Error("a named pipe was written over")
	}
	if at, err := os.Stat(path); err != nil || at.Mode().IsRegular() {
		t.Errorf("the pipe is gone or replaced: %v", err)
	}
}
