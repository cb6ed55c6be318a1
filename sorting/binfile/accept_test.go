package binfile_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

func read(t *testing.T, src string) (*sorting.Bin, []sorting.Warning) {
	t.Helper()
	b, warns, err := binfile.Read("x.toml", []byte(src))
	if err != nil {
		t.Fatalf("%v\n%s", err, src)
	}
	return b, warns
}

// A lot takes its origin from [bin]; left out in both it is unknown and not given.
func TestOrigins(t *testing.T) {
	const lots = "[[lot]]\nname = \"a\"\n[[lot]]\nname = \"b\"\norigin = \"moulded\"\n"
	for _, c := range []struct {
		name, src string
		floor     bool
		a         sorting.Origin
		given     bool
	}{
		{"left out", lots, false, sorting.UnknownOrigin, false},
		{"left out of a weighed bin", "[bin]\ngross = \"5 kg\"\ntare = \"1 kg\"\n" + lots, true, sorting.UnknownOrigin, false},
		{"of the bin", "[bin]\ngross = \"5 kg\"\ntare = \"1 kg\"\norigin = \"own-print\"\n" + lots, true, sorting.OwnPrint, true},
		{"of a bin nobody weighed", "[bin]\norigin = \"own-print\"\n" + lots, false, sorting.OwnPrint, true},
		{"said to be unknown", "[bin]\norigin = \"unknown\"\n" + lots, false, sorting.UnknownOrigin, true},
	} {
		b, _ := read(t, c.src)
		if got := b.Lots[0]; got.Origin != c.a || got.OriginGiven != c.given {
			t.Errorf("%s: %s, given %v", c.name, got.Origin, got.OriginGiven)
		}
		if got := b.Lots[1]; got.Origin != sorting.Moulded || !got.OriginGiven {
			t.Errorf("%s: the lot's own: %s", c.name, got.Origin)
		}
		if (b.Floor != nil) != c.floor {
			t.Errorf("%s: floor %+v", c.name, b.Floor)
		}
	}
}

// Sides and merged lots take after the lots they came from, the weakest origin first.
func TestSidesTakeAfterTheirLot(t *testing.T) {
	b, _ := read(t, `
[[lot]]
name = "mine"
origin = "own-print"
prep = "cut"
heats = 1
could_be = ["PLA"]
colour = "red"
additives = ["glitter"]
[[lot]]
name = "found"
origin = "moulded"
heats = 2
could_be = ["ABS"]
state = "wet"
[[split]]
lot = "mine"
kind = "hand"
into = [{ name = "m1" }, { name = "m2", origin = "unknown", prep = "flake", could_be = ["PETG"], state = "wet" }]
[[merge]]
from = ["m1", "found"]
into = "both"
[[split]]
lot = "both"
kind = "magnet"
into = [{ name = "b1", outcome = "sticks" }, { name = "b2" }]
`)
	m1, m2 := b.Splits[0].Into[0].Lot, b.Splits[0].Into[1].Lot
	both, b1 := b.Merges[0].Lot, b.Splits[1].Into[0].Lot
	for _, c := range []struct{ got, want sorting.Lot }{
		{m1, sorting.Lot{Name: "m1", Origin: sorting.OwnPrint, OriginGiven: true, Prep: sorting.Cut, PrepGiven: true, State: sorting.Dry, Heats: 1, CouldBe: symbols("PLA"), Colour: "red", Additives: []string{"glitter"}}},
		{m2, sorting.Lot{Name: "m2", Origin: sorting.UnknownOrigin, OriginGiven: true, Prep: sorting.Flake, PrepGiven: true, State: sorting.Wet, Heats: 1, CouldBe: symbols("PETG"), Colour: "red", Additives: []string{"glitter"}}},
		{both, sorting.Lot{Name: "both", Origin: sorting.Moulded, OriginGiven: true, Prep: sorting.AsIs, State: sorting.Wet, Heats: 2, CouldBe: symbols("PLA", "ABS"), Additives: []string{"glitter"}}},
		{b1, sorting.Lot{Name: "b1", Origin: sorting.Moulded, OriginGiven: true, Prep: sorting.AsIs, State: sorting.Dry, Heats: 2, CouldBe: symbols("PLA", "ABS"), Additives: []string{"glitter"}}},
	} {
		if diff := cmp.Diff(c.want, c.got, cmpopts.IgnoreFields(sorting.Lot{}, "Line")); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.want.Name, diff)
		}
	}
}

// The cues of a flame may stand as a table, under a header of their own, or on the test itself.
func TestFlameForms(t *testing.T) {
	const test = "[[lot]]\nname = \"a\"\norigin = \"own-print\"\n[[test]]\nlot = \"a\"\nkind = \"flame\"\n"
	yes := true
	want := &sorting.FlameCues{Smoke: "sooty", Drips: &yes}
	for _, src := range []string{
		test + "outcome = { smoke = \"sooty\", drips = true }\n",
		test + "[test.outcome]\nsmoke = \"sooty\"\ndrips = true\n",
		test + "outcome.smoke = \"sooty\"\noutcome.drips = true\n",
		test + "smoke = \"sooty\"\ndrips = true\n",
	} {
		b, _ := read(t, src)
		if diff := cmp.Diff(want, b.Tests[0].Flame); diff != "" || b.Tests[0].Outcome != "" {
			t.Errorf("%s (-want +got):\n%s", src, diff)
		}
	}
	b, _ := read(t, test+"outcome = \"unclear\"\n")
	if b.Tests[0].Flame != nil || b.Tests[0].Outcome != cues.Unclear {
		t.Errorf("unclear: %+v", b.Tests[0])
	}
}

// Forms that a careful user may write and that are right.
func TestAccepted(t *testing.T) {
	const lot = "[[lot]]\nname = \"a\"\norigin = \"own-print\"\n"
	const bin = "[bin]\ngross = \"5 kg\"\ntare = \"1 kg\"\n"
	for name, src := range map[string]string{
		"a test on what no lot covers":         bin + "[[test]]\nlot = \"unsorted\"\nkind = \"bend\"\noutcome = \"snaps\"\n",
		"a test without an id":                 lot + "[[test]]\nlot = \"a\"\nkind = \"bend\"\noutcome = \"snaps\"\n[[test]]\nlot = \"a\"\nkind = \"bend\"\noutcome = \"bends\"\n",
		"a stream alone":                       "[[stream]]\nname = \"s\"\nto = \"tub\"\nmass = \"4 kg ± 20 g\"\n",
		"weigh and marked, unclear":            lot + "[[test]]\nlot = \"a\"\nkind = \"weigh\"\noutcome = \"unclear\"\n[[test]]\nlot = \"a\"\nkind = \"marked\"\noutcome = \"unclear\"\n",
		"a count of none beside others":        lot + "[[test]]\nlot = \"a\"\nkind = \"float\"\ndensity = \"1.2 g/cm3\"\ncounts = { sinks = 3, floats = 0 }\n",
		"a length with its diameter":           bin + "[[printed]]\ncounted = \"1690 m\"\ndiameter = \"1.75 mm\"\nmaterial = \"PETG\"\n",
		"a job list with a material":           bin + "[[printed]]\njobs = \"jobs.csv\"\nmaterial = \"PETG\"\nhidden = [\"PLA\"]\n",
		"two counters of one machine":          bin + "[[printed]]\nfrom = \"one\"\ncounted = \"1 kg\"\nmaterial = \"PETG\"\n[[printed]]\nfrom = \"one\"\ncounted = \"1 kg\"\nmaterial = \"PLA\"\n",
		"tests in brackets":                    "test = [\n { lot = \"a\", kind = \"bend\", outcome = \"snaps\" }, # one\n]\n" + lot,
		"a dotted bin":                         "bin.gross = \"5 kg\"\nbin.tare = \"1 kg\"\n",
		"products and formulas at the bench":   lot + "[kit]\nhas = [\"calcium chloride dihydrate 77 %\", \"MgSO4·7H2O\", \"K2CO3\", \"scale 0.01 g\", \"isopropanol 70 %\"]\n",
		"an outlet that has to be paid":        lot + "[[outlet]]\nname = \"depot\"\naccepts = [\"pet-g\"]\npays = \"-0.10 EUR/kg\"\n",
		"a hand sort that tells own prints":    "[[lot]]\nname = \"a\"\norigin = \"unknown\"\n[[split]]\nlot = \"a\"\nkind = \"hand\"\ninto = [{ name = \"b\", origin = \"own-print\" }, { name = \"c\" }]\n",
		"a split of a side, and a merge":       lot + "[[split]]\nlot = \"a\"\nkind = \"hand\"\ninto = [{ name = \"b\" }, { name = \"c\" }]\n[[merge]]\nfrom = [\"b\", \"c\"]\ninto = \"d\"\n[[split]]\nlot = \"d\"\nkind = \"soak\"\ninto = [{ name = \"e\", outcome = \"slimy\" }, { name = \"f\", outcome = \"unchanged\" }]\n",
		"names in other scripts, and a joiner": "[[lot]]\nname = \"бе\u200dлый 白 <b>=1+1 ../x\"\n",
		"CRLF, a mark, no final newline":       "\ufeff" + strings.ReplaceAll(strings.TrimSuffix(lot, "\n"), "\n", "\r\n"),
		"a time as a date":                     lot + "[[test]]\nlot = \"a\"\nkind = \"bend\"\noutcome = \"snaps\"\nat = \"2025-03-01 20:10\"\n",
	} {
		if _, warns := read(t, src); len(warns) > 0 {
			t.Errorf("%s: %+v", name, warns)
		}
	}
}

// What contradicts only by measurement is a warning, on the line of what contradicts.
func TestContradictionsAreWarnings(t *testing.T) {
	const lot = "[[lot]]\nname = \"a\"\nmass = \"100 g ± 1 g\"\norigin = \"own-print\"\npieces = 4\n"
	const bin = "[bin]\ngross = \"5 kg\"\ntare = \"1 kg\"\nscale = \"10 g\"\n"
	for _, c := range []struct {
		name, src string
		line      int
		says      string // a part of it; "" for none
	}{
		{"halves heavier than the whole", lot + "[[split]]\nlot = \"a\"\nkind = \"hand\"\ninto = [{ name = \"b\", mass = \"60 g\" }, { name = \"c\", mass = \"50 g\" }]\n", 6, "its sides together weigh 110 g and it weighed 100 g"},
		{"halves within the doubt", lot + "[[split]]\nlot = \"a\"\nkind = \"hand\"\ninto = [{ name = \"b\", mass = \"51 g\" }, { name = \"c\", mass = \"50 g\" }]\n", 0, ""},
		{"the loss counts", lot + "[[split]]\nlot = \"a\"\nkind = \"hand\"\nloss = \"20 g\"\ninto = [{ name = \"b\", mass = \"50 g\" }, { name = \"c\", mass = \"50 g\" }]\n", 6, "120 g"},
		{"more taken than there is", lot + "[[taken]]\nlot = \"a\"\nmass = \"60 g\"\n[[taken]]\nlot = \"a\"\nmass = \"60 g\"\n", 9, "120 g were taken in all and it weighed 100 g"},
		{"stock that grew", bin + "[[spool]]\nmaterial = \"PLA\"\nbefore = \"1 kg\"\nafter = \"2 kg\"\n", 5, "heavier after than before"},
		{"hardware above the whole", bin + "[[kept]]\nmass = \"1 kg\"\nhardware = \"2 kg\"\n", 5, "heavier than the whole"},
		{"hardware above the bin", bin + "hardware = \"4.5 kg\"\n", 1, "outweigh the whole bin"},
		{"lots above the bin", bin + "[[lot]]\nname = \"a\"\nmass = \"3 kg\"\n[[lot]]\nname = \"b\"\ngross = \"2 kg\"\ntare = \"0.5 kg\"\n", 1, "its lots together weigh 4.5 kg and the whole bin 4 kg"},
		{"a piece that floats by weight", lot + "[[test]]\nlot = \"a\"\nkind = \"weigh\"\nin_air = \"5 g\"\nin_liquid = \"5 g\"\nliquid = \"1 g/cm3\"\n", 6, "no less in the liquid"},
		{"more pieces than there are", lot + "[[test]]\nlot = \"a\"\nkind = \"bend\"\ncounts = { snaps = 9 }\n", 6, "9 pieces were tested of about 4"},
		{"a test after the split", lot + "[[split]]\nlot = \"a\"\nkind = \"hand\"\ninto = [{ name = \"b\" }, { name = \"c\" }]\n[[test]]\nlot = \"a\"\nkind = \"bend\"\noutcome = \"snaps\"\n", 10, "after the lot was split on line 6"},
		{"a stranger heated", "[[lot]]\nname = \"a\"\norigin = \"moulded\"\n[[test]]\nlot = \"a\"\nkind = \"hot-air\"\noutcome = \"shrinks\"\n", 4, "not known to be an own print"},
		{"names alike", "[[lot]]\nname = \"White gloss\"\norigin = \"own-print\"\n[[lot]]\nname = \"white  gloss\"\norigin = \"own-print\"\n", 4, `named like "White gloss" on line 1`},
		{"no tare", "[bin]\ngross = \"5 kg\"\norigin = \"own-print\"\n", 2, "the container counts as nothing"},
		{"a salt nobody knows", lot + "[[bath]]\nname = \"A\"\nsalt = \"epsom slat\"\ndensity = \"1.2 g/cm3\"\n", 8, `"epsom slat"`},
	} {
		_, warns := read(t, c.src)
		switch {
		case c.says == "" && len(warns) == 0:
		case c.says == "" || len(warns) != 1 || warns[0].Line != c.line || !strings.Contains(warns[0].Says, c.says) || warns[0].Cure == "":
			t.Errorf("%s: %+v", c.name, warns)
		}
	}
}

// Encodings that a file may be saved in by mistake are named.
func TestEncodings(t *testing.T) {
	for name, c := range map[string]struct{ src, want string }{
		"UTF-16 with its mark": {"\xff\xfe[\x00b\x00]\x00", "f.toml:1: the file is in UTF-16; save it as UTF-8 in the editor"},
		"UTF-16 without":       {"[\x00b\x00]\x00", "f.toml:1: there is a zero byte in the file"},
		"line ends of CR":      {"[bin]\rgross = \"5 kg\"\r", "f.toml:1: bin: there is a character that cannot be seen"},
	} {
		_, _, err := binfile.Read("f.toml", []byte(c.src))
		if err == nil || !strings.HasPrefix(err.Error(), c.want) || strings.ContainsAny(err.Error(), "\x00\r") {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, _, err := binfile.Read("\x1b[2Jf.toml", []byte("x"))
	if err == nil || strings.Contains(err.Error(), "\x1b") {
		t.Errorf("the file's name is echoed raw: %q", err)
	}
}

// A long record is read in good time: ten thousand tests, then the same with a fault in each.
func TestLongFile(t *testing.T) {
	var b strings.Builder
	for i := range 60 {
		fmt.Fprintf(&b, "[[lot]]\nname = \"lot %d\"\nmass = \"1 kg\"\n", i)
	}
	for i := range 10000 {
		fmt.Fprintf(&b, "[[test]]\nid = \"t%d\"\nlot = \"lot %d\"\nkind = \"bend\"\noutcome = \"snaps\"\n", i+1, i%60)
	}
	begin := time.Now()
	bin, _ := read(t, b.String())
	if len(bin.Tests) != 10000 {
		t.Errorf("%d tests", len(bin.Tests))
	}
	_, _, err := binfile.Read("x.toml", []byte(strings.ReplaceAll(b.String(), "snaps", "snap")))
	if faults, _ := err.(binfile.Faults); len(faults) != 10000 {
		t.Errorf("%d faults", len(faults))
	}
	if lines := strings.Split(err.Error(), "\n"); len(lines) != 1001 || lines[1000] != "… and 9000 more" {
		t.Errorf("%d lines of faults", len(lines))
	}
	if took := time.Since(begin); took > time.Minute { // some seconds; a busy machine has its time
		t.Errorf("it took %v", took)
	}
}
