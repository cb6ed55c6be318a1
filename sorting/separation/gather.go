// Package separation puts lots that go the same way into one fraction, and plans how to part what is
// still mixed: which baths and sorts, in what order, what they leave, and whether they are worth it.
package separation

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// Options of Gather; the zero value is the documented default.
type Options struct {
	Clean float64 // expected share of the main material from which a lot joins its clean bag; 0.90
	Main  float64 // expected share from which a lot is named by its main material at all; 0.55
}

func (o Options) withDefaults() Options {
	if o.Clean == 0 {
		o.Clean = 0.90
	}
	if o.Main == 0 {
		o.Main = 0.55
	}
	return o
}

// Input is what Gather is told of each lot of a composition, in its order.
type Input struct {
	Lot    sorting.Lot
	Heated bool // may be heated
	Tested int  // pieces tested
	How    []string
	Salts  []string
}

// Gather makes the fractions: lots of one main material that are clean enough and fall under the same
// heat rule go into one bag, a lot that is not clean enough keeps a bag of its own, and one without a
// main material is a mixture. Largest first.
func Gather(c *sorting.Composition, lots []Input, opt Options) []sorting.Fraction {
	opt = opt.withDefaults()
	var out []sorting.Fraction
	index := map[string]int{}
	for l, in := range lots {
		shares := MeanShares(c, l)
		k := largest(shares)
		material, key := c.Keys[k], fmt.Sprintf("lot|%d", l)
		switch {
		case shares[k] < opt.Main || material == string(polymers.Other):
			material = ""
		case shares[k] >= opt.Clean:
			key = fmt.Sprintf("%s|%v|%s", material, in.Heated, in.Lot.State)
		}
		at, ok := index[key]
		if !ok {
			at = len(out)
			index[key] = at
			out = append(out, begin(c, material))
		}
		join(&out[at], c, l, in, shares[k] < opt.Clean)
	}
	return name(out)
}

// begin opens a fraction of a material; empty for a mixture.
func begin(c *sorting.Composition, material string) sorting.Fraction {
	f := sorting.Fraction{Material: material, Keys: c.Keys, HardStops: c.HardStops, Possible: make([]float64, len(c.HardStops)),
		Origin: sorting.OwnPrint, OriginGiven: true, State: sorting.Dry, Prep: sorting.Flake, Settled: true}
	for range c.Grams {
		f.Grams = append(f.Grams, make([]float64, len(c.Keys)))
	}
	if material != "" {
		for _, s := range strings.Split(material, "/") {
			f.Symbols = append(f.Symbols, polymers.Symbol(s))
		}
	}
	return f
}

// join adds a lot. The hard stops' upper bounds are the worst of any lot: a bag is no safer than what
// was put into it.
func join(f *sorting.Fraction, c *sorting.Composition, l int, in Input, mixed bool) {
	K := len(c.Keys)
	for d, g := range c.Grams {
		for k := 0; k < K; k++ {
			f.Grams[d][k] += g[l*K+k]
		}
	}
	for i, p := range c.Possible[l] {
		f.Possible[i] = math.Max(f.Possible[i], p)
	}
	f.Lots = append(f.Lots, in.Lot.Name)
	f.CouldBe = add(f.CouldBe, in.Lot.CouldBe...)
	f.Origin, f.State, f.Prep = sorting.WeakestOrigin(f.Origin, in.Lot.Origin), sorting.Wettest(f.State, in.Lot.State), sorting.Airiest(f.Prep, in.Lot.Prep)
	f.OriginGiven = f.OriginGiven && in.Lot.OriginGiven
	f.Additives = add(f.Additives, in.Lot.Additives...)
	f.Colours = add(f.Colours, nonEmpty(in.Lot.Colour)...)
	f.Forms = add(f.Forms, nonEmpty(in.Lot.Form)...)
	f.Heats = max(f.Heats, in.Lot.Heats)
	f.Baths = add(f.Baths, in.Salts...)
	f.HowTold = add(f.HowTold, in.How...)
	f.Tested += in.Tested
	if in.Tested == 0 {
		f.Untested = append(f.Untested, in.Lot.Name)
	}
	f.Settled = f.Settled && l < len(c.Settled) && c.Settled[l]
	f.Mixed = f.Mixed || mixed || (in.Lot.Mixed != nil && *in.Lot.Mixed)
}

func nonEmpty(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

func add[T comparable](list []T, more ...T) []T {
	for _, x := range more {
		if !slices.Contains(list, x) {
			list = append(list, x)
		}
	}
	return list
}

// name orders the fractions by expected mass and gives each a name of its own.
func name(list []sorting.Fraction) []sorting.Fraction {
	mass := make(map[string]float64, len(list))
	for _, f := range list {
		mass[f.Lots[0]] = meanMass(f)
	}
	slices.SortStableFunc(list, func(a, b sorting.Fraction) int {
		switch x, y := mass[a.Lots[0]], mass[b.Lots[0]]; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	taken := map[string]int{}
	for i := range list {
		base := list[i].Material
		if base == "" {
			base = "mixed"
		} else if list[i].Mixed {
			base = "mostly " + base
		}
		if taken[base]++; taken[base] > 1 {
			base = fmt.Sprintf("%s %d", base, taken[base])
		}
		list[i].Name = base
	}
	return list
}

func meanMass(f sorting.Fraction) float64 {
	total := 0.0
	for _, g := range f.Grams {
		for _, x := range g {
			total += x
		}
	}
	return total / math.Max(1, float64(len(f.Grams)))
}

// MeanShares are the expected mass shares of lot l by key: the mean over the draws of its shares.
func MeanShares(c *sorting.Composition, l int) []float64 {
	K := len(c.Keys)
	out := make([]float64, K)
	n := 0.0
	for _, g := range c.Grams {
		total := 0.0
		for k := 0; k < K; k++ {
			total += g[l*K+k]
		}
		if total <= 0 {
			continue
		}
		n++
		for k := range out {
			out[k] += g[l*K+k] / total
		}
	}
	if n == 0 {
		out[K-1], n = 1, 1 // no mass in any draw: nothing is known of it
	}
	for k := range out {
		out[k] /= n
	}
	return out
}

func largest(x []float64) int {
	b := 0
	for i := range x {
		if x[i] > x[b] {
			b = i
		}
	}
	return b
}
