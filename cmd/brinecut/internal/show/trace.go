package show

import (
	"brinecut/sorting"
)

type traceStep struct {
	What  string `json:"what"`
	Main  string `json:"mostly"`
	Share number `json:"share"`
	Bits  number `json:"surprise_bits"`
}

// traceOf gives what each piece of evidence did to one lot.
func traceOf(list []sorting.Trace, lot string) []traceStep {
	out := []traceStep{}
	for _, t := range list {
		if t.Lot != lot {
			continue
		}
		for _, s := range t.Steps {
			out = append(out, traceStep{s.What, s.Main, number(s.Share), number(s.Bits)})
		}
	}
	return out
}

// traces writes how each lot's answer came about, one piece of evidence a line.
func traces(p *Page, list []sorting.Trace) {
	p.Section("how so")
	rows := [][]string{{"", "then mostly", "share", "surprise"}}
	for _, t := range list {
		rows = append(rows, []string{name(cropped(t.Lot, 30))})
		for _, s := range t.Steps {
			surprise := ""
			if s.Bits > 0 {
				surprise = digits(s.Bits, 2) + " bits"
			}
			rows = append(rows, []string{"  " + cropped(s.What, 44), s.Main, percent(s.Share), surprise})
		}
	}
	p.Table("llrr", rows)
	p.Line("each bit of surprise halves how likely the outcome was before it")
}
