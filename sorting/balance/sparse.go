package balance

import (
	"math"
	"sort"
	"strconv"
)

// vec is a sparse vector: columns in rising order with their values, and a constant beside them.
type vec struct {
	cols []int
	vals []float64
	rhs  float64
}

// makeVec gathers terms, adding those of one column together.
func makeVec(terms []Term, rhs float64) vec {
	ts := append([]Term(nil), terms...)
	sort.SliceStable(ts, func(i, j int) bool { return ts[i].Unknown < ts[j].Unknown })
	v := vec{rhs: rhs}
	for _, t := range ts {
		if n := len(v.cols); n > 0 && v.cols[n-1] == t.Unknown {
			v.vals[n-1] += t.Factor
			continue
		}
		v.cols, v.vals = append(v.cols, t.Unknown), append(v.vals, t.Factor)
	}
	return v.clean(0)
}

// at returns the value in column c.
func (v vec) at(c int) float64 {
	i := sort.SearchInts(v.cols, c)
	if i < len(v.cols) && v.cols[i] == c {
		return v.vals[i]
	}
	return 0
}

// plus returns v + f w, without entries that are rounding only.
func (v vec) plus(f float64, w vec) vec {
	out := vec{cols: make([]int, 0, len(v.cols)+len(w.cols)), vals: make([]float64, 0, len(v.cols)+len(w.cols)), rhs: v.rhs + f*w.rhs}
	largest := 0.0
	put := func(c int, x, size float64) {
		largest = max(largest, size)
		out.cols, out.vals = append(out.cols, c), append(out.vals, x)
	}
	i, j := 0, 0
	for i < len(v.cols) || j < len(w.cols) {
		switch {
		case j == len(w.cols) || i < len(v.cols) && v.cols[i] < w.cols[j]:
			put(v.cols[i], v.vals[i], math.Abs(v.vals[i]))
			i++
		case i == len(v.cols) || w.cols[j] < v.cols[i]:
			put(w.cols[j], f*w.vals[j], math.Abs(f*w.vals[j]))
			j++
		default:
			put(v.cols[i], v.vals[i]+f*w.vals[j], max(math.Abs(v.vals[i]), math.Abs(f*w.vals[j])))
			i, j = i+1, j+1
		}
	}
	return out.clean(1e-11 * largest)
}

// clean drops entries not larger than tol.
func (v vec) clean(tol float64) vec {
	k := 0
	for i, x := range v.vals {
		if math.Abs(x) > tol {
			v.cols[k], v.vals[k] = v.cols[i], x
			k++
		}
	}
	v.cols, v.vals = v.cols[:k], v.vals[:k]
	return v
}

// without returns v with column c taken out.
func (v vec) without(c int) vec {
	out := vec{rhs: v.rhs}
	for i, col := range v.cols {
		if col != c {
			out.cols, out.vals = append(out.cols, col), append(out.vals, v.vals[i])
		}
	}
	return out
}

// times returns f v.
func (v vec) times(f float64) vec {
	out := vec{cols: append([]int(nil), v.cols...), vals: make([]float64, len(v.vals)), rhs: f * v.rhs}
	for i, x := range v.vals {
		out.vals[i] = f * x
	}
	return out
}

// dot returns the sum of v over the dense vector x.
func (v vec) dot(x []float64) float64 {
	s := 0.0
	for i, c := range v.cols {
		s += v.vals[i] * x[c]
	}
	return s
}

// key is the same for equal vectors.
func (v vec) key() string {
	b := make([]byte, 0, 16*len(v.cols))
	for i, c := range v.cols {
		b = strconv.AppendInt(b, int64(c), 10)
		b = append(b, ':')
		b = strconv.AppendFloat(b, v.vals[i], 'g', -1, 64)
		b = append(b, ' ')
	}
	return string(strconv.AppendFloat(b, v.rhs, 'g', -1, 64))
}
