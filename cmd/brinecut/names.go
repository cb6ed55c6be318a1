package main

import "brinecut/sorting"

// namesIn are the words of a bin that its owner chose: they stay as they were written, whatever units
// the text around them is in.
func namesIn(bin *sorting.Bin) []string {
	out := append([]string{bin.Title}, lotNames(bin)...)
	add := func(names ...string) { out = append(out, names...) }
	for _, s := range bin.Scales {
		add(s.Name)
	}
	for _, c := range bin.Printed {
		add(c.From)
		for _, j := range c.JobRows {
			add(j.Machine)
		}
	}
	for _, k := range bin.Kept {
		add(k.What)
	}
	for _, t := range bin.Thrown {
		add(t.What)
	}
	for _, k := range bin.Known {
		add(k.Name, k.Spool, k.Colour)
	}
	for _, l := range bin.Lots {
		add(l.Name, l.Colour, l.Form)
	}
	for _, b := range bin.Baths {
		add(b.Name)
	}
	for _, o := range bin.Tests {
		add(o.Note, o.By)
	}
	for _, s := range bin.Splits {
		add(s.Lot)
	}
	for _, m := range bin.Merges {
		add(m.From...)
	}
	for _, t := range bin.Taken {
		add(t.For)
	}
	for _, b := range bin.Bags {
		add(b.ID)
	}
	for _, s := range bin.Streams {
		add(s.Name, s.From, s.To)
	}
	for _, o := range bin.Outlets {
		add(o.Name)
		add(o.Refuses...)
	}
	return out
}
