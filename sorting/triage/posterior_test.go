package triage_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"brinecut/sorting"
	"brinecut/sorting/balance"
	"brinecut/sorting/binfile"
	"brinecut/sorting/response"
	"brinecut/sorting/triage"
)

var posteriorTable = flag.Bool("posterior", false, "write the comparison with the independent sampler into docs/method.md")

// drawn is what testdata/posterior/posterior.py answers in one way of reckoning.
type drawn struct {
	Shares  [][]float64 // by lot and material
	Error   [][]float64 // standard error of each
	Seconds float64
}

type answered struct {
	Lots, Materials []string
	Apart, Common   drawn
}

// sampler finds a Python with numpy and scipy, or skips.
func sampler(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import numpy, scipy.special").Run() == nil {
			return name
		}
	}
	t.Skip("no python3 with numpy and scipy here: install Debian's python3-numpy and python3-scipy to hold the posterior against an independent sampler")
	return ""
}

func sampled(t *testing.T, python string, in posed, how ...string) (a answered) {
	t.Helper()
	src, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, append([]string{"../../testdata/posterior/posterior.py", "5000", "8"}, how...)...)
	cmd.Stdin, cmd.Stderr = bytes.NewReader(src), os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(out, &a); err != nil {
		t.Fatal(err)
	}
	return a
}

func read(t *testing.T, name string) (*sorting.Bin, sorting.Budget) {
	t.Helper()
	src, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	bin, _, err := binfile.Read(filepath.Base(name), src)
	if err != nil {
		t.Fatal(err)
	}
	solved, err := balance.Solve(bin, balance.Options{SkipNext: true})
	if err != nil {
		t.Fatal(err)
	}
	return bin, solved.Budget
}

// renamed gives the lots other names, from which the engine seeds what it draws.
func renamed(bin *sorting.Bin, budget *sorting.Budget, tag string) {
	for i := range bin.Lots {
		bin.Lots[i].Name += tag
	}
	for i := range bin.Tests {
		if bin.Tests[i].Lot != "" {
			bin.Tests[i].Lot += tag
		}
	}
	for i := range bin.Splits {
		bin.Splits[i].Lot += tag
		for j := range bin.Splits[i].Into {
			bin.Splits[i].Into[j].Name += tag
		}
	}
	for i := range budget.Lots {
		budget.Lots[i].Lot.Name += tag
	}
}

// judged is the mean and the standard deviation of the expected shares of the same bin under several names.
type judged struct {
	mean, sd [][]float64
	seconds  float64 // of one answer
}

const names = 24

func judgedAs(t *testing.T, name string, opt triage.Options) (out judged) {
	t.Helper()
	var begin time.Time
	for n := range names {
		bin, budget := read(t, name)
		renamed(bin, &budget, fmt.Sprintf(" %d", n+1))
		begin = time.Now()
		b, err := triage.Judge(bin, budget, opt)
		if err != nil {
			t.Fatal(err)
		}
		out.seconds += time.Since(begin).Seconds() / names
		out.add(b)
	}
	for l := range out.mean {
		for k, s := range out.mean[l] {
			out.mean[l][k] = s / names
			out.sd[l][k] = math.Sqrt(math.Max(0, out.sd[l][k]/names-s*s/names/names))
		}
	}
	return out
}

func (j *judged) add(b *triage.Belief) {
	K := len(b.Keys)
	for l := range b.Lots {
		if len(j.mean) == l {
			j.mean, j.sd = append(j.mean, make([]float64, K)), append(j.sd, make([]float64, K))
		}
		total := 0.0
		share := make([]float64, K)
		for _, g := range b.Grams {
			for k := range share {
				share[k] += g[l*K+k]
				total += g[l*K+k]
			}
		}
		for k, x := range share {
			j.mean[l][k] += x / total
			j.sd[l][k] += x / total * x / total
		}
	}
}

// posteriorBins are compared in this order, each within a tolerance of its own: the products of known
// snippets stand on a grid (response 5) whose steps of 0.007 g/cm3 and 0.7 °C are felt.
var posteriorBins = []struct {
	name string
	tol  float64
}{{"three-pure-lots", 0.01}, {"one-mixed-lot", 0.01}, {"tight-weighings", 0.01}, {"split-and-child", 0.01}, {"snippets-and-retests", 0.05}}

// TestPosteriorAgainstSampler holds the shares of five bins against testdata/posterior/posterior.py, a
// sampler that follows docs/method.md with other means: continuous laws instead of scenarios, grids and
// sets of points, and no chain. Ours is the mean over names, since every answer has sampling noise of its
// own (last column of the table in docs/method.md); twice the standard errors are added to the tolerance.
func TestPosteriorAgainstSampler(t *testing.T) {
	python := sampler(t)
	ways := []string{"apart"}
	if *posteriorTable {
		ways = append(ways, "common")
	}
	var rows []string
	for _, bin := range posteriorBins {
		name := "../../testdata/posterior/" + bin.name + ".toml"
		theirs := sampled(t, python, pose(t, name), ways...)
		ours := judgedAs(t, name, triage.Options{Draws: 1000, Response: response.Options{Scenarios: 256}})
		worst, widest := 0.0, 0.0
		one := judgedAs(t, name, triage.Options{})
		for l, lot := range theirs.Lots {
			for k, m := range theirs.Materials {
				want, got := theirs.Apart.Shares[l][k], ours.mean[l][k]
				tol := bin.tol + 2*math.Hypot(theirs.Apart.Error[l][k], ours.sd[l][k]/math.Sqrt(names))
				worst, widest = max(worst, math.Abs(got-want)), max(widest, tol)
				if math.Abs(got-want) > tol {
					t.Errorf("%s: lot %q holds %.4f of %s, the sampler says %.4f, tolerance %.4f", bin.name, lot, got, m, want, tol)
				}
				if want >= 0.05 && *posteriorTable {
					rows = append(rows, fmt.Sprintf("| %s | %s | %s | %.3f | %.3f | %.3f | %.3f |", bin.name, lot, m, want, theirs.Common.Shares[l][k], got, one.sd[l][k]))
				}
			}
		}
		t.Logf("%s: largest difference %.4f, widest tolerance %.4f; sampler %.1f s, ours %.0f ms an answer", bin.name, worst, widest, theirs.Apart.Seconds, 1000*one.seconds)
		if *posteriorTable {
			rows = append(rows, fmt.Sprintf("| %s | *seconds* | | %.1f | %.1f | | %.3f |", bin.name, theirs.Apart.Seconds, theirs.Common.Seconds, one.seconds))
		}
	}
	if *posteriorTable {
		writeTable(t, rows)
	}
}

// writeTable puts the rows between the marks in docs/method.md.
func writeTable(t *testing.T, rows []string) {
	t.Helper()
	const file, begin, end = "../../docs/method.md", "<!-- posterior -->\n", "<!-- end of posterior -->"
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(src), begin)
	_, after, closed := strings.Cut(rest, end)
	if !ok || !closed {
		t.Fatalf("%s has no marks for the table", file)
	}
	head := "| bin | lot | material | sampler | sampler, errors common to lots | ours | one answer's sd |\n|---|---|---|---|---|---|---|\n"
	if err := os.WriteFile(file, []byte(before+begin+head+strings.Join(rows, "\n")+"\n"+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}
