package balance

import (
	"fmt"
	"math"
	"sort"
)

// system is a Problem in the form in which every measured thing is one column of its own with an error
// of its own: unknowns first, then one column for each reading that is not simply an unknown, then the
// shared influences (each "read" as 0 with standard deviation 1). method.md (B2).
type system struct {
	n        int       // unknowns
	measured []bool    // by column
	y, v     []float64 // by column: value and variance where measured
	column   []int     // by reading: its column; -1 where it is exact or left out
	asRead   []vec     // by reading: what it measures, in measured columns
	rows     []equation
}

type equation struct {
	vec
	name  string
	exact []int // readings without doubt that went into it
}

// newSystem writes p in columns, leaving out the readings in skip.
func newSystem(p Problem, skip []bool) *system {
	n := len(p.Unknowns)
	s := &system{n: n, measured: make([]bool, n), y: make([]float64, n), v: make([]float64, n), column: make([]int, len(p.Readings)), asRead: make([]vec, len(p.Readings))}
	for _, c := range p.Constraints {
		s.rows = append(s.rows, equation{vec: makeVec(c.Terms, c.Value), name: c.Name})
	}
	influence := make([]int, len(p.Influences))
	for i := range influence {
		influence[i] = s.add(true, 0, 1)
	}
	for i, r := range p.Readings {
		s.column[i] = -1
		if skip == nil || !skip[i] {
			s.read(i, r, influence)
		}
	}
	return s
}

func (s *system) add(measured bool, y, v float64) int {
	s.measured, s.y, s.v = append(s.measured, measured), append(s.y, y), append(s.v, v)
	return len(s.measured) - 1
}

func (s *system) read(i int, r Reading, influence []int) {
	terms := makeVec(r.Terms, 0)
	v := r.SD * r.SD
	if len(r.Shared) == 0 && len(terms.cols) == 1 && terms.vals[0] == 1 && v > 0 && !s.measured[terms.cols[0]] {
		c := terms.cols[0]
		s.measured[c], s.y[c], s.v[c], s.column[i] = true, r.Value, v, c
		s.asRead[i] = makeVec([]Term{{c, 1}}, 0)
		return
	}
	all, back := append([]Term(nil), r.Terms...), []Term(nil)
	for _, sh := range r.Shared {
		c := influence[sh.Influence]
		all, back = append(all, Term{c, sh.Size}), append(back, Term{c, -sh.Size})
	}
	if v == 0 {
		s.asRead[i] = makeVec(back, r.Value)
		row := equation{vec: makeVec(all, r.Value), name: r.Name}
		if len(r.Shared) == 0 {
			row.exact = []int{i}
		}
		s.rows = append(s.rows, row)
		return
	}
	c := s.add(true, r.Value, v)
	s.column[i] = c
	s.asRead[i] = makeVec(append(back, Term{c, 1}), 0)
	s.rows = append(s.rows, equation{vec: makeVec(append(all, Term{c, -1}), 0), name: r.Name})
}

// reduced is a system after the unmeasured columns are eliminated (matrix projection by elimination;
// Crowe, Garcia Campos & Hrymak 1983).
type reduced struct {
	*system
	express map[int]vec // unmeasured column -> constant (rhs) plus measured and undetermined columns
	loose   []bool      // by column: unmeasured and left over, an undetermined direction
	g       []vec       // independent balances among measured columns alone
}

// reduce eliminates the unmeasured columns and finds the independent balances that are left.
func (s *system) reduce(scale float64) (*reduced, error) {
	e := &elimination{rows: s.rows, allowed: func(c int) bool { return !s.measured[c] }, scale: scale}
	if err := e.run(len(s.measured)); err != nil {
		return nil, err
	}
	r := &reduced{system: s, express: map[int]vec{}, loose: make([]bool, len(s.measured))}
	for c := range s.measured {
		r.loose[c] = !s.measured[c] && !e.isPivot[c]
	}
	for k := len(e.pivots) - 1; k >= 0; k-- {
		p := e.pivots[k]
		r.express[p.col] = r.solveFor(e.rows[p.row].vec, p.col)
	}
	return r, r.independent(e, scale)
}

// solveFor turns a row into an expression of column c in columns that are not pivots.
func (r *reduced) solveFor(row vec, c int) vec {
	rest := row.without(c).times(-1 / row.at(c))
	rest.rhs = row.rhs / row.at(c)
	return r.inMeasured(rest)
}

// inMeasured replaces the eliminated columns of v by what they are in the others.
func (r *reduced) inMeasured(v vec) vec {
	out := vec{rhs: v.rhs}
	var plain vec
	for i, c := range v.cols {
		if x, ok := r.express[c]; ok {
			out = out.plus(v.vals[i], x)
			continue
		}
		plain.cols, plain.vals = append(plain.cols, c), append(plain.vals, v.vals[i])
	}
	return out.plus(1, plain)
}

// independent keeps the balances that do not follow from others.
func (r *reduced) independent(e *elimination, scale float64) error {
	var left []equation
	for i, row := range e.rows {
		if !e.done[i] && len(row.cols) > 0 {
			left = append(left, row)
		}
	}
	second := &elimination{rows: append([]equation(nil), left...), allowed: func(int) bool { return true }, scale: scale}
	if err := second.run(len(r.measured)); err != nil {
		return err
	}
	for i, row := range left {
		if second.done[i] {
			r.g = append(r.g, row.vec)
		}
	}
	return nil
}

type pivot struct{ row, col int }

// elimination is sparse Gaussian elimination on the allowed columns, shortest row first.
type elimination struct {
	rows    []equation
	allowed func(int) bool
	scale   float64
	done    []bool
	isPivot []bool
	pivots  []pivot
	users   [][]int // by column: rows that may hold it
	open    []int   // by row: allowed columns it holds
}

func (e *elimination) run(columns int) error {
	e.done, e.isPivot, e.users, e.open = make([]bool, len(e.rows)), make([]bool, columns), make([][]int, columns), make([]int, len(e.rows))
	e.rows = append([]equation(nil), e.rows...)
	for i := range e.rows {
		e.index(i, e.rows[i].cols)
	}
	for {
		row := e.shortest()
		if row < 0 {
			return e.consistent()
		}
		col := e.choose(row)
		e.done[row], e.isPivot[col] = true, true
		e.pivots = append(e.pivots, pivot{row, col})
		e.clear(row, col)
	}
}

func (e *elimination) index(i int, cols []int) {
	e.open[i] = 0
	for _, c := range cols {
		if e.allowed(c) {
			e.open[i]++
			e.users[c] = append(e.users[c], i)
		}
	}
}

func (e *elimination) shortest() int {
	best := -1
	for i, n := range e.open {
		if !e.done[i] && n > 0 && (best < 0 || n < e.open[best]) {
			best = i
		}
	}
	return best
}

// choose takes, among the row's columns that are not small beside its largest, the one fewest rows use.
func (e *elimination) choose(row int) int {
	largest := 0.0
	for i, c := range e.rows[row].cols {
		if e.allowed(c) {
			largest = max(largest, math.Abs(e.rows[row].vals[i]))
		}
	}
	best := -1
	for i, c := range e.rows[row].cols {
		if e.allowed(c) && math.Abs(e.rows[row].vals[i]) >= 0.1*largest && (best < 0 || len(e.users[c]) < len(e.users[best])) {
			best = c
		}
	}
	return best
}

func (e *elimination) clear(row, col int) {
	p := e.rows[row]
	for _, i := range append([]int(nil), e.users[col]...) {
		f := e.rows[i].at(col)
		if e.done[i] || f == 0 {
			continue
		}
		old := e.rows[i].cols
		e.rows[i].vec = e.rows[i].vec.plus(-f/p.at(col), p.vec).without(col)
		e.rows[i].exact = union(e.rows[i].exact, p.exact)
		e.refresh(i, old)
	}
}

// refresh counts row i again and notes the columns it did not hold before.
func (e *elimination) refresh(i int, old []int) {
	e.open[i] = 0
	k := 0
	for _, c := range e.rows[i].cols {
		if !e.allowed(c) {
			continue
		}
		e.open[i]++
		for k < len(old) && old[k] < c {
			k++
		}
		if k == len(old) || old[k] != c {
			e.users[c] = append(e.users[c], i)
		}
	}
}

// Contradiction is the error when entries that allow no error cannot all be true.
type Contradiction struct {
	Balance  string // the balance or entry at which it showed
	Readings []int  // readings without doubt that went into it
	Off      float64
}

func (c *Contradiction) Error() string {
	return fmt.Sprintf("entries that allow no error contradict each other by %.4g at %q; give at least one of them a ± or a scale", math.Abs(c.Off), c.Balance)
}

func (e *elimination) consistent() error {
	for i, row := range e.rows {
		if !e.done[i] && len(row.cols) == 0 && math.Abs(row.rhs) > 1e-8*e.scale {
			return &Contradiction{Balance: row.name, Readings: row.exact, Off: row.rhs}
		}
	}
	return nil
}

func union(a, b []int) []int {
	if len(b) == 0 {
		return a
	}
	out := append(append([]int(nil), a...), b...)
	sort.Ints(out)
	k := 0
	for i, x := range out {
		if i == 0 || x != out[k-1] {
			out[k] = x
			k++
		}
	}
	return out[:k]
}
