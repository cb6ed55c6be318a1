package reuse

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/polymers/quantity"
)

// Build is what a bin says of the build it came from, in the figures prevention is drawn from. All
// masses are expected values in g; zero means none or not known.
type Build struct {
	Bin       float64        // all scrap in the bin
	Printed   float64        // what the counters say was printed
	Counters  []CounterScrap // by counter and material
	Failed    []FailedScrap  // failed jobs by machine
	Mixed     float64        // in bags that hold more than one material, or may
	Unknown   float64        // in fractions that were not identified
	Soluble   float64        // soluble support in the bin
	SortHours float64        // bench time that testing and parting take, h
	Unused    float64        // going to disposal or special waste, what is mixed, unknown or soluble counted too
}

// CounterScrap is how much of the bin one counter made of one material, and whether the counter books
// it under another's name. Support tells supports from parts.
type CounterScrap struct {
	From, Material, BookedAs string
	Support                  bool
	Mass                     float64
}

// FailedScrap is what a machine's failed jobs made.
type FailedScrap struct {
	Machine string
	Jobs    int
	Mass    float64
	Hours   float64
}

// line is one thing to do differently, ranked by the kilograms it would have kept out or apart.
type line struct {
	mass  float64
	words string
}

// fewerSupports is how much support material an optimised support saves: 40.5 % on average, 24.5 to
// 68.1 % (Vanek, Galicia, Benes, Clever Support, Computer Graphics Forum 33 (2014) 117, abstract).
const fewerSupports = 0.405

// Prevent says what would make the next bin smaller or save the sorting: at most five lines, the one
// that saves most first, each with its kilograms. Lines come from the bin's own figures alone; what is
// not known gives no line.
func Prevent(b Build) []string {
	lines := slices.Concat(failures(b), booked(b), mixtures(b), solubles(b), unknowns(b), supports(b), leftovers(b))
	lines = slices.DeleteFunc(lines, func(l line) bool { return !(l.mass >= 1) })
	slices.SortStableFunc(lines, func(x, y line) int { return cmp.Compare(y.mass, x.mass) })
	var out []string
	for _, l := range lines[:min(5, len(lines))] {
		out = append(out, l.words)
	}
	return out
}

// WasteShare judges the scrap against what was printed: usual is 10 to 35 % of the filament where there
// is much support (common practice; Song and Telenko, J Clean Prod 148 (2017) 895, have about 34 %, from
// memory); outside 2 to 60 % a weighing or a counter is likely wrong. Empty where it is usual or unknown.
func WasteShare(b Build) string {
	if !(b.Printed > 0 && b.Bin > 0) {
		return ""
	}
	s := b.Bin / b.Printed
	switch {
	case s < 0.02 || s > 0.60:
		return fmt.Sprintf("the bin is %s of what was printed: outside 2 to 60 %%, check the weighings and the counters", percent(s))
	case s > 0.35:
		return fmt.Sprintf("the bin is %s of what was printed; 10 to 35 %% is usual, more than half only with colour changes in one nozzle", percent(s))
	}
	return ""
}

func failures(b Build) []line {
	var out []line
	for _, f := range b.Failed {
		words := fmt.Sprintf("%d failed prints on %s made %s%s", f.Jobs, f.Machine, grams(f.Mass), ofBin(f.Mass, b))
		if f.Hours > 0 {
			words += fmt.Sprintf(" and took %.3g h", f.Hours)
		}
		out = append(out, line{f.Mass, words + ": watch the first layers, stop early"})
	}
	return out
}

// booked finds material that a counter books under another's name: a box beside that machine keeps it
// apart without a test.
func booked(b Build) []line {
	var out []line
	for _, c := range b.Counters {
		if c.BookedAs == "" || c.BookedAs == c.Material {
			continue
		}
		out = append(out, line{c.Mass, fmt.Sprintf("%s %s came off %s, counted as %s%s: a box of its own there keeps it apart%s",
			grams(c.Mass), c.Material, c.From, c.BookedAs, ofBin(c.Mass, b), saving(c.Mass, b))})
	}
	return out
}

func mixtures(b Build) []line {
	words := fmt.Sprintf("%s lay mixed or was not shown to be one material%s: one box a material from the start%s", grams(b.Mixed), ofBin(b.Mixed, b), saving(b.Mixed, b))
	return []line{{b.Mixed, words}}
}

// saving is the bench time that goes with a mass, if sorting time falls on all of the bin alike.
func saving(mass float64, b Build) string {
	if !(b.SortHours > 0 && b.Bin > 0) {
		return ""
	}
	return fmt.Sprintf(", about %s less sorting", quantity.Format(quantity.Second(60*math.Ceil(b.SortHours*60*min(1, mass/b.Bin)))))
}

func solubles(b Build) []line {
	return []line{{b.Soluble, fmt.Sprintf("%s soluble support reached the bin: break it off dry before anything gets wet, it spoils every melt", grams(b.Soluble))}}
}

func unknowns(b Build) []line {
	return []line{{b.Unknown, fmt.Sprintf("%s stayed not identified%s: a snippet of each spool on a card, with its name, settles most of it%s", grams(b.Unknown), ofBin(b.Unknown, b), saving(b.Unknown, b))}}
}

func supports(b Build) []line {
	total, names := 0.0, []string{}
	for _, c := range b.Counters {
		if c.Support {
			total += c.Mass
			if !slices.Contains(names, c.Material) {
				names = append(names, c.Material)
			}
		}
	}
	return []line{{total * fewerSupports, fmt.Sprintf("supports of %s made %s: turning the part or a sparser support saves about 40 %% of it, %s (published 24.5 to 68.1 %%)",
		strings.Join(names, ", "), grams(total), grams(total*fewerSupports))}}
}

// leftovers are what can only be thrown out for its kind: filled grades, flame-retarded ones, hard stops.
func leftovers(b Build) []line {
	rest := b.Unused - b.Mixed - b.Unknown - b.Soluble
	return []line{{rest, fmt.Sprintf("%s can only be thrown out for what it is: next time a grade that your bench or an outlet takes", grams(rest))}}
}

func ofBin(mass float64, b Build) string {
	if !(b.Bin > 0) {
		return ""
	}
	if mass > 0.995*b.Bin {
		return " (all of the bin)"
	}
	return fmt.Sprintf(" (%s of the bin)", percent(mass/b.Bin))
}
