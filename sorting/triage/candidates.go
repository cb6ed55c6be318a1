package triage

import (
	"math"
	"slices"

	"brinecut/polymers"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// Why a candidate is on the list although the file does not name it.
const (
	usualWhy   = "usual in printing"
	foreignWhy = "not printed here"
)

// usual is what desktop printers are commonly fed, with shares of judgement (common practice, no
// source): what a bin may hold although nothing names it.
var usual = []sorting.Candidate{
	{Symbol: "PLA", Weight: 0.34}, {Symbol: "PETG", Weight: 0.24}, {Symbol: "ABS", Weight: 0.10}, {Symbol: "TPU", Weight: 0.09},
	{Symbol: "ASA", Weight: 0.06}, {Symbol: "PVA", Weight: 0.06}, {Symbol: "HIPS", Weight: 0.03}, {Symbol: "PC", Weight: 0.03},
	{Symbol: "PA6", Weight: 0.025}, {Symbol: "PP", Weight: 0.025},
}

// Prior shares, judgement: what nothing names, and what is on no list.
const (
	unnamedShare = 0.04
	otherShare   = 0.015
	offShelf     = 0.08 // weight of a material the bin names but this lot's could_be does not
	foreignShare = 0.25 // of a lot that is moulded or of unknown origin: materials printers do not use
)

// foreign is what scrap that was not printed here may be besides; judgement.
var foreign = []polymers.Symbol{"PVC-U", "POM", "PP", "ABS"}

// Candidates lists what the bin may hold, with prior shares of mass: what the file names first, then
// the usual filaments, then, where a lot was not printed here, common foreign plastics, and at the end
// "other", which always keeps a share. A usual material that no test tells from a named one is left
// out (see Options.Alike): nothing could ever speak for it.
func Candidates(bin *sorting.Bin, alike func(a, b polymers.Symbol) bool) []sorting.Candidate {
	n := namer{weight: map[polymers.Symbol]float64{}}
	n.readBin(bin)
	out := n.named()
	total := 0.0
	for _, c := range out {
		total += c.Weight
	}
	open := 1 - otherShare
	if len(out) > 0 {
		open -= unnamedShare
		for i := range out {
			out[i].Weight *= open / total
		}
		open = unnamedShare
	}
	out = append(out, unnamed(out, open, alike)...)
	if notPrinted(bin) {
		out = addForeign(out)
	}
	return append(out, sorting.Candidate{Symbol: polymers.Other, Weight: otherShare, Why: "not on any list"})
}

// namer collects the materials that the bin file names, in the order of first mention.
type namer struct {
	order  []polymers.Symbol
	weight map[polymers.Symbol]float64
	why    map[polymers.Symbol]string
}

func (n *namer) add(s polymers.Symbol, w float64, why string) {
	s = family(s)
	if s == "" {
		return
	}
	if n.why == nil {
		n.why = map[polymers.Symbol]string{}
	}
	if !slices.Contains(n.order, s) {
		n.order = append(n.order, s)
		n.why[s] = why
	}
	n.weight[s] = math.Max(n.weight[s], w)
}

// family is the symbol a material's share is summed under: its base, or itself for a filled grade.
func family(s polymers.Symbol) polymers.Symbol {
	m, ok := polymers.Find(s)
	if !ok {
		return ""
	}
	return m.Base
}

// Weights of what names a material, relative to a counter that booked a tenth of everything; judgement.
const (
	weightHidden = 0.6
	weightKnown  = 0.6
	weightShelf  = 0.8
)

func (n *namer) readBin(bin *sorting.Bin) {
	counted := map[polymers.Symbol]float64{}
	total := 0.0
	for _, p := range bin.Printed {
		g := countedMass(p)
		counted[family(p.Material)] += g
		total += g
	}
	for _, p := range bin.Printed {
		// what was printed more is likelier in any pile; the square root, since scrap does not follow
		// the counters (judgement). The masses themselves enter once, through the budget.
		n.add(p.Material, math.Sqrt(10*(counted[family(p.Material)]+0.02*total)/math.Max(total, 1)), "counted")
		for _, h := range p.Hidden {
			n.add(h, weightHidden, "hidden behind "+string(p.Material))
		}
	}
	for _, s := range bin.Spools {
		n.add(s.Material, weightShelf, "on a spool")
	}
	for _, k := range bin.Kept {
		for _, m := range k.Materials {
			n.add(m, weightShelf, "in the finished parts")
		}
	}
	for _, l := range bin.Lots {
		for _, m := range l.CouldBe {
			n.add(m, weightShelf, "on the shelf")
		}
	}
	for _, s := range bin.Splits {
		for _, side := range s.Into {
			for _, m := range side.CouldBe {
				n.add(m, weightShelf, "on the shelf")
			}
		}
	}
	for _, k := range bin.Known {
		n.add(k.Material, weightKnown, "a known snippet")
	}
	n.readTests(bin)
}

func (n *namer) readTests(bin *sorting.Bin) {
	for _, t := range bin.Tests {
		if sym, ok := marked(t.Symbol); ok {
			n.add(sym, weightHidden, "read on a piece")
		}
	}
	for _, s := range bin.Streams {
		if s.Material != "" {
			n.add(s.Material, weightShelf, "on the flow sheet")
		}
	}
}

// countedMass is what a counter shows, g; a length is taken at a nominal 3 g a metre for this weight only.
func countedMass(p sorting.Counter) float64 {
	switch {
	case p.Counted.Given():
		return float64(p.Counted.Value)
	case p.Metres.Given():
		return float64(p.Metres.Value) / 1000 * 3
	}
	g := 0.0
	for _, j := range p.JobRows {
		g += float64(j.Mass)
	}
	return g
}

func (n *namer) named() []sorting.Candidate {
	var out []sorting.Candidate
	for _, s := range n.order {
		out = append(out, sorting.Candidate{Symbol: s, Weight: n.weight[s], Why: n.why[s]})
	}
	return out
}

func unnamed(named []sorting.Candidate, share float64, alike func(a, b polymers.Symbol) bool) []sorting.Candidate {
	var out []sorting.Candidate
	total := 0.0
	for _, u := range usual {
		if slices.ContainsFunc(named, func(c sorting.Candidate) bool {
			return c.Symbol == u.Symbol || (alike != nil && alike(c.Symbol, u.Symbol))
		}) {
			continue
		}
		if _, ok := polymers.Find(u.Symbol); !ok {
			continue
		}
		u.Why = usualWhy
		out = append(out, u)
		total += u.Weight
	}
	for i := range out {
		out[i].Weight *= share / total
	}
	return out
}

// notPrinted reports whether some lot is said to be moulded or of unknown origin.
func notPrinted(bin *sorting.Bin) bool {
	return slices.ContainsFunc(bin.Lots, func(l sorting.Lot) bool { return l.OriginGiven && l.Origin != sorting.OwnPrint })
}

func addForeign(list []sorting.Candidate) []sorting.Candidate {
	for _, f := range foreign {
		if !slices.ContainsFunc(list, func(c sorting.Candidate) bool { return c.Symbol == f }) {
			list = append(list, sorting.Candidate{Symbol: f, Weight: 0.01, Why: foreignWhy})
		}
	}
	return list
}

// lotWeights are the prior shares for one lot: could_be comes first, and a lot that was printed here
// holds foreign plastics only if something says so.
func lotWeights(cands []sorting.Candidate, lot sorting.Lot) []float64 {
	w := make([]float64, len(cands))
	shelf := map[polymers.Symbol]bool{}
	for _, s := range lot.CouldBe {
		shelf[family(s)] = true
	}
	outside := lot.OriginGiven && lot.Origin != sorting.OwnPrint
	for i, c := range cands {
		w[i] = c.Weight
		if len(shelf) > 0 && c.Symbol != polymers.Other {
			w[i] = onShelf(c, shelf)
		}
		if c.Why == foreignWhy {
			w[i] = 0.0005
		}
		if hardStop(c.Symbol) && !shelf[c.Symbol] && !outside {
			w[i] = strayHardStop // that another lot could be PVC says nothing of what was printed here
		}
		if outside && (slices.Contains(foreign, c.Symbol) || c.Symbol == polymers.Other) {
			w[i] += foreignShare / float64(len(foreign)+1)
		}
	}
	return normalise(w)
}

// strayHardStop is the prior share of a never-heat material in a lot that nothing ties to it; judgement.
const strayHardStop = 2e-5

func hardStop(s polymers.Symbol) bool {
	m, ok := polymers.Find(s)
	return ok && m.NeverHeat
}

func onShelf(c sorting.Candidate, shelf map[polymers.Symbol]bool) float64 {
	switch {
	case shelf[c.Symbol]:
		return 0.3 + c.Weight
	case c.Why == usualWhy:
		return 0.3 * c.Weight
	}
	return offShelf * c.Weight
}

func normalise(w []float64) []float64 {
	total := 0.0
	for _, x := range w {
		total += x
	}
	for i := range w {
		w[i] /= total
	}
	return w
}

// marked is the material a symbol names; nothing where none was read, which is never looked up.
func marked(symbol string) (polymers.Symbol, bool) {
	if symbol == "" {
		return "", false
	}
	return response.MarkedAs(symbol)
}
