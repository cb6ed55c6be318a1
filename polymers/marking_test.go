package polymers

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func pct(x float64) *float64 { return &x }

// Strings with the support of a page: ISO 11469 examples as printed in trade articles of 2023 and 2025
// (findoutaboutplastics), in Volvo STD 5052 and VDA 260 guides (ftiab 202), and the filler mixture of
// ISO 1043-2:2011.
func TestReadMarkingsThatWerePublished(t *testing.T) {
	for _, c := range []struct {
		text, canonical string
		polymers        []Symbol
		fillers         []Filler
		rec             *Recyclate
	}{
		{">ABS<", ">ABS<", []Symbol{"ABS"}, nil, nil},
		{">PC+ABS<", ">PC+ABS<", []Symbol{"PC", "ABS"}, nil, nil},
		{">ABS(REC)<", ">ABS(REC)<", []Symbol{"ABS"}, nil, &Recyclate{}},
		{">ABS(REC30)<", ">ABS(REC30)<", []Symbol{"ABS"}, nil, &Recyclate{pct(30)}},
		{">PC+ABS(REC30)<", ">PC+ABS(REC30)<", []Symbol{"PC", "ABS"}, nil, &Recyclate{pct(30)}},
		{">PP-MD30<", ">PP-MD30<", []Symbol{"PP"}, []Filler{{"MD", pct(30)}}, nil},
		{">PA6/12<", ">PA6/12<", []Symbol{"PA6/12"}, nil, nil},
		{">PA66-GF30<", ">PA66-GF30<", []Symbol{"PA66"}, []Filler{{"GF", pct(30)}}, nil},
		{">PA 66-GF 30<", ">PA66-GF30<", []Symbol{"PA66"}, []Filler{{"GF", pct(30)}}, nil},
		{">PA6T/6I-GF35<", ">PA6T/6I-GF35<", []Symbol{"PA6T/6I"}, []Filler{{"GF", pct(35)}}, nil},
		{">PPA-GF35<", ">PPA-GF35<", []Symbol{"PPA"}, []Filler{{"GF", pct(35)}}, nil},
		{">PS-HI-GF20<", ">PS-HI-GF20<", []Symbol{"HIPS"}, []Filler{{"GF", pct(20)}}, nil},
		{">PA66-(GF25+MD15)<", ">PA66-(GF25+MD15)<", []Symbol{"PA66"}, []Filler{{"GF", pct(25)}, {"MD", pct(15)}}, nil},
		{">PVAL<", ">PVAL<", []Symbol{"PVA"}, nil, nil},
		{">PE-HD<", ">PE-HD<", []Symbol{"PE-HD"}, nil, nil},
	} {
		m, err := ReadMarking(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if m.Text != c.canonical || !slices.Equal(m.Polymers, c.polymers) || m.Bare ||
			!cmp.Equal(m.Fillers, c.fillers) || !cmp.Equal(m.Recyclate, c.rec) {
			t.Errorf("%s: read as %+v", c.text, m)
		}
	}
}

func TestReadMarkingsFromMemoryOfTheStandards(t *testing.T) {
	m, err := ReadMarking(">PA66-(GF25+MD15)FR(52)<")
	if err != nil || !slices.Equal(m.FlameRetardants, []string{"52"}) || m.Text != ">PA66-(GF25+MD15)FR(52)<" {
		t.Errorf("%+v, %v", m, err)
	}
	m, err = ReadMarking(">ABS-FR(17)<")
	if err != nil || !slices.Equal(m.FlameRetardants, []string{"17"}) || !noted(m, "antimony") || !noted(m, "from memory") {
		t.Errorf("%+v, %v", m, err)
	}
	m, err = ReadMarking(">PA66-(GF+MD)40<")
	if err != nil || m.FillerTotal == nil || *m.FillerTotal != 40 || len(m.Fillers) != 2 || !noted(m, "weak") {
		t.Errorf("%+v, %v", m, err)
	}
	m, err = ReadMarking(">PVC-P(DBP)<")
	if err != nil || !slices.Equal(m.Plasticizers, []string{"DBP"}) || m.Polymers[0] != "PVC-P" {
		t.Errorf("%+v, %v", m, err)
	}
	m, err = ReadMarking(">PLA-MED(Cu)50<")
	if err != nil || m.Fillers[0].Symbol != "MED(Cu)" || *m.Fillers[0].Percent != 50 {
		t.Errorf("%+v, %v", m, err)
	}
}

func noted(m Marking, part string) bool {
	return slices.ContainsFunc(m.Notes, func(s string) bool { return strings.Contains(s, part) })
}

// PETG prints PETG, reads PET-G too, and cites no clause.
func TestPETG(t *testing.T) {
	for _, s := range []string{">PETG<", ">PET-G<", "PET-G"} {
		m, err := ReadMarking(s)
		if err != nil || m.Text != ">PETG<" || m.Polymers[0] != "PETG" || !noted(m, "no clause") || m.Code != "7" {
			t.Errorf("%s: %+v, %v", s, m, err)
		}
	}
}

// Each code with its resin: ASTM D7611/D7611M-20 as described by the ANSI blog, 2019.
func TestResinCodes(t *testing.T) {
	for s, want := range map[string]struct {
		code string
		sym  Symbol
	}{"1": {"1", "PET"}, "2": {"2", "PE-HD"}, "3": {"3", "PVC-U"}, "4": {"4", "PE-LD"}, "5": {"5", "PP"}, "6": {"6", "PS"},
		"PETE": {"1", "PET"}, "PP 5": {"5", "PP"}, "5 PP": {"5", "PP"}, "HDPE 2": {"2", "PE-HD"}, "05": {"5", "PP"}, "ABS 7": {"7", "ABS"}} {
		m, err := ReadMarking(s)
		if err != nil || m.Code != want.code || len(m.Polymers) == 0 || m.Polymers[0] != want.sym {
			t.Errorf("%s: %+v, %v", s, m, err)
		}
	}
	if m, err := ReadMarking("7"); err != nil || m.Code != "7" || len(m.Polymers) != 0 {
		t.Errorf("7: %+v, %v", m, err)
	}
	if m, err := ReadMarking("PA 6"); err != nil || m.Polymers[0] != "PA6" {
		t.Errorf("PA 6 is polyamide 6: %+v, %v", m, err)
	}
	if m, err := ReadMarking(">PP<"); err != nil || m.Code != "5" {
		t.Errorf(">PP<: %+v, %v", m, err)
	}
	for s, column := range map[string]int{"PP 1": 4, "8": 1, "0": 1} {
		var e *MarkingError
		if _, err := ReadMarking(s); !errors.As(err, &e) || e.Column != column {
			t.Errorf("%s: %v", s, err)
		}
	}
}

// Refused, with the column of the fault. The order of a blend cannot be checked from the text.
func TestRefusesWhatCannotBeAMarking(t *testing.T) {
	for s, want := range map[string]struct {
		column int
		part   string
	}{
		"":                     {1, "nothing"},
		">":                    {2, "closing"},
		"><":                   {2, "nothing stands"},
		">PP":                  {4, "closing <"},
		"PP<":                  {1, "opening >"},
		">pp<":                 {2, "small letters"},
		">PEGT<":               {2, "nearest known is PETG"},
		">ABS-IM10<":           {6, "IM is no filler"},
		">PA66-(GF25 + MD15)<": {12, "space"},
		">PA66 -GF30<":         {6, "space"},
		">PA66-GF0<":           {9, "1 to 99"},
		">PA66-GF030<":         {9, "1 to 99"},
		">PA66-<":              {7, "filler's symbol is missing"},
		">PA66-(GF60+MD40)<":   {7, "leave no polymer"},
		">PA66-(GF25+MD15)40<": {18, "total"},
		">PA66-(GF25)<":        {7, "two fillers"},
		">PA66-(GF25+GF5)<":    {13, "twice"},
		">PA66-(GF25+MD15<":    {17, ") is missing"},
		">ABS+<":               {6, "symbol is missing"},
		">ABS+ABS<":            {6, "twice"},
		">ABS(REC101)<":        {9, "1 to 100"},
		">ABS(REC)(REC)<":      {10, "twice"},
		">ABS(DBP)<":           {5, "unknown term"},
		">ABS-FR(7)<":          {9, "two digits"},
		">ABS-FR(17<":          {11, ") is missing"},
		">PA6+GF30<":           {6, "write >PA6-GF30<"},
		">PVC,PUR,ABS<":        {5, "layers"},
		">ABS♻<":               {5, "no place"},
		">GF30<":               {2, "unknown symbol"},
		">ABS-GF10-MD5<":       {10, "does not continue"},
		">PP-MD30 EXTRA<":      {9, "space"},
	} {
		_, err := ReadMarking(s)
		var e *MarkingError
		if !errors.As(err, &e) || e.Column != want.column || !strings.Contains(e.Error(), want.part) {
			t.Errorf("%s: %v, want column %d and %q", s, err, want.column, want.part)
			continue
		}
		if lines := strings.Split(e.Caret(), "\n"); len(lines) != 2 || utf8.RuneCountInString(lines[1]) != want.column {
			t.Errorf("%s: caret stands wrong:\n%s", s, e.Caret())
		}
	}
}

// ISO 1043-2 has the share behind the filler's code, from memory: a marking that leaves it out is written, with a note.
func TestFillerWithoutItsShareIsNoted(t *testing.T) {
	for name, want := range map[string]bool{"PLA-CF": true, "PETG-CF15": false, "PLA": false} {
		m, err := WriteMarking([]string{name}, MarkingOptions{})
		if err != nil || noted(m, "ISO 1043-2 puts its percentage by mass behind its symbol") != want {
			t.Errorf("%s: %v, %v", name, m.Notes, err)
		}
	}
	if m, err := ReadMarking(">PA66-(GF+MD)40<"); err != nil || noted(m, "share is not stated") {
		t.Errorf("a total is stated: %v, %v", m.Notes, err)
	}
}

func TestWriteMarking(t *testing.T) {
	for _, c := range []struct {
		names []string
		o     MarkingOptions
		want  string
	}{
		{[]string{"PVA"}, MarkingOptions{}, ">PVAL<"},
		{[]string{"PET-G"}, MarkingOptions{}, ">PETG<"},
		{[]string{"pla+"}, MarkingOptions{}, ">PLA<"},
		{[]string{"HIPS"}, MarkingOptions{}, ">PS-HI<"},
		{[]string{"PETG-CF15"}, MarkingOptions{}, ">PETG-CF15<"},
		{[]string{"petg cf 15 %"}, MarkingOptions{}, ">PETG-CF15<"},
		{[]string{"PETG-CF"}, MarkingOptions{}, ">PETG-CF<"},
		{[]string{"CF-PA12"}, MarkingOptions{}, ">PA12-CF<"},
		{[]string{"PA66-GF30"}, MarkingOptions{}, ">PA66-GF30<"},
		{[]string{"PC", "ABS"}, MarkingOptions{Recyclate: &Recyclate{pct(30)}}, ">PC+ABS(REC30)<"},
		{[]string{"PC/ABS"}, MarkingOptions{FlameRetardants: []string{"40"}}, ">PC+ABS-FR(40)<"},
		{[]string{"PETG"}, MarkingOptions{Recyclate: &Recyclate{}}, ">PETG(REC)<"},
		{[]string{"PA66"}, MarkingOptions{Fillers: []Filler{{"GF", pct(25)}, {"MD", pct(15)}}}, ">PA66-(GF25+MD15)<"},
		{[]string{"TPU 95A"}, MarkingOptions{}, ">TPU<"},
	} {
		m, err := WriteMarking(c.names, c.o)
		if err != nil || m.Text != c.want {
			t.Errorf("%v: %q, %v; want %s", c.names, m.Text, err, c.want)
		}
	}
	for _, c := range []struct {
		names []string
		o     MarkingOptions
	}{{nil, MarkingOptions{}}, {[]string{"PEGT"}, MarkingOptions{}}, {[]string{"FR"}, MarkingOptions{}}, {[]string{"PLA", "PLA"}, MarkingOptions{}},
		{[]string{"PLA"}, MarkingOptions{Fillers: []Filler{{"IM", nil}}}}, {[]string{"ABS"}, MarkingOptions{FlameRetardants: []string{"9"}}}} {
		if m, err := WriteMarking(c.names, c.o); err == nil {
			t.Errorf("%v was written as %s", c.names, m.Text)
		}
	}
}

// Every record's own marking is read back as its polymer, and neither text nor note says more than it may.
func TestEveryRecordsMarkingReadsBack(t *testing.T) {
	for _, m := range All() {
		if m.Symbol == "FR" {
			continue
		}
		got, err := ReadMarking(m.Marking)
		if err != nil || got.Text != m.Marking {
			t.Errorf("%s: %+v, %v", m.Symbol, got, err)
			continue
		}
		if joined := joinSymbols(got.Polymers, "+"); joined != string(m.Polymer) {
			t.Errorf("%s: %s is read as %s, want %s", m.Symbol, m.Marking, joined, m.Polymer)
		}
		for _, s := range append(got.Notes, got.Text) {
			if strings.Contains(strings.ToLower(s), "recyclable") || strings.ContainsAny(s, "♲♳♴♵♶♷♸♹♺♻") {
				t.Errorf("%s: %q", m.Symbol, s)
			}
		}
	}
}

// What is written is read, and reading it writes the same again.
func TestMarkingRoundTrip(t *testing.T) {
	pure := []string{}
	for _, m := range All() {
		if m.Symbol == m.Polymer && m.Symbol != "FR" && !strings.Contains(string(m.Symbol), "+") {
			pure = append(pure, string(m.Symbol))
		}
	}
	share := rapid.Ptr(rapid.Map(rapid.IntRange(1, 30), func(n int) float64 { return float64(n) }), true)
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfNDistinct(rapid.SampledFrom(pure), 1, 3, rapid.ID).Draw(t, "polymers")
		o := MarkingOptions{FlameRetardants: rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"16", "17", "40", "52"}), 0, 2, rapid.ID).Draw(t, "fr")}
		for _, f := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"GF", "CF", "MD", "MED(Al)", "WD"}), 0, 3, rapid.ID).Draw(t, "fillers") {
			o.Fillers = append(o.Fillers, Filler{f, share.Draw(t, "share")})
		}
		if rapid.Bool().Draw(t, "rec") {
			o.Recyclate = &Recyclate{share.Draw(t, "content")}
		}
		m, err := WriteMarking(names, o)
		if err != nil {
			t.Fatalf("%v %+v: %v", names, o, err)
		}
		back, err := ReadMarking(m.Text)
		if err != nil || !cmp.Equal(m, back) {
			t.Fatalf("%s: %v, %s", m.Text, err, cmp.Diff(m, back))
		}
		if !cmp.Equal(m.Fillers, o.Fillers) || !cmp.Equal(m.Recyclate, o.Recyclate) || len(m.FlameRetardants) != len(o.FlameRetardants) {
			t.Fatalf("%s lost something of %+v", m.Text, o)
		}
		for i, n := range names {
			if string(m.Polymers[i]) != n {
				t.Fatalf("%s: %v, want %v", m.Text, m.Polymers, names)
			}
		}
	})
}

func FuzzReadMarking(f *testing.F) {
	for _, s := range []string{">PA66-(GF25+MD15)FR(52)<", ">PA 66-GF 30<", "PP 5", ">PVC-P(DBP)<", ">ABS(REC30)<", ">PLA-MED(Cu)50<", ">é<", "7 OTHER"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := ReadMarking(s)
		if err != nil {
			var e *MarkingError
			if !errors.As(err, &e) || e.Column < 1 || e.Column > utf8.RuneCountInString(s)+1 {
				t.Fatalf("%q: %v", s, err)
			}
			return
		}
		again, err := ReadMarking(m.Text)
		if err != nil || again.Text != m.Text || !slices.Equal(again.Polymers, m.Polymers) || !cmp.Equal(again.Fillers, m.Fillers) {
			t.Fatalf("%q was read as %q, which is read as %+v, %v", s, m.Text, again, err)
		}
	})
}
