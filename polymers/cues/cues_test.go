package cues

import (
	"slices"
	"strings"
	"testing"
)

// The kinds and outcomes are those of the bin file, in its spelling.
func TestKindsAndOutcomes(t *testing.T) {
	want := map[Kind]string{
		"float": "floats hovers sinks", "weigh": "", "hot-water": "stiff soft", "soak": "unchanged slimy dissolves", "bend": "snaps whitens bends rubbery",
		"acetone": "unchanged whitens tacky dissolves", "hot-air": "no-change shrinks rubbery clear-melt milky-melt bubbles chars", "flame": "", "marked": "",
	}
	if len(Kinds()) != len(want) {
		t.Errorf("%d kinds, not %d", len(Kinds()), len(want))
	}
	for _, k := range Kinds() {
		if got, ok := want[k]; !ok || got != strings.Join(Seen(k, ""), " ") {
			t.Errorf("%s shows %v", k, Seen(k, ""))
		}
	}
	if got := strings.Join(Seen(Flame, "smoke"), " "); got != "none light sooty" {
		t.Errorf("smoke is %s", got)
	}
	if Seen("lick", "") != nil || Seen(Flame, "smell") != nil {
		t.Error("a kind or a cue that does not exist shows something")
	}
	if _, ok := Find("lick"); ok {
		t.Error("found a kind that does not exist")
	}
}

// Bench minutes as the bin file's defaults say them (common practice).
func TestMinutes(t *testing.T) {
	want := map[Kind]float64{Bend: 0.3, Soak: 1, Float: 1.5, HotWater: 2, Acetone: 2, HotAir: 3, Weigh: 4}
	for k, m := range want {
		if b, _ := Find(k); b.Minutes != m {
			t.Errorf("%s takes %v min, not %v", k, b.Minutes, m)
		}
	}
	float, _ := Find(Float)
	water, _ := Find(HotWater)
	if float.SetUpMinutes != 10 || water.SetUpMinutes != 3 {
		t.Errorf("set up: %v min a bath, %v min a temperature", float.SetUpMinutes, water.SetUpMinutes)
	}
}

// Cautions stand beside every step that can hurt, with a source that resolves.
func TestCautions(t *testing.T) {
	must := map[Kind][]string{
		HotWater: {"Scald", "tongs", "children"},
		Float:    {"goggles", "alcohol"},
		Acetone:  {"burns", "heat gun", "Air the room", "drain"},
		HotAir:   {"Own prints only", "vinyl chloride", "solvent", "fume"},
		Flame:    {"Never indoors", "carbon monoxide", "Local rules", "did not print"},
		Bend:     {"goggles", "fibre"},
	}
	for k, list := range must {
		b, _ := Find(k)
		text := strings.Join(b.Cautions, " ")
		for _, w := range list {
			if !strings.Contains(strings.ToLower(text), strings.ToLower(w)) {
				t.Errorf("the cautions of %s say nothing of %q", k, w)
			}
		}
	}
	for _, b := range bench {
		if (b.Heats || b.Solvent || b.Kind == HotWater) && len(b.warn) < 3 {
			t.Errorf("%s can hurt and has %d cautions", b.Kind, len(b.warn))
		}
		for _, w := range b.warn {
			resolve(t, string(b.Kind), w.source)
		}
		resolve(t, string(b.Kind), b.Source)
	}
}

// No test asks for a smell, and none holds copper in a flame; a flame is the last and never proposed.
func TestWhatIsNeverAsked(t *testing.T) {
	for _, b := range All() {
		words := strings.ToLower(strings.Join(append(append([]string{b.Title}, b.Protocol...), b.Outcomes...), " "))
		for _, c := range b.Cues {
			words += " " + strings.ToLower(c.Name+" "+strings.Join(c.Outcomes, " "))
		}
		for _, bad := range []string{"smell", "sniff", "odour", "odor", "copper", "acrid", "beilstein"} {
			if strings.Contains(words, bad) {
				t.Errorf("%s says %q", b.Kind, bad)
			}
		}
		if b.LastWay != (b.Kind == Flame) {
			t.Errorf("%s is the last way: %v", b.Kind, b.LastWay)
		}
		if b.Heats != (b.Kind == HotAir || b.Kind == Flame) || b.Solvent != (b.Kind == Acetone) {
			t.Errorf("%s: heats %v, solvent %v", b.Kind, b.Heats, b.Solvent)
		}
		if len(b.Protocol) == 0 || b.PieceMust == "" || b.Family == "" || b.Minutes <= 0 {
			t.Errorf("the record of %s is not whole", b.Kind)
		}
	}
}

// The order is the safest first: nothing heats before the last test that does not.
func TestBenchOrder(t *testing.T) {
	all := All()
	cold := slices.IndexFunc(all, func(b Test) bool { return b.Heats || b.Solvent })
	for _, b := range all[cold:] {
		if !b.Heats && !b.Solvent {
			t.Errorf("%s comes after %s", b.Kind, all[cold].Kind)
		}
	}
	if all[len(all)-1].Kind != Flame {
		t.Error("the flame is not last")
	}
}

func TestRecordsAreCopies(t *testing.T) {
	b, _ := Find(Bend)
	b.Outcomes[0], b.Protocol[0] = "sings", ""
	if again, _ := Find(Bend); again.Outcomes[0] != "snaps" || again.Protocol[0] == "" {
		t.Error("a caller changed the bench")
	}
}

func TestMissing(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		kit  []string
		want int
	}{
		{HotWater, []string{"kettle", "thermometer"}, 0}, {HotWater, []string{"Kettle"}, 1}, {HotWater, nil, 2},
		{Weigh, []string{"scale 0.01 g"}, 0}, {Weigh, []string{"scale 0.1 g"}, 0}, {Weigh, []string{"scale 1 g"}, 1}, {Weigh, []string{"scale 100 mg"}, 0},
		{Float, nil, 0}, {Acetone, []string{"lighter"}, 1}, {HotAir, []string{"heat gun"}, 0},
	} {
		b, _ := Find(c.kind)
		if got := b.Missing(c.kit); len(got) != c.want {
			t.Errorf("%s with %v lacks %v", c.kind, c.kit, got)
		}
	}
}

func resolve(t *testing.T, where, ids string) {
	t.Helper()
	if ids == "" {
		t.Errorf("%s names no source", where)
	}
	for _, id := range strings.Fields(ids) {
		if text, ok := Source(id); !ok || text == "" {
			t.Errorf("%s: source %q does not resolve", where, id)
		}
	}
}
