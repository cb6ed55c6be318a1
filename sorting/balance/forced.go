package balance

// forcedZero finds unknowns that balances hold at zero: all terms of a balance have one sign, and their
// sum is nothing.
func forcedZero(p Problem) []int {
	zero := make([]bool, len(p.Unknowns))
	exact := append([]Constraint(nil), p.Constraints...)
	for _, r := range p.Readings {
		if r.Variance() == 0 {
			exact = append(exact, Constraint{Terms: r.Terms, Value: r.Value})
		}
	}
	var out []int
	for again := true; again; {
		again = false
		for _, c := range exact {
			for _, u := range oneSigned(p, c, zero) {
				zero[u], again = true, true
				out = append(out, u)
			}
		}
	}
	return out
}

// oneSigned returns the unknowns of a balance that can only be zero.
func oneSigned(p Problem, c Constraint, zero []bool) []int {
	v := makeVec(c.Terms, c.Value)
	sign := 0.0
	var out []int
	for i, u := range v.cols {
		if zero[u] {
			continue
		}
		if p.Unknowns[u].Free || v.rhs != 0 || v.vals[i]*sign < 0 {
			return nil
		}
		sign = v.vals[i]
		out = append(out, u)
	}
	return out
}
