package purity

import "math"

// Confirm is first followed by second on every piece that first called wrong: a piece is wrong only where
// both say so. Finds and false alarms multiply, if the two err independently on pieces of one material;
// two float tests, or two looks by the same eye, do not.
func Confirm(first, second Test) Test {
	return Test{Finds: first.Finds * second.Finds, FalseAlarms: first.FalseAlarms * second.FalseAlarms}
}

// Ceiling is the purity that counting with this test can never show, however many pieces: even a pure lot
// shows its false alarms as wrong pieces. A test with 9 % false alarms never shows more than 91 %.
func (t Test) Ceiling() float64 { return 1 - t.FalseAlarms }

// MostFalseAlarms is the share of false alarms a confirming test must stay below, on the pieces first
// called wrong, for purity to come within reach at all; 1 where first needs no confirming.
func (t Test) MostFalseAlarms(purity float64) float64 {
	if t.FalseAlarms <= 0 {
		return 1
	}
	return math.Min(1, (1-purity)*t.Finds/t.FalseAlarms)
}

// PiecesIfPure is the fewest pieces with which a lot that is in truth pure would be expected to show the
// purity, its expected false alarms (rounded up) counted as wrong; ok is false where 5000 do not.
func (t Test) PiecesIfPure(purity, confidence float64) (n int, ok bool) {
	if t.check() != nil || t.FalseAlarms >= (1-purity)*t.Finds || !(confidence > 0 && confidence < 1) {
		return 0, false
	}
	const far = 5000
	for wrong := 0; wrong < far; wrong++ {
		c := Counts{Tested: wrong, Wrong: wrong}
		o := Options{Confidence: confidence, Purity: purity, Test: &t}
		more := piecesNeeded(c, o)
		if more == nil || wrong+*more > far {
			return 0, false
		}
		if n := wrong + *more; t.FalseAlarms*float64(n) <= float64(wrong)+1e-9 {
			return n, true
		}
	}
	return 0, false
}

// SecondTest picks, of tests at hand, the one that repairs first soonest for the purity: the fewest
// PiecesIfPure after Confirm, the earlier in the list where two are equal. ok is false where none does.
func SecondTest(first Test, at []Test, purity, confidence float64) (best int, ok bool) {
	fewest := math.MaxInt
	for i, t := range at {
		if n, can := Confirm(first, t).PiecesIfPure(purity, confidence); can && n < fewest {
			best, fewest, ok = i, n, true
		}
	}
	return best, ok
}
