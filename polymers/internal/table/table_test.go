package table

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const data = "../../data"

func load(t testing.TB) Table {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(data, "*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, n := range names {
		if files[n], err = os.ReadFile(n); err != nil {
			t.Fatal(err)
		}
	}
	tb, err := Read(files)
	if err != nil {
		t.Fatal(err)
	}
	return tb
}

func TestGeneratedGoIsUpToDate(t *testing.T) {
	want, err := load(t).Go()
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("../../table_gen.go")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("table_gen.go differs from the data files: run go generate ./polymers")
	}
}

// each visits every value of the data files with a name for it.
func each(tb Table, visit func(where string, v Value)) {
	for i := range tb.Materials {
		m := &tb.Materials[i]
		for _, p := range m.Properties() {
			for _, v := range *p.Values {
				visit(m.Symbol+" "+p.Key, v)
			}
		}
		for _, d := range m.Dry {
			for _, vs := range [][]Value{d.TempC, d.Hours, d.MaxMoisture} {
				for _, v := range vs {
					visit(m.Symbol+" dry "+d.Form, v)
				}
			}
		}
	}
	for _, h := range tb.Hazards {
		if h.OnsetC != nil {
			visit("hazard "+h.ID, *h.OnsetC)
		}
	}
	for _, f := range tb.Fillers {
		visit("filler "+f.Symbol, f.Density)
	}
}

func TestEverySourceIsResolvedAndUsed(t *testing.T) {
	tb := load(t)
	read, used := map[string]string{}, map[string]bool{}
	for _, s := range tb.Sources {
		if _, twice := read[s.ID]; twice {
			t.Errorf("source %s stands twice", s.ID)
		}
		read[s.ID] = s.Read
		if s.Title == "" || (s.Read != "none" && (s.Author == "" || s.Where == "")) {
			t.Errorf("source %s has no title, author or place", s.ID)
		}
	}
	mark := func(where, id string) {
		used[id] = true
		if _, ok := read[id]; !ok {
			t.Errorf("%s: no source %q", where, id)
		}
	}
	each(tb, func(where string, v Value) { mark(where, v.Source) })
	for _, h := range tb.Hazards {
		mark("hazard "+h.ID, h.Source)
	}
	mark("spreads", "ofd")
	each(tb, func(_ string, v Value) { // a note may lean on a source too, named in brackets
		for id := range read {
			used[id] = used[id] || strings.Contains(v.Note, "("+id+")")
		}
	})
	for id := range read {
		if !used[id] {
			t.Errorf("source %s is never used", id)
		}
	}
}

// A value may only claim the evidence that its source can give.
func TestEvidenceFitsTheSource(t *testing.T) {
	tb := load(t)
	read := map[string]string{}
	for _, s := range tb.Sources {
		read[s.ID] = s.Read
	}
	special := map[string]string{"memory": "from memory", "common-practice": "common practice", "judgement": "judgement",
		"mixture-rule": "computed", "crystalline-share": "computed", "declared": "declared", "ofd": "declared"}
	each(tb, func(where string, v Value) {
		want := special[v.Source]
		if want == "" {
			want = read[v.Source]
		}
		if v.Evidence != want {
			t.Errorf("%s: evidence %q of source %s, want %q", where, v.Evidence, v.Source, want)
		}
	})
}

var limits = map[string][2]float64{ // what is physical for a polymer; wide on purpose
	"density_g_cm3": {0.85, 8}, "glass_transition_c": {-130, 230}, "melt_c": {50, 345}, "softens_c": {40, 110},
	"heat_deflection_c": {40, 260}, "process_c": {60, 405}, "ceiling_c": {95, 405}, "onset_c": {95, 625},
	"water_uptake_percent": {0, 12}, "specific_heat_j_kg_k": {800, 3000}, "conductivity_w_m_k": {0.08, 0.6},
	"melt_enthalpy_kj_kg": {0, 240}, "shrinkage_percent": {0.1, 6},
}

func TestRangesAreOrderedAndPhysical(t *testing.T) {
	tb := load(t)
	each(tb, func(where string, v Value) {
		low, high := v.Range()
		if math.IsNaN(v.Typical) || !(low <= v.Typical && v.Typical <= high) {
			t.Errorf("%s: %g, %g, %g is not ordered", where, low, v.Typical, high)
		}
	})
	for i := range tb.Materials {
		m := &tb.Materials[i]
		for _, p := range m.Properties() {
			for _, v := range *p.Values {
				low, high := v.Range()
				if l := limits[p.Key]; low < l[0] || high > l[1] {
					t.Errorf("%s %s: %g to %g is outside %g to %g (%s)", m.Symbol, p.Key, low, high, l[0], l[1], v.Source)
				}
			}
		}
		if !(m.Spread >= 0.01 && m.Spread <= 0.6) {
			t.Errorf("%s: spread %g", m.Symbol, m.Spread)
		}
	}
}

// The sources stand in the stated order behind the pick.
func TestAlternatesStandInTheStatedOrder(t *testing.T) {
	rank := map[string]int{"page": 0, "abstract": 1, "declared": 2, "computed": 3, "common practice": 4, "from memory": 5, "judgement": 6}
	tb := load(t)
	for i := range tb.Materials {
		m := &tb.Materials[i]
		for _, p := range m.Properties() {
			for k := 2; k < len(*p.Values); k++ {
				if a, b := (*p.Values)[k-1], (*p.Values)[k]; rank[a.Evidence] > rank[b.Evidence] {
					t.Errorf("%s %s: %s (%s) stands before %s (%s)", m.Symbol, p.Key, a.Source, a.Evidence, b.Source, b.Evidence)
				}
			}
		}
	}
}

// TestTableIsPinned holds the row counts and the sums of the picks' columns, file by file, so that
// no value changes unseen. A correction changes a line here and is named in CHANGELOG.md.
func TestTableIsPinned(t *testing.T) {
	want := map[string]string{}
	tb := load(t)
	got := map[string]string{}
	for _, f := range []string{"polyesters", "styrenics", "engineering", "elastomers", "polyolefins", "vinyls", "never_heat"} {
		n, values := 0, 0
		sum := map[string]float64{}
		for i := range tb.Materials {
			m := &tb.Materials[i]
			if m.File != f {
				continue
			}
			n++
			for _, p := range m.Properties() {
				for k, v := range *p.Values {
					if v.From != "" {
						continue
					}
					values++
					if k == 0 {
						sum[p.Key] += v.Typical
					}
				}
			}
		}
		got[f] = fmt.Sprintf("%d records, %d values, density %.3f, Tg %.1f, melt %.1f, process %.1f, ceiling %.1f",
			n, values, sum["density_g_cm3"], sum["glass_transition_c"], sum["melt_c"], sum["process_c"], sum["ceiling_c"])
		want[f] = pinned[f]
	}
	for f, w := range want {
		if got[f] != w {
			t.Errorf("%s:\n got  %s\n want %s", f, got[f], w)
		}
	}
	if len(tb.Materials) != 67 || len(tb.Hazards) != 30 || len(tb.Fillers) != 7 {
		t.Errorf("%d materials, %d hazards, %d fillers", len(tb.Materials), len(tb.Hazards), len(tb.Fillers))
	}
}

// TestSpreadsComeFromTheDeclaredDensities recomputes every spread that the declared products give:
// midway between the standard deviation of all rows of the named kind and that of the rows whose value
// was not stamped by a template, which are the extremes between which the truth lies; never below 0.01,
// the median difference between two curators of the same product.
func TestSpreadsComeFromTheDeclaredDensities(t *testing.T) {
	rows := declared(t)
	tb := load(t)
	tested := 0
	for _, m := range tb.Materials {
		if m.SpreadMaterial == "" {
			continue
		}
		tested++
		all, own := pick(rows, m, false), pick(rows, m, true)
		s := sd(all)
		if len(own) > 2 {
			s = (s + sd(own)) / 2
		}
		if s = math.Max(0.01, s); math.Abs(s-m.Spread) > 0.0005001 {
			t.Errorf("%s: spread %.4f, the rows give %.4f", m.Symbol, m.Spread, s)
		}
	}
	if tested < 15 {
		t.Errorf("only %d spreads come from the rows", tested)
	}
}

// The published table of the same 1,003 rows: n, mean and standard deviation by material.
func TestDeclaredRowsGiveThePublishedTable(t *testing.T) {
	rows := declared(t)
	if len(rows) != 1003 {
		t.Errorf("%d rows, want 1003", len(rows))
	}
	unfilled := []string{"plain", "silk", "matte", "glow"}
	for _, c := range []struct {
		material string
		own      bool
		n        int
		mean, sd float64
	}{
		{"ABS", false, 73, 1.0495, 0.0222}, {"ABS", true, 23, 1.07, 0.0312}, {"ASA", false, 51, 1.0741, 0.0154},
		{"ASA", true, 13, 1.0862, 0.0279}, {"HIPS", false, 12, 1.0425, 0.0045}, {"PA6", false, 13, 1.1392, 0.0602},
		{"PC", false, 14, 1.1986, 0.0238}, {"PETG", false, 112, 1.2686, 0.0183}, {"PETG", true, 24, 1.2633, 0.0397},
		{"PLA", false, 346, 1.2429, 0.0312}, {"PLA", true, 109, 1.2493, 0.0552}, {"PP", false, 8, 0.8975, 0.0071},
		{"TPU", false, 72, 1.201, 0.0339}, {"TPU", true, 19, 1.1758, 0.0601},
	} {
		x := pick(rows, Material{SpreadMaterial: c.material, SpreadClasses: unfilled}, c.own)
		if len(x) != c.n || math.Abs(mean(x)-c.mean) > 0.00005001 || math.Abs(sd(x)-c.sd) > 0.00005001 {
			t.Errorf("%s own=%t: n %d mean %.4f sd %.4f, want %d %.4f %.4f", c.material, c.own, len(x), mean(x), sd(x), c.n, c.mean, c.sd)
		}
	}
}

func TestDeclaredDensitiesCarryTheirLicence(t *testing.T) {
	b, err := os.ReadFile(filepath.Join(data, "declared", "LICENSE"))
	if err != nil || !strings.Contains(string(b), "Permission is hereby granted") || !strings.Contains(string(b), "2025") {
		t.Errorf("the licence of the declared densities is missing: %v", err)
	}
}

func TestReadRefusesWhatIsWrong(t *testing.T) {
	order := []byte(`order = ["A"]`)
	rec := "[[material]]\nsymbol = \"A\"\n"
	for name, files := range map[string]map[string][]byte{
		"unknown key":    {"o.toml": order, "a.toml": []byte(rec + "densty_g_cm3 = []\n")},
		"not in order":   {"o.toml": []byte("order = []"), "a.toml": []byte(rec)},
		"order too long": {"o.toml": []byte(`order = ["A", "B"]`), "a.toml": []byte(rec)},
		"order twice":    {"o.toml": []byte(`order = ["A", "A"]`), "a.toml": []byte(rec)},
		"like nothing":   {"o.toml": order, "a.toml": []byte(rec + "like = \"B\"\n")},
		"like a likeness": {"o.toml": []byte(`order = ["A", "B", "C"]`),
			"a.toml": []byte(rec + "like = \"B\"\n[[material]]\nsymbol = \"B\"\nlike = \"C\"\n[[material]]\nsymbol = \"C\"\n")},
		"no toml": {"a.toml": []byte("[[")},
	} {
		if _, err := Read(files); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
	for name, m := range map[string]Material{
		"no such hazard": {Symbol: "A", Hazards: []string{"x"}},
		"drying no time": {Symbol: "A", Dry: []Dry{{Form: "pellet", TempC: []Value{{Typical: 60}}}}},
	} {
		if _, err := (Table{Materials: []Material{m}}).Go(); err == nil {
			t.Errorf("%s was written", name)
		}
	}
}

type row map[string]string

func declared(t testing.TB) []row {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(data, "declared", "densities.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(b))
	r.Comma = '\t'
	r.LazyQuotes = true
	recs, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []row
	for _, rec := range recs[1:] {
		m := row{}
		for i, h := range recs[0] {
			m[h] = rec[i]
		}
		out = append(out, m)
	}
	return out
}

func pick(rows []row, m Material, own bool) []float64 {
	var out []float64
	for _, r := range rows {
		if r["material"] != m.SpreadMaterial || !contains(m.SpreadClasses, r["cls"]) || r["check"] != "ok" ||
			r["provenance"] == "form_default_1.24" || own && !strings.HasPrefix(r["provenance"], "own_value") {
			continue
		}
		x, err := strconv.ParseFloat(r["density"], 64)
		if err != nil {
			panic(err)
		}
		out = append(out, x)
	}
	return out
}

func mean(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s / float64(len(x))
}

func sd(x []float64) float64 {
	m, s := mean(x), 0.0
	for _, v := range x {
		s += (v - m) * (v - m)
	}
	return math.Sqrt(s / float64(len(x)-1))
}

func BenchmarkReadAllDataFiles(b *testing.B) {
	for b.Loop() {
		load(b)
	}
}
