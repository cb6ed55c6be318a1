package main

import (
	"slices"
	"strings"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

// lotLabels are for what is not sorted yet: one a lot, headed NOT IDENTIFIED.
func lotLabels(ans advice.Answer, date string) []paper.Label {
	names := make([]string, len(ans.Lots))
	for i, l := range ans.Lots {
		names[i] = l.Name
	}
	ids := paper.IDs(names)
	out := make([]paper.Label, len(ans.Lots))
	for i, l := range ans.Lots {
		words := reuse.InterimWords(l.Name, l.Heat)
		lot, _ := ans.Bin.Lot(l.Name) // what is left over of a bin is no lot of the file, and has nothing recorded
		out[i] = paper.Label{Head: words.Head, Stop: words.Stop, Name: words.Lines[0], ID: ids[i], Mass: lotWeighed(lot)}
		for _, line := range words.Lines[1:] {
			out[i].Facts = append(out[i].Facts, paper.Fact{Value: line + "."})
		}
		out[i].Facts[0].Keep = true
		out[i].Facts = append(out[i].Facts, paper.Fact{Name: "Comes from", Value: cameFrom(lot)}, paper.Fact{Name: "Bin", Value: ans.Bin.Title},
			paper.Fact{Name: "Date", Value: date}, paper.Fact{Name: "Taken out, when"})
	}
	return out
}

// lotWeighed is a lot's mass as it was weighed, and how wet.
func lotWeighed(l sorting.Lot) string {
	g := l.Mass.Value
	switch {
	case l.Mass.Given():
	case l.Gross.Given():
		g = l.Gross.Value - l.Tare.Value
	default:
		return "not weighed"
	}
	words := quantity.Format(g) + " when weighed"
	if l.State == sorting.Wet || l.State == sorting.SurfaceDry {
		words += ", " + strings.ReplaceAll(string(l.State), "-", " ")
	}
	return words
}

// cameFrom is where a lot comes from, as its file says it; a line to write on where it does not.
func cameFrom(l sorting.Lot) string {
	if !l.OriginGiven {
		return ""
	}
	return map[sorting.Origin]string{sorting.OwnPrint: "own prints", sorting.Moulded: "moulded or bought parts", sorting.UnknownOrigin: "unknown"}[l.Origin]
}

// boxLabels are for the boxes that keep the next build's scrap apart: one for every material that the
// file names as printed, and one for all that nobody is sure of.
func boxLabels(bin *sorting.Bin) []paper.Label {
	var out []paper.Label
	for _, s := range printedHere(bin) {
		out = append(out, boxLabel(s))
	}
	return append(out, paper.Label{Head: "NOT IDENTIFIED", Stop: "DO NOT HEAT", Name: "everything that nobody is sure of",
		Facts: []paper.Fact{
			{Value: "Sweepings, purge of two materials, found pieces, bought parts. Nothing goes from here into another box without a test.", Keep: true},
			{Value: "No batteries, circuit boards, or parts of uncured resin: those go to the collection point.", Keep: true},
			{Name: "Begun on"},
		}})
}

// printedHere lists the materials that counters, spools, snippets and good parts name, as first named;
// where none does, those that the lots could be.
func printedHere(bin *sorting.Bin) []polymers.Symbol {
	var list []polymers.Symbol
	for _, c := range bin.Printed {
		list = append(append(list, c.Material), c.Hidden...)
		for _, j := range c.JobRows {
			if s, err := polymers.Lookup(j.Material); err == nil {
				list = append(list, s)
			}
		}
	}
	for _, s := range bin.Spools {
		list = append(list, s.Material)
	}
	for _, k := range bin.Known {
		list = append(list, k.Material)
	}
	for _, k := range bin.Kept {
		list = append(list, k.Materials...)
	}
	if len(list) == 0 {
		for _, l := range bin.Lots {
			list = append(list, l.CouldBe...)
		}
	}
	return slices.DeleteFunc(merged(nil, list), func(s polymers.Symbol) bool { return s == "" || s == polymers.Other })
}

func boxLabel(s polymers.Symbol) paper.Label {
	m, _ := polymers.Find(s)
	l := paper.Label{Head: m.Marking, Name: string(s), Snippet: true}
	if l.Head == "" {
		l.Head = string(s)
	}
	if m.Name != "" {
		l.Name += ", " + m.Name
	}
	l.Facts = []paper.Fact{{Value: "Only " + string(s) + ": supports, failed prints and purge. A colour change between two materials is purge of both: it goes to NOT IDENTIFIED.", Keep: true},
		{Name: "Spools, colours"}, {Name: "Machine"}, {Name: "Begun on"}}
	if m.WaterSoluble {
		l.Facts = slices.Insert(l.Facts, 1, paper.Fact{Value: "Keep dry and closed: it turns to glue in damp air and water.", Keep: true})
	}
	if m.NeverHeat {
		l.Stop = "DO NOT HEAT"
		l.Facts = slices.Insert(l.Facts, 1, paper.Fact{Value: "Never heated: " + strings.TrimSuffix(m.NeverHeatWhy, ".") + ".", Keep: true})
	}
	return l
}
