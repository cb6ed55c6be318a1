package balance

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"
)

// randomNetwork makes a flow network of streams over nodes (about 2.5 streams a node), every node fed and
// left, with readings of some streams around a true flow, small streams among them so that bounds bite.
func randomNetwork(rng *rand.Rand, streams int, measured float64) Problem {
	nodes := max(1, streams*2/5)
	from, to := make([]int, streams), make([]int, streams)
	for j := range streams {
		from[j], to[j] = rng.IntN(nodes+1)-1, rng.IntN(nodes+1)-1
		if j < nodes {
			from[j], to[j] = j-1, j // a chain reaches every node
		}
		if from[j] == to[j] {
			to[j] = -1
			from[j] = max(0, from[j])
		}
	}
	var p Problem
	for j := range streams {
		p.Unknowns = append(p.Unknowns, Unknown{Name: fmt.Sprint("stream ", j)})
		y := math.Exp(rng.NormFloat64()*2 + 2)
		if rng.Float64() < measured {
			p.Readings = append(p.Readings, Reading{Name: fmt.Sprint(j), Terms: []Term{{j, 1}}, Value: y, SD: 0.05*y + 0.5*rng.Float64() + 0.05})
		}
	}
	for i := range nodes {
		var ts []Term
		for j := range streams {
			if to[j] == i {
				ts = append(ts, Term{j, 1})
			}
			if from[j] == i {
				ts = append(ts, Term{j, -1})
			}
		}
		p.Constraints = append(p.Constraints, Constraint{Name: fmt.Sprint("node ", i), Terms: ts})
	}
	return p
}

// dense is a Problem as plain matrices, for a solver outside.
type dense struct {
	A [][]float64 `json:"a"`
	B []float64   `json:"b"`
	C [][]float64 `json:"c"`
	Y []float64   `json:"y"`
	S []float64   `json:"s"`
}

func denseOf(p Problem) dense {
	n := len(p.Unknowns)
	row := func(ts []Term) []float64 {
		x := make([]float64, n)
		for _, t := range ts {
			x[t.Unknown] += t.Factor
		}
		return x
	}
	var d dense
	for _, c := range p.Constraints {
		d.A, d.B = append(d.A, row(c.Terms)), append(d.B, c.Value)
	}
	for _, r := range p.Readings {
		d.C, d.Y, d.S = append(d.C, row(r.Terms)), append(d.Y, r.Value), append(d.S, r.SD)
	}
	return d
}

// The free least squares come from lstsq in a basis of the balances' null space. lsq_linear cannot hold
// balances and bounds at once, so the balances enter it as readings surer by far.
const scipyScript = `
import json, sys, time
import numpy as np
from scipy.optimize import lsq_linear
from scipy.linalg import null_space
out = []
for p in json.load(sys.stdin):
    a, b, c, y, s = (np.array(p[k], dtype=float) for k in "abcys")
    n = c.shape[1]
    z = null_space(a)
    x0 = np.linalg.lstsq(a, b, rcond=None)[0]
    w = c / s[:, None]
    t0 = time.perf_counter()
    u = np.linalg.lstsq(w @ z, (y - c @ x0) / s, rcond=None)[0]
    free = x0 + z @ u
    big = np.vstack([w, a * 1e5])
    r = lsq_linear(big, np.concatenate([y / s, b * 1e5]), bounds=(0, np.inf), method="bvls", tol=1e-15, max_iter=10000)
    out.append({"free": (c @ free).tolist(), "bounded": (c @ r.x).tolist(), "seconds": time.perf_counter() - t0})
json.dump(out, sys.stdout)
`

const quadprogScript = `
suppressMessages(library(quadprog))
con <- file("stdin"); lines <- readLines(con); close(con)
i <- 1
num <- function() { v <- as.numeric(strsplit(lines[i], " ")[[1]]); i <<- i + 1; v }
count <- num()
for (k in seq_len(count)) {
  d <- num(); m <- d[1]; n <- d[2]
  A <- matrix(num(), m, n, byrow = TRUE)
  f <- qr(t(A)); A <- A[f$pivot[seq_len(f$rank)], , drop = FALSE]; m <- nrow(A)
  y <- num(); s <- num()
  r <- tryCatch(solve.QP(diag(1 / s^2, n), y / s^2, cbind(t(A), diag(n)), rep(0, m + n), meq = m)$solution,
    error = function(e) rep(-1, n))
  cat(format(r, digits = 15), "\n")
}
`

func runOracle(t *testing.T, input []byte, name string, args ...string) []byte {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Stdin = bytes.NewReader(input)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// python finds a Python that has scipy; the test is skipped where there is none.
func python(t testing.TB) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import scipy").Run() == nil {
			return name
		}
	}
	t.Skip("scipy is not installed: nothing to compare with")
	return ""
}

// 200 random networks against scipy (lstsq, lsq_linear): the readings' reconciled values agree to 1e-6
// of the largest, without bounds and with them; unmeasured streams leave some undetermined.
func TestAgainstScipy(t *testing.T) {
	py := python(t)
	rng := rand.New(rand.NewPCG(7, 7))
	var ps []Problem
	var ds []dense
	for k := range 200 {
		p := randomNetwork(rng, 5+k%36, 0.5+0.5*rng.Float64())
		ps, ds = append(ps, p), append(ds, denseOf(p))
	}
	in, err := json.Marshal(ds)
	if err != nil {
		t.Fatal(err)
	}
	var want []struct{ Free, Bounded []float64 }
	if err := json.Unmarshal(runOracle(t, in, py, "-c", scipyScript), &want); err != nil {
		t.Fatal(err)
	}
	bites := 0
	for k, p := range ps {
		s := solve(t, p)
		tol := 1e-6 * p.scale()
		for i, r := range p.Readings {
			near(t, fmt.Sprintf("network %d free", k), s.Readings[i].Adjusted, want[k].Free[i], tol)
			near(t, fmt.Sprintf("network %d bounded", k), s.At(r.Terms).Value, want[k].Bounded[i], tol)
		}
		if len(s.Active) > 0 {
			bites++
		}
	}
	if bites < 50 {
		t.Errorf("bounds bite in %d networks only: the test shows too little", bites)
	}
}

// 100 networks with every stream measured against R's quadprog (Goldfarb & Idnani).
func TestAgainstQuadprog(t *testing.T) {
	if exec.Command("Rscript", "-e", "library(quadprog)").Run() != nil {
		t.Skip("R with quadprog is not installed: nothing to compare with")
	}
	rng := rand.New(rand.NewPCG(11, 11))
	var ps []Problem
	var in bytes.Buffer
	fmt.Fprintln(&in, 100)
	line := func(x []float64) {
		for i, v := range x {
			if i > 0 {
				in.WriteByte(' ')
			}
			fmt.Fprintf(&in, "%.17g", v)
		}
		in.WriteByte('\n')
	}
	for range 100 {
		p := randomNetwork(rng, 5+rng.IntN(40), 2)
		d := denseOf(p)
		line([]float64{float64(len(d.A)), float64(len(p.Unknowns))})
		var flat []float64
		for _, r := range d.A {
			flat = append(flat, r...)
		}
		line(flat)
		line(d.Y)
		line(d.S)
		ps = append(ps, p)
	}
	out := bytes.NewReader(runOracle(t, in.Bytes(), "Rscript", "-e", quadprogScript))
	compared := 0
	for k, p := range ps {
		want := make([]float64, len(p.Unknowns))
		for j := range want {
			if _, err := fmt.Fscan(out, &want[j]); err != nil {
				t.Fatal(err)
			}
		}
		if want[0] == -1 {
			continue // quadprog gives up where the balances alone hold a stream at zero
		}
		compared++
		s := solve(t, p)
		for j := range p.Unknowns {
			near(t, fmt.Sprintf("network %d stream %d", k, j), s.At([]Term{{j, 1}}).Value, want[j], 1e-6*p.scale())
		}
	}
	if compared < 50 {
		t.Errorf("quadprog answered %d of 100 networks", compared)
	}
}

// Side by side with scipy's bounded least squares on one network of 150 streams.
func TestFasterThanScipy(t *testing.T) {
	py := python(t)
	p := randomNetwork(rand.New(rand.NewPCG(3, 3)), 150, 2)
	in, err := json.Marshal([]dense{denseOf(p)})
	if err != nil {
		t.Fatal(err)
	}
	var theirs []struct{ Seconds float64 }
	if err := json.Unmarshal(runOracle(t, in, py, "-c", scipyScript), &theirs); err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	solve(t, p)
	ours := time.Since(start).Seconds()
	t.Logf("150 streams: ours %.3f s, lsq_linear %.3f s", ours, theirs[0].Seconds)
	if ours > theirs[0].Seconds {
		t.Errorf("ours took %.3f s, lsq_linear %.3f s", ours, theirs[0].Seconds)
	}
}
