package balance

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
)

func TestExactEntriesThatContradict(t *testing.T) {
	p := problemOf([][]float64{{1, -1}}, []float64{5, 6}, []float64{0, 0})
	_, err := Reconcile(p)
	var c *Contradiction
	if !errors.As(err, &c) || len(c.Readings) != 2 {
		t.Fatalf("two exact readings of one stream, 5 and 6: %v", err)
	}
	p.Readings[1].Value = 5
	if got := solve(t, p).At([]Term{{1, 1}}).Value; got != 5 {
		t.Errorf("two exact readings that agree: %g", got)
	}
}

func TestExactEntryBelowZero(t *testing.T) {
	// 3 comes in exactly, 5 goes out exactly, and the rest cannot be less than nothing.
	p := problemOf([][]float64{{1, -1, -1}}, []float64{3, 5, 0}, []float64{0, 0, 1}, 2)
	if _, err := Reconcile(p); err == nil {
		t.Fatal("no answer exists")
	}
}

func TestNothingMeasured(t *testing.T) {
	s := solve(t, problemOf([][]float64{{1, -1, -1}}, []float64{0, 0, 0}, []float64{1, 1, 1}, 0, 1, 2))
	for j := range 3 {
		if s.At([]Term{{j, 1}}).Determined {
			t.Errorf("stream %d has a number out of nothing", j)
		}
	}
	if s.DoF != 0 {
		t.Errorf("nothing can be tested, dof %d", s.DoF)
	}
}

// A loop with no outlet: two nodes that feed each other. Any flow goes round; with one reading both are
// known, and without any, neither.
func TestLoopWithoutOutlet(t *testing.T) {
	a := [][]float64{{1, -1}, {-1, 1}}
	s := solve(t, problemOf(a, []float64{7, 0}, []float64{1, 1}, 1))
	near(t, "the other way round", s.At([]Term{{1, 1}}).Value, 7, 1e-9)
	if solve(t, problemOf(a, []float64{0, 0}, []float64{1, 1}, 0, 1)).At([]Term{{0, 1}}).Determined {
		t.Error("an unmeasured loop has no number")
	}
}

// A balance with only outflow holds them at zero; readings of them are then at odds with the bounds.
func TestNodeThatNobodyFeeds(t *testing.T) {
	s := solve(t, problemOf([][]float64{{-1, -1}}, []float64{4, 2}, []float64{1, 1}))
	for j := range 2 {
		near(t, "outflow of nothing", s.At([]Term{{j, 1}}).Value, 0, 1e-9)
	}
	near(t, "chi-square", s.ChiSquare, 16+4, 1e-9)
}

func TestNotFinite(t *testing.T) {
	p := problemOf([][]float64{{1, -1}}, []float64{1, 1}, []float64{1, 1})
	p.Readings[0].Value = 0
	p.Readings[0].Value /= p.Readings[0].Value
	if _, err := Reconcile(p); err == nil {
		t.Error("not a number was taken for one")
	}
}

// Doubts eight powers of ten apart still give the answer that the surer reading dictates.
func TestDoubtsFarApart(t *testing.T) {
	s := solve(t, problemOf([][]float64{{1, -1, -1}}, []float64{1000, 400, 500}, []float64{1e-4, 1e-4, 1e4}))
	near(t, "the vague one", s.At([]Term{{2, 1}}).Value, 600, 1e-3)
}

// Cost over size; every stream measured, about 2.5 streams a node.
func BenchmarkReconcile(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 3000} {
		p := randomNetwork(rand.New(rand.NewPCG(5, 5)), n, 2)
		b.Run(fmt.Sprint(n, " streams"), func(b *testing.B) {
			for range b.N {
				s := solve(b, p)
				for j := range p.Unknowns {
					s.At([]Term{{j, 1}})
				}
			}
		})
	}
}
