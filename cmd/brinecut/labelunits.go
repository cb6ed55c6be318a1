package main

import (
	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/cmd/brinecut/internal/show"
)

// beside puts the units asked for behind the metric ones on paper: whoever takes a bag weighs it in
// kilograms, whatever its sender reads.
func (a *app) beside(job *paper.Job) {
	kept := show.Kept(a.names...)
	for i := range job.Labels {
		l := &job.Labels[i]
		l.Mass = a.units.show().Beside(l.Mass, kept...)
		for k := range l.Facts {
			l.Facts[k].Value = a.units.show().Beside(l.Facts[k].Value, kept...)
		}
	}
	a.besideSheets(job.Handovers)
}

// besideSheets does the same on hand-over sheets.
func (a *app) besideSheets(sheets []paper.Handover) {
	kept := show.Kept(a.names...)
	both := func(s *string) { *s = a.units.show().Beside(*s, kept...) }
	for _, h := range sheets {
		for i := range h.Fields {
			both(&h.Fields[i].Value)
		}
		for i := range h.Bags {
			b := &h.Bags[i]
			both(&b.Gross)
			both(&b.Tare)
			both(&b.Net)
		}
	}
}
