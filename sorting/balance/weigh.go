package balance

import (
	"math"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// measurement is a value with its own doubt and what it shares with others.
type measurement struct {
	value, sd float64
	shared    []Share
	half      float64 // half-width of a rectangular doubt
}

// mostAssumedDoubt caps what the last written digit can say about an unstated doubt; common practice,
// no source.
const mostAssumedDoubt = 0.10

const practice = "common practice, no source"

// stated reads a mass that was not necessarily weighed: its own ±, or one step of its last written
// digit. Nothing ("0 g") is taken as just that.
func stated(q quantity.Mass) measurement {
	v := float64(q.Value)
	switch {
	case !q.Given() || v == 0 && q.SD == 0:
		return measurement{value: v}
	case q.Shape == quantity.Rectangular:
		return measurement{value: v, sd: float64(q.SD), half: math.Sqrt(3) * float64(q.SD)}
	case q.Shape != quantity.Unstated:
		return measurement{value: v, sd: float64(q.SD)}
	}
	return measurement{value: v, sd: min(stepDoubt(float64(q.LastDigit())), mostAssumedDoubt*v)}
}

// stepDoubt is the standard uncertainty of one reading of a scale with step d: d / sqrt 12, method.md
// (B11); JCGM 100:2008, F.2.2.1.
func stepDoubt(d float64) float64 { return d / math.Sqrt(12) }

// scaleOf finds the step and the relative gain error of a scale.
func (s *sheet) scaleOf(ref sorting.ScaleRef) (step, gain float64, name string) {
	for _, sc := range s.bin.Scales {
		if ref.Name != "" && sc.Name == ref.Name {
			return float64(sc.Step.Value), float64(sc.Error.Value), sc.Name
		}
	}
	return float64(ref.Step.Value), 0, ""
}

// weighed is one reading of a scale, or the difference of two (gross and tare): each brings the step of
// the scale, the net brings its gain error, which all readings of that scale share. method.md (B11).
func (s *sheet) weighed(ref sorting.ScaleRef, gross quantity.Mass, less ...quantity.Mass) measurement {
	return s.weighedNear(ref, sorting.ScaleRef{}, gross, less...)
}

// weighedNear is weighed where another scale's step stands in for one that is not said.
func (s *sheet) weighedNear(ref, near sorting.ScaleRef, gross quantity.Mass, less ...quantity.Mass) measurement {
	step, gain, name := s.scaleOf(ref)
	said := step > 0
	if !said {
		step, _, _ = s.scaleOf(near)
	}
	m := measurement{value: float64(gross.Value)}
	v := s.readingVariance(gross, step, said)
	for _, q := range less {
		if q.Given() {
			m.value -= float64(q.Value)
			v += s.readingVariance(q, step, said)
		}
	}
	m.sd = math.Sqrt(v)
	if len(less) == 0 && gross.Shape == quantity.Rectangular && !said {
		m.half = math.Sqrt(3) * m.sd
	}
	if gain > 0 {
		m.shared = []Share{{s.common("the scale " + name), gain * math.Abs(m.value)}}
	}
	return m
}

// readingVariance of one reading: what was stated, and the step where the scale is known; the last
// written digit stands in for a step that is not said.
func (s *sheet) readingVariance(q quantity.Mass, step float64, said bool) float64 {
	own := float64(q.SD) * float64(q.SD)
	if q.Shape != quantity.Unstated && !said {
		return own
	}
	if !said {
		step = max(step, float64(q.LastDigit()))
		s.assume("a scale that is not named shows what the last written digit says, or steps like the bin's scale where that is coarser",
			"scale", practice)
	}
	d := stepDoubt(step)
	if !said {
		d = min(d, max(mostAssumedDoubt*float64(q.Value), stepDoubt(1)))
	}
	return own + d*d
}
