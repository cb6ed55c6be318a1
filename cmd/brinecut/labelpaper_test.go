package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// paperBin is invented: a batch of two bags that holds all that a label can say, one of which nothing is
// known, one with a flame retardant in it and one declared to be without.
const paperBin = `
title    = "Invented paper bin"
currency = "EUR"

[bin]
gross  = "9.4 kg"
tare   = "0.4 kg"
origin = "own-print"

[[lot]]
name      = "clear"
mass      = "4.86 kg"
could_be  = ["PETG", "PLA"]
mixed     = false
prep      = "cut"
colour    = "clear"
additives = ["no flame retardant"]

[[lot]]
name  = "sweepings"
mass  = "1.2 kg"
mixed = true

[[lot]]
name      = "housing"
mass      = "900 g"
could_be  = ["PC+ABS"]
mixed     = false
origin    = "moulded"
additives = ["FR(40)"]

[[bath]]
name    = "A"
salt    = "epsom salt"
density = "1.252 g/cm3 ± 0.002"

[[test]]
id     = "t1"
lot    = "clear"
kind   = "hot-water"
temp   = "64 °C"
counts = { stiff = 70 }
drawn  = "random"

[[test]]
id     = "t2"
lot    = "clear"
kind   = "float"
bath   = "A"
counts = { sinks = 10 }

[[test]]
id     = "t3"
lot    = "housing"
kind   = "marked"
symbol = ">PC+ABS-FR(40)<"

[kit]
has = ["epsom salt", "kettle", "thermometer", "scale 1 g"]

[[outlet]]
name    = "regional recycler"
accepts = ["PETG"]
purity  = "90 %"
minimum = "2 kg"
pays    = "0.30 EUR/kg"

[[bag]]
id    = "A1"
lots  = ["clear"]
gross = "2.45 kg"
tare  = "20 g"

[[bag]]
id    = "A2"
lots  = ["clear"]
gross = "2.41 kg"

[[bag]]
id    = "S"
lots  = ["sweepings"]
gross = "1.22 kg"
tare  = "20 g"

[[bag]]
id    = "H"
lots  = ["housing"]
gross = "910 g"
tare  = "10 g"

[supplier]
name    = "A. Maker"
contact = "maker@example.org"
`

// labelsOnPaper writes a bin's labels and gives the file.
func labelsOnPaper(t *testing.T, more ...string) string {
	t.Helper()
	dir := t.TempDir()
	bin, pdf := filepath.Join(dir, "bin.toml"), filepath.Join(dir, "labels.pdf")
	if err := os.WriteFile(bin, []byte(paperBin), 0o600); err != nil {
		t.Fatal(err)
	}
	var errs bytes.Buffer
	if code := run(append([]string{"label", bin, "-o", pdf}, more...), strings.NewReader(""), io.Discard, &errs); code != 0 {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	return pdf
}

// reads runs one of poppler's or qpdf's programs; a test that needs one that is not here is skipped.
func reads(t *testing.T, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed: apt-get install poppler-utils qpdf", name)
	}
	out, err := exec.Command(path, args...).Output()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return string(out)
}

// quarter is what stands on one of the four labels of the first A4 page, words in a row.
func quarter(t *testing.T, pdf string, row, column int) string {
	t.Helper()
	x, y := int(float64(column)*595.28/2), int(float64(row)*841.89/2)
	text := reads(t, "pdftotext", "-layout", "-f", "1", "-l", "1", "-x", fmt.Sprint(x), "-y", fmt.Sprint(y), "-W", "297", "-H", "420", pdf, "-")
	return strings.Join(strings.Fields(text), " ")
}

// bagSays is what is on a bag's label, particular by particular, each a pattern of its words in a row.
var bagSays = []struct{ what, a1, sweepings, housing string }{
	{"marking or NOT IDENTIFIED", `>PETG<`, `NOT IDENTIFIED DO NOT HEAT`, `DO NOT HEAT`},
	{"plain name", `PETG, glycol-modified poly`, `not established`, `PC\+ABS, polycarbonate`},
	{"net mass", `2\.43 kg net, weighed`, `1\.2 kg net, weighed`, `900 g net, weighed`},
	{"bag n of m", `bag 1 of 2`, `bag 1 of 1`, `bag 1 of 1`},
	{"id with its check character", `A1\+W`, `S\+[0-9A-Z]`, `H\+[0-9A-Z]`},
	{"how identified", `Identified by (softening in hot water|floating or sinking)[^;]*; 80 pieces`, `Identified by not identified, no test made`, `Identified by the marking on the part; 1 piece`},
	{"other polymers", `Other polymers not classified`, `Other polymers (may hold|not classified)`, `Other polymers (may hold|not classified)`},
	// 0.05^(1/80) = 96.3 %, 0.05^(1/70) = 95.8 %: Clopper and Pearson 1934; random draws alone count
	{"demonstrated purity and its basis, or none", `Purity shown at least 95\.8 % of pieces, at 95 % confidence, one-sided \(70 pieces drawn at random, 0 wrong\)`, `Purity shown nothing demonstrated`, `Purity shown nothing demonstrated`},
	{"flame retardant", `Flame retardant no\b`, `Flame retardant unknown`, `Flame retardant yes`},
	{"baths and rinses", `Baths in epsom salt; rinses: twice in plain water`, `Baths none`, `Baths none`},
	{"what it is not for", `Not for food contact, toys, medical, load-bearing or electrical safety parts`, `Not for food contact`, `Not for food contact`},
	{"date", `Date 2031-02-03`, `Date 2031-02-03`, `Date 2031-02-03`},
	{"supplier", `Supplier A\. Maker, maker@example\.org`, `Supplier A\. Maker`, `Supplier A\. Maker`},
	{"own declaration", `Declaration own declaration of the supplier, not a certificate or test report`, `Declaration own declaration`, `Declaration own declaration`},
}

// TestBagLabelsReadBack: a PDF reader finds every particular on every bag's label.
func TestBagLabelsReadBack(t *testing.T) {
	pdf := labelsOnPaper(t, "--date", "2031-02-03", "--rinses", "twice in plain water")
	labels := []string{quarter(t, pdf, 0, 0), quarter(t, pdf, 1, 0), quarter(t, pdf, 1, 1)}
	for _, c := range bagSays {
		for i, want := range []string{c.a1, c.sweepings, c.housing} {
			if !regexp.MustCompile(want).MatchString(labels[i]) {
				t.Errorf("label %d, %s: nothing like %q in\n%s", i+1, c.what, want, labels[i])
			}
		}
	}
	if second := quarter(t, pdf, 0, 1); !strings.Contains(second, "bag 2 of 2") || !strings.Contains(second, "2.41 kg net") {
		t.Errorf("the second bag says %s", second)
	}
}

// TestPaperRepeatsAndNeedsNoColour: the same file twice, and nothing on any page but shades of grey.
func TestPaperRepeatsAndNeedsNoColour(t *testing.T) {
	for _, what := range []string{"bags", "lots", "boxes"} {
		first, err := os.ReadFile(labelsOnPaper(t, "--what", what))
		if err != nil {
			t.Fatal(err)
		}
		pdf := labelsOnPaper(t, "--what", what)
		if second, err := os.ReadFile(pdf); err != nil || !bytes.Equal(first, second) {
			t.Errorf("%s: two files of one bin differ (%v)", what, err)
		}
		stem := filepath.Join(t.TempDir(), "p")
		reads(t, "pdftoppm", "-r", "40", pdf, stem)
		files, _ := filepath.Glob(stem + "*.ppm")
		if len(files) == 0 {
			t.Fatalf("%s: no page", what)
		}
		for _, f := range files {
			if at := coloured(t, f); at >= 0 {
				t.Errorf("%s: dot %d of %s has a colour", what, at, filepath.Base(f))
			}
		}
	}
}

// coloured is the first dot of a picture that is no grey, or -1.
func coloured(t *testing.T, file string) int {
	t.Helper()
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var w, h, most int
	if _, err := fmt.Sscanf(string(src[:min(40, len(src))]), "P6\n%d %d\n%d\n", &w, &h, &most); err != nil {
		t.Fatal(err)
	}
	dots := slices.Collect(slices.Chunk(src[len(src)-3*w*h:], 3))
	return slices.IndexFunc(dots, func(d []byte) bool { return d[0] != d[1] || d[1] != d[2] })
}

// TestPaperSaysWhatItIs: the file names its title and language for a screen reader, its text comes out in
// reading order, and qpdf finds no fault in it. It is not tagged: docs/paper.md says so.
func TestPaperSaysWhatItIs(t *testing.T) {
	pdf := labelsOnPaper(t)
	if info := reads(t, "pdfinfo", pdf); !regexp.MustCompile(`Title: +Invented paper bin`).MatchString(info) || !regexp.MustCompile(`Tagged: +no`).MatchString(info) {
		t.Errorf("pdfinfo: %s", info)
	}
	reads(t, "qpdf", "--check", pdf)
	if s := reads(t, "qpdf", "--json", "--json-key=qpdf", pdf); !regexp.MustCompile(`"/Lang": "u:en`).MatchString(s) {
		t.Error("the file names no language")
	}
	text := strings.Join(strings.Fields(reads(t, "pdftotext", "-raw", "-f", "1", "-l", "1", pdf, "-")), " ")
	last := -1
	for _, s := range []string{">PETG<", "A1+W", "bag 1 of 2", "2.43 kg net", "Identified by", "Other polymers", "Purity shown", "Declaration", "A2+U"} {
		at := strings.Index(text, s)
		if at <= last {
			t.Errorf("%q is read out of order in %s", s, text)
		}
		last = at
	}
}

// TestPaperPageNamesItsTests: what docs/paper.md says is held by a test, is.
func TestPaperPageNamesItsTests(t *testing.T) {
	code := testCode(t)
	named := regexp.MustCompile("`(Test[A-Za-z]+)`").FindAllStringSubmatch(readDoc(t, "docs/paper.md"), -1)
	if len(named) < 20 {
		t.Errorf("only %d tests are named", len(named))
	}
	for _, m := range named {
		if !strings.Contains(code, "func "+m[1]+"(") {
			t.Errorf("there is no test %s", m[1])
		}
	}
}
