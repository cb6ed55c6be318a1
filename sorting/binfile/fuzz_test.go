package binfile_test

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

// FuzzRead: Read never panics, faults have a line of the file, what is accepted is accepted again and
// the same, and a record can be appended to it.
func FuzzRead(f *testing.F) {
	for _, dir := range []string{"bins", "refused"} {
		paths, _ := filepath.Glob("../../testdata/" + dir + "/*.toml")
		for _, path := range paths {
			if src, err := os.ReadFile(path); err == nil && len(src) < 8000 {
				f.Add(src)
			}
		}
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		b, warns, err := binfile.Read("f.toml", src)
		if err != nil {
			lines := 1 + strings.Count(string(src), "\n")
			for _, x := range err.(binfile.Faults) {
				if x.Line < 1 || x.Line > lines || x.Wrong == "" || x.Right == "" {
					t.Fatalf("%+v of %d lines", x, lines)
				}
			}
			if strings.ContainsAny(err.Error(), "\x00\x07\x1b\x7f\r\u202e") {
				t.Fatalf("%q", err.Error())
			}
			return
		}
		again, warns2, err := binfile.Read("f.toml", src)
		if err != nil || !reflect.DeepEqual(b, again) || !reflect.DeepEqual(warns, warns2) {
			t.Fatalf("read a second time: %v", err)
		}
		if len(b.Lots) == 0 {
			return
		}
		o := sorting.Observation{ID: binfile.NextID(b), Lot: b.Lots[0].Name, Kind: cues.Bend, Outcome: "snaps"}
		tail, err := binfile.AppendTest(src, o)
		if err != nil {
			if strings.Contains(err.Error(), "list in brackets") {
				return
			}
			t.Fatal(err)
		}
		after, _, err := binfile.Read("f.toml", append(append([]byte(nil), src...), tail...))
		if err != nil || len(after.Tests) != len(b.Tests)+1 {
			t.Fatalf("with a record: %v", err)
		}
	})
}

// FuzzReadJobs: ReadJobs never panics, and no number that is accepted is negative or endless.
func FuzzReadJobs(f *testing.F) {
	f.Add([]byte("machine,material,mass_g,hours,outcome\none,PETG,120.5,8.25,ok\n"))
	f.Add([]byte("machine;material;mass_g;hours;outcome\none;PETG;120,5;8,25;failed\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		jobs, err := binfile.ReadJobs("j.csv", src)
		if err != nil && len(err.(binfile.Faults)) == 0 {
			t.Fatal("an error without a fault")
		}
		for _, j := range jobs {
			if !(j.Mass >= 0 && j.Mass <= 1e9 && j.Hours >= 0 && j.Hours <= 1e9) || j.Material == "" {
				t.Fatalf("%+v", j)
			}
		}
	})
}
