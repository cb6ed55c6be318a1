//go:build unix

package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

var speed = flag.Bool("speed", false, "measure, and write the figures into docs/speed.md")

// spent is what one run of the program took.
type spent struct {
	wall time.Duration
	mib  float64
}

// runs gives the middle time and the largest memory of several runs of the whole program.
func runs(t *testing.T, n int, program string, args ...string) (s spent) {
	t.Helper()
	var all []time.Duration
	for range n {
		c := exec.Command(program, args...)
		begin := time.Now()
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v: %v: %.300s", args, err, out)
		}
		all = append(all, time.Since(begin))
		if u, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
			s.mib = max(s.mib, float64(u.Maxrss)/1024)
		}
	}
	slices.Sort(all)
	s.wall = all[n/2]
	return s
}

func (s spent) String() string {
	return fmt.Sprintf("%.0f ms, %.0f MiB", s.wall.Seconds()*1000, s.mib)
}

// grown is an invented bin of so many lots, tests and materials that each lot could be.
func grown(lots, tests, candidates int) string {
	symbols := []string{"PETG", "PLA", "ABS", "PP", "TPU", "PA6", "PC", "HIPS", "PVA", "ASA", "PMMA", "PE-HD"}[:candidates]
	var b strings.Builder
	fmt.Fprintf(&b, "[bin]\ngross = \"%d g\"\ntare = \"700 g\"\norigin = \"own-print\"\n", 700+200*lots)
	for i, m := range symbols[:3] {
		fmt.Fprintf(&b, "[[printed]]\nfrom = \"machine %d\"\nmaterial = %q\ncounted = \"%d g\"\nerror = \"4 %%\"\n", i+1, m, 200*lots)
		fmt.Fprintf(&b, "[[kept]]\nwhat = \"part %d\"\nmaterials = [%q]\nmass = \"%d g\"\n", i+1, m, 400*lots/3)
	}
	for i := range lots {
		fmt.Fprintf(&b, "[[lot]]\nname = \"lot %d\"\nmass = \"200 g\"\nprep = \"cut\"\ncould_be = [\"%s\"]\n", i+1, strings.Join(symbols, `", "`))
	}
	for i := range tests {
		lot, piece := i%lots, i/lots+1
		fmt.Fprintf(&b, "[[test]]\nid = \"t%d\"\nlot = \"lot %d\"\npiece = %d\n", i+1, lot+1, piece)
		switch (lot + piece - 1) % 3 {
		case 0:
			fmt.Fprintf(&b, "kind = \"float\"\ndensity = \"1.150 g/cm3 ± 0.003\"\noutcome = %q\n", []string{"sinks", "floats"}[lot%2])
		case 1:
			fmt.Fprintf(&b, "kind = \"hot-water\"\ntemp = \"66 °C\"\noutcome = %q\n", []string{"stiff", "soft", "stiff"}[lot%3])
		default:
			fmt.Fprintf(&b, "kind = \"bend\"\noutcome = %q\n", []string{"snaps", "whitens", "bends"}[lot%3])
		}
	}
	b.WriteString("[kit]\nhas = [\"table salt\", \"epsom salt\", \"kettle\", \"thermometer\", \"scale 1 g\"]\n")
	return b.String()
}

// chain is an invented flow sheet: a row of nodes, each of which loses a hundredth; every stream is read.
func chain(streams int) string {
	var b strings.Builder
	flow := 1e6
	fmt.Fprintf(&b, "[[stream]]\nname = \"in\"\nto = \"node 1\"\nmass = \"%.0f g ± 2000 g\"\n", flow)
	for i := range (streams - 1) / 2 {
		fmt.Fprintf(&b, "[[stream]]\nname = \"lost %d\"\nfrom = \"node %d\"\nmass = \"%.0f g ± 50 g\"\n", i+1, i+1, flow/100)
		flow *= 0.99
		fmt.Fprintf(&b, "[[stream]]\nname = \"on %d\"\nfrom = \"node %d\"\nto = \"node %d\"\nmass = \"%.0f g ± 2000 g\"\n", i+1, i+1, i+2, flow)
	}
	return strings.ReplaceAll(b.String(), fmt.Sprintf("to = \"node %d\"\n", (streams-1)/2+1), "")
}

// TestSpeed fills the figures of docs/speed.md in when asked to; else the invented bins are only read,
// so that they stay right.
func TestSpeed(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	readBin(t, file("a.toml", grown(6, 30, 12)))
	readBin(t, file("b.toml", chain(21)))
	if !*speed {
		return
	}
	program := filepath.Join(dir, "brinecut")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s on %s/%s, %d processors, load %s before. Middle of 7 runs of the whole program, start included; memory is the largest resident set.\n",
		runtime.Version(), runtime.GOOS, runtime.GOARCH, runtime.NumCPU(), load())
	fmt.Fprintf(&b, "\nStart (`brinecut --version`): %v. Shipped bin: `sort` %v, `next` %v.\n", runs(t, 21, program, "--version"),
		runs(t, 7, program, "sort", root+"/testdata/bins/drawbridge.toml"), runs(t, 7, program, "next", root+"/testdata/bins/drawbridge.toml"))
	b.WriteString("\n| lots | tests | could be | `sort` | `next` |\n|---|---|---|---|---|\n")
	for _, n := range [][3]int{{6, 30, 3}, {15, 75, 3}, {60, 300, 3}, {240, 1200, 3}, {60, 0, 3}, {60, 1200, 3}, {60, 4800, 3}, {240, 4800, 3}, {60, 300, 4}, {60, 300, 6}, {60, 300, 8}, {60, 300, 12}} {
		path := file(fmt.Sprintf("%d-%d-%d.toml", n[0], n[1], n[2]), grown(n[0], n[1], n[2]))
		fmt.Fprintf(&b, "| %d | %d | %d | %v | %v |\n", n[0], n[1], n[2], runs(t, 7, program, "sort", path), runs(t, 7, program, "next", path))
	}
	b.WriteString("\n| streams | `balance` |\n|---|---|\n")
	for _, n := range []int{11, 51, 201, 801} {
		fmt.Fprintf(&b, "| %d | %v |\n", n, runs(t, 7, program, "balance", file(fmt.Sprintf("%d.toml", n), chain(n))))
	}
	between(t, root+"/docs/speed.md", b.String())
}

// load is the machine's load average, where it is told.
func load() string {
	s, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return "unknown"
	}
	return strings.Fields(string(s))[0]
}

// between replaces what stands between the marks of a page.
func between(t *testing.T, path, text string) {
	t.Helper()
	page, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const begin, end = "<!-- measured -->\n", "<!-- end -->\n"
	head, rest, ok := strings.Cut(string(page), begin)
	_, tail, more := strings.Cut(rest, end)
	if !ok || !more {
		t.Fatalf("%s has no marks to write between", path)
	}
	if err := os.WriteFile(path, []byte(head+begin+text+end+tail), 0o644); err != nil {
		t.Fatal(err)
	}
}
