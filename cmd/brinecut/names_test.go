package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// hostile are names that a file may hold and that something somewhere would act on.
var hostile = []string{
	`<script>alert(1)</script>`,
	`"><img src=x onerror=alert(1)>`,
	`=cmd|'/C calc'!A0`,
	`+1+1`, `-2+3`, `@SUM(A1:A9)`,
	`../../etc/passwd`, `C:\windows\x`, `\\host\share`,
	`{{.Title}} ${HOME} $(id) %s %n`,
	`) Tj ET /JavaScript (x`,
	`a;b,c"d'e`,
	`白 бел עברית é`,
	strings.Repeat("long ", 39) + "name",
}

// hostileBin has them as the names of lots, and one after another wherever else text is taken.
func hostileBin() string {
	var b strings.Builder
	n := 0
	next := func() string { n++; return strconv.Quote(hostile[n%len(hostile)]) }
	fmt.Fprintf(&b, "title = %s\ncurrency = \"EUR\"\n[bin]\ngross = \"9 kg\"\ntare = \"0 g\"\norigin = \"own-print\"\n", next())
	for i, name := range hostile {
		fmt.Fprintf(&b, "[[lot]]\nname = %q\nmass = \"%d g\"\ncould_be = [\"PLA\", \"PETG\"]\ncolour = %s\nform = %s\nadditives = [%s]\n", name, 400+i, next(), next(), next())
		fmt.Fprintf(&b, "[[test]]\nid = %q\nlot = %q\nkind = \"hot-water\"\ntemp = \"64 °C\"\noutcome = \"soft\"\nnote = %s\nby = %s\n", name, name, next(), next())
		fmt.Fprintf(&b, "[[printed]]\nfrom = %q\ncounted = \"1 kg\"\nmaterial = \"PLA\"\n[[kept]]\nwhat = %q\nmass = \"100 g\"\n", name, name)
		fmt.Fprintf(&b, "[[bath]]\nname = %q\nsalt = \"epsom salt\"\ndensity = \"1.25 g/cm3\"\n[[known]]\nname = %q\nmaterial = \"PLA\"\nspool = %s\n", name, name, next())
		fmt.Fprintf(&b, "[[bag]]\nid = %q\nlots = [%q]\ngross = \"%d g\"\ntare = \"10 g\"\n", name, name, 410+i)
		fmt.Fprintf(&b, "[[outlet]]\nname = %q\naccepts = [\"PLA\"]\n", name)
	}
	fmt.Fprintf(&b, "[supplier]\nname = %s\ncontact = %s\n", next(), next())
	return b.String()
}

// hostileFile is that bin in a file.
func hostileFile(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bin.toml")
	if err := os.WriteFile(path, []byte(hostileBin()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// said runs a command that has to be done and gives its standard output.
func said(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(args, nil, &out, &errs); code != exitDone {
		t.Fatalf("%v: exit code %d: %s", args, code, &errs)
	}
	quiet(t, fmt.Sprint(args), errs.String())
	return out.Bytes()
}

// quiet holds text to characters that no terminal acts on.
func quiet(t *testing.T, what, text string) {
	t.Helper()
	for _, r := range text {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
			t.Errorf("%s writes %U", what, r)
			return
		}
	}
}

// In text a name is words: it is there whole, and nothing in it moves a cursor.
func TestNamesInText(t *testing.T) {
	path := hostileFile(t)
	for _, command := range []string{"sort", "balance", "next"} {
		text := string(said(t, command, path))
		quiet(t, command, text)
		joined := strings.Join(strings.Fields(text), " ")
		for _, name := range hostile[:3] {
			if command != "next" && !strings.Contains(joined, name) {
				t.Errorf("%s does not show %s", command, name)
			}
		}
	}
}

// In JSON a name is the same name again, byte for byte.
func TestNamesInJSON(t *testing.T) {
	path := hostileFile(t)
	out := said(t, "sort", path, "--json")
	var got struct{ Lots []struct{ Name string } }
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, l := range got.Lots {
		seen[l.Name] = true
	}
	for _, name := range hostile {
		if !seen[name] {
			t.Errorf("%q is not among the lots", name)
		}
	}
	for _, args := range [][]string{{"balance", path, "--json"}, {"next", path, "--json"}, {"label", path, "-o", "x.pdf", "--json"}} {
		if args[0] == "label" {
			args[3] = filepath.Join(filepath.Dir(path), args[3])
		}
		if out := said(t, args...); !json.Valid(out) {
			t.Errorf("%s writes no JSON", args[0])
		}
	}
}

// In CSV a name is one field, and none that a spreadsheet takes for a formula (a text that begins with =,
// +, -, @, a tab or a carriage return).
func TestNamesInCSV(t *testing.T) {
	path := hostileFile(t)
	for _, command := range []string{"sort", "balance"} {
		rows, err := csv.NewReader(bytes.NewReader(said(t, command, path, "--csv"))).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", command, err)
		}
		for _, row := range rows {
			for _, field := range row {
				if _, err := strconv.ParseFloat(field, 64); err != nil && strings.IndexAny(field, "=+-@\t\r") == 0 {
					t.Errorf("%s: %q is a formula", command, field)
				}
			}
		}
	}
}

// In HTML a name is text: the page reads as XML, has the elements of a page of plain names and no more
// kinds of them, and no attribute that a name put there.
func TestNamesInHTML(t *testing.T) {
	page := said(t, "report", hostileFile(t), "-o", "-")
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch e.Name.Local {
		case "script", "img", "iframe", "object", "embed", "form", "base":
			t.Errorf("a name became a <%s>", e.Name.Local)
		}
		for _, a := range e.Attr {
			if strings.HasPrefix(a.Name.Local, "on") || strings.Contains(strings.ToLower(a.Value), "javascript:") {
				t.Errorf("a name became the attribute %s=%q", a.Name.Local, a.Value)
			}
		}
	}
	if !bytes.Contains(page, []byte("&lt;script&gt;alert(1)&lt;/script&gt;")) {
		t.Error("the name is not shown as it was written")
	}
}

// In a PDF a name is ink: the file is whole, asks for nothing to be run, opened or fetched, and its text
// says the name.
func TestNamesInPDF(t *testing.T) {
	path := hostileFile(t)
	for _, what := range []string{"bags", "lots"} {
		file := filepath.Join(t.TempDir(), what+".pdf")
		said(t, "label", path, "--what", what, "-o", file)
		if _, err := exec.LookPath("qpdf"); err != nil {
			t.Skip("no qpdf here: apt-get install -y qpdf poppler-utils")
		}
		plain, err := exec.Command("qpdf", "--qdf", "--object-streams=disable", file, "-").Output()
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		for _, line := range strings.Split(string(plain), "\n") {
			for _, key := range []string{"/JavaScript", "/JS", "/OpenAction", "/Launch", "/URI", "/AA", "/Filespec", "/SubmitForm"} {
				if strings.HasPrefix(strings.TrimSpace(line), key) {
					t.Errorf("%s: an order stands in the PDF: %s", what, line)
				}
			}
		}
		text, err := exec.Command("pdftotext", "-layout", file, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		if joined := strings.Join(strings.Fields(string(text)), ""); !strings.Contains(joined, "=cmd|'/Ccalc'!A0") && !strings.Contains(joined, "=cmd") {
			t.Errorf("%s: the names are not on the labels:\n%s", what, text)
		}
	}
}

// A name with a terminal escape, or one that turns the direction of reading, is refused by its code; so is
// one on the command line, and in the name of the file itself none is echoed.
func TestEscapesAreNotEchoed(t *testing.T) {
	dir := t.TempDir()
	for i, evil := range []string{"\x1b]0;x\x07", "a\u202egnp", "\x9b31m", "a\rb"} {
		name := filepath.Join(dir, fmt.Sprint("bin", i, evil, ".toml"))
		if err := os.WriteFile(name, []byte(eveningBin), 0o644); err != nil {
			t.Skip("this system has no such file names:", err)
		}
		for _, args := range [][]string{
			{"sort", name}, {"sort", name + "x"}, {"record", name, "--lot", "grey", "bend", "snaps"}, {"next", name},
			{"record", name, "--lot", evil, "bend", "snaps"}, {"record", name, "--lot", "grey", evil, evil}, {"record", name, "--lot", "grey", "bend", "snaps", "--note", evil},
			{"withdraw", name, evil, "--why", evil}, {evil}, {"sort", name, "--" + evil}, {"polymer", evil}, {"mark", evil}, {"label", name, "-o", name},
			{"report", name, "-o", name}, {"start", name}, {"bath", "--density", evil, "--volume", evil}, {"claim", "--tested", evil},
		} {
			var out, errs bytes.Buffer
			run(args, nil, &out, &errs)
			quiet(t, fmt.Sprintf("%q", args), out.String()+errs.String())
		}
		if n := len(readBin(t, name).Tests); n != 1 {
			t.Errorf("%d tests recorded, want the 1 that is right", n)
		}
	}
}
