package balance

import (
	"math"
	"sort"
)

// gatherBounds writes every "at zero or above" in measured columns. Bounds on undetermined unknowns
// are projected onto what the readings determine (Fourier-Motzkin), so that they bind no more and no
// less than they must.
func (s *Solution) gatherBounds() {
	var plain, mixed []inequality
	for i, u := range s.problem.Unknowns {
		if u.Free {
			continue
		}
		h, ok := s.terms([]Term{{i, 1}})
		row := inequality{vec: h, from: []int{i}}
		if ok {
			plain = append(plain, row)
		} else {
			mixed = append(mixed, row)
		}
	}
	projected, cut := project(mixed, s.r.loose)
	s.Loose = cut
	seen := map[string]bool{}
	for _, row := range append(plain, projected...) {
		if key := row.sameAs(); !seen[key] {
			seen[key] = true
			c := s.combine(row.vec)
			c.of = row.from
			s.bounds = append(s.bounds, c)
		}
	}
}

// hold finds the bounds that bite: multipliers p >= 0 with q + M p >= 0 and p'(q + M p) = 0, where q are
// the unbounded values and M their covariance. It is the dual active-set method of Goldfarb & Idnani
// 1983 written for bounds on an estimate: one violated bound is taken in at a time, and one whose
// multiplier would turn negative is let go. method.md (B6).
func (s *Solution) hold() error {
	w := &workingSet{s: s, value: make([]float64, len(s.bounds)), held: make([]bool, len(s.bounds))}
	for i, b := range s.bounds {
		w.value[i] = b.mean
	}
	for step := 0; step < 20*(len(s.bounds)+5); step++ {
		worst := w.mostViolated()
		if worst < 0 {
			break
		}
		if w.take(worst) {
			continue
		}
		if w.value[worst] < -1e-6*s.problem.scale() {
			return infeasible(s.nameOfBound(worst))
		}
		w.held[worst] = true // below zero by rounding alone
	}
	order := make([]int, len(w.set))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(i, j int) bool { return w.set[order[i]] < w.set[order[j]] })
	for _, i := range order {
		s.active, s.pull = append(s.active, w.set[i]), append(s.pull, w.pull[i])
		s.Active = union(s.Active, s.bounds[w.set[i]].of)
	}
	s.ChiSquare, s.slack = s.FreeChiSquare+w.cost(), w.value
	return nil
}

func (s *Solution) nameOfBound(i int) string {
	if of := s.bounds[i].of; len(of) > 0 {
		return s.problem.Unknowns[of[0]].Name
	}
	return "a range"
}

type workingSet struct {
	s      *Solution
	set    []int
	pull   []float64
	cols   [][]float64 // M by member of set
	factor [][]float64 // lower Cholesky factor of M on the set
	value  []float64
	held   []bool // at zero by the balances alone
}

func (w *workingSet) mostViolated() int {
	worst, least := -1, -1e-9
	tiny := 1e-10 * w.s.problem.scale()
	for i, x := range w.value {
		if x >= -tiny || w.held[i] {
			continue
		}
		if z := x / max(w.s.bounds[i].sd, tiny); z < least {
			worst, least = i, z
		}
	}
	return worst
}

// take brings bound j in, letting go of others on the way; false where no mass can meet it.
func (w *workingSet) take(j int) bool {
	col := w.s.across(w.s.bounds[j], w.s.bounds)
	own := 0.0 // multiplier of j so far
	for {
		r := w.solve(col)
		z := col[j]
		for k, m := range w.set {
			z -= r[k] * col[m]
		}
		drop, t := w.firstToGo(r)
		full := z > 1e-9*col[j] && col[j] > 0
		if full {
			if step := -w.value[j] / z; step <= t {
				drop, t = -1, step
			}
		}
		if math.IsInf(t, 1) {
			return false
		}
		own += t
		for k := range w.set {
			w.pull[k] -= t * r[k]
		}
		if drop < 0 {
			w.enter(j, own, col)
			return true
		}
		w.leave(drop)
		w.refresh(own, col)
	}
}

// firstToGo is the member whose multiplier first falls to zero, and after how long a step.
func (w *workingSet) firstToGo(r []float64) (int, float64) {
	drop, t := -1, math.Inf(1)
	for k, x := range r {
		if x > 1e-12 && w.pull[k]/x < t {
			drop, t = k, max(0, w.pull[k]/x)
		}
	}
	return drop, t
}

func (w *workingSet) enter(j int, pull float64, col []float64) {
	w.set, w.pull, w.cols = append(w.set, j), append(w.pull, pull), append(w.cols, col)
	w.extend(len(w.set) - 1)
	w.refresh(0, nil)
}

func (w *workingSet) leave(k int) {
	w.set = append(w.set[:k], w.set[k+1:]...)
	w.pull = append(w.pull[:k], w.pull[k+1:]...)
	w.cols = append(w.cols[:k], w.cols[k+1:]...)
	w.factor = w.factor[:k]
	for i := k; i < len(w.set); i++ {
		w.extend(i)
	}
}

// extend computes row i of the Cholesky factor of M on the set.
func (w *workingSet) extend(i int) {
	row := make([]float64, i+1)
	for j := 0; j <= i; j++ {
		x := w.cols[i][w.set[j]]
		for k := 0; k < j; k++ {
			if j < i {
				x -= row[k] * w.factor[j][k]
			} else {
				x -= row[k] * row[k]
			}
		}
		if j < i {
			row[j] = x / w.factor[j][j]
		} else {
			row[i] = math.Sqrt(max(x, 1e-300))
		}
	}
	w.factor = append(w.factor[:i], row)
}

// solve returns r with M_set r = col on the set.
func (w *workingSet) solve(col []float64) []float64 {
	n := len(w.set)
	r := make([]float64, n)
	for i := range n {
		r[i] = col[w.set[i]]
		for k := 0; k < i; k++ {
			r[i] -= w.factor[i][k] * r[k]
		}
		r[i] /= w.factor[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			r[i] -= w.factor[k][i] * r[k]
		}
		r[i] /= w.factor[i][i]
	}
	return r
}

// refresh computes all values from the multipliers, so that rounding does not pile up.
func (w *workingSet) refresh(own float64, col []float64) {
	for i, b := range w.s.bounds {
		x := b.mean
		for k := range w.set {
			x += w.cols[k][i] * w.pull[k]
		}
		if col != nil {
			x += own * col[i]
		}
		w.value[i] = x
	}
	for _, m := range w.set {
		if col == nil {
			w.value[m] = 0
		}
	}
}

// cost is what the bounds add to chi-square: p' M p.
func (w *workingSet) cost() float64 {
	c := 0.0
	for k, m := range w.set {
		for j := range w.set {
			c += w.pull[k] * w.cols[j][m] * w.pull[j]
		}
	}
	return max(0, c)
}
