//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// built is the program as a user runs it, built once.
func built(b *testing.B) string {
	b.Helper()
	bin := filepath.Join(b.TempDir(), "brinecut")
	if out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	return bin
}

// BenchmarkProcess is the whole program, start included, on the usual bin. Aims on two cores: sort and
// next under 80 ms and 64 MiB, the start under 15 ms.
func BenchmarkProcess(b *testing.B) {
	bin := built(b)
	for _, args := range [][]string{{"--version"}, {"sort", "../../testdata/bins/drawbridge.toml"}, {"next", "../../testdata/bins/drawbridge.toml"}} {
		b.Run(args[0], func(b *testing.B) {
			most, cpu, n := int64(0), time.Duration(0), 0
			for b.Loop() {
				c := exec.Command(bin, args...)
				c.Stderr = os.Stderr
				if err := c.Run(); err != nil {
					b.Fatal(err)
				}
				cpu, n = cpu+c.ProcessState.UserTime()+c.ProcessState.SystemTime(), n+1
				if u, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
					most = max(most, int64(u.Maxrss))
				}
			}
			b.ReportMetric(float64(cpu.Milliseconds())/float64(n), "cpu-ms/op")
			b.ReportMetric(float64(most)/1024, "MiB/process")
		})
	}
}
