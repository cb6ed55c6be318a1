package balance

import "math"

// flatParts are readings that stand for knowing nothing of how a stream divides into materials but its
// limits: of each material anything between what is left when all others are at their most, and the
// most there can be, alike (rectangular), method.md (B16). Only undetermined parts get one.
func (s *sheet) flatParts(known *Solution) []Reading {
	var out []Reading
	for i := 0; i < len(s.flows); i++ {
		f := s.flows[i]
		if f.material != plain || f.kind != OutKept && f.kind != OutThrown && f.kind != InOpening {
			continue
		}
		total := known.Of(f.terms)
		var parts []flow
		for i+1 < len(s.flows) && s.flows[i+1].material != plain {
			i++
			parts = append(parts, s.flows[i])
		}
		if total.Determined {
			out = append(out, s.flatten(known, total, parts)...)
		}
	}
	return out
}

func (s *sheet) flatten(known *Solution, total Estimate, parts []flow) []Reading {
	top, all := make([]float64, len(parts)), 0.0
	for j, f := range parts {
		top[j] = math.Max(0, math.Min(total.High, s.cameIn(known, f.material)))
		all += top[j]
	}
	var out []Reading
	for j, f := range parts {
		if known.At(f.terms).Determined {
			continue
		}
		low := math.Min(top[j], math.Max(0, total.Low-(all-top[j])))
		out = append(out, Reading{Name: "limits", Terms: f.terms, Value: (low + top[j]) / 2, SD: math.Max(1, (top[j]-low)/math.Sqrt(12))})
	}
	return out
}
