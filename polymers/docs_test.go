package polymers

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write docs/polymers.md")

// docs/polymers.md is written from the data: go test ./polymers -run Document -update.
func TestDocumentIsUpToDate(t *testing.T) {
	const path = "../docs/polymers.md"
	want := document()
	if *update {
		if err := os.WriteFile(path, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("docs/polymers.md differs from the data: go test ./polymers -run Document -update")
	}
}

func document() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, `# Polymers

Written from polymers/data by a test; do not edit. %d materials, most usual in a printer's bin first.

Each value is low-typical-high, or one figure where source and range agree. A letter says what it rests on:
p a page that was read, a an abstract, d declared by makers, c computed by a named rule, x common practice
without a source, m from memory, j a judgement of ours. A value with an arrow is carried over from the polymer the
record is made of. The sources of every value, alternatives included, are in the data files and in the sheet of each material.

Temperatures in °C. Density is void-free, in g/cm3; its spread is the standard deviation between products on the market.
"Softens" is where a print about 2 mm thick goes limp in hot water; "-" means not below 100 °C, or rubbery already when cold.
"Ceiling" is never passed; a TGA temperature in inert gas is never used as one. Print scrap is dried below the glass transition.

`, len(materials))
	documentTable(&b)
	documentHardStops(&b)
	documentEvidence(&b)
	documentSources(&b)
	return b.Bytes()
}

func documentTable(b *bytes.Buffer) {
	b.WriteString("| symbol | name | marking | density | spread | glass transition | melts | softens | melt window | ceiling | onset | dry print scrap |\n")
	b.WriteString("|" + strings.Repeat("---|", 12) + "\n")
	for i := range materials {
		m := &materials[i]
		dry := "-"
		if d, ok := m.Drying("print scrap"); ok {
			dry = cell(&d.TempC) + " for " + cell(&d.Hours) + " h"
		}
		marking := "-"
		if m.Marking != "" {
			marking = "`" + m.Marking + "`"
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %.3f | %s | %s | %s | %s | %s | %s | %s |\n", m.Symbol, m.Name, marking,
			cell(&m.Density), m.DensitySpread, cell(m.GlassTransition), cell(m.Melt), cell(m.Softens), cell(m.Process),
			cell(m.CeilingC), cell(m.Onset), dry)
	}
}

func cell(v *Value) string {
	if v == nil {
		return "-"
	}
	letter := map[Evidence]string{Page: "p", Abstract: "a", Declared: "d", Computed: "c", CommonPractice: "x", Memory: "m", Judgement: "j"}[v.Evidence]
	if v.From != "" {
		letter += "→"
	}
	if v.Low == v.High {
		return fmt.Sprintf("%g %s", v.Typical, letter)
	}
	return fmt.Sprintf("%g-%g-%g %s", v.Low, v.Typical, v.High, letter)
}

func documentHardStops(b *bytes.Buffer) {
	b.WriteString("\n## Never heated\n\n")
	for i := range materials {
		if m := &materials[i]; m.NeverHeat {
			fmt.Fprintf(b, "- **%s** (%s): %s.\n", m.Symbol, m.Name, m.NeverHeatWhy)
		}
	}
	b.WriteString("- Anything unknown.\n")
}

func documentEvidence(b *bytes.Buffer) {
	b.WriteString("\n## What the values rest on\n\nDensity, glass transition, melt, softening, melt window, ceiling and drying; what is carried over counts once.\n\n| rests on | values |\n|---|---|\n")
	for _, t := range EvidenceCount() {
		fmt.Fprintf(b, "| %s | %d |\n", t.Evidence, t.Count)
	}
}

func documentSources(b *bytes.Buffer) {
	b.WriteString("\n## Sources\n\n| id | source | read |\n|---|---|---|\n")
	for _, s := range sources {
		parts := []string{}
		for _, p := range []string{s.Author, s.Title, s.Year, s.Where} {
			if p != "" {
				parts = append(parts, p)
			}
		}
		fmt.Fprintf(b, "| %s | %s | %s |\n", s.ID, strings.Join(parts, ", "), s.Read)
	}
}
