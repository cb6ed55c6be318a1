package advice

import (
	"slices"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/reuse"
)

// residues lists what the bench leaves behind.
func residues(a *Answer, s reuse.Situation) []reuse.Residue {
	b := reuse.Bench{Salts: salts(a.Bin), Place: s.Place}
	if used(a.Bin, cues.Acetone) {
		b.Solvents = append(b.Solvents, "acetone")
	}
	b.Metal = a.Bin.Floor != nil && a.Bin.Floor.Hardware.Value > 0
	for i, r := range a.Totals() {
		m, ok := polymers.Find(polymers.Symbol(a.Composition.Keys[i]))
		b.Soluble = b.Soluble || ok && m.WaterSoluble && r.Mean > 1
		b.Fibre = b.Fibre || ok && m.Filler != "" && r.Mean > 1
	}
	b.Ground = slices.ContainsFunc(a.Fractions, func(f Fraction) bool { return f.Decision.Route == reuse.Regrind })
	return reuse.Residues(b)
}

// counters lists what is booked under another's name, once a material: which of several counters it came
// off is not told by the bin, so that all of them stand in one line and its mass counts once.
func counters(a *Answer) []reuse.CounterScrap {
	var out []reuse.CounterScrap
	totals := a.Totals()
	for _, p := range a.Bin.Printed {
		for _, h := range p.Hidden {
			key := slices.Index(a.Composition.Keys, string(h))
			at := slices.IndexFunc(out, func(c reuse.CounterScrap) bool { return c.Material == string(h) })
			switch {
			case key < 0:
			case at >= 0:
				out[at].From += " and " + p.From
			default:
				out = append(out, reuse.CounterScrap{From: p.From, Material: string(h), BookedAs: string(p.Material), Support: true, Mass: totals[key].Mean})
			}
		}
	}
	return out
}

// prevention draws the lessons of the bin from its own numbers.
func prevention(a *Answer) []string {
	var b reuse.Build
	totals := a.Totals()
	for i, r := range totals {
		b.Bin += r.Mean
		if m, ok := polymers.Find(polymers.Symbol(a.Composition.Keys[i])); ok && m.WaterSoluble {
			b.Soluble += r.Mean
		}
	}
	for _, p := range a.Bin.Printed {
		b.Printed += float64(p.Counted.Value)
		jobs := map[string]int{}
		for _, j := range p.JobRows {
			b.Printed += float64(j.Mass)
			if !j.Failed {
				continue
			}
			if _, ok := jobs[j.Machine]; !ok {
				jobs[j.Machine] = len(b.Failed)
				b.Failed = append(b.Failed, reuse.FailedScrap{Machine: j.Machine})
			}
			f := &b.Failed[jobs[j.Machine]]
			f.Jobs, f.Mass, f.Hours = f.Jobs+1, f.Mass+float64(j.Mass), f.Hours+j.Hours
		}
	}
	b.Counters = counters(a)
	for _, f := range a.Fractions {
		switch {
		case f.Mixed:
			b.Mixed += f.Mass.Mean
		case f.Material == "":
			b.Unknown += f.Mass.Mean
		}
		if f.Decision.Route == reuse.Disposal || f.Decision.Route == reuse.SpecialWaste {
			b.Unused += f.Mass.Mean
		}
	}
	for _, s := range a.Steps {
		b.SortHours += s.Minutes / 60
	}
	return reuse.Prevent(b)
}
