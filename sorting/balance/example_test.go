package balance_test

import (
	"fmt"

	"brinecut/sorting/balance"
)

// The heat exchanger with bypass of Narasimhan & Jordache 2000, as tabulated in the public collection
// EDSONCV/dr-ged-benchmarks, problem 4: 100.22 64.50 35.72 64.50 35.72 100.22.
func ExampleReconcile() {
	readings := []float64{101.91, 64.45, 34.65, 64.20, 36.44, 98.88}
	var p balance.Problem
	for i, y := range readings {
		p.Unknowns = append(p.Unknowns, balance.Unknown{Name: fmt.Sprint(i + 1)})
		p.Readings = append(p.Readings, balance.Reading{Terms: []balance.Term{{Unknown: i, Factor: 1}}, Value: y, SD: 1})
	}
	for _, node := range [][]float64{{1, -1, -1}, {0, 1, 0, -1}, {0, 0, 1, 0, -1}, {0, 0, 0, 1, 1, -1}} {
		var c balance.Constraint
		for i, f := range node {
			c.Terms = append(c.Terms, balance.Term{Unknown: i, Factor: f})
		}
		p.Constraints = append(p.Constraints, c)
	}
	s, err := balance.Reconcile(p)
	if err != nil {
		panic(err)
	}
	for i := range readings {
		fmt.Printf("%.2f\n", s.Of([]balance.Term{{Unknown: i, Factor: 1}}).Value)
	}
	fmt.Printf("chi-square %.4f at %d degrees of freedom\n", s.ChiSquare, s.DoF)
	// Output:
	// 100.22
	// 64.50
	// 35.72
	// 64.50
	// 35.72
	// 100.22
	// chi-square 6.4075 at 4 degrees of freedom
}
