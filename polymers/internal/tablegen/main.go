// Tablegen writes table_gen.go of package polymers from the data files. Run it with go generate in
// the folder of package polymers.
package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"brinecut/polymers/internal/table"
)

func main() { os.Exit(run("data", "table_gen.go", os.Stderr)) }

func run(dir, out string, stderr io.Writer) int {
	src, err := generate(dir)
	if err == nil {
		err = os.WriteFile(out, src, 0o644)
	}
	if err != nil {
		fmt.Fprintln(stderr, "tablegen:", err)
		return 1
	}
	return 0
}

func generate(dir string) ([]byte, error) {
	names, err := filepath.Glob(filepath.Join(dir, "*.toml"))
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		files[name] = b
	}
	t, err := table.Read(files)
	if err != nil {
		return nil, err
	}
	return t.Go()
}
