package page

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/reuse"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

// binsShown are the invented bins, all but those that are refused.
var binsShown = func() []string {
	files, err := filepath.Glob("../../../../testdata/bins/*.toml")
	if err != nil || len(files) < 8 {
		panic("where are the invented bins?")
	}
	var out []string
	for _, f := range files {
		if name := strings.TrimSuffix(filepath.Base(f), ".toml"); !strings.HasPrefix(name, "refused") {
			out = append(out, name)
		}
	}
	return out
}()

func readBin(t *testing.T, name string) *sorting.Bin {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "bins", name+".toml"))
	if err != nil {
		t.Fatal(err)
	}
	bin, _, err := binfile.Read(name+".toml", src)
	if err != nil {
		t.Fatal(err)
	}
	return bin
}

// reportOf makes the report of a bin with a planned hand-over sheet of each bag.
func reportOf(t *testing.T, bin *sorting.Bin) string {
	t.Helper()
	ans, err := advice.Sort(bin, advice.Options{Trace: true, Chart: true})
	if err != nil {
		t.Fatal(err)
	}
	job := ReportJob{Answer: ans, File: bin.File}
	for _, f := range ans.Fractions {
		words := reuse.LabelWords(f.Fraction, f.Decision)
		job.Sheets = append(job.Sheets, paper.Handover{Title: bin.Title, Batch: f.Name, Head: words.Head, Stop: words.Stop,
			Fields: reuse.HandoverFields(f.Fraction, f.Decision, reuse.Handover{Supplier: bin.Supplier})})
	}
	html, _, err := Report(job)
	if err != nil {
		t.Fatal(err)
	}
	return string(html)
}

// voids are the elements without an end tag that the page uses (HTML Living Standard, 13.1.2).
var voids = regexp.MustCompile(`<(meta|br)([^>]*)>`)

// nodes reads the page as XML, which it is but for void elements: each start tag with its attributes.
func nodes(t *testing.T, page string) []xml.StartElement {
	t.Helper()
	page = strings.TrimPrefix(page, "<!DOCTYPE html>\n")
	d := xml.NewDecoder(strings.NewReader(voids.ReplaceAllString(page, "<$1$2/>")))
	d.Strict, d.Entity = true, xml.HTMLEntity
	var out []xml.StartElement
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := tok.(xml.StartElement); ok {
			out = append(out, e.Copy())
		}
	}
}

// TestReportAsksNothingOfOthers: every element is well nested, ids are unique and links lead to one, and
// nothing on the page runs, fetches or sends: no script, no handler, no address of another place. The
// policy in its head names the hash of the one style it has (Content Security Policy Level 3, 8.4).
func TestReportAsksNothingOfOthers(t *testing.T) {
	for _, name := range binsShown {
		page := reportOf(t, readBin(t, name))
		ids, refs := map[string]bool{}, []string{}
		for _, e := range nodes(t, page) {
			switch e.Name.Local {
			case "script", "link", "iframe", "object", "embed", "img", "base", "form", "input", "use", "image", "foreignObject", "animate":
				t.Errorf("%s: there is a <%s>", name, e.Name.Local)
			}
			for _, a := range e.Attr {
				switch l := a.Name.Local; {
				case strings.HasPrefix(l, "on"), l == "src", l == "style", l == "srcset", l == "action":
					t.Errorf("%s: <%s> has %s", name, e.Name.Local, l)
				case l == "href" && !strings.HasPrefix(a.Value, "#"):
					t.Errorf("%s: a link leads to %q", name, a.Value)
				case l == "href":
					refs = append(refs, a.Value[1:])
				case l == "aria-labelledby":
					refs = append(refs, strings.Fields(a.Value)...)
				case l == "fill" && strings.HasPrefix(a.Value, "url("):
					refs = append(refs, strings.TrimSuffix(strings.TrimPrefix(a.Value, "url(#"), ")"))
				case l == "id" && ids[a.Value]:
					t.Errorf("%s: id %s stands twice", name, a.Value)
				case l == "id":
					ids[a.Value] = true
				}
			}
		}
		for _, r := range refs {
			if !ids[r] {
				t.Errorf("%s: nothing has the id %q", name, r)
			}
		}
		if strings.Contains(reportCSS, "url(") || strings.Contains(reportCSS, "@import") {
			t.Error("the style fetches something")
		}
	}
}

// TestReportRepeats: the same bin gives the same bytes.
func TestReportRepeats(t *testing.T) {
	if a, b := reportOf(t, readBin(t, "drawbridge")), reportOf(t, readBin(t, "drawbridge")); a != b {
		t.Error("two reports of one bin differ")
	}
}

// TestReportTakesNoOrders: names of the user's are words on the page and nothing else.
func TestReportTakesNoOrders(t *testing.T) {
	evil := []string{`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `'; DROP`, `=HYPERLINK("x")`, `../../etc/passwd`, "a\x1b[31m\u202e", `</style><b>`}
	bin := readBin(t, "drawbridge")
	bin.Title, bin.File = evil[0], evil[1]
	bin.Supplier = &sorting.Supplier{Name: evil[0], Contact: evil[1]}
	for i := range bin.Lots {
		old := bin.Lots[i].Name
		bin.Lots[i].Name = evil[i%len(evil)] + fmt.Sprint(i)
		for j := range bin.Tests {
			if bin.Tests[j].Lot == old {
				bin.Tests[j].Lot, bin.Tests[j].ID = bin.Lots[i].Name, evil[0]
			}
		}
	}
	for i := range bin.Printed {
		bin.Printed[i].From = evil[0]
	}
	bin.Kept[0].What, bin.Baths[0].Salt, bin.Outlets[0].Name = evil[1], evil[0], evil[1]
	page := reportOf(t, bin)
	for _, e := range nodes(t, page) {
		if l := e.Name.Local; l == "script" || l == "img" {
			t.Errorf("a name became a <%s>", l)
		}
	}
	for _, bad := range []string{"<script", "<img", "\x1b", "\u202e", "</style><b>"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if !strings.Contains(page, "&lt;script&gt;alert(1)") {
		t.Error("the title is not shown as it was written")
	}
}

// TestReportSaysFirstWhatMatters: the answer stands ahead of the pictures, cautions inside the step they
// belong to, and expected and demonstrated purity apart. Figures are those of the answer.
func TestReportSaysFirstWhatMatters(t *testing.T) {
	page := reportOf(t, readBin(t, "recycler-asks-95"))
	order := []string{`id="answer"`, "Do next", "Purity expected", "Purity demonstrated", `id="pictures"`, `id="purity"`, `id="steps"`, `id="trace"`, `id="assumptions"`, `id="sources"`, `id="chart"`, `id="sheets"`}
	at := 0
	for _, s := range order {
		i := strings.Index(page[at:], s)
		if i < 0 {
			t.Fatalf("%q is missing, or stands too early", s)
		}
		at += i
	}
	hot := regexp.MustCompile(`(?s)<li><div class="beside"><p>[^<]*hot|(?s)<li><div class="beside"><p>[^<]*in water of \d+ °C.*?</li>`)
	for _, li := range hot.FindAllString(reportOf(t, readBin(t, "drawbridge")), -1) {
		if !strings.Contains(li, "Scald") && !strings.Contains(li, "scald") {
			t.Errorf("hot water without its caution: %.120s", li)
		}
	}
}

// TestReportShowsTheClaim: 70 pieces drawn at random, none wrong, support a purity of 0.05^(1/70) = 0.9581
// at 95 % one-sided (Clopper and Pearson, Biometrika 26 (1934) 404, with no failures); it is rounded down
// and stands apart from what is expected, beside the 95 % that the outlet of the file asks.
func TestReportShowsTheClaim(t *testing.T) {
	page := reportOf(t, readBin(t, "recycler-asks-95"))
	for _, want := range []string{"<dt>Purity demonstrated</dt><dd>at least 95.8\u00a0% (70 random pieces, 0 wrong, 95\u00a0% confidence)</dd>", "95\u00a0% asked by"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// TestReportBarsHeat: what must never be heated is said on the page, on its sheet and on the chart.
func TestReportBarsHeat(t *testing.T) {
	page := reportOf(t, readBin(t, "old-fitting-and-fr-housing"))
	if strings.Contains(page, `<span class="marking">&gt;PC+ABS`) {
		t.Error("a bag that must not be heated carries a marking on its card")
	}
	for _, want := range []string{"<h3>Never heat</h3>", "grey fitting", `<b class="stop">DO NOT HEAT</b>`, `<p class="head stop">DO NOT HEAT</p>`, "Not surely off your own printer"} {
		if !strings.Contains(strings.ToLower(page), strings.ToLower(want)) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// TestReportDoubtsItsMasses: a bin that weighs twice what was ever printed makes all masses doubtful, and
// the page says so beside them; the whole then has no range.
func TestReportDoubtsItsMasses(t *testing.T) {
	bin := readBin(t, "drawbridge")
	if s := reportOf(t, bin); strings.Contains(s, "cannot all be right") {
		t.Error("weighings that agree are doubted")
	}
	bin.Floor.Gross.Value *= 6
	if s := reportOf(t, bin); !strings.Contains(s, "cannot all be right") || !regexp.MustCompile(`in all</th><td>[^<]*</td><td>-</td>`).MatchString(s) {
		t.Error("a bin of thirty kilograms, with sixteen printed, is not doubted beside its masses")
	}
}

// TestReportOfNothing: a file of streams alone still makes a page.
func TestReportOfNothing(t *testing.T) {
	bin := &sorting.Bin{Title: "nothing"}
	ans := advice.Answer{Bin: bin}
	page, parts, err := Report(ReportJob{Answer: ans})
	if err != nil || !bytes.Contains(page, []byte("Nothing:")) || len(parts) != 1 {
		t.Errorf("parts %v, %v", parts, err)
	}
	nodes(t, string(page))
}

var hexColour = regexp.MustCompile(`#[0-9A-Fa-f]{6}`)

// luminance after WCAG 2.2, relative luminance.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	lin := func(i int) float64 {
		n, err := strconv.ParseUint(hex[i:i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		if c := float64(n) / 255; c > 0.04045 {
			return math.Pow((c+0.055)/1.055, 2.4)
		} else {
			return c / 12.92
		}
	}
	return 0.2126*lin(1) + 0.7152*lin(3) + 0.0722*lin(5)
}

func contrast(t *testing.T, a, b string) float64 {
	x, y := luminance(t, a), luminance(t, b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

// TestReportContrast: every colour of text on every ground it can stand on has at least 4.5:1 (WCAG 2.2,
// 1.4.3). The formula is first held against two published ratios: black on white 21, #767676 on white
// 4.54 (WebAIM contrast checker).
func TestReportContrast(t *testing.T) {
	if c := contrast(t, "#000000", "#ffffff"); math.Abs(c-21) > 0.005 {
		t.Fatalf("black on white is %.3f, want 21", c)
	}
	if c := contrast(t, "#767676", "#ffffff"); math.Abs(c-4.54) > 0.005 {
		t.Fatalf("#767676 on white is %.3f, want 4.54", c)
	}
	rule := regexp.MustCompile(`([^{}]+)\{([^{}]*)\}`)
	texts, grounds := map[string]bool{"#000000": true}, map[string]bool{"#ffffff": true}
	for _, r := range rule.FindAllStringSubmatch(reportCSS, -1) {
		colour, ground := "", ""
		for _, d := range strings.Split(r[2], ";") {
			key, value, _ := strings.Cut(strings.TrimSpace(d), ":")
			switch c := hexColour.FindString(value); {
			case c == "":
			case key == "color":
				colour = c
			case key == "background":
				ground = c
			}
		}
		switch {
		case colour != "" && ground != "":
			if c := contrast(t, colour, ground); c < 4.5 {
				t.Errorf("%s: %s on %s is %.2f:1", strings.TrimSpace(r[1]), colour, ground, c)
			}
		case colour != "":
			texts[colour] = true
		case ground != "":
			grounds[ground] = true
		}
	}
	for text := range texts {
		for ground := range grounds {
			if c := contrast(t, text, ground); c < 4.5 {
				t.Errorf("%s on %s is %.2f:1", text, ground, c)
			}
		}
	}
	if len(texts) < 3 {
		t.Errorf("read only %v: does this test still find the colours?", texts)
	}
}
