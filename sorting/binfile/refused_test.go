package binfile_test

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"brinecut/sorting/binfile"
)

var update = flag.Bool("update", false, "rewrite the messages of testdata/refused")

var reAt = regexp.MustCompile(`(?m)^# at lines? ([0-9, ]+)\r?$`)

// TestRefused holds each refused file against its message, and the lines of its faults against those
// its second line names, which were written by hand.
func TestRefused(t *testing.T) {
	files, err := filepath.Glob("../../testdata/refused/*.toml")
	if err != nil || len(files) < 120 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, path := range files {
		name := strings.TrimSuffix(filepath.Base(path), ".toml")
		t.Run(name, func(t *testing.T) { refused(t, path, name) })
	}
}

func refused(t *testing.T, path, name string) {
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.TrimPrefix(string(src), "\ufeff")
	if !strings.HasPrefix(text, "# ") {
		t.Error("the file does not begin with why it is refused")
	}
	_, _, err = binfile.Read(name+".toml", src)
	faults, ok := err.(binfile.Faults)
	if !ok {
		t.Fatalf("it was read, or failed otherwise: %v", err)
	}
	at := reAt.FindStringSubmatch(text)
	if at == nil {
		t.Fatal("the file does not say on which lines its faults are")
	}
	var lines []string
	for _, f := range faults {
		lines = append(lines, strconv.Itoa(f.Line))
		if f.Wrong == "" || f.Right == "" || f.File == "" {
			t.Errorf("a fault that does not say all: %+v", f)
		}
	}
	if got := strings.Join(lines, ", "); got != at[1] {
		t.Errorf("faults on lines %s, want %s:\n%v", got, at[1], err)
	}
	golden := strings.TrimSuffix(path, ".toml") + ".txt"
	if *update {
		if err := os.WriteFile(golden, []byte(err.Error()+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, readErr := os.ReadFile(golden)
	if readErr != nil {
		t.Fatal(readErr)
	}
	if diff := cmp.Diff(string(want), err.Error()+"\n"); diff != "" {
		t.Errorf("message (-want +got):\n%s", diff)
	}
	for _, r := range err.Error() {
		if r < ' ' && r != '\n' || r >= 0x7f && r < 0xa0 || r == 0x202e {
			t.Errorf("the message holds %U", r)
		}
	}
}
