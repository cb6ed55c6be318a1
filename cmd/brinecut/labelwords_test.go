package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/reuse"
)

// printedOf gathers the labels of a demonstration bin with more tables behind it.
func printedOf(t *testing.T, bin, more string, f labelFlags) (paper.Job, show.Labels) {
	t.Helper()
	src, err := os.ReadFile(filepath.Join(root, "testdata/bins", bin))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "bin.toml")
	if err := os.WriteFile(path, append(src, more...), 0o600); err != nil {
		t.Fatal(err)
	}
	a := &app{in: strings.NewReader(""), out: io.Discard, err: io.Discard}
	job, list, err := a.labelJob(&f, path)
	if err != nil {
		t.Fatal(err)
	}
	return job, list
}

func fact(l paper.Label, name string) string {
	for _, f := range l.Facts {
		if f.Name == name {
			return f.Value
		}
	}
	return "no such line"
}

var bags = labelFlags{what: "bags", handover: "last"}

// twoBags are those of one batch, 2.45 kg with a tare, and what the other weighs.
func twoBags(other string) string {
	return `
[[bag]]
id    = "A1"
lots  = ["clear"]
gross = "2.45 kg"
tare  = "20 g"

[[bag]]
id    = "A2"
lots  = ["clear"]
gross = "` + other + `"
`
}

// TestBagsOfABatch: what is weighed stands on the label, bags of one batch are counted, and what random
// draws demonstrate is the only purity.
func TestBagsOfABatch(t *testing.T) {
	job, list := printedOf(t, "recycler-asks-95.toml", twoBags("2.41 kg")+`
[supplier]
name = "A. Maker"
`, bags)
	if len(job.Labels) != 2 || len(job.Handovers) != 1 || list.Planned {
		t.Fatalf("%d labels, %d sheets, planned %v", len(job.Labels), len(job.Handovers), list.Planned)
	}
	first, second := job.Labels[0], job.Labels[1]
	if first.Head != ">PETG<" || first.Stop != "" || first.Mass != "2.43 kg net, weighed" || first.Count != "bag 1 of 2" || second.Count != "bag 2 of 2" {
		t.Errorf("%+v", first)
	}
	// 70 of 70: 0.05^(1/70) = 95.8 %, Clopper and Pearson 1934
	if s := fact(first, "Purity shown"); !strings.Contains(s, "95.8 %") || !strings.Contains(s, "70 pieces drawn at random, 0 wrong") {
		t.Errorf("purity: %q", s)
	}
	if fact(first, "Supplier") != "A. Maker" || fact(first, "Date") != "" {
		t.Errorf("supplier %q, date %q", fact(first, "Supplier"), fact(first, "Date"))
	}
	if first.ID != "A1+"+string(paper.CheckCharacter("A1")) || list.Labels[1].Bag != "A2" || *list.Labels[1].NetG != 2410 {
		t.Errorf("%+v, %+v", first.ID, list.Labels[1])
	}
	h := job.Handovers[0]
	if len(h.Bags) != 2 || field(h.Fields, "Batch") != "4.84 kg net, weighed, in 2 bags" {
		t.Errorf("hand-over: %+v, batch %q", h.Bags, field(h.Fields, "Batch"))
	}
}

func field(list []reuse.Field, name string) string {
	for _, f := range list {
		if f.Name == name {
			return f.Value
		}
	}
	return "no such field"
}

// TestBagOfTwoFractions: a bag that holds what was told apart is a mixture again, whatever each part is.
func TestBagOfTwoFractions(t *testing.T) {
	job, _ := printedOf(t, "recycler-asks-95.toml", `
[[bag]]
id    = "A1"
lots  = ["clear", "black"]
gross = "8.7 kg"
`, bags)
	l := job.Labels[0]
	if l.Head != "NOT IDENTIFIED" || l.Stop != "DO NOT HEAT" || !strings.Contains(fact(l, "Purity shown"), "nothing demonstrated") {
		t.Errorf("%q %q, purity %q", l.Head, l.Stop, fact(l, "Purity shown"))
	}
	if s := fact(l, "Other polymers"); !strings.Contains(s, "PETG") || !strings.Contains(s, "PLA") {
		t.Errorf("what is in it is not named: %q", s)
	}
}

// TestBagKeepsTheBan: a bag with a never-heated lot in it is never heated, however large the rest.
func TestBagKeepsTheBan(t *testing.T) {
	for lots, head := range map[string]string{`["grey fitting"]`: "", `["orange brackets", "grey fitting"]`: "NOT IDENTIFIED", `["orange brackets", "housing"]`: "NOT IDENTIFIED"} {
		job, _ := printedOf(t, "old-fitting-and-fr-housing.toml", "\n[[bag]]\nid = \"X\"\nlots = "+lots+"\ngross = \"300 g\"\n", bags)
		if l := job.Labels[0]; l.Stop != "DO NOT HEAT" || head != "" && l.Head != head {
			t.Errorf("%s: %q %q", lots, l.Head, l.Stop)
		}
		if h := job.Handovers[0]; h.Stop != "DO NOT HEAT" {
			t.Errorf("%s: the sheet does not say it", lots)
		}
	}
}

// TestPartOfAFraction: of some of a fraction's lots nothing is demonstrated, for the pieces were drawn
// from all of them.
func TestPartOfAFraction(t *testing.T) {
	more := strings.Replace(`
[[lot]]
name     = "clear two"
mass     = "10 g"
could_be = ["PETG"]
mixed    = false
prep     = "cut"

[[test]]
id     = "t5"
lot    = "clear two"
kind   = "hot-water"
temp   = "64 °C"
counts = { stiff = 30 }
drawn  = "random"

[[bag]]
id    = "A1"
lots  = [LOTS]
gross = "4.86 kg"
`, "LOTS", `"clear"`, 1)
	part, _ := printedOf(t, "recycler-asks-95.toml", more, bags)
	whole, _ := printedOf(t, "recycler-asks-95.toml", strings.Replace(more, `["clear"]`, `["clear", "clear two"]`, 1), bags)
	if s := fact(whole.Labels[0], "Purity shown"); !strings.Contains(s, "100 pieces drawn at random") {
		t.Fatalf("the whole fraction: %q", s)
	}
	if s := fact(part.Labels[0], "Purity shown"); !strings.Contains(s, "nothing demonstrated") {
		t.Errorf("a part of it: %q", s)
	}
}

// TestPlanned: without any bag there is one label a fraction, and it says that nothing was weighed.
func TestPlanned(t *testing.T) {
	job, list := printedOf(t, "recycler-asks-95.toml", "", bags)
	if len(job.Labels) != 2 || !list.Planned {
		t.Fatalf("%d labels, planned %v", len(job.Labels), list.Planned)
	}
	for i, l := range job.Labels {
		if l.Mass != "planned, not weighed" || l.Count != "" || list.Labels[i].NetG != nil {
			t.Errorf("%+v", l)
		}
	}
}

func TestLotsAndBoxes(t *testing.T) {
	lots, _ := printedOf(t, "drawbridge.toml", "", labelFlags{what: "lots"})
	if len(lots.Labels) < 6 {
		t.Errorf("%d lots", len(lots.Labels))
	}
	for _, l := range lots.Labels {
		if l.Head != "NOT IDENTIFIED" || l.Stop != "DO NOT HEAT" {
			t.Errorf("%s: %q %q", l.Name, l.Head, l.Stop)
		}
	}
	boxes, _ := printedOf(t, "drawbridge.toml", "", labelFlags{what: "boxes"})
	var heads []string
	for _, l := range boxes.Labels {
		heads = append(heads, l.Head)
		if l.Snippet == (l.Stop != "") {
			t.Errorf("%s: snippet %v, %q", l.Head, l.Snippet, l.Stop)
		}
	}
	if got := strings.Join(heads, " "); got != ">PETG< >PLA< >TPU< >PVAL< NOT IDENTIFIED" {
		t.Errorf("boxes: %s", got)
	}
}

func TestReadRoll(t *testing.T) {
	for s, want := range map[string][2]float64{"62x100": {62, 100}, "62 x 100 mm": {62, 100}, "62 mm x 100 mm": {62, 100}, "4x6 in": {101.6, 152.4}, "62×100mm": {62, 100}, "6.2 x 10 cm": {62, 100}} {
		w, h, ok := readRoll(s)
		if !ok || w-want[0] > 1e-9 || want[0]-w > 1e-9 || h-want[1] > 1e-9 || want[1]-h > 1e-9 {
			t.Errorf("%q: %v x %v, %v", s, w, h, ok)
		}
	}
	for _, s := range []string{"", "62", "x", "62x", "62x100 kg", "-62x100", "0x100", "62x100x3", "NaNx100"} {
		if w, h, ok := readRoll(s); ok {
			t.Errorf("%q is read as %v x %v", s, w, h)
		}
	}
}

// TestPaperInBothUnits: whoever takes a bag weighs it in kilograms, whatever the sender reads, so that paper
// says both. 2.43 kg are 5.357 lb, 4.84 kg are 10.670 lb and 20 g are 0.705 oz (NIST Special Publication
// 811, 2008, appendix B.8: 1 lb = 0.453 592 37 kg).
func TestPaperInBothUnits(t *testing.T) {
	job, _ := printedOf(t, "recycler-asks-95.toml", twoBags("5.313 lb"), bags)
	metric := job.Labels[0].Mass
	(&app{}).beside(&job)
	if job.Labels[0].Mass != metric {
		t.Errorf("metric label says %q", job.Labels[0].Mass)
	}
	(&app{units: "us"}).beside(&job)
	if job.Labels[0].Mass != "2.43 kg (5.36 lb) net, weighed" || job.Labels[1].Mass != "2.41 kg (5.31 lb) net, weighed" {
		t.Errorf("labels say %q, %q", job.Labels[0].Mass, job.Labels[1].Mass)
	}
	h := job.Handovers[0]
	if b := h.Bags[0]; b.Gross != "2.45 kg (5.40 lb)" || b.Tare != "20 g (0.71 oz)" || b.Net != "2.43 kg (5.36 lb)" || h.Bags[1].Gross != "5.313 lb" {
		t.Errorf("the list of the hand-over sheet says %+v", h.Bags)
	}
	if s := field(h.Fields, "Batch"); s != "4.84 kg (10.67 lb) net, weighed, in 2 bags" {
		t.Errorf("batch %q", s)
	}
}
