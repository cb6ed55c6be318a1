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

var posteriorTable = flag.Bool("posterior", false, "write the comparison with the independent samplers into docs/method.md")

// drawn is what a program of testdata/posterior answers in one way of reckoning.
type drawn struct {
	Shares  [][]float64 // by lot and material
	Error   [][]float64 // standard error of each
	Seconds float64
}

type answered struct {
	Lots, Materials       []string
	Apart, Common, Chains drawn
}

// python finds a Python with numpy and scipy, or skips.
func python(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import numpy, scipy.special").Run() == nil {
			return name
		}
	}
	t.Skip("no python3 with numpy and scipy here: install Debian's python3-numpy and python3-scipy to hold the posterior against an independent sampler")
	return ""
}

func ask(t *testing.T, python string, in posed, program string, args ...string) (a answered) {
	t.Helper()
	src, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, append([]string{"-B", "../../testdata/posterior/" + program}, args...)...)
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

// posteriorBins are compared in this order.
var posteriorBins = []string{"three-pure-lots", "one-mixed-lot", "tight-weighings", "split-and-child", "snippets-and-retests"}

// posteriorTolerance is how far shares may lie apart beside the noise of both.
const posteriorTolerance = 0.01

// plainly keeps what the sampler said of a bin, for the test that comes after.
var plainly = map[string]answered{}

// TestPosteriorAgainstSampler holds the shares of five bins against testdata/posterior/posterior.py, a
// sampler that follows docs/method.md with other means: continuous laws instead of scenarios, grids and
// sets of points, and no chain. Ours is the mean over names, since every answer has sampling noise of its
// own (last column of the table in docs/method.md); twice the standard errors are added to the tolerance.
func TestPosteriorAgainstSampler(t *testing.T) {
	py := python(t)
	ways := []string{"5000", "8", "apart"}
	if *posteriorTable {
		ways = append(ways, "common")
	}
	var rows []string
	for _, bin := range posteriorBins {
		name := "../../testdata/posterior/" + bin + ".toml"
		in := pose(t, name)
		theirs := ask(t, py, in, "posterior.py", ways...)
		plainly[bin] = theirs
		ours := judgedAs(t, name, triage.Options{Draws: 1000, Response: response.Options{Scenarios: 256}})
		near(t, bin+", ours and the sampler", theirs, ours.mean, ours.error(), theirs.Apart, posteriorTolerance)
		if *posteriorTable {
			theirs.Chains = ask(t, py, in, "chains.py", "1500", "8").Chains
			rows = append(rows, tableRows(bin, theirs, ours, judgedAs(t, name, triage.Options{}))...)
		}
	}
	if *posteriorTable {
		writeTable(t, rows)
	}
}

// TestSamplerAgainstJAGS holds the sampler against testdata/posterior/chains.py, which writes the model of
// every lot in the BUGS language and runs JAGS over it: two programs that share the reading of the file and
// how lots are put together, and nothing of how a lot is weighed.
func TestSamplerAgainstJAGS(t *testing.T) {
	py := python(t)
	if _, err := exec.LookPath("jags"); err != nil {
		t.Skip("no jags here: install Debian's jags to hold the sampler of the posterior against it")
	}
	for _, bin := range posteriorBins {
		in := pose(t, "../../testdata/posterior/"+bin+".toml")
		plain, known := plainly[bin]
		if !known {
			plain = ask(t, py, in, "posterior.py", "5000", "8", "apart")
		}
		chains := ask(t, py, in, "chains.py", "400", "4")
		near(t, bin+", JAGS and the sampler", plain, chains.Chains.Shares, chains.Chains.Error, plain.Apart, posteriorTolerance)
	}
}

// near compares shares with those of a sampler, within the tolerance and twice the standard errors.
func near(t *testing.T, what string, of answered, got, se [][]float64, want drawn, tol float64) {
	t.Helper()
	worst, widest := 0.0, 0.0
	for l, lot := range of.Lots {
		for k, m := range of.Materials {
			gap, most := math.Abs(got[l][k]-want.Shares[l][k]), tol+2*math.Hypot(want.Error[l][k], se[l][k])
			if gap > most {
				t.Errorf("%s: lot %q, %s %.4f and %.4f, tolerance %.4f", what, lot, m, got[l][k], want.Shares[l][k], most)
			}
			worst, widest = max(worst, gap), max(widest, most)
		}
	}
	t.Logf("%s: largest difference %.4f, widest tolerance %.4f", what, worst, widest)
}

// error is the standard error of the means.
func (j *judged) error() [][]float64 {
	out := make([][]float64, len(j.sd))
	for l, row := range j.sd {
		for _, x := range row {
			out[l] = append(out[l], x/math.Sqrt(names))
		}
	}
	return out
}

// tableRows are the shares from 5 % on, and what each way took.
func tableRows(bin string, theirs answered, ours, one judged) (rows []string) {
	for l, lot := range theirs.Lots {
		for k, m := range theirs.Materials {
			if theirs.Apart.Shares[l][k] >= 0.05 {
				rows = append(rows, fmt.Sprintf("| %s | %s | %s | %.3f | %.3f | %.3f | %.3f | %.3f |", bin, lot, m, theirs.Apart.Shares[l][k],
					theirs.Common.Shares[l][k], theirs.Chains.Shares[l][k], ours.mean[l][k], one.sd[l][k]))
			}
		}
	}
	return append(rows, fmt.Sprintf("| %s | *seconds* | | %.1f | %.1f | %.1f | | %.3f |", bin, theirs.Apart.Seconds, theirs.Common.Seconds, theirs.Chains.Seconds, one.seconds))
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
	head := "| bin | lot | material | sampler | sampler, errors common to lots | JAGS | ours | one answer's sd |\n|---|---|---|---|---|---|---|---|\n"
	if err := os.WriteFile(file, []byte(before+begin+head+strings.Join(rows, "\n")+"\n"+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}
