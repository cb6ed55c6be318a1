package binfile_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

const small = "[[lot]]\nname = \"white\"\nmass = \"1 kg\"\n\n[[lot]]\nname = \"red \\\"x\\\"\"\n\n[[known]]\nname = \"k\"\nmaterial = \"PLA\"\n\n[[bath]]\nname = \"A\"\ndensity = \"1.25 g/cm3\"\n"

func TestAppendTestWrites(t *testing.T) {
	o := sorting.Observation{ID: "t2", At: "2025-03-01T20:10:00Z", Lot: `red "x"`, Kind: cues.Float, Bath: "A",
		Counts: []sorting.Count{{Outcome: "floats", N: 2}, {Outcome: "sinks", N: 10}}, Random: true, Note: "two\nlines"}
	for _, c := range []struct{ name, src, tail string }{
		{"plain", small, "\n[[test]]\nid     = \"t2\"\nat     = \"2025-03-01T20:10:00Z\"\nlot    = \"red \\\"x\\\"\"\nkind   = \"float\"\nbath   = \"A\"\n" +
			"counts = { floats = 2, sinks = 10 }\ndrawn  = \"random\"\nnote   = \"two\\nlines\"\n"},
	} {
		for _, form := range []struct {
			name string
			src  string
			want string
		}{
			{"final newline", c.src, c.tail},
			{"no final newline", strings.TrimSuffix(c.src, "\n"), "\n" + c.tail},
			{"no final newline, comment last", c.src + "# end", "\n" + c.tail},
			{"CRLF", strings.ReplaceAll(c.src, "\n", "\r\n"), strings.ReplaceAll(c.tail, "\n", "\r\n")},
			{"byte-order mark", "\ufeff" + c.src, c.tail},
		} {
			tail, err := binfile.AppendTest([]byte(form.src), o)
			if err != nil {
				t.Errorf("%s: %v", form.name, err)
				continue
			}
			if diff := cmp.Diff(form.want, string(tail)); diff != "" {
				t.Errorf("%s (-want +got):\n%s", form.name, diff)
			}
			b, _, err := binfile.Read("x.toml", append([]byte(form.src), tail...))
			if err != nil {
				t.Errorf("%s: %v", form.name, err)
				continue
			}
			if diff := cmp.Diff(o, b.Tests[0], ignoreLine); diff != "" {
				t.Errorf("%s read back (-want +got):\n%s", form.name, diff)
			}
		}
	}
}

var ignoreLine = cmp.Options{cmpopts.IgnoreFields(sorting.Observation{}, "Line"), cmpopts.EquateEmpty()}

func TestAppendRefuses(t *testing.T) {
	good := sorting.Observation{ID: "t1", Lot: "white", Kind: cues.Bend, Outcome: "snaps"}
	for _, c := range []struct {
		name, src string
		change    func(*sorting.Observation)
		want      string
	}{
		{"a list in brackets", "test = []\n" + small, func(*sorting.Observation) {},
			"1: test: this is written as a list in brackets, and TOML can add nothing to it from below (read []); delete this line"},
		{"a full list in brackets", "test = [{ lot = \"white\", kind = \"bend\", outcome = \"snaps\" }]\n" + small, func(*sorting.Observation) {},
			`1: test: this is written as a list in brackets, and TOML can add nothing to it from below (read [{ lot = "white", kind = "bend", outcome = "snaps" }]); write each entry as a [[test]] table of its own`},
		{"no such lot", small, func(o *sorting.Observation) { o.Lot = "wite" }, `[[test]] lot: there is no such lot (read "wite"); did you mean "white"?`},
		{"no such outcome", small, func(o *sorting.Observation) { o.Outcome = "snap" },
			`[[test]] outcome: there is no such outcome (read "snap"); did you mean "snaps"? write one of snaps, whitens, bends, rubbery, unclear`},
		{"an escape in a note", small, func(o *sorting.Observation) { o.Note = "\x1b[2J" },
			`[[test]] note: the character U+001B cannot be seen and is not taken (read "\u001B[2J"); leave it out`},
		{"not UTF-8", small, func(o *sorting.Observation) { o.Note = "\xff" }, `[[test]]: this is not in UTF-8`},
		{"a fault of the file itself", small + "[[lot]]\nmass = \"1 kg\"\n", func(*sorting.Observation) {}, "15: [[lot]]: \"name\" is missing; write a line `name = …`"},
	} {
		o := good
		c.change(&o)
		tail, err := binfile.AppendTest([]byte(c.src), o)
		if err == nil || !strings.HasPrefix(err.Error(), c.want) || tail != nil {
			t.Errorf("%s: %q, %v\nwant %s", c.name, tail, err, c.want)
		}
	}
	twice, err := binfile.AppendTest([]byte(small), good)
	if err != nil {
		t.Fatal(err)
	}
	if _, err = binfile.AppendTest([]byte(small+string(twice)), good); err == nil || !strings.Contains(err.Error(), "this test is there already, on line 17") {
		t.Errorf("the same id twice: %v", err)
	}
}

// Every kind of record comes back as it went in, and leaves what was there before.
func TestAppendedRecordsReadBack(t *testing.T) {
	mixed := true
	lot := sorting.Lot{Name: "blue", Gross: quantity.MustParse[quantity.Gram]("1 kg"), Tare: quantity.MustParse[quantity.Gram]("20 g"),
		Scale: sorting.ScaleRef{Step: quantity.MustParse[quantity.Gram]("1 g")}, State: sorting.SurfaceDry, Pieces: 12,
		CouldBe: symbols("PETG", "PLA"), Mixed: &mixed, Prep: sorting.Cut, PrepGiven: true, Origin: sorting.Moulded, OriginGiven: true,
		Colour: "blue", Form: "tree", Heats: 1, Additives: []string{"glitter"}}
	src := []byte(small)
	add := func(tail []byte, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		src = append(src, tail...)
	}
	bath := sorting.Bath{Name: "B", Salt: "table salt", Density: quantity.MustParse[quantity.GramPerCm3]("1.100 g/cm3 ± 0.002"), Temp: quantity.MustParse[quantity.Celsius]("21 °C")}
	known := sorting.Known{Name: "grey", Material: "ABS", Spool: "s", Colour: "grey", Density: quantity.MustParse[quantity.GramPerCm3]("1.04 g/cm3")}
	split := sorting.Split{Lot: "white", Kind: sorting.ByFloat, Bath: "B", Loss: quantity.MustParse[quantity.Gram]("2 g"), Into: []sorting.Side{
		{Lot: sorting.Lot{Name: "light", Mass: quantity.MustParse[quantity.Gram]("200 g"), State: sorting.Wet}, Outcome: "floats"},
		{Lot: sorting.Lot{Name: "heavy", State: sorting.Dry}, Outcome: "sinks"}}}
	merge := sorting.Merge{From: []string{"light", "blue"}, Into: "both"}
	taken := sorting.Taken{Lot: "both", Mass: quantity.MustParse[quantity.Gram]("5 g"), For: "coaster"}
	bag := sorting.Bag{ID: "A1", Lots: []string{"heavy", "both"}, Gross: quantity.MustParse[quantity.Gram]("1 kg"), Tare: quantity.MustParse[quantity.Gram]("20 g")}
	gone := sorting.Withdrawal{ID: "t1", Why: "wrong bowl"}
	add(binfile.AppendLot(src, lot))
	add(binfile.AppendBath(src, bath))
	add(binfile.AppendKnown(src, known))
	add(binfile.AppendTest(src, sorting.Observation{ID: "t1", Known: "grey", Kind: cues.Bend, Outcome: "bends"}))
	add(binfile.AppendWithdrawal(src, gone))
	add(binfile.AppendSplit(src, split))
	add(binfile.AppendMerge(src, merge))
	add(binfile.AppendTaken(src, taken))
	add(binfile.AppendBag(src, bag))
	b, warns, err := binfile.Read("x.toml", src)
	if err != nil || len(warns) > 0 {
		t.Fatalf("%v %+v\n%s", err, warns, src)
	}
	opts := cmp.Options{cmp.FilterPath(func(p cmp.Path) bool {
		switch p.Last().String() {
		case ".Line", ".Origin", ".OriginGiven":
			return true
		}
		return false
	}, cmp.Ignore()), cmpopts.EquateEmpty()}
	split.Into[0].Prep, split.Into[1].Prep = sorting.AsIs, sorting.AsIs // of the lot that was split
	b.Merges[0].Lot = sorting.Lot{}
	for _, c := range []struct{ want, got any }{{lot, b.Lots[2]}, {bath, b.Baths[1]}, {known, b.Known[1]}, {gone, b.Withdrawn[0]},
		{split, b.Splits[0]}, {merge, b.Merges[0]}, {taken, b.Taken[0]}, {bag, b.Bags[0]}} {
		if diff := cmp.Diff(c.want, c.got, opts); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	}
	if b.Lots[2].Origin != sorting.Moulded || len(b.Tests) != 0 {
		t.Errorf("origin %s, tests %+v", b.Lots[2].Origin, b.Tests)
	}
}

// Any observation that is accepted comes back as it was, in any file.
func TestAppendRoundTrip(t *testing.T) {
	contract, err := os.ReadFile("../../testdata/bins/contract.toml")
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		src := rapid.SampledFrom([]string{small, string(contract)}).Draw(t, "file")
		b, _, err := binfile.Read("", []byte(src))
		if err != nil {
			t.Fatal(err)
		}
		o := drawObservation(t, b)
		if rapid.Bool().Draw(t, "CRLF") {
			src = strings.ReplaceAll(src, "\n", "\r\n")
		}
		src = strings.TrimRight(src, rapid.SampledFrom([]string{"", "\r\n"}).Draw(t, "cut"))
		tail, err := binfile.AppendTest([]byte(src), o)
		if err != nil {
			t.Fatal(err)
		}
		after, _, err := binfile.Read("", append([]byte(src), tail...))
		if err != nil {
			t.Fatal(err)
		}
		got := after.Tests[len(after.Tests)-1]
		if diff := cmp.Diff(o, got, ignoreLine); diff != "" {
			t.Fatalf("(-want +got):\n%s", diff)
		}
		if binfile.NextID(after) == o.ID {
			t.Fatal("an id is given twice")
		}
	})
}

// drawObservation draws one of any kind that the format accepts.
func drawObservation(t *rapid.T, b *sorting.Bin) sorting.Observation {
	line := rapid.StringOf(rapid.RuneFrom([]rune(`ab "\#'[]=é漢.,{}`)))
	o := sorting.Observation{ID: binfile.NextID(b), At: line.Draw(t, "at"), By: line.Draw(t, "by"), Note: line.Draw(t, "note") + rapid.SampledFrom([]string{"", "\nx", "\ty"}).Draw(t, "end"),
		Random: rapid.Bool().Draw(t, "random"), Prep: rapid.SampledFrom([]sorting.Prep{"", sorting.Cut, sorting.Flake}).Draw(t, "prep"),
		Kind: rapid.SampledFrom(cues.Kinds()).Draw(t, "kind")}
	if rapid.Bool().Draw(t, "known") {
		o.Known = b.Known[0].Name
	} else {
		o.Lot = rapid.SampledFrom(b.Lots).Draw(t, "lot").Name
	}
	test, _ := cues.Find(o.Kind)
	grams := rapid.Custom(func(t *rapid.T) quantity.Mass {
		return quantity.MustParse[quantity.Gram](fmt.Sprintf("%d.%02d g ± 0.5 g", rapid.IntRange(1, 50).Draw(t, "g"), rapid.IntRange(0, 99).Draw(t, "cg")))
	})
	switch {
	case len(test.Cues) > 0:
		yes := rapid.Bool().Draw(t, "drips")
		o.Flame = &sorting.FlameCues{Smoke: rapid.SampledFrom([]string{"", "none", "light", "sooty"}).Draw(t, "smoke"), Drips: &yes}
	case o.Kind == cues.Marked:
		o.Symbol = ">PETG<"
	case o.Kind == cues.Weigh:
		o.InAir, o.InLiquid, o.Liquid = grams.Draw(t, "air"), grams.Draw(t, "liquid"), quantity.MustParse[quantity.GramPerCm3]("0.998 g/cm3")
	case rapid.Bool().Draw(t, "counts"):
		for _, word := range append(test.Outcomes, cues.Unclear) {
			o.Counts = append(o.Counts, sorting.Count{Outcome: word, N: rapid.IntRange(1, 1000).Draw(t, word)})
		}
	default:
		o.Outcome = rapid.SampledFrom(append(test.Outcomes, cues.Unclear)).Draw(t, "outcome")
		o.Piece = rapid.IntRange(0, 9).Draw(t, "piece")
	}
	switch o.Kind {
	case cues.Float:
		o.Bath = b.Baths[0].Name
	case cues.HotWater:
		o.Temp, o.Thickness = quantity.MustParse[quantity.Celsius](fmt.Sprintf("%d °C", rapid.IntRange(20, 99).Draw(t, "temp"))), quantity.MustParse[quantity.Millimeter]("2 mm")
	case cues.Soak:
		o.Time = quantity.MustParse[quantity.Second](fmt.Sprintf("%d s", rapid.IntRange(0, 99999).Draw(t, "time")))
	}
	return o
}

func TestNextID(t *testing.T) {
	for _, c := range []struct {
		tests, withdrawn []string
		want             string
	}{
		{nil, nil, "t1"},
		{[]string{"t1", "t3"}, nil, "t4"},
		{[]string{"t1"}, []string{"t7"}, "t8"},
		{[]string{"", "a9", "t05", "T8", "t9999999999999", "t-4", "t2 "}, nil, "t1"},
		{[]string{"t999999999", "t1000000000"}, nil, "t1000000001"},
	} {
		b := &sorting.Bin{}
		for _, id := range c.tests {
			b.Tests = append(b.Tests, sorting.Observation{ID: id})
		}
		for _, id := range c.withdrawn {
			b.Withdrawn = append(b.Withdrawn, sorting.Withdrawal{ID: id})
		}
		if got := binfile.NextID(b); got != c.want {
			t.Errorf("%q, withdrawn %q: %s, want %s", c.tests, c.withdrawn, got, c.want)
		}
	}
}

// Nothing is taken from a lot that is gone by then: the line is refused before it is written, with what
// the lot became. A file that says so by hand is read, with a warning, and so is one in which the lot
// was taken from before it went.
func TestNothingLeavesALotThatIsGone(t *testing.T) {
	const lots = "[[lot]]\nname = \"a\"\nmass = \"500 g\"\n\n[[lot]]\nname = \"b\"\nmass = \"400 g\"\n"
	const merged = lots + "\n[[merge]]\nfrom = [\"a\", \"b\"]\ninto = \"c\"\n"
	const split = lots + "\n[[split]]\nlot = \"a\"\nkind = \"hand\"\ninto = [ { name = \"d\" }, { name = \"e\" } ]\n"
	x := sorting.Taken{Lot: "a", Mass: quantity.MustParse[quantity.Gram]("5 g")}
	for src, want := range map[string]string{
		lots:   "",
		merged: `[[taken]] lot: this lot is gone: it was merged on line 9 (read "a"); name what it became: "c"`,
		split:  `[[taken]] lot: this lot is gone: it was split on line 9 (read "a"); name what it became: "d", "e"`,
	} {
		tail, err := binfile.AppendTaken([]byte(src), x)
		if want == "" {
			if err != nil || len(tail) == 0 {
				t.Errorf("a lot that is there: %q, %v", tail, err)
			}
			continue
		}
		if err == nil || err.Error() != want {
			t.Errorf("refused with %v, want %s", err, want)
		}
	}
	const leaves = "\n[[taken]]\nlot = \"a\"\nmass = \"5 g\"\n"
	if _, warns, err := binfile.Read("", []byte(merged+leaves)); err != nil || len(warns) != 1 || !strings.Contains(warns[0].Says, "after the lot was merged on line 9") {
		t.Errorf("taken by hand from a lot that is gone: %v, %+v", err, warns)
	}
	if _, warns, err := binfile.Read("", []byte(lots+leaves+strings.TrimPrefix(merged, lots))); err != nil || len(warns) != 0 {
		t.Errorf("taken before the merge: %v, %+v", err, warns)
	}
}
