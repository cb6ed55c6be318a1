package show

import (
	"fmt"
	"math"
	"strings"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting/triage"
)

type benchChart struct {
	First []step     `json:"first"`
	Baths []step     `json:"baths"`
	Start object     `json:"start"`
	Lines []chartRow `json:"lines"`
	Alone *string    `json:"alone"`
	Blind number     `json:"wrong_without"`
	Wrong number     `json:"wrong"`
}

type chartRow struct {
	N        int           `json:"n"`
	Do       string        `json:"do"`
	Test     test          `json:"test"`
	Cautions []string      `json:"cautions"`
	Answers  []chartAnswer `json:"answers"`
}

type chartAnswer struct {
	Outcome   string  `json:"outcome"`
	Reach     number  `json:"reach"`
	Then      *int    `json:"then"`
	Bag       *string `json:"bag"`
	Sure      number  `json:"sure"`
	Else      object  `json:"else"`
	NeverHeat bool    `json:"never_heat"`
}

// ChartJSON is the wire form of the bench chart.
func ChartJSON(c *advice.BenchChart) any {
	out := benchChart{First: stepsOf(c.First), Baths: stepsOf(c.Baths), Start: sharesOf(c.Start), Lines: []chartRow{}, Alone: text(c.Alone), Blind: number(c.Blind), Wrong: number(c.Wrong)}
	for _, l := range c.Lines {
		row := chartRow{N: l.N, Do: ChartDo(l), Test: test{Kind: string(l.Kind), Bath: text(l.Bath)}, Cautions: nonNil(l.Cautions)}
		switch d, t := number(l.Density), number(l.Temp); l.Kind {
		case cues.Float:
			row.Test.Density = &d
		case cues.HotWater:
			row.Test.TempC = &t
		}
		for _, x := range l.Answers {
			a := chartAnswer{Outcome: x.Outcome, Reach: number(x.Reach), Bag: text(x.Bag), Sure: number(x.Sure), Else: sharesOf(x.Else), NeverHeat: x.Barred}
			if x.Then > 0 {
				a.Then = &x.Then
			}
			row.Answers = append(row.Answers, a)
		}
		out.Lines = append(out.Lines, row)
	}
	return out
}

func stepsOf(list []advice.Step) []step {
	out := []step{}
	for i, s := range list {
		out = append(out, step{N: i + 1, Do: s.Do, Cautions: nonNil(s.Cautions)})
	}
	return out
}

func sharesOf(list []triage.ChartShare) object {
	out := object{}
	for _, s := range list {
		out = append(out, member{s.Key, number(s.Share)})
	}
	return out
}

// ChartDo is what a line of the bench chart asks to be done with a piece.
func ChartDo(l triage.ChartLine) string {
	switch l.Kind {
	case cues.Float:
		in := "a bath of " + quantity.Format(quantity.GramPerCm3(math.Round(float64(l.Density)*1e4)/1e4))
		if l.Bath != "" {
			in = "bath " + l.Bath + " (" + quantity.Format(l.Density) + ")"
		} else if math.Abs(float64(l.Density)-0.998) < 0.005 {
			in = "plain water with a drop of detergent"
		}
		return "cut it solid, wet it, rub off every bubble, push it under in " + in
	case cues.HotWater:
		return "hold a thin strip in water of " + quantity.Format(l.Temp) + " for two minutes and press it with tongs"
	case cues.Bend:
		return "fold a cold strip slowly to a right angle, away from the face"
	case cues.Soak:
		return "leave a thin strip in cold water for an hour, then rub it with a glove"
	}
	t, _ := cues.Find(l.Kind)
	return strings.ToLower(t.Title[:1]) + t.Title[1:]
}

// ChartGoes is where an answer leads.
func ChartGoes(x triage.ChartAnswer) string {
	if x.Then > 0 {
		return fmt.Sprintf("go to %d", x.Then)
	}
	s := "NOT IDENTIFIED, DO NOT HEAT"
	rest := x.Else
	if x.Bag != "" {
		s = fmt.Sprintf("%s, %s sure", x.Bag, percent(x.Sure))
		if x.Barred {
			s += ", DO NOT HEAT"
		}
	}
	if len(rest) > 0 {
		word := "else "
		if x.Bag == "" {
			word = "perhaps "
		}
		var names []string
		for _, e := range rest[:min(len(rest), 2)] {
			names = append(names, Material(e.Key)+" "+percent(e.Share))
		}
		s += "; " + word + strings.Join(names, ", ")
	}
	return s
}

// ChartSays is what the chart as a whole is worth.
func ChartSays(c *advice.BenchChart) string {
	if len(c.Lines) == 0 {
		return fmt.Sprintf("No test would change what a piece is bagged as: %s of what is in this bin would be right in one bag.", percent(1-c.Blind))
	}
	return fmt.Sprintf("Of pieces picked blind and bagged by this chart about %s end in a wrong bag or in none, against %s where all were called %s.",
		percent(c.Wrong), percent(c.Blind), Material(c.Start[0].Key))
}

// Chart writes the bench chart as one page of text.
func Chart(p *Page, a advice.Answer) {
	p.Title("Bench chart: " + a.Bin.Title)
	p.Title("Take two or three pieces that look alike: some tests use a piece up. Begin at 1; the answer is for all that look the same.")
	p.Section("first")
	for _, s := range a.Chart.First {
		p.Item("-", s.Do)
		cautions(p, s.Cautions)
	}
	if len(a.Chart.Baths) > 0 {
		p.Section("mix")
	}
	for _, s := range a.Chart.Baths {
		p.Item("-", s.Do)
		cautions(p, s.Cautions)
	}
	seen := map[cues.Kind]int{}
	for _, l := range a.Chart.Lines {
		p.Section(fmt.Sprint(l.N))
		p.Text(ChartDo(l), 0)
		if n, ok := seen[l.Kind]; ok {
			p.Item("!", fmt.Sprintf("cautions as in line %d", n))
		} else {
			cautions(p, l.Cautions)
			seen[l.Kind] = l.N
		}
		rows := [][]string{}
		for _, x := range l.Answers {
			rows = append(rows, []string{x.Outcome + " " + strings.Repeat(".", max(2, 14-len(x.Outcome))), cropped(ChartGoes(x), width-gutter-18)})
		}
		p.Table("ll", rows)
	}
	p.Section("worth")
	p.Text(ChartSays(a.Chart), 0)
}

// Report is what a report was written with.
type Report struct {
	File  string
	Parts []string // of the page, in order
}

// ReportJSON is the wire form: what was written, and the bench chart that stands in it.
func ReportJSON(r Report, a advice.Answer) any {
	return struct {
		File  string   `json:"file"`
		Title string   `json:"title"`
		Parts []string `json:"parts"`
		Chart any      `json:"chart"`
	}{r.File, a.Bin.Title, nonNil(r.Parts), ChartJSON(a.Chart)}
}

// ReportText says what was written and how to look at it.
func ReportText(p *Page, r Report) {
	p.Title("wrote " + r.File + ": one page that holds everything, with " + strings.ToLower(list(r.Parts)))
	p.Title("open it in any browser, or print it; nothing in it is fetched from elsewhere")
}
