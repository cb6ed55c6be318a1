// Package page makes the pages a person looks at in a browser: the report, one file that holds
// everything, and the page for a phone at the bench.
package page

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // report.html, report.css
	"encoding/base64"
	"html/template"
	"strings"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

//go:embed report.html
var reportHTML string

//go:embed report.css
var reportCSS string

var reportPage = template.Must(template.New("report").Funcs(template.FuncMap{
	"goes": show.ChartGoes, "does": show.ChartDo, "minutes": show.Minutes,
	"inc": func(i int) int { return i + 1 },
}).Parse(reportHTML))

// ReportJob is what a report is made of: an answer with its trace and its chart, and the hand-over
// sheets of its bags.
type ReportJob struct {
	Answer advice.Answer
	File   string // the bin file, as the user calls it
	Sheets []paper.Handover
	Units  show.Units
	Names  []string // of the bin's owner: they are written in no other units
}

// Part is one part of the page, for its list of contents.
type Part struct {
	ID, Head string
}

// together keeps a sign on the line of its number.
var together = strings.NewReplacer(" %", "\u00a0%", " °C", "\u00a0°C", " °F", "\u00a0°F")

// Report makes the page: one HTML file that asks nothing of any other place, not even of a script. The
// same job gives the same bytes. It also gives the parts of the page in order.
func Report(job ReportJob) ([]byte, []Part, error) {
	v := newReport(job)
	var raw, out bytes.Buffer
	err := reportPage.Execute(&raw, v)
	for line := range strings.Lines(inUnits(raw.String(), job.Units, show.Kept(job.Names...))) { // names of the user's may hold anything
		out.WriteString(together.Replace(show.Clean(strings.TrimSuffix(line, "\n"))) + "\n")
	}
	return out.Bytes(), v.Parts, err
}

// report is the page as the template fills it in.
type report struct {
	Title, File string
	Policy      string
	Style       template.CSS
	Parts       []Part

	Empty    bool // neither a bin nor a lot
	Verdict  string
	Next     show.Thing
	Why      string
	Bags     []bag
	Contents [][]string
	Doubt    string // of all masses
	Never    []named

	Pictures   []picture
	Steps      []step
	Trace      []traced
	Rulings    []show.Ruling
	Prevention []string
	Residues   []residue
	Notes      []note
	Assumed    []sorting.Assumption
	Sources    []named
	Sheets     []sheet
	Chart      *advice.BenchChart
	ChartSays  string
	ChartLines []chartLine
}

// policy forbids the page everything but its own style, which it names by its hash.
func policy(css string) string {
	sum := sha256.Sum256([]byte(css))
	return "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'"
}

func newReport(job ReportJob) *report {
	a := job.Answer
	v := &report{Title: a.Bin.Title, File: job.File, Policy: policy(reportCSS), Style: template.CSS(reportCSS), Empty: len(a.Lots) == 0}
	if v.Title == "" {
		v.Title = "Scrap bin"
	}
	m := marksOf(a)
	v.answer(a)
	v.Pictures = pictures(a, m)
	v.work(a)
	v.Notes, v.Assumed, v.Sources = notes(a), a.Assumptions, sources(a)
	v.Sheets = sheets(job.Sheets)
	v.chart(a)
	v.Parts = v.parts()
	return v
}

// parts lists what is on the page, empty parts left out.
func (v *report) parts() []Part {
	all := []struct {
		Part
		there bool
	}{
		{Part{"answer", "The answer"}, true},
		{Part{"pictures", "Pictures"}, len(v.Pictures) > 0},
		{Part{"steps", "Steps at the bench"}, len(v.Steps) > 0},
		{Part{"trace", "How each lot was found out"}, len(v.Trace) > 0},
		{Part{"rules", "Why each bag goes its way"}, len(v.Rulings) > 0},
		{Part{"next-build", "The next build"}, len(v.Prevention) > 0},
		{Part{"residues", "What the bench leaves behind"}, len(v.Residues) > 0},
		{Part{"notes", "What is doubtful"}, len(v.Notes) > 0},
		{Part{"assumptions", "What was assumed"}, len(v.Assumed) > 0},
		{Part{"sources", "Sources"}, len(v.Sources) > 0},
		{Part{"chart", "Bench chart, to print"}, v.Chart != nil},
		{Part{"sheets", "Hand-over sheets, to print"}, len(v.Sheets) > 0},
	}
	var out []Part
	for _, p := range all {
		if p.there {
			out = append(out, p.Part)
		}
	}
	return out
}
