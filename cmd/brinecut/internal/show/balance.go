package show

import (
	"fmt"
	"strings"

	"brinecut/sorting"
	"brinecut/sorting/balance"
)

// doubtful is the p-value of chi-square below which figures that were reckoned get no range: one of the
// readings is wrong by more than its doubt, and the range rests on that doubt. Judgement.
const doubtful = 0.001

// agree reports whether the weighings can all be right.
func agree(r balance.Result) bool { return r.PValue == nil || *r.PValue >= doubtful }

// disagree says that they cannot.
func disagree(r balance.Result) string {
	s := "these figures cannot all be right: chance alone puts them so far apart less than once in 1000 times, so what is reckoned from them has no range"
	if len(r.Suspects) > 0 {
		s += "; look first at " + quoteAll(r.Suspects[0].Names)
	}
	return s
}

func whereRow(r balance.WhereRow) []string {
	read, mean, span := "not weighed", "not known", ""
	if r.Read != nil {
		read = mass(*r.Read)
	}
	if r.Estimate != nil {
		mean, span = mass(r.Estimate.Mean), massSpan(r.Estimate.Low, r.Estimate.High)
	}
	return []string{r.Side, cropped(r.What, 34), read, mean, span}
}

type reconciled struct {
	Streams      []stream     `json:"streams"`
	ChiSquare    number       `json:"chi_square"`
	DoF          int          `json:"degrees_of_freedom"`
	PValue       *number      `json:"p_value"`
	Suspects     []string     `json:"suspects"`
	Details      []suspect    `json:"suspect_details"`
	NextWeighing *weighing    `json:"next_weighing"`
	Weighings    []weighing   `json:"next_weighings"`
	Explanations []explained  `json:"explanations"`
	Words        []string     `json:"words"`
	Warnings     []warning    `json:"warnings"`
	Assumptions  []assumption `json:"assumptions"`
}

type stream struct {
	Name       string  `json:"name"`
	Material   string  `json:"material,omitempty"`
	Kind       string  `json:"kind"`
	Class      string  `json:"class"`
	Measured   *number `json:"measured_g"`
	Reconciled *number `json:"reconciled_g,omitempty"`
	SD         *number `json:"sd_g"`
	Low        *number `json:"low_g"`
	High       *number `json:"high_g"`
	Z          *number `json:"z"`
}

type suspect struct {
	Names []string `json:"names"`
	Size  number   `json:"size_g"`
	SD    number   `json:"sd_g"`
	Says  string   `json:"says"`
}

type weighing struct {
	What   string `json:"what"`
	Halves string `json:"halves"`
	Drop   number `json:"doubt_removed"`
}

type explained struct {
	What    string `json:"what"`
	Verdict string `json:"verdict"`
	Says    string `json:"says"`
}

// BalanceJSON is the wire form of the mass balance.
func BalanceJSON(r balance.Result) any {
	out := reconciled{Streams: []stream{}, ChiSquare: number(r.ChiSquare), DoF: r.DoF, PValue: some(r.PValue), Suspects: []string{}, Details: []suspect{},
		Weighings: []weighing{}, Explanations: []explained{}, Words: nonNil(r.Words), Warnings: warningsOf(r.Warnings), Assumptions: assumptionsOf(r.Assumptions)}
	for _, s := range r.Streams {
		out.Streams = append(out.Streams, streamOf(s))
	}
	for _, s := range r.Suspects {
		out.Suspects = append(out.Suspects, s.Names...)
		out.Details = append(out.Details, suspect{s.Names, number(s.Size), number(s.SizeSD), s.Says})
	}
	for _, w := range r.NextWeighing {
		out.Weighings = append(out.Weighings, weighing{w.What, w.Halves, number(w.Drop)})
	}
	if len(out.Weighings) > 0 {
		out.NextWeighing = &out.Weighings[0]
	}
	for _, e := range r.Checks {
		out.Explanations = append(out.Explanations, explained{e.What, string(e.Verdict), e.Says})
	}
	return out
}

// streamOf gives a stream; one that is not determined has no figure but what was read.
func streamOf(s balance.Stream) stream {
	out := stream{Name: s.Name, Material: string(s.Material), Kind: string(s.Kind), Class: string(s.Class), Measured: some(s.Measured)}
	if s.Reconciled == nil {
		return out
	}
	out.Reconciled, out.SD, out.Low, out.High, out.Z = some(s.Reconciled), some(&s.SD), some(&s.Low), some(&s.High), some(s.Z)
	return out
}

// Balance writes the mass balance.
func Balance(p *Page, bin *sorting.Bin, r balance.Result) {
	if bin.Title != "" {
		p.Title(bin.Title)
	}
	where(p, r, true)
	p.Section("every stream")
	rows := [][]string{{"", "", "as read", "reckoned", "90 % range", "known by"}}
	for _, s := range r.Streams {
		row := streamRow(s)
		if s.Reconciled != nil && s.Class != balance.Measured && !agree(r) {
			row[4] = "-"
		}
		rows = append(rows, row)
	}
	p.Table("llrrrl", rows)
	p.Section("the check")
	if !agree(r) && len(r.Where.Rows) == 0 {
		p.Item("-", disagree(r))
	}
	for _, w := range r.Words {
		if !strings.HasPrefix(w, "weigh next") { // stands below, with what else would help
			p.Item("-", w)
		}
	}
	weighNext(p, r.NextWeighing)
	footnotes(p, r.Warnings)
	assumed(p, r.Assumptions)
}

func streamRow(s balance.Stream) []string {
	row := []string{cropped(s.Name, 30), string(s.Material), "", "", "", knownBy(s.Class)}
	if s.Measured != nil {
		row[2] = mass(*s.Measured)
	}
	if s.Reconciled != nil {
		row[3], row[4] = mass(*s.Reconciled), massSpan(s.Low, s.High)
	}
	return row
}

func knownBy(c balance.Class) string {
	switch c {
	case balance.Redundant:
		return "read, checked"
	case balance.Measured:
		return "read"
	case balance.Observable:
		return "the others"
	}
	return "nothing"
}

func weighNext(p *Page, list []balance.Weighing) {
	p.Section("weigh next")
	if len(list) == 0 {
		p.Text("no further weighing would help much", 0)
	}
	for i, w := range list[:min(len(list), 3)] {
		p.Item(fmt.Sprintf("%d.", i+1), join(w.What, w.Halves))
	}
}
