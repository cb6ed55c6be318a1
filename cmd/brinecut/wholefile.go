package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// wholeFile is a kind of file that a command writes anew each time.
type wholeFile struct {
	end  string // of its name
	what string // in words
	ours func(old []byte) bool
}

// writeWhole writes a file whole or not at all. It goes over an older one of its kind, and over nothing
// else.
func (a *app) writeWhole(path string, data []byte, k wholeFile) error {
	if path == "-" {
		_, err := a.out.Write(data)
		return outFault(err)
	}
	if at, err := os.Stat(path); err == nil && !at.Mode().IsRegular() {
		return cannot(quote(path)+" is no ordinary file, so it was left alone", "name a file behind -o, or - for standard output")
	}
	old, err := os.ReadFile(path)
	switch {
	case err == nil && len(old) > 0 && !k.ours(old):
		return cannot(quote(path)+" is there and is no "+k.what+", so it was left alone", "name another file behind -o")
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return cannot("could not write "+quote(path)+": "+err.Error(), "name a file in a folder that is there")
	}
	t, err := os.CreateTemp(filepath.Dir(path), ".brinecut-*"+k.end)
	if err == nil {
		_, err = t.Write(data)
		err = errors.Join(err, t.Chmod(0o644), t.Close())
		if err == nil {
			err = os.Rename(t.Name(), path)
		}
		if err != nil {
			_ = os.Remove(t.Name())
		}
	}
	if err != nil {
		return cannot("could not write "+quote(path)+": "+err.Error(), "see that its folder is there and has room")
	}
	return nil
}
