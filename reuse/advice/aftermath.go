package advice

import (
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/reuse"
	"brinecut/sorting"
)

// someSoluble is the share of the bin from which soluble support is reckoned with; less, where no counter counts
// any, is only what is usual (judgement).
const someSoluble = 0.02

// residues lists what the bench leaves behind.
func residues(a *Answer, s reuse.Situation) []reuse.Residue {
	b := reuse.Bench{Salts: salts(a.Bin), Place: s.Place, Soluble: used(a.Bin, cues.Soak)}
	if used(a.Bin, cues.Acetone) {
		b.Solvents = append(b.Solvents, "acetone")
	}
	b.Metal = a.Bin.Floor != nil && a.Bin.Floor.Hardware.Value > 0
	for i, r := range a.Totals() {
		m, ok := polymers.Find(polymers.Symbol(a.Composition.Keys[i]))
		b.Soluble = b.Soluble || ok && m.WaterSoluble && (r.Mean >= someSoluble*a.TotalOf().Mean || r.Mean > 1 && bookedBy(a.Bin, a.Composition.Keys[i]) != "")
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
				out = append(out, reuse.CounterScrap{From: p.From, Material: string(h), BookedAs: string(p.Material), Mass: totals[key].Mean})
			}
		}
	}
	return out
}

// build gathers what the bin says of the build it came from.
func build(a *Answer) reuse.Build {
	b := reuse.Build{Booked: counters(a), Own: len(a.Lots) > 0, Snippets: len(a.Bin.Known), Printed: printed(a)}
	for i, r := range a.Totals() {
		key := a.Composition.Keys[i]
		b.Bin += r.Mean
		if r.Mean > b.Main.Mass && key != string(polymers.Other) {
			b.Main = reuse.CounterScrap{From: bookedBy(a.Bin, key), Material: key, Mass: r.Mean}
		}
		if m, ok := polymers.Find(polymers.Symbol(key)); ok && m.WaterSoluble {
			b.Soluble.Mass += r.Mean
			if from := bookedBy(a.Bin, key); from != "" && b.Soluble.From == "" {
				b.Soluble.From = from
			}
		}
	}
	for _, l := range a.Lots {
		b.Own = b.Own && l.Lot.OriginGiven && l.Lot.Origin == sorting.OwnPrint
	}
	b.Failed, b.Hours = jobs(a.Bin)
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
	spent(a, &b)
	return b
}

// printed is what all counters together read, g; 0 where one does not say.
func printed(a *Answer) float64 {
	sum := 0.0
	for _, r := range a.Balance.Where.Rows {
		counter := slices.ContainsFunc(a.Bin.Printed, func(c sorting.Counter) bool { return c.From == r.What })
		switch {
		case r.Side != "in" || !counter:
		case r.Read == nil:
			return 0
		default:
			sum += *r.Read
		}
	}
	return sum
}

// bookedBy names the counters that count a material by its own name.
func bookedBy(bin *sorting.Bin, key string) string {
	var from []string
	for _, p := range bin.Printed {
		if string(p.Material) == key && !slices.Contains(from, p.From) {
			from = append(from, p.From)
		}
	}
	return strings.Join(from, " and ")
}

// jobs gives the failed jobs by machine, each list read once however many counters share it, and the
// printing time a kilogram.
func jobs(bin *sorting.Bin) (failed []reuse.FailedScrap, hoursPerKg float64) {
	read, grams, hours := map[string]bool{}, 0.0, 0.0
	for _, p := range bin.Printed {
		if read[p.Jobs] {
			continue
		}
		read[p.Jobs] = true
		for _, j := range p.JobRows {
			if j.Hours > 0 {
				grams, hours = grams+float64(j.Mass), hours+j.Hours
			}
			if !j.Failed {
				continue
			}
			at := slices.IndexFunc(failed, func(f reuse.FailedScrap) bool { return f.Machine == j.Machine })
			if at < 0 {
				at = len(failed)
				failed = append(failed, reuse.FailedScrap{Machine: j.Machine})
			}
			failed[at].Jobs++
			failed[at].Mass += float64(j.Mass)
			failed[at].Hours += j.Hours
		}
	}
	if grams > 0 {
		hoursPerKg = hours / grams * 1000
	}
	return failed, hoursPerKg
}

// spent adds the bench time of testing and parting, that of the tests in the file by their usual minutes.
func spent(a *Answer, b *reuse.Build) {
	minutes := 0.0
	for _, o := range a.Bin.Tests {
		n := 0
		for _, c := range o.Counts {
			n += c.N
		}
		n = max(n, 1)
		t, _ := cues.Find(o.Kind)
		each := t.Minutes
		if q, ok := a.Bin.Kit.Minutes[o.Kind]; ok {
			each = q.Value.Minutes()
		}
		if o.Lot != "" {
			b.Tests += n
		}
		minutes += each * float64(n)
	}
	for _, s := range slices.Concat(tests(a), partingSteps(a)) {
		minutes += s.Minutes
	}
	b.SortHours = minutes / 60
	for _, l := range a.Lots {
		if s, ok := pickStep(a, l.Name); ok {
			b.PickHours += s.Minutes / 60
		} else if x := soluble(a, l); x > 0.02 && x < 0.9 && !roundingGap(a, l.Name, l.Mass.Mean) {
			b.PickHours += minutesPick / 60
		}
	}
}
