package balance

import (
	"math"
	"sort"
)

// inequality says that a combination of columns is at zero or above; from lists the bounds it was
// combined from.
type inequality struct {
	vec
	from []int
}

// mostInequalities bounds the work of a projection: judgement.
const mostInequalities = 400

// project eliminates the loose columns from a set of inequalities by the method of Fourier and Motzkin;
// of rows combined from more bounds than Chernikov's rule allows, none is needed. What is returned
// speaks of the other columns only. cut is true where there were too many to follow; the projection is
// then too wide, never too narrow.
func project(rows []inequality, loose []bool) (out []inequality, cut bool) {
	for step := 1; ; step++ {
		c := nextLoose(rows, loose)
		if c < 0 {
			return rows, cut
		}
		var plus, minus, rest []inequality
		for _, r := range rows {
			switch x := r.at(c); {
			case x > 0:
				plus = append(plus, r)
			case x < 0:
				minus = append(minus, r)
			default:
				rest = append(rest, r)
			}
		}
		if len(rest)+len(plus)*len(minus) > mostInequalities {
			rows, cut = rest, true
			continue
		}
		rows = lean(append(rest, pairs(plus, minus, c, step)...))
	}
}

// nextLoose is the loose column whose elimination makes fewest rows.
func nextLoose(rows []inequality, loose []bool) int {
	plus, minus := map[int]int{}, map[int]int{}
	var cols []int
	for _, r := range rows {
		for i, c := range r.cols {
			if !loose[c] {
				continue
			}
			if plus[c]+minus[c] == 0 {
				cols = append(cols, c)
			}
			if r.vals[i] > 0 {
				plus[c]++
			} else {
				minus[c]++
			}
		}
	}
	best := -1
	for _, c := range cols {
		if best < 0 || plus[c]*minus[c] < plus[best]*minus[best] {
			best = c
		}
	}
	return best
}

func pairs(plus, minus []inequality, c, step int) []inequality {
	var out []inequality
	for _, p := range plus {
		for _, m := range minus {
			from := union(p.from, m.from)
			if len(from) > step+1 {
				continue
			}
			v := p.times(1/p.at(c)).plus(-1/m.at(c), m.vec).without(c)
			out = append(out, inequality{vec: v, from: from})
		}
	}
	return out
}

// lean drops rows that hold more bounds than another row made from some of the same.
func lean(rows []inequality) []inequality {
	sort.SliceStable(rows, func(i, j int) bool { return len(rows[i].from) < len(rows[j].from) })
	var out []inequality
	for _, r := range rows {
		needed := true
		for _, o := range out {
			if len(o.from) > 1 && subset(o.from, r.from) {
				needed = false
				break
			}
		}
		if needed {
			out = append(out, r)
		}
	}
	return out
}

func subset(a, b []int) bool {
	k := 0
	for _, x := range a {
		for k < len(b) && b[k] < x {
			k++
		}
		if k == len(b) || b[k] != x {
			return false
		}
	}
	return true
}

// sameAs is equal for rows that say the same: their entries to nine figures of the largest.
func (r inequality) sameAs() string {
	size := 0.0
	for _, x := range r.vals {
		size = max(size, math.Abs(x))
	}
	if size == 0 {
		size = 1
	}
	v := r.times(1 / size)
	for i, x := range v.vals {
		v.vals[i] = math.Round(x * 1e9)
	}
	v.rhs = math.Round(v.rhs * 1e9)
	return v.key()
}
