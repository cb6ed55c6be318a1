package page

import (
	"html"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/quantity"
	"brinecut/reuse"
	"brinecut/reuse/advice"
)

var (
	reWords   = regexp.MustCompile(`>([^<]+)<`)
	reTags    = regexp.MustCompile(`<[^>]*>`)
	reMetric  = regexp.MustCompile(`\d (kg|g|°C)(?:[^/a-zA-Z0-9]|$)`)
	reStyling = regexp.MustCompile(`(?s)<style>.*?</style>`)
)

// A report in pounds and degrees Fahrenheit says nothing in kilograms or degrees Celsius, in words, tables
// or pictures, but for carbon dioxide, differences of temperature, names and what is quoted; its tags are
// those of the metric one.
func TestReportInUSUnits(t *testing.T) {
	bin := readBin(t, "drawbridge")
	bin.Lots[0].Colour = "box 3 kg"
	ans, err := advice.Sort(bin, advice.Options{Trace: true, Chart: true})
	if err != nil {
		t.Fatal(err)
	}
	job := ReportJob{Answer: ans, File: bin.File, Names: []string{"box 3 kg"}}
	for _, f := range ans.Fractions {
		job.Sheets = append(job.Sheets, paper.Handover{Batch: f.Name, Fields: reuse.HandoverFields(f.Fraction, f.Decision, reuse.Handover{Supplier: bin.Supplier})})
	}
	metric, _, err := Report(job)
	if err != nil {
		t.Fatal(err)
	}
	job.Units = show.US
	out, _, err := Report(job)
	if err != nil {
		t.Fatal(err)
	}
	us := strings.ReplaceAll(string(out), "\u00a0", " ")
	if !slices.Equal(reTags.FindAllString(us, -1), reTags.FindAllString(strings.ReplaceAll(string(metric), "\u00a0", " "), -1)) {
		t.Error("the tags are not those of the metric report")
	}
	if !strings.Contains(us, "box 3 kg") {
		t.Error("a name is gone, or in other units")
	}
	for _, m := range reWords.FindAllStringSubmatch(reStyling.ReplaceAllString(us, ""), -1) {
		words := html.UnescapeString(m[1])
		at := reMetric.FindStringIndex(words)
		if at == nil || strings.Contains(words, "box 3 kg") || strings.Count(words[:at[0]], `"`)%2 == 1 || strings.HasPrefix(words[at[1]-1:], " CO2") ||
			strings.Contains(words[:at[1]], "within ") || strings.Contains(words[:at[1]], "± ") {
			continue
		}
		t.Errorf("metric in a page in US units: %q", words)
	}
	for _, want := range []string{` lb</text>`, ` lb (`, ` °F`, ` oz`} {
		if !strings.Contains(us, want) {
			t.Errorf("no %q on the page", want)
		}
	}
}

// The bench page in US units: it shows them, a bare number is taken in them, and a form that a phone kept
// from before is still taken in its own. 0 °C is 32 °F and 64 °C is 147.2 °F; 1 oz is 28.349 52 g (NIST
// Special Publication 811, 2008, appendix B.8 and B.9).
func TestBenchInUSUnits(t *testing.T) {
	b := startBench(t, smallBin, BenchOptions{Units: show.US})
	p := b.phone()
	_, page := p.get("/test?lot=white&kind=hot-water")
	benchHas(t, "the sheet for hot water", page, `name="units" value="us"`, "<small>°F</small>", "140 °F burns")
	f, _ := p.step(page)
	f.Set("outcome", "soft")
	f.Set("temp", "147")
	if code, page := p.send("/test", f); code != http.StatusOK {
		t.Fatalf("status %d: %s", code, page)
	}
	_, page = p.get("/lot")
	benchHas(t, "the form of a lot", page, `name="units" value="us"`, "<small>oz</small>")
	p.send("/lot", url.Values{"name": {"new 2 g"}, "mass": {"10"}, "units": {"us"}, "token": {"abcdefgh"}})
	p.send("/lot", url.Values{"name": {"kept"}, "mass": {"10"}, "token": {"abcdefgi"}})
	bin := b.read()
	if len(bin.Tests) != 1 || bin.Tests[0].Temp.Text != "147 °F" || bin.Tests[0].Temp.Value < 63.8 || bin.Tests[0].Temp.Value > 64 {
		t.Errorf("recorded %+v", bin.Tests)
	}
	for name, want := range map[string]quantity.Gram{"new 2 g": 283.4952, "kept": 10} {
		if l, ok := bin.Lot(name); !ok || l.Mass.Value < want-0.001 || l.Mass.Value > want+0.001 {
			t.Errorf("lot %s: %+v", name, l.Mass)
		}
	}
	_, page = p.get("/bath?target=1.100")
	benchHas(t, "the bath sheet", page, `value="68 °F"`, `value="1 g"`, " oz of table salt")
	// a form that is refused comes back in the units it was written in
	_, page = p.send("/lot", url.Values{"name": {"white"}, "mass": {"7"}, "token": {"abcdefgj"}})
	benchHas(t, "a form of metric figures", page, "cannot be recorded", `value="7"`, "<small>g</small>")
	if strings.Contains(page, `name="units"`) {
		t.Error("a form of metric figures comes back as one in US units")
	}
}
