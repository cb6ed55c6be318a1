package main

import (
	"slices"
	"strconv"
	"strings"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/quantity"
	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

// batch is the bags that hold the same fractions, or the one planned bag of a fraction.
type batch struct {
	name     string
	fraction sorting.Fraction
	decision reuse.Decision
	bags     []sorting.Bag
}

// labelJob gathers what is printed of a bin, and the list of it.
func (a *app) labelJob(f *labelFlags, path string) (paper.Job, show.Labels, error) {
	if f.what == "boxes" {
		bin, _, err := a.open(path)
		if err != nil {
			return paper.Job{}, show.Labels{}, err
		}
		labels := boxLabels(bin)
		return paper.Job{Title: bin.Title, Labels: labels}, listOf(f.what, labels), nil
	}
	ans, err := a.judge(path, nil)
	if err != nil {
		return paper.Job{}, show.Labels{}, err
	}
	job := paper.Job{Title: ans.Bin.Title}
	if f.what == "lots" {
		job.Labels = lotLabels(ans, f.date)
		return job, listOf(f.what, job.Labels), nil
	}
	list := show.Labels{What: f.what, Planned: len(ans.Bin.Bags) == 0}
	ids := idsOf(ans)
	for _, b := range batches(ans) {
		if f.handover != "only" {
			for i := range max(1, len(b.bags)) {
				l := b.label(f, ans.Bin.Supplier, ids, i)
				job.Labels = append(job.Labels, l)
				list.Labels = append(list.Labels, b.listed(l, i))
			}
		}
		if f.handover == "only" || f.handover == "last" && f.roll == "" {
			job.Handovers = append(job.Handovers, b.sheet(f, ans.Bin, ids))
		}
	}
	return job, list, nil
}

func listOf(what string, labels []paper.Label) show.Labels {
	out := show.Labels{What: what}
	for _, l := range labels {
		out.Labels = append(out.Labels, show.Label{ID: l.ID, Head: l.Head, Stop: l.Stop, Name: l.Name})
	}
	return out
}

// idsOf gives every bag, or every fraction where no bag is written down, its id by its name.
func idsOf(ans advice.Answer) map[string]string {
	var names []string
	for _, b := range ans.Bin.Bags {
		names = append(names, b.ID)
	}
	if len(names) == 0 {
		for _, f := range ans.Fractions {
			names = append(names, f.Name)
		}
	}
	out := map[string]string{}
	for i, id := range paper.IDs(names) {
		out[names[i]] = id
	}
	return out
}

// batches puts bags of the same fractions together, in the order of the file; without bags every
// fraction is one, planned.
func batches(ans advice.Answer) []batch {
	var out []batch
	if len(ans.Bin.Bags) == 0 {
		for _, f := range ans.Fractions {
			out = append(out, batch{name: f.Name, fraction: f.Fraction, decision: f.Decision})
		}
		return out
	}
	for _, bag := range ans.Bin.Bags {
		b := contents(ans, bag)
		i := slices.IndexFunc(out, func(x batch) bool {
			return x.name == b.name && slices.Equal(x.fraction.Lots, b.fraction.Lots)
		})
		if i < 0 {
			out = append(out, b)
			i = len(out) - 1
		}
		out[i].bags = append(out[i].bags, bag)
	}
	return out
}

// contents is what a bag holds. One that holds lots of several fractions is a mixture, whatever each of
// them is; of a part of a fraction's lots nothing is demonstrated, for the pieces were drawn from all.
func contents(ans advice.Answer, bag sorting.Bag) batch {
	var parts []advice.Fraction
	for _, f := range ans.Fractions {
		if slices.ContainsFunc(f.Lots, func(lot string) bool { return within(ans.Bin, lot, bag.Lots) }) {
			parts = append(parts, f)
		}
	}
	if len(parts) == 1 {
		b := batch{name: parts[0].Name, fraction: parts[0].Fraction, decision: parts[0].Decision}
		for _, lot := range b.fraction.Lots {
			if !within(ans.Bin, lot, bag.Lots) {
				b.fraction.Demonstrated = nil
			}
		}
		b.fraction.Lots = bag.Lots
		return b
	}
	return mixture(ans, parts, bag.Lots)
}

// within reports whether a lot is one of those named, or came from one of them by splits and merges.
func within(bin *sorting.Bin, lot string, named []string) bool {
	if slices.Contains(named, lot) {
		return true
	}
	return slices.ContainsFunc(bin.Parents(lot), func(p string) bool { return within(bin, p, named) })
}

// mixture is a bag of several fractions, or of lots that are gone: nothing of it is marked.
func mixture(ans advice.Answer, parts []advice.Fraction, lots []string) batch {
	f := sorting.Fraction{Name: "mixed", Lots: lots, Mixed: true, Origin: sorting.UnknownOrigin}
	for i, p := range parts {
		if i == 0 {
			f = p.Fraction
			f.Name, f.Material, f.Symbols, f.Lots, f.Mixed = "mixed", "", nil, lots, true
			f.Demonstrated, f.Grams, f.Possible = nil, cloneGrams(p.Grams), slices.Clone(p.Possible)
			continue
		}
		f.Origin, f.OriginGiven = sorting.WeakestOrigin(f.Origin, p.Origin), f.OriginGiven && p.OriginGiven
		f.State, f.Tested, f.Heats = sorting.Wettest(f.State, p.State), f.Tested+p.Tested, max(f.Heats, p.Heats)
		f.Colours, f.Forms, f.Additives = merged(f.Colours, p.Colours), merged(f.Forms, p.Forms), merged(f.Additives, p.Additives)
		f.Baths, f.HowTold, f.CouldBe = merged(f.Baths, p.Baths), merged(f.HowTold, p.HowTold), merged(f.CouldBe, p.CouldBe)
		for d := range f.Grams {
			for k := range f.Grams[d] {
				f.Grams[d][k] += p.Grams[d][k]
			}
		}
		for k := range f.Possible {
			f.Possible[k] = max(f.Possible[k], p.Possible[k])
		}
	}
	d, err := reuse.Choose(f, advice.Situation(ans.Bin), reuse.Options{})
	if err != nil { // no mass is known of it
		d = reuse.Decision{Route: reuse.Hold}
	}
	return batch{name: f.Name, fraction: f, decision: d}
}

func cloneGrams(draws [][]float64) [][]float64 {
	out := make([][]float64, len(draws))
	for i := range draws {
		out[i] = slices.Clone(draws[i])
	}
	return out
}

func merged[T comparable](a, b []T) []T {
	out := slices.Clone(a)
	for _, x := range b {
		if !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	return out
}

// net is a bag's mass as weighed.
func net(b sorting.Bag) quantity.Mass {
	n := b.Gross
	n.Value -= b.Tare.Value
	return n
}

// label of the i-th bag, or of the planned one.
func (b batch) label(f *labelFlags, supplier *sorting.Supplier, ids map[string]string, i int) paper.Label {
	words := reuse.LabelWords(b.fraction, b.decision)
	l := paper.Label{Head: words.Head, Stop: words.Stop, Name: words.Lines[0], ID: ids[b.name], Mass: "planned, not weighed"}
	h := reuse.Handover{Supplier: supplier, Date: f.date, Rinses: f.rinses}
	if len(b.bags) > 0 {
		l.ID = ids[b.bags[i].ID]
		l.Mass = quantity.Format(net(b.bags[i]).Value) + " net, weighed"
		l.Count = "bag " + strconv.Itoa(i+1) + " of " + strconv.Itoa(len(b.bags))
	}
	l.Facts = b.facts(reuse.HandoverFields(b.fraction, b.decision, h), f.date)
	return l
}

// facts picks the lines of a bag's label from those of the hand-over sheet, most needed first.
func (b batch) facts(fields []reuse.Field, date string) []paper.Fact {
	identified, purity := reuse.ShortFields(b.fraction, b.decision)
	value := func(name string) string {
		i := slices.IndexFunc(fields, func(f reuse.Field) bool { return f.Name == name })
		return fields[i].Value
	}
	facts := []paper.Fact{
		{Name: "Identified by", Value: identified, Keep: true},
		{Name: "Other polymers", Value: value("Other polymers"), Keep: true},
		{Name: "Flame retardant", Value: value("Flame retardant"), Keep: true},
		{Name: "Purity shown", Value: purity, Keep: true},
		{Name: "Baths", Value: value("Baths and rinses"), Keep: true},
		{Name: "Not for", Value: value("Not for")},
		{Name: "Date", Value: date},
		{Name: "Supplier", Value: blank(value("Supplier"))},
		{Name: "Declaration", Value: value("Declaration")},
		{Name: "History", Value: value("History")},
		{Name: "Colour", Value: blank(value("Colour"))},
	}
	return append(facts, paper.Fact{Name: "Sender's plan", Value: reuse.PlanWords(b.decision)})
}

// blank turns what was not recorded into a line to write on.
func blank(value string) string {
	if value == reuse.NotRecorded {
		return ""
	}
	return value
}

func (b batch) listed(l paper.Label, i int) show.Label {
	out := show.Label{ID: l.ID, Head: l.Head, Stop: l.Stop, Name: l.Name, Planned: len(b.bags) == 0, Fraction: b.name}
	if len(b.bags) > 0 {
		g := float64(net(b.bags[i]).Value)
		out.Bag, out.NetG, out.Number, out.Of = b.bags[i].ID, &g, i+1, len(b.bags)
	}
	return out
}

// sheet is the batch's hand-over sheet.
func (b batch) sheet(f *labelFlags, bin *sorting.Bin, ids map[string]string) paper.Handover {
	words := reuse.LabelWords(b.fraction, b.decision)
	h := reuse.Handover{Supplier: bin.Supplier, Date: f.date, Lot: strings.Join(b.fraction.Lots, ", "), Bags: len(b.bags), Packaging: f.packaging, Rinses: f.rinses}
	out := paper.Handover{Title: bin.Title, Batch: b.name, Head: words.Head, Stop: words.Stop}
	if len(b.bags) > 0 {
		total := quantity.Mass{}
		for i, bag := range b.bags {
			n := net(bag)
			if i == 0 {
				total = n
			} else {
				total.Value += n.Value
			}
			out.Bags = append(out.Bags, paper.Bag{Name: bag.ID, ID: ids[bag.ID], Gross: bag.Gross.Text, Tare: bag.Tare.Text,
				Net: quantity.Format(n.Value), Lots: strings.Join(bag.Lots, ", ")})
		}
		h.Weighed = &total
	}
	out.Fields = reuse.HandoverFields(b.fraction, b.decision, h)
	return out
}
