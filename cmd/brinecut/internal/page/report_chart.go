package page

import (
	"fmt"
	"strings"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/cues"
	"brinecut/reuse/advice"
	"brinecut/sorting/triage"
)

// chartLine is a line of the bench chart as it is printed.
type chartLine struct {
	triage.ChartLine
	Cautions []string
	As       string // "cautions as in line 2"; the cautions stand there
}

// chart fills in the bench chart; cautions stand at the first line of their kind.
func (v *report) chart(a advice.Answer) {
	if a.Chart == nil {
		return
	}
	v.Chart, v.ChartSays = a.Chart, show.ChartSays(a.Chart)
	seen := map[cues.Kind]int{}
	for _, l := range a.Chart.Lines {
		line := chartLine{ChartLine: l, Cautions: l.Cautions}
		if n, ok := seen[l.Kind]; ok {
			line.Cautions, line.As = nil, fmt.Sprintf("cautions as in line %d", n)
		} else {
			seen[l.Kind] = l.N
		}
		v.ChartLines = append(v.ChartLines, line)
	}
}

// Starts is what a piece picked blind would be, in words.
func (v *report) Starts() string {
	var out []string
	for _, s := range v.Chart.Start {
		out = append(out, show.Material(s.Key)+" "+show.Percent(s.Share))
	}
	return strings.Join(out, ", ")
}
