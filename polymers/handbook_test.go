package polymers

import (
	"math"
	"strings"
	"testing"
)

// published are values of handbooks and tables that are not the source of the pick they check. Each
// has to lie within the record's range at the precision it was printed with: a value printed as 1.2
// stands for 1.15 to 1.25.
var published = []struct {
	symbol   Symbol
	property string
	value    float64
	half     float64 // half of the last printed digit
	source   string
}{
	{"PLA", "density_g_cm3", 1.24, 0.005, "NatureWorks 4032D sheet, D1505"},
	{"PLA", "glass_transition_c", 60, 2.5, "matmake, glass transition table, PLA 60-65"},
	{"PLA", "melt_c", 155, 2.5, "NETZSCH, PLA 150-160"},
	{"PETG", "density_g_cm3", 1.3, 0.05, "MakeItFrom, PETG"},
	{"PETG", "glass_transition_c", 88, 0.5, "Autodesk Moldflow, PETG"},
	{"PETG", "glass_transition_c", 80, 2.5, "dealer's page on PETG, 80-85"},
	{"PETG", "glass_transition_c", 81, 0.5, "Polymaker, PETG with 30 % glass, DSC"},
	{"ABS", "density_g_cm3", 1.05, 0.005, "plastic-industry.com, specific gravity"},
	{"ABS", "density_g_cm3", 1.05, 0.005, "MatWeb overview of 115 grades, average"},
	{"ABS", "glass_transition_c", 115, 0.5, "Crawford, Plastics Engineering, Table 1.8"},
	{"ABS", "glass_transition_c", 96, 0.5, "Polymaker, ABS with 20 % glass, DSC"},
	{"ASA", "density_g_cm3", 1.05, 0.005, "plastic-industry.com, specific gravity"},
	{"ASA", "density_g_cm3", 1.06, 0.005, "Toray, ASA technical guide, six grades"},
	{"ASA", "glass_transition_c", 100, 0.5, "encyclopaedia, acrylonitrile styrene acrylate"},
	{"HIPS", "density_g_cm3", 1.03, 0.005, "CJP Sales, HIPS sheet"},
	{"HIPS", "glass_transition_c", 95, 2.5, "dryer table, about 95"},
	{"PS", "density_g_cm3", 1.05, 0.005, "RI Plastics, polystyrene"},
	{"PS", "glass_transition_c", 95, 0.5, "matmake, glass transition table"},
	{"SAN", "density_g_cm3", 1.08, 0.005, "Crawford, Table 1.8"},
	{"PC", "density_g_cm3", 1.2, 0.05, "plastic-industry.com, specific gravity"},
	{"PC", "glass_transition_c", 149, 0.5, "Crawford, Table 1.8"},
	{"PC", "glass_transition_c", 145, 0.5, "matmake, glass transition table"},
	{"PC+ABS", "density_g_cm3", 1.15, 0.005, "Covestro, PC/ABS T85 SG"},
	{"PA6", "density_g_cm3", 1.13, 0.005, "plastic-industry.com, nylon 6"},
	{"PA6", "glass_transition_c", 40, 5, "MakeItFrom, PA6 with 30 % carbon fibre"},
	{"PA6", "melt_c", 225, 0.5, "LANXESS, PA6, ISO 11357"},
	{"PA66", "density_g_cm3", 1.14, 0.005, "matmake, density table"},
	{"PA66", "glass_transition_c", 55, 0.5, "matmake, glass transition table"},
	{"PA66", "melt_c", 263, 0.5, "LANXESS, PA66 with glass fibre, ISO 11357"},
	{"PA12", "density_g_cm3", 1.02, 0.01, "Matmatch, PA12 1.01-1.03"},
	{"PA12", "glass_transition_c", 40, 5, "matmake, glass transition table, 35-45"},
	{"PA11", "density_g_cm3", 1.04, 0.005, "CAMEO, Nylon 11"},
	{"PA11", "melt_c", 189, 0.5, "CAMEO, Nylon 11"},
	{"PP", "density_g_cm3", 0.91, 0.005, "MakeItFrom, PP homopolymer"},
	{"PP", "glass_transition_c", -8, 0.5, "NETZSCH, PP, measured"},
	{"PP", "melt_c", 170, 0.5, "Polymer Science Learning Center, after Hilado"},
	{"PE-HD", "density_g_cm3", 0.95, 0.005, "matmake, density table, 0.950-0.968"},
	{"PE-HD", "melt_c", 135, 0.5, "Polymer Science Learning Center, after Hilado"},
	{"PE-LD", "density_g_cm3", 0.92, 0.005, "matmake, density table, 0.912-0.925"},
	{"PET", "density_g_cm3", 1.40, 0.005, "Polymer Academy, density table"},
	{"PET", "glass_transition_c", 70, 0.5, "matmake, glass transition table"},
	{"PBT", "density_g_cm3", 1.32, 0.005, "LATI, PBT unfilled, ISO 1183"},
	{"PBT", "glass_transition_c", 60, 5, "matmake, glass transition table, 55-65"},
	{"PMMA", "density_g_cm3", 1.19, 0.005, "designerdata.nl, PMMA"},
	{"PMMA", "glass_transition_c", 101, 0.5, "PMC7388655 Table 1"},
	{"POM", "density_g_cm3", 1.42, 0.005, "plastic-industry.com, acetal"},
	{"PVC-U", "density_g_cm3", 1.45, 0.005, "polymerfacts.com, PVC 1.30-1.45"},
	{"PVC-U", "glass_transition_c", 82, 0.5, "PMC4456503 Table 3"},
	{"PTFE", "density_g_cm3", 2.17, 0.03, "A2 vibration glossary, 2.140-2.200"},
	{"PTFE", "melt_c", 335, 0.5, "Polymer Science Learning Center, after Hilado"},
	{"CA", "density_g_cm3", 1.26, 0.005, "Polymer Academy, density table"},
	{"PCL", "density_g_cm3", 1.145, 0.0005, "encyclopaedia, polycaprolactone"},
	{"PCL", "melt_c", 60, 0.5, "Natureplast, PCL"},
	{"PCTG", "density_g_cm3", 1.20, 0.005, "Eastman DS1000"},
	{"PCTG", "glass_transition_c", 84, 0.5, "filament directory, PCTG"},
	{"PVA", "glass_transition_c", 85, 0.5, "CR-3D, PVA, fully hydrolysed"},
	{"PVB", "density_g_cm3", 1.069, 0.0005, "ElephChem, PVB film"},
	{"PEEK", "density_g_cm3", 1.32, 0.005, "matmake, density table"},
	{"PEEK", "glass_transition_c", 140, 0.5, "matmake, glass transition table"},
	{"PEI", "density_g_cm3", 1.27, 0.005, "Crawford, Table 1.8"},
	{"PPS", "density_g_cm3", 1.34, 0.005, "Crawford, Table 1.8"},
	{"PPS", "glass_transition_c", 85, 0.5, "matmake, glass transition table"},
	{"PSU", "density_g_cm3", 1.24, 0.005, "Engineering Plastics Handbook, Table 13.3"},
	{"PSU", "glass_transition_c", 187, 0.5, "marketing guide, p. 45"},
	{"PPSU", "density_g_cm3", 1.29, 0.005, "Engineering Plastics Handbook, Table 13.3"},
	{"PPSU", "glass_transition_c", 220, 0.5, "Engineering Plastics Handbook, Table 13.3"},
	{"TPU-85A", "density_g_cm3", 1.12, 0.005, "comparison of ether grades, Pellethane 2363-80A"},
	{"TPU", "density_g_cm3", 1.23, 0.005, "BASF S90A, ISO 1183"},
	{"PHB", "glass_transition_c", 2, 0.5, "encyclopaedia, PHB"},
}

func TestPublishedValuesLieInTheRange(t *testing.T) {
	for _, c := range published {
		m, ok := Find(c.symbol)
		if !ok {
			t.Errorf("no record of %s", c.symbol)
			continue
		}
		vs := m.Sources(c.property)
		if len(vs) == 0 {
			t.Errorf("%s has no %s", c.symbol, c.property)
			continue
		}
		if v := vs[0]; c.value+c.half < v.Low || c.value-c.half > v.High {
			t.Errorf("%s %s: %g (%s) is outside %g to %g", c.symbol, c.property, c.value, c.source, v.Low, v.High)
		}
	}
}

// The values that most decisions hang on, at the precision of their page.
func TestPicksAtPublishedPrecision(t *testing.T) {
	for _, c := range []struct {
		symbol   Symbol
		property string
		value    float64
		digit    float64
		source   string
	}{
		{"PLA", "density_g_cm3", 1.24, 0.01, "NatureWorks 4043D, specific gravity D792"},
		{"PETG", "density_g_cm3", 1.27, 0.01, "Eastman copolyester sheet, D792"},
		{"ABS", "density_g_cm3", 1.04, 0.01, "Crawford, Table 1.8"},
		{"ASA", "density_g_cm3", 1.07, 0.01, "INEOS Styrolution 778T"},
		{"PC", "density_g_cm3", 1.20, 0.01, "matmake, density table"},
		{"PA66", "density_g_cm3", 1.14, 0.01, "Crawford, Table 1.8"},
		{"PP", "density_g_cm3", 0.905, 0.001, "Crawford, Table 1.8"},
		{"PS", "density_g_cm3", 1.05, 0.01, "Crawford, Table 1.8"},
		{"PMMA", "density_g_cm3", 1.18, 0.01, "Crawford, Table 1.8"},
		{"PVC-U", "density_g_cm3", 1.40, 0.01, "Crawford, Table 1.8"},
		{"PA12", "glass_transition_c", 43, 1, "NETZSCH, PA12, second heating"},
		{"PC", "glass_transition_c", 147, 1, "NETZSCH, PC, midpoint"},
		{"PETG", "glass_transition_c", 81, 1, "MakeItFrom, PETG"},
		{"PCTG", "glass_transition_c", 76, 1, "Essentium, PCTG, D3418"},
		{"ASA", "glass_transition_c", 98, 1, "Polymaker, ASA with 20 % glass, DSC"},
		{"PEEK", "melt_c", 334, 1, "Callister, Appendix E"},
		{"PLA-matt", "density_g_cm3", 1.31, 0.01, "matt PLA sheet, ISO 1183"},
	} {
		m, _ := Find(c.symbol)
		v := m.Sources(c.property)[0]
		if math.Round(v.Typical/c.digit) != math.Round(c.value/c.digit) {
			t.Errorf("%s %s: %g, %s prints %g", c.symbol, c.property, v.Typical, c.source, c.value)
		}
	}
}

func TestHardStopsAreWhole(t *testing.T) {
	want := map[Symbol]bool{"PVC-U": true, "PVC-P": true, "POM": true, "PTFE": true, "PVDF": true, "FR": true}
	for _, m := range All() {
		if m.NeverHeat != want[m.Symbol] {
			t.Errorf("%s: hard stop is %t", m.Symbol, m.NeverHeat)
		}
		if !m.NeverHeat {
			continue
		}
		if m.Process != nil || m.CeilingC != nil || len(m.Dry) > 0 || m.NeverHeatWhy == "" || len(m.Hazards) == 0 || !m.Foreign {
			t.Errorf("%s is never heated and yet has a window, a ceiling, drying, no reason, no hazard or is own print", m.Symbol)
		}
	}
}

func TestRecordsHangTogether(t *testing.T) {
	for _, m := range All() {
		if _, ok := Find(m.Base); !ok {
			t.Errorf("%s: no record of its base %s", m.Symbol, m.Base)
		}
		p, ok := Find(m.Polymer)
		if !ok || p.Filler != "" {
			t.Errorf("%s: no pure record of its polymer %s", m.Symbol, m.Polymer)
		}
		if m.Variant != "" && (m.Base == m.Symbol || m.Filler != "") || m.Variant == "" && m.Base != m.Symbol {
			t.Errorf("%s: base %s, variant %q, filler %q", m.Symbol, m.Base, m.Variant, m.Filler)
		}
		if m.NeverHeat {
			continue
		}
		if m.Process == nil || m.CeilingC == nil || len(m.Hazards) == 0 || m.Marking == "" {
			t.Errorf("%s has no window, ceiling, hazard or marking", m.Symbol)
			continue
		}
		if m.Process.High > m.CeilingC.Typical {
			t.Errorf("%s: window to %g C above its ceiling %g C", m.Symbol, m.Process.High, m.CeilingC.Typical)
		}
		// PHB and its kin lose molar mass as soon as they melt, so no window keeps below their onset.
		if m.Onset != nil && m.CeilingC.Typical > m.Onset.Low && m.Polymer != "PHB" && m.Polymer != "PHA" && m.Polymer != "PHBH" {
			t.Errorf("%s: ceiling %g C above its onset %g C", m.Symbol, m.CeilingC.Typical, m.Onset.Low)
		}
		// BVOH has no sheet: what it decomposes at is PVA's, which is below where it melts. Soluble support is never worked hot.
		if m.Melt != nil && m.Process.High < m.Melt.Low && m.Symbol != "BVOH" {
			t.Errorf("%s: window to %g C, melts from %g C", m.Symbol, m.Process.High, m.Melt.Low)
		}
		for _, form := range []string{"pellet", "print scrap"} {
			d, ok := m.Drying(form)
			if !ok || d.Hours.Low <= 0 {
				t.Errorf("%s: no drying of %s", m.Symbol, form)
			}
		}
	}
}

// Hydrogen chloride comes off a commercial PVC compound from 150 C (Energy and Fuels 2003, 17:896, abstract) and off resin
// without stabiliser from 160 C (a stabiliser maker's page): the onset must not start above either, nor the hazard's.
func TestPVCGivesOffAcidWellBelowItsDecompositionRange(t *testing.T) {
	for _, s := range []Symbol{"PVC-U", "PVC-P"} {
		m, _ := Find(s)
		if m.Onset.Low > 150 || m.Onset.Typical > 160 {
			t.Errorf("%s: onset %g to %g C", s, m.Onset.Low, m.Onset.High)
		}
		for _, h := range m.Hazards {
			if h.OnsetC != nil && h.OnsetC.Low > 150 {
				t.Errorf("%s: %s from %g C", s, h.What, h.OnsetC.Low)
			}
		}
	}
}

// Halogen accelerates the decomposition of acetal (a maker's safety page, section 2.1): the words have to say what happens, and
// never read as a temperature that is safe.
func TestAcetalWordsInviteNoHeat(t *testing.T) {
	m, _ := Find("POM")
	text := m.NeverHeatWhy + m.Onset.Note
	for _, h := range m.Hazards {
		text += h.Words
		if h.OnsetC != nil {
			text += h.OnsetC.Note
		}
	}
	if strings.Contains(text, "factory") || strings.Contains(text, "react violently") || !strings.Contains(text, "catalyses the unzipping") || !strings.Contains(text, "pressure") {
		t.Error(text)
	}
}

// PETG is worked well below the decomposition range of PET, which starts at 283 C (Polymer Science Learning Center, after Hilado).
func TestPETGCeilingKeepsAMargin(t *testing.T) {
	for _, s := range []Symbol{"PETG", "PETG-CF", "PETG-GF"} {
		if m, _ := Find(s); m.CeilingC.High > 283-20 || m.Process.High > m.CeilingC.Low {
			t.Errorf("%s: window to %g C, ceiling %g C", s, m.Process.High, m.CeilingC.High)
		}
	}
}

// Melt-side specific heat is well above that of the solid, for which Crawford prints 1.3 kJ/kg/K (ABS, table 1.8), NETZSCH 1.17
// (PC), matmake 1.25 (HIPS), Matmatch 1.26 (PA12) and NETZSCH 1.59 to 1.70 (PA6): a sheet is heated through both.
func TestSpecificHeatIsNotThatOfTheSolid(t *testing.T) {
	for s, solid := range map[Symbol]float64{"ABS": 1300, "PC": 1170, "HIPS": 1250, "PA12": 1260, "PA6": 1590} {
		if m, _ := Find(s); m.SpecificHeat.Typical < 1.3*solid || m.SpecificHeat.Low != solid {
			t.Errorf("%s: %g, %g, %g J/kg/K", s, m.SpecificHeat.Low, m.SpecificHeat.Typical, m.SpecificHeat.High)
		}
	}
}

// What is taken from a relative says so; a glass-filled grade's softening does not stand for an unfilled one.
func TestTakenFromARelativeIsMarked(t *testing.T) {
	for _, c := range []struct {
		symbol   Symbol
		property string
		from     Symbol
	}{{"ASA", "ceiling_c", "SAN"}, {"ASA", "onset_c", "SAN"}, {"PETG", "onset_c", "PET"}, {"PCTG", "onset_c", "PET"}, {"HIPS", "onset_c", "PS"},
		{"BVOH", "ceiling_c", "PVA"}, {"BVOH", "onset_c", "PVA"}} {
		if m, _ := Find(c.symbol); m.Sources(c.property)[0].From != c.from {
			t.Errorf("%s %s is not marked as of %s", c.symbol, c.property, c.from)
		}
	}
	for _, s := range []Symbol{"ASA", "PETG"} {
		m, _ := Find(s)
		for _, v := range m.Sources("softens_c") {
			if strings.HasSuffix(v.Source, "gf20") || strings.HasSuffix(v.Source, "gf30") {
				t.Errorf("%s: softening of %s", s, v.Source)
			}
		}
	}
	asa, _ := Find("ASA")
	if asa.Softens.Low > 78 || asa.Softens.High < 83 { // Toray, ASA technical guide, HDT 1.8 MPa of six unfilled grades
		t.Errorf("ASA softens at %g to %g C", asa.Softens.Low, asa.Softens.High)
	}
}

// Print scrap is amorphous as a rule: PLA and its kin, and every polymer without a melting range, dry
// below the glass transition, the whole range of it.
func TestAmorphousScrapDriesBelowTheGlassTransition(t *testing.T) {
	slow := map[Symbol]bool{"PLA": true, "PET": true} // crystallise too slowly to count on it in a print
	for _, m := range All() {
		d, ok := m.Drying("print scrap")
		if !ok || m.GlassTransition == nil || !m.Rigid || m.Melt != nil && !slow[m.Polymer] && !m.WaterSoluble {
			continue
		}
		if d.TempC.High > m.GlassTransition.Low {
			t.Errorf("%s: dried at up to %g C, glass transition from %g C", m.Symbol, d.TempC.High, m.GlassTransition.Low)
		}
	}
}

// The ends of a pick's range are spanned by the sources listed with it.
func TestRangesAreSpannedByTheirSources(t *testing.T) {
	for _, m := range All() {
		for _, p := range m.Properties() {
			vs := m.Sources(p)
			low, high := math.Inf(1), math.Inf(-1)
			for _, v := range vs {
				low, high = math.Min(low, v.Low), math.Max(high, v.High)
			}
			if v := vs[0]; v.Low < low || v.High > high {
				t.Errorf("%s %s: %g to %g, sources span %g to %g", m.Symbol, p, v.Low, v.High, low, high)
			}
		}
	}
}

// Only these float in plain water; PP, PE and the light elastomers: reference tables and the density of
// water at 20 C, 0.998 g/cm3.
func TestWhatFloatsInWater(t *testing.T) {
	floats := map[Symbol]bool{"PP": true, "PE-HD": true, "PE-LD": true, "TPE": true}
	for _, m := range All() {
		if (m.Density.Typical < 0.998) != floats[m.Symbol] {
			t.Errorf("%s at %g g/cm3", m.Symbol, m.Density.Typical)
		}
	}
}

func TestOrderStartsWithWhatABinHolds(t *testing.T) {
	s := Symbols()
	if s[0] != "PLA" || s[1] != "PETG" || s[2] != "ABS" {
		t.Errorf("order starts %v", s[:3])
	}
	foreign := false
	for i, m := range All() {
		if m.Symbol != s[i] {
			t.Errorf("Symbols and All differ at %d", i)
		}
		if foreign && !m.Foreign {
			t.Errorf("%s comes behind what is no own print", m.Symbol)
		}
		foreign = foreign || m.Foreign
	}
	if len(s) < 50 {
		t.Errorf("%d materials, want 50 or more", len(s))
	}
}

// Fifty materials and more have a density from a page that was read.
func TestDensitiesFromPages(t *testing.T) {
	n := 0
	for _, m := range All() {
		if m.Density.Evidence == Page {
			n++
		}
	}
	if n < 50 {
		t.Errorf("%d densities from pages, want 50", n)
	}
}

func TestEvidenceCount(t *testing.T) {
	total, page := 0, 0
	for _, x := range EvidenceCount() {
		total += x.Count
		if x.Evidence == Page {
			page = x.Count
		}
	}
	if float64(page) < 0.90*float64(total) {
		t.Errorf("%d of %d deciding values come from a page", page, total)
	}
	m, _ := Find("PETG-CF")
	n := 0
	for _, x := range m.EvidenceCount() {
		n += x.Count
	}
	if n < 8 {
		t.Errorf("PETG-CF shows %d deciding values, want those it carries over too", n)
	}
}

func TestSourcesAreFound(t *testing.T) {
	for _, m := range All() {
		ids := m.SourceIDs()
		if len(ids) == 0 {
			t.Errorf("%s names no source", m.Symbol)
		}
		for _, id := range ids {
			if _, ok := SourceOf(id); !ok {
				t.Errorf("%s: no source %s", m.Symbol, id)
			}
		}
	}
	if _, ok := SourceOf("no such"); ok {
		t.Error("a source that does not exist was found")
	}
	if _, ok := Find(Other); ok {
		t.Error("other has a record")
	}
	pla, _ := Find("PLA")
	if vs := pla.Sources("density_g_cm3"); len(vs) < 4 || vs[0] != pla.Density {
		t.Errorf("PLA densities: %v", vs)
	}
	if pla.Sources("colour") != nil {
		t.Error("a property that does not exist has values")
	}
}

// Densities of filled grades on published sheets, against the rule of mixtures; the rule is an upper
// bound for what holds air, so a sheet may lie below by 3 % and above by its rounding.
func TestMixtureAgainstPublishedGrades(t *testing.T) {
	filler := map[string]Value{}
	for _, f := range fillers {
		filler[f.Symbol] = f.Density
	}
	for _, c := range []struct {
		base          Symbol
		filler        string
		percent       float64
		value, within float64
		source        string
	}{
		{"PA6", "GF", 30, 1.35, 0.02, "LATI, PA6 with 30 % glass, ISO 1183"},
		{"ABS", "GF", 20, 1.21, 0.035, "Polymaker, ABS with 20 % glass, D792"},
		{"ASA", "GF", 20, 1.20, 0.015, "Polymaker, ASA with 20 % glass, D792"},
		{"PC", "GF", 20, 1.33, 0.015, "LATI, PC with 20 % glass, ISO 1183"},
		{"PET", "GF", 30, 1.6, 0.05, "MakeItFrom, PET with 30 % glass"},
		{"PA6", "CF", 30, 1.3, 0.05, "MakeItFrom, PA6 with 30 % carbon fibre"},
		{"PP", "GF", 40, 1.21, 0.015, "AGS Technology, PP with 40 % glass"},
	} {
		m, _ := Find(c.base)
		got, err := mixture(m.Density, load{filler[c.filler], c.percent})
		if err != nil || math.Abs(got.Typical-c.value) > c.within || got.Evidence != Computed {
			t.Errorf("%s + %g %% %s: %.3f, %v; %s prints %g", c.base, c.percent, c.filler, got.Typical, err, c.source, c.value)
		}
	}
}

// The marking of a filled grade gives the same, and only where all of it is known.
func TestMarkingDensity(t *testing.T) {
	m, err := ReadMarking(">PA6-GF30<")
	if err != nil {
		t.Fatal(err)
	}
	if v, ok := m.Density(); !ok || math.Abs(v.Typical-1.35) > 0.02 || v.Evidence != Computed { // LATI, PA6 with 30 % glass, ISO 1183
		t.Errorf(">PA6-GF30<: %v, %t", v, ok)
	}
	for _, s := range []string{">PA6<", ">PA6-GF<", ">PC+ABS-GF20<", ">PA6-GF30FR(40)<", ">PP-KX20<"} {
		m, err := ReadMarking(s)
		if err != nil {
			continue // refused before
		}
		if v, ok := m.Density(); ok {
			t.Errorf("%s is given %v", s, v)
		}
	}
}

func TestMixtureByHand(t *testing.T) {
	// 1/(0.98/1.24 + 0.02/4.2) = 1/(0.790323 + 0.004762) = 1.2577; white PLA sits at the edge of the PETG band.
	got, err := mixture(Value{Low: 1.24, Typical: 1.24, High: 1.24}, load{Value{Low: 4.2, Typical: 4.2, High: 4.2}, 2})
	if err != nil || math.Abs(got.Typical-1.2577) > 0.00005 {
		t.Errorf("%v, %v", got, err)
	}
	same, err := mixture(Value{Low: 1, Typical: 1.1, High: 1.2})
	if err != nil || math.Abs(same.Low-1) > 1e-12 || math.Abs(same.Typical-1.1) > 1e-12 || math.Abs(same.High-1.2) > 1e-12 {
		t.Errorf("no filler: %v, %v", same, err)
	}
	for _, loads := range [][]load{{{Value{}, 5}}, {{got, -1}}, {{got, 100}}, {{got, 60}, {got, 40}}, {{got, math.NaN()}}} {
		if v, err := mixture(got, loads...); err == nil {
			t.Errorf("%v gave %v", loads, v)
		}
	}
	if v, err := mixture(Value{}); err == nil {
		t.Errorf("no density gave %v", v)
	}
}
