package separation

// axis is a property of a piece that one or several tests ask: the tests of one axis are nested (a piece
// that floats in one bath floats in every denser one), those of different axes are independent given
// the product.
type axis struct {
	first, n int         // its tests on the board
	wrong    []float64   // by test
	cells    [][]float64 // [product][cell]: a piece in cell i is below tests i and up
	table    [][]float64 // [outcomes made, base 3][product]: probability of the path
}

// newAxis takes the tests in the order of their settings. The pieces went through the tests of past on the
// same property already: cells are what they leave of a product, and sum to one.
func newAxis(tests []test, first, n int, past []went) axis {
	a := axis{first: first, n: n}
	for _, t := range tests[first : first+n] {
		a.wrong = append(a.wrong, t.wrong)
	}
	products := len(tests[first].low)
	a.cells = make([][]float64, products)
	for i := range a.cells {
		a.cells[i] = cellsOf(tests[first:first+n], past, i)
	}
	a.table = make([][]float64, power3(n))
	for made := 1; made < len(a.table); made++ {
		a.table[made] = make([]float64, products)
		for c := 0; c <= n; c++ {
			f := a.factor(made, c)
			for i, row := range a.cells {
				a.table[made][i] += f * row[c]
			}
		}
	}
	return a
}

// cellsOf shares the pieces of product i out among the cells between the tests, each part of a cell by
// what the past tests leave of it.
func cellsOf(tests []test, past []went, i int) []float64 {
	ends, from := make([]float64, len(tests)+1), 0.0
	for c, t := range tests {
		ends[c] = max(from, t.low[i])
		from = ends[c]
	}
	ends[len(tests)] = 1
	out, from, total := make([]float64, len(ends)), 0.0, 0.0
	for c, end := range ends {
		out[c] = left(past, i, from, end)
		total += out[c]
		from = end
	}
	for c := range out {
		if total > 0 {
			out[c] /= total
		}
	}
	return out
}

// left is how much of the pieces of product i between two points of a property came out of the past tests
// on the sides they did.
func left(past []went, i int, from, to float64) float64 {
	if to <= from {
		return 0
	}
	if len(past) == 0 {
		return to - from
	}
	p, rest := past[0], past[1:]
	mark := min(max(p.low[i], from), to)
	return p.chance(0)*left(rest, i, from, mark) + p.chance(1)*left(rest, i, mark, to)
}

// factor is the probability that a piece in a cell took the path of the outcomes made.
func (a *axis) factor(made, cell int) float64 {
	f := 1.0
	for t := 0; t < a.n; t++ {
		if o := made % 3; o > 0 {
			f *= a.outcome(t, o-1, cell)
		}
		made /= 3
	}
	return f
}

// outcome is the probability that a piece in a cell lands on a side of a test: 0 is the lower one.
func (a *axis) outcome(t, side, cell int) float64 {
	if (cell <= t) == (side == 0) {
		return 1 - a.wrong[t]
	}
	return a.wrong[t]
}

func power3(n int) int {
	p := 1
	for range n {
		p *= 3
	}
	return p
}
