package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"brinecut/cmd/brinecut/internal/ledger"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

// open reads a bin file, "-" from standard input, and the job lists beside it.
func (a *app) open(path string) (*sorting.Bin, []sorting.Warning, error) {
	if path == "-" {
		src, err := io.ReadAll(a.in)
		if err != nil {
			return nil, nil, cannot("could not read standard input: "+err.Error(), "")
		}
		return a.named(parse("standard input", ".", src))
	}
	src, err := ledger.Read(path)
	if err != nil {
		return nil, nil, nearFile(path, err)
	}
	return a.named(parse(path, filepath.Dir(path), src))
}

// named remembers the names of the bin that was read.
func (a *app) named(bin *sorting.Bin, warnings []sorting.Warning, err error) (*sorting.Bin, []sorting.Warning, error) {
	if err == nil {
		a.names = namesIn(bin)
	}
	return bin, warnings, err
}

// nearFile names the file that was probably meant where one is not there.
func nearFile(path string, err error) error {
	var problem *ledger.Problem
	if _, gone := os.Stat(path); !errors.Is(gone, fs.ErrNotExist) || !errors.As(err, &problem) {
		return err
	}
	found, _ := filepath.Glob(filepath.Join(filepath.Dir(path), "*.toml"))
	return cannot(problem.Says, didYouMean(path, found, problem.Hint))
}

// parse reads the bytes of a bin file and fills in the job lists that lie in dir.
func parse(name, dir string, src []byte) (*sorting.Bin, []sorting.Warning, error) {
	bin, warnings, err := binfile.Read(name, src)
	if err != nil {
		return nil, nil, err
	}
	var faults binfile.Faults
	for i := range bin.Printed {
		c := &bin.Printed[i]
		if c.Jobs == "" {
			continue
		}
		path := filepath.Join(dir, c.Jobs)
		rows, err := os.ReadFile(path)
		if err != nil {
			faults = append(faults, binfile.Fault{File: name, Line: c.Line, Key: "[[printed]] jobs", Wrong: "the job list cannot be read",
				Read: c.Jobs, Right: "put it beside the bin file"})
			continue
		}
		if c.JobRows, err = binfile.ReadJobs(path, rows); err != nil {
			more, ok := err.(binfile.Faults)
			if !ok {
				return nil, nil, err
			}
			faults = append(faults, more...)
		}
	}
	if len(faults) > 0 {
		return nil, nil, faults
	}
	return bin, warnings, nil
}
