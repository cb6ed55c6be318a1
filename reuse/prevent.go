package reuse

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"brinecut/polymers/quantity"
)

// Build is what a bin says of the build it came from, in the figures prevention is drawn from. All
// masses are expected values in g; zero means none or not known.
type Build struct {
	Bin     float64        // all scrap in the bin
	Own     bool           // all of it stated as own print
	Printed float64        // what the counters say was printed; zero unless all of them say
	Main    CounterScrap   // what most of the bin is of, and the counters that book it
	Booked  []CounterScrap // material that a counter books under another's name
	Failed  []FailedScrap  // failed jobs by machine
	Hours   float64        // printing time a kilogram by the job lists, h; zero without hours in them
	Mixed   float64        // in bags that hold more than one material, or may
	Unknown float64        // in fractions that were not identified
	Soluble CounterScrap   // soluble support in the bin, and the counters that book it
	Unused  float64        // going to disposal or special waste, what is mixed, unknown or soluble counted too

	SortHours float64 // bench time of testing and parting, done and to come, h
	PickHours float64 // of picking soluble support out, h
	Tests     int     // pieces tested so far
	Snippets  int     // known snippets in the file
}

// CounterScrap is how much of the bin is of one material, and which counters say it was printed; BookedAs
// is the material a counter books it under, where that is another.
type CounterScrap struct {
	From, Material, BookedAs string
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
// that saves most first, each with its kilograms and, where the file knows them, its hours. Lines come from
// the bin's own figures alone; what is not known gives no line.
func Prevent(b Build) []string {
	lines := slices.Concat(failures(b), booked(b), mixtures(b), solubles(b), snippets(b), supports(b), leftovers(b))
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
// memory); outside 2 to 60 % a weighing or a counter is likely wrong, or one nozzle changed colours: a small cube
// took 88 % (remainingproblems.com). Empty where it is usual or unknown.
func WasteShare(b Build) string {
	if !(b.Printed > 0 && b.Bin > 0) {
		return ""
	}
	s := b.Bin / b.Printed
	switch {
	case s > 0.60:
		return fmt.Sprintf("the bin is %s of what was printed: above 60 %% one nozzle changed colours often, or a weighing or a counter is wrong", twoDigits(s))
	case s < 0.02:
		return fmt.Sprintf("the bin is %s of what was printed: below 2 %% a weighing or a counter is likely wrong, or scrap went elsewhere", twoDigits(s))
	case s > 0.35:
		return fmt.Sprintf("the bin is %s of what was printed; 10 to 35 %% is usual, more than half only with colour changes in one nozzle", twoDigits(s))
	}
	return ""
}

func failures(b Build) []line {
	var out []line
	for _, f := range b.Failed {
		jobs := fmt.Sprintf("%d failed prints", f.Jobs)
		if f.Jobs == 1 {
			jobs = "one failed print"
		}
		words := fmt.Sprintf("%s on %s made %s%s", jobs, f.Machine, grams(f.Mass), ofBin(f.Mass, b))
		if f.Hours > 0 {
			words += fmt.Sprintf(" and took %s of printing", hours(f.Hours))
		}
		out = append(out, line{f.Mass, words + ": watch the first layers, stop early"})
	}
	return out
}

// booked finds material that a counter books under another's name: a box beside that machine keeps it
// apart without a test.
func booked(b Build) []line {
	var out []line
	for _, c := range b.Booked {
		out = append(out, line{c.Mass, fmt.Sprintf("%s %s came off %s, counted as %s%s: a box of its own there keeps it apart%s",
			grams(c.Mass), c.Material, c.From, c.BookedAs, ofBin(c.Mass, b), saving(c.Mass, b))})
	}
	return out
}

func mixtures(b Build) []line {
	words := fmt.Sprintf("%s lay mixed or was not shown to be one material%s: one box a material from the start%s", grams(b.Mixed), ofBin(b.Mixed, b), saving(b.Mixed, b))
	return []line{{b.Mixed, words}}
}

// saving is the bench time that goes with a mass, if testing and parting fall on all of the bin alike.
func saving(mass float64, b Build) string {
	if !(b.SortHours > 0 && b.Bin > 0) {
		return ""
	}
	return fmt.Sprintf(", about %s less testing and parting", hours(b.SortHours*min(1, mass/b.Bin)))
}

func hours(h float64) string {
	return quantity.Format(quantity.Second(60 * math.Ceil(h*60-1e-9)))
}

// leastSoluble is the share of a bin from which soluble support is spoken of, a quarter of it where a counter
// counts some (judgement).
const leastSoluble = 0.02

func solubles(b Build) []line {
	words := fmt.Sprintf("%s soluble support reached the bin%s%s: break it off dry at the printer, before anything gets wet; it spoils every melt", grams(b.Soluble.Mass), ofBin(b.Soluble.Mass, b), countedBy(b.Soluble.From))
	if b.PickHours > 0 {
		words += fmt.Sprintf(", about %s less picking", hours(b.PickHours))
	}
	least := leastSoluble
	if b.Soluble.From != "" {
		least /= 4
	}
	if !(b.Soluble.Mass >= least*b.Bin) {
		return nil // that little rests on what is usual, not on this bin
	}
	return []line{{b.Soluble.Mass, words}}
}

func countedBy(counters string) string {
	if counters == "" {
		return ""
	}
	return ", counted by " + counters
}

// snippets are asked for where something stayed unidentified, or was tested without one known piece beside it.
func snippets(b Build) []line {
	if b.Unknown >= 1 {
		return []line{{b.Unknown, fmt.Sprintf("%s stayed not identified%s: a card with a snippet of each spool and its name, written down as [[known]], settles most of it%s", grams(b.Unknown), ofBin(b.Unknown, b), saving(b.Unknown, b))}}
	}
	if b.Snippets > 0 || b.Tests == 0 || !(b.SortHours > 0) {
		return nil
	}
	return []line{{b.Bin, fmt.Sprintf("all %s was judged without one known piece beside it (%s tested): a card with a snippet of each spool, written down as [[known]], would have answered part of what took about %s of testing and parting",
		grams(b.Bin), pieces(b.Tests), hours(b.SortHours))}}
}

// supports is what no failed print explains: support, brim and purge.
func supports(b Build) []line {
	rest := b.Bin - b.Soluble.Mass
	for _, f := range b.Failed {
		rest -= f.Mass
	}
	if !b.Own || !(rest > 0) || !(b.Printed > 0) {
		return nil
	}
	saves := rest * fewerSupports
	words := fmt.Sprintf("%s of the bin is support and purge, and failed prints that no job list names", grams(rest))
	if b.Main.From != "" {
		words += fmt.Sprintf(", most of it %s counted by %s", b.Main.Material, b.Main.From)
	}
	words += fmt.Sprintf(": turning parts and sparser support save about 40 %% of what is support (published 24.5 to 68.1 %%), up to %s", grams(saves))
	if b.Hours > 0 {
		words += fmt.Sprintf(" and about %s of printing", hours(saves/1000*b.Hours))
	}
	return []line{{saves, words}}
}

// leftovers are what can only be thrown out for its kind: filled grades, flame-retarded ones, hard stops.
func leftovers(b Build) []line {
	rest := b.Unused - b.Mixed - b.Unknown - b.Soluble.Mass
	return []line{{rest, fmt.Sprintf("%s can only be thrown out for what it is: next time a grade that your bench or an outlet takes", grams(rest))}}
}

func ofBin(mass float64, b Build) string {
	if !(b.Bin > 0) {
		return ""
	}
	if mass > 0.995*b.Bin {
		return " (all of the bin)"
	}
	return fmt.Sprintf(" (%s of the bin)", twoDigits(mass/b.Bin))
}
