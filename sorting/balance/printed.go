package balance

import (
	"fmt"
	"math"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// Defaults of counters, each returned as an assumption where used.
const (
	counterError  = 0.05 // a slicer's or a machine's count of filament, alone; common practice, no source
	commonError   = 0.02 // what all counters share; common practice, no source
	diameterError = 0.02 // mm, standard uncertainty of a filament's diameter; common practice, no source
)

// printedRow is one inflow: its unknowns by material, and what it counted.
type printedRow struct {
	by      []int
	counter int // index in Printed; -1 for a spool that no counter counts, or what was never counted
	reading int
	failed  float64 // g of failed jobs in it
	booked  polymers.Symbol
}

// total is what one counter counted, by the material it books it under.
type total struct {
	material polymers.Symbol
	m        measurement
	failed   float64
}

func (s *sheet) addPrinted() {
	for i, c := range s.bin.Printed {
		for _, t := range s.totals(c) {
			s.addCounter(i, c, t)
		}
	}
	s.doubtJobs()
	s.printedTogether()
}

func (s *sheet) addCounter(i int, c sorting.Counter, t total) {
	name := c.From
	if name == "" {
		name = "printed"
	}
	name = s.named(name, c.Line)
	just := append([]polymers.Symbol{t.material}, c.Hidden...)
	row := printedRow{by: s.unknowns(name, just), counter: i, failed: t.failed, booked: t.material}
	row.reading = s.read(name, c.Line, sumOf(row.by), t.m)
	s.notInLot[row.reading] = true
	v := t.m.value
	s.report(flow{name: name, kind: InPrinted, line: c.Line, reading: row.reading, measured: &v}, row.by)
	s.hide(c, t, name, row.by)
	s.printed = append(s.printed, row)
}

// hide says how much of a row is of the hidden materials, method.md (B13): the share times what was
// counted, with the doubt of the share linearised at the counted mass.
func (s *sheet) hide(c sorting.Counter, t total, name string, by []int) {
	if len(c.Hidden) == 0 || !c.HiddenShare.Given() {
		return
	}
	h := float64(c.HiddenShare.Value)
	sd := float64(c.HiddenShare.SD)
	if c.HiddenShare.Shape == quantity.Unstated {
		sd = stepDoubt(float64(c.HiddenShare.LastDigit()))
	}
	var terms []Term
	for k, u := range by {
		if u < 0 {
			continue
		}
		f := -h
		if s.materials[k] != baseOf(t.material) {
			f = 1 - h
		}
		terms = append(terms, Term{u, f})
	}
	m := measurement{value: 0, sd: sd * t.m.value}
	if c.HiddenShare.Shape == quantity.Rectangular {
		m.half = math.Sqrt(3) * m.sd
	}
	r := s.read("hidden share of "+name, c.Line, terms, m)
	s.notInLot[r] = true
	if sd > 0 {
		s.assume("the doubt of a hidden share is reckoned at the counted mass (linearised)", "[[printed]] hidden_share", "method.md (B13)")
	}
}

// totals reads a counter by mass, by length or by its job list.
func (s *sheet) totals(c sorting.Counter) []total {
	switch {
	case c.Counted.Given():
		return []total{{material: c.Material, m: s.byMass(c, float64(c.Counted.Value), float64(c.Counted.SD))}}
	case c.Metres.Given():
		return []total{{material: c.Material, m: s.byLength(c)}}
	}
	return s.byJobs(c)
}

// byMass gives a count of mass its doubts: the counter's own, and what all counters share.
func (s *sheet) byMass(c sorting.Counter, v, sd float64) measurement {
	m := measurement{value: v, sd: s.ownError(c, v, sd)}
	common := commonError
	if c.SharedError.Given() {
		common = float64(c.SharedError.Value)
	} else {
		s.assume("all counters share an error of 2 % (one standard deviation)", "[[printed]] shared_error", practice)
	}
	if common > 0 {
		m.shared = []Share{{s.common("what all counters share"), common * v}}
	}
	return m
}

func (s *sheet) ownError(c sorting.Counter, v, sd float64) float64 {
	switch {
	case c.Error.Given():
		return math.Hypot(float64(c.Error.Value)*v, sd)
	case sd > 0:
		return sd
	}
	s.assume("a counter is off by 5 % of its own (one standard deviation)", "[[printed]] error", practice)
	return counterError * v
}

// byLength turns a counted length into mass, method.md (B12): pi/4 d2 L rho. The density of the
// material is shared by all lengths of it, the diameter by all lengths, unless shared_error says both.
func (s *sheet) byLength(c sorting.Counter) measurement {
	rho, spread, source := densityOf(c.Material)
	d := c.Diameter.Or(1.75)
	if !c.Diameter.Given() {
		s.assume("filament is 1.75 mm thick", "[[printed]] diameter", practice)
	}
	v := math.Pi / 4 * float64(d) * float64(d) * float64(c.Metres.Value) * rho / 1000
	m := measurement{value: v, sd: s.ownError(c, v, float64(c.Metres.SD)/max(1, float64(c.Metres.Value))*v)}
	s.assume(fmt.Sprintf("%s weighs %.3f g/cm3 ± %.3f where only its length was counted", c.Material, rho, spread), "[[printed]] counted (as a mass)", source)
	if c.SharedError.Given() {
		m.shared = []Share{{s.common("what all counters share"), float64(c.SharedError.Value) * v}}
		return m
	}
	m.shared = append(m.shared, Share{s.common("the density taken for " + string(c.Material)), spread / rho * v})
	if c.Diameter.SD > 0 {
		m.sd = math.Hypot(m.sd, 2*float64(c.Diameter.SD)/float64(d)*v)
	} else {
		s.assume("a filament's diameter is known to 0.02 mm (one standard deviation)", "[[printed]] diameter", practice)
		m.shared = append(m.shared, Share{s.common("the diameter taken for filament"), 2 * diameterError / float64(d) * v})
	}
	return m
}

// byJobs sums a job list, failed jobs included: they were printed all the same.
func (s *sheet) byJobs(c sorting.Counter) []total {
	var out []total
	for _, j := range jobsOf(s.bin.Printed, c) {
		m := polymers.Symbol(j.Material)
		if c.Material != "" {
			m = c.Material
		}
		k := 0
		for k < len(out) && out[k].material != m {
			k++
		}
		if k == len(out) {
			out = append(out, total{material: m})
		}
		out[k].m.value += float64(j.Mass)
		if j.Failed {
			out[k].failed += float64(j.Mass)
		}
	}
	if len(out) == 0 {
		s.warn(c.From, c.Line, "no row of the job list fits this counter: it counts as nothing printed", `let "from" name a machine of the list`)
	}
	for k := range out {
		out[k].m = s.byMass(c, out[k].m.value, 0)
	}
	return out
}

// jobsOf are the rows of its job list that a counter counts: those of its machine, or of the whole list
// where no row names its machine, and of its material where it names one.
func jobsOf(all []sorting.Counter, c sorting.Counter) []sorting.Job {
	var out []sorting.Job
	for _, j := range c.JobRows {
		if machineFits(c, j) && materialFits(c, j) {
			out = append(out, j)
		}
	}
	return out
}

func machineFits(c sorting.Counter, j sorting.Job) bool {
	named := false
	for _, o := range c.JobRows {
		named = named || strings.EqualFold(o.Machine, c.From)
	}
	return !named || strings.EqualFold(j.Machine, c.From)
}

func materialFits(c sorting.Counter, j sorting.Job) bool {
	return c.Material == "" || strings.EqualFold(string(baseOf(polymers.Symbol(j.Material))), string(baseOf(c.Material)))
}

// doubtJobs names each row of a job list that no counter took, and those that two took.
func (s *sheet) doubtJobs() {
	done := map[string]bool{}
	for _, c := range s.bin.Printed {
		if c.Jobs == "" || done[c.Jobs] {
			continue
		}
		done[c.Jobs] = true
		for _, j := range c.JobRows {
			n := 0
			for _, o := range s.bin.Printed {
				if o.Jobs == c.Jobs && machineFits(o, j) && materialFits(o, j) {
					n++
				}
			}
			what := fmt.Sprintf("row %d of %s (%s, %s, %.4g g)", j.Line, c.Jobs, j.Machine, j.Material, float64(j.Mass))
			switch {
			case n == 0:
				s.warn(c.Jobs, c.Line, what+" fits no counter and is not counted", "add a [[printed]] table for its machine and material")
			case n > 1:
				s.warn(c.Jobs, c.Line, what+" fits several counters and is counted by each", `let each "from" name one machine`)
			}
		}
	}
}

// printedTogether reports all counters as one stream where there are several.
func (s *sheet) printedTogether() {
	if len(s.printed) < 2 {
		return
	}
	name := s.named("printed", 0)
	s.totalName = name
	s.flows = append(s.flows, flow{name: name, kind: InPrinted, terms: s.allPrinted(-1), reading: -1})
	for i, m := range s.materials {
		if t := s.allPrinted(i); len(t) > 0 && m != plain {
			s.flows = append(s.flows, flow{name: name, kind: InPrinted, material: m, terms: t, reading: -1})
		}
	}
}

// allPrinted sums all inflows of one material, or of all (-1).
func (s *sheet) allPrinted(material int) []Term {
	var out []Term
	for _, r := range s.printed {
		for i, u := range r.by {
			if u >= 0 && (material < 0 || i == material) {
				out = append(out, Term{u, 1})
			}
		}
	}
	return out
}
