package main

import (
	"slices"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/bath"
)

// offers gives the words a shell may complete with.
type offers = func(c *cobra.Command, given []string, begun string) ([]string, cobra.ShellCompDirective)

const (
	noFiles = cobra.ShellCompDirectiveNoFileComp
	goesOn  = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
)

// completes ties flags of a command to what they offer.
func completes(c *cobra.Command, flags map[string]offers) {
	for name, offer := range flags {
		if err := c.RegisterFlagCompletionFunc(name, offer); err != nil {
			panic(err) // a flag that is not there: a slip in this program
		}
	}
}

// fixed offers the same words always.
func fixed(words ...string) offers {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) { return words, noFiles }
}

// files offers files that end so.
func files(ext string) offers {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{ext}, cobra.ShellCompDirectiveFilterFileExt
	}
}

// completeBin offers TOML files for the first word.
func completeBin(_ *cobra.Command, given []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(given) > 0 {
		return nil, noFiles
	}
	return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
}

// ofBin offers names of the bin file that stands first on the command line; none where it cannot be read.
func (a *app) ofBin(names func(*sorting.Bin) []string) offers {
	return func(_ *cobra.Command, given []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(given) == 0 || given[0] == "-" {
			return nil, noFiles
		}
		bin, _, err := a.open(given[0])
		if err != nil {
			return nil, noFiles
		}
		return names(bin), noFiles
	}
}

// lotNames are the lots that stand in a bin now: what was split or merged is none any more.
func lotNames(bin *sorting.Bin) []string {
	var all, gone []string
	for _, l := range bin.Lots {
		all = append(all, l.Name)
	}
	for _, s := range bin.Splits {
		gone = append(gone, s.Lot)
		for _, side := range s.Into {
			all = append(all, side.Name)
		}
	}
	for _, m := range bin.Merges {
		gone = append(gone, m.From...)
		all = append(all, m.Into)
	}
	return slices.DeleteFunc(all, func(n string) bool { return slices.Contains(gone, n) })
}

func knownNames(bin *sorting.Bin) (out []string) {
	for _, k := range bin.Known {
		out = append(out, k.Name)
	}
	return out
}

func bathNames(bin *sorting.Bin) (out []string) {
	for _, b := range bin.Baths {
		out = append(out, b.Name)
	}
	return out
}

func scaleNames(bin *sorting.Bin) (out []string) {
	for _, s := range bin.Scales {
		out = append(out, s.Name)
	}
	return out
}

// testIDs are those of the tests that count.
func testIDs(bin *sorting.Bin) (out []string) {
	for _, o := range bin.Tests {
		if o.ID != "" {
			out = append(out, o.ID)
		}
	}
	return out
}

// completeFractions offers the bags that a bin would be sorted into now.
func (a *app) completeFractions(_ *cobra.Command, given []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(given) == 0 || given[0] == "-" {
		return nil, noFiles
	}
	ans, err := a.judge(given[0], nil)
	if err != nil {
		return nil, noFiles
	}
	var names []string
	for _, f := range ans.Fractions {
		names = append(names, f.Name)
	}
	return names, noFiles
}

// completeTests offers the bin file, then the ids of its tests.
func (a *app) completeTests(c *cobra.Command, given []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(given) == 1 {
		return a.ofBin(testIDs)(c, given, begun)
	}
	return completeBin(c, given, begun)
}

// completeKinds offers the bin file, then the kinds of test, then the outcomes of the kind that was named.
func completeKinds(c *cobra.Command, given []string, begun string) ([]string, cobra.ShellCompDirective) {
	switch len(given) {
	case 0:
		return completeBin(c, given, begun)
	case 1:
		return plainWords(cues.Kinds()), noFiles
	case 2:
		return outcomesOf(given[1]), noFiles
	}
	return nil, noFiles
}

// completeCounts offers the outcomes of the kind that was named, ready for a number.
func completeCounts(_ *cobra.Command, given []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(given) < 2 {
		return nil, noFiles
	}
	out := outcomesOf(given[1])
	for i := range out {
		out[i] += "="
	}
	return out, goesOn
}

func outcomesOf(kind string) []string {
	t, ok := cues.Find(cues.Kind(kind))
	if !ok || len(t.Outcomes) == 0 {
		return nil
	}
	return append(slices.Clone(t.Outcomes), cues.Unclear)
}

// completeSymbols offers materials for a word or a flag that takes one.
func completeSymbols(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return plainWords(polymers.Symbols()), noFiles
}

// completeMaterial offers materials for the first word alone.
func completeMaterial(c *cobra.Command, given []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(given) > 0 {
		return nil, noFiles
	}
	return completeSymbols(c, given, begun)
}

func saltNames() (out []string) {
	for _, l := range bath.Liquids() {
		out = append(out, l.String())
	}
	return out
}

// completeSheets offers the label sheets that are built in.
func completeSheets(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	list, _ := paper.Sheets("")
	var names []string
	for _, s := range list {
		names = append(names, s.Name)
	}
	return names, noFiles
}
