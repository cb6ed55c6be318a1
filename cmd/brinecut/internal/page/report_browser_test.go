package page

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/polymers/cues"
	"brinecut/reuse/advice"
	"brinecut/sorting/triage"
)

// reportBrowser opens a tab in the machine's chromium; the test is skipped where there is none.
func reportBrowser(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium here (Debian: chromium)")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true))
	alloc, stopAll := chromedp.NewExecAllocator(context.Background(), opts...)
	tab, stop := chromedp.NewContext(alloc)
	t.Cleanup(func() { stop(); stopAll() })
	if err := chromedp.Do(tab); err != nil {
		t.Fatalf("chromium does not start: %v", err)
	}
	tab, end := context.WithTimeout(tab, 3*time.Minute)
	t.Cleanup(end)
	return tab
}

// see runs an action in the tab.
func see[T any](t *testing.T, tab context.Context, a chromedp.Action[T]) T {
	t.Helper()
	v, err := chromedp.Run(tab, a)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// measured is what the browser says of a page as it stands.
type measured struct {
	Wide, Shown float64 // of the content, of the window
	Fetched     int     // from anywhere
	Border      string  // of the first box: "2px" where the style is in force
	Small       int     // texts below 9 px
	Pictures    int     // that stand wholly within the window
	Cut         []string
	Struck      []string // texts of a picture that run into one another, or into the mark of a mean
}

const measure = `(() => {
	const w = document.documentElement;
	const out = {Wide: w.scrollWidth, Shown: w.clientWidth, Small: 0, Pictures: 0, Cut: [], Struck: [],
		Fetched: performance.getEntriesByType('resource').length, Border: getComputedStyle(document.querySelector('.next')).borderTopWidth};
	const strikes = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 3;
	for (const s of document.querySelectorAll('svg')) {
		const solid = [...s.querySelectorAll('text, path[fill="#ffffff"][stroke], circle')].map(e => [e.textContent || 'a mean', e.getBoundingClientRect(), e.tagName]);
		solid.forEach(([name, box, tag], i) => { for (const [other, its, kind] of solid.slice(i + 1))
			if ((tag === 'text' || kind === 'text') && strikes(box, its)) out.Struck.push(name + ' / ' + other + ' in ' + s.querySelector('title').textContent); });
		const r = s.getBoundingClientRect();
		if (r.left >= 0 && r.right <= w.clientWidth + 0.5 && r.height > 10) out.Pictures++;
		for (const t of s.querySelectorAll('text')) {
			const b = t.getBoundingClientRect();
			if (b.height < 9) out.Small++;
			if (b.left < r.left - 2 || b.right > r.right + 2 || b.top < r.top - 2 || b.bottom > r.bottom + 2) out.Cut.push(t.textContent);
		}
	}
	return out;
})()`

// reportSizes are a small phone held upright, and a desk.
var reportSizes = map[string][2]int64{"phone": {360, 740}, "desk": {1280, 900}}

// TestReportInABrowser opens the report at phone and desk size: nothing is asked of any other place, the
// policy is broken by nothing, the page is no wider than the window, and no picture is cut. With
// REPORT_SHOTS the screenshots and the print are left in that folder to be looked at.
func TestReportInABrowser(t *testing.T) {
	tab := reportBrowser(t)
	dir := t.TempDir()
	for _, name := range binsShown {
		file := filepath.Join(dir, name+".html")
		if err := os.WriteFile(file, []byte(reportOf(t, readBin(t, name))), 0o600); err != nil {
			t.Fatal(err)
		}
		for size, px := range reportSizes {
			see(t, tab, chromedp.EmulateViewport(px[0], px[1]))
			see(t, tab, chromedp.Navigate("file://"+file))
			m := see(t, tab, chromedp.Evaluate[measured](measure))
			if m.Border != "2px" {
				t.Errorf("%s, %s: the style does not reach the page (border %q): does the policy name its hash?", name, size, m.Border)
			}
			if m.Wide > m.Shown || m.Fetched > 0 {
				t.Errorf("%s, %s: %v px wide in a window of %v; %d fetched", name, size, m.Wide, m.Shown, m.Fetched)
			}
			if len(m.Struck) > 0 {
				t.Errorf("%s, %s: drawn over one another: %q", name, size, m.Struck)
			}
			if m.Small > 0 || len(m.Cut) > 0 || m.Pictures < 3 {
				t.Errorf("%s, %s: %d texts below 9 px, cut %q, %d pictures within the window", name, size, m.Small, m.Cut, m.Pictures)
			}
			save(t, fmt.Sprintf("%s-%s.png", name, size), see(t, tab, chromedp.FullScreenshot(100)))
		}
	}
}

// save leaves what was shown in the folder of REPORT_SHOTS, for a person to look at.
func save(t *testing.T, name string, data []byte) {
	t.Helper()
	dir := os.Getenv("REPORT_SHOTS")
	if dir == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// printing is a command of the browser's own protocol.
func printing[P, R any](c cdp.Command[P, R], p P) chromedp.Action[R] {
	return func(ctx context.Context, t *chromedp.Target) (R, error) { return cdp.Call(ctx, t, c, p) }
}

// papers are A4 and Letter in inches, and what is left of their height between margins of 14 mm, in the
// 96 px an inch of CSS.
var papers = map[string][3]float64{"A4": {8.27, 11.69, (297 - 28) / 25.4 * 96}, "Letter": {8.5, 11, (279.4 - 28) / 25.4 * 96}}

// crowded is a bench chart as long as one gets: all its lines, four kinds of test, every outcome with much
// to say.
const crowded = "a crowded chart"

func printable(t *testing.T, name string) []byte {
	t.Helper()
	if name != crowded {
		return []byte(reportOf(t, readBin(t, name)))
	}
	bin := readBin(t, "drawbridge")
	ans, err := advice.Sort(bin, advice.Options{Trace: true, Chart: true})
	if err != nil {
		t.Fatal(err)
	}
	ans.Chart.Lines = nil
	share := []triage.ChartShare{{Key: "ABS/ASA/HIPS", Share: 0.281}, {Key: "anything else", Share: 0.243}}
	for n, kind := range []cues.Kind{cues.HotWater, cues.Float, cues.Bend, cues.Soak, cues.Float, cues.HotWater, cues.Float, cues.HotWater, cues.Float, cues.HotWater} {
		test, _ := cues.Find(kind)
		l := triage.ChartLine{N: n + 1, Kind: kind, Density: 1.155, Temp: 66, Cautions: test.Cautions}
		for _, o := range test.Outcomes {
			l.Answers = append(l.Answers, triage.ChartAnswer{Outcome: o, Sure: 0.281, Else: share})
		}
		ans.Chart.Lines = append(ans.Chart.Lines, l)
	}
	ans.Chart.Baths = []advice.Step{
		{Do: "bath of 1.085 g/cm3: 130 g table salt in 955 g water makes a liter at 20 °C; weigh a full bottle of it and one of water to check it",
			Cautions: []string{"strong brine stings eyes and wounds: wear goggles and gloves; rinse eyes with water for minutes", "the brine is not for drinking; it corrodes steel: rinse tools and keep it off electronics"}},
		{Do: "bath of 1.255 g/cm3: 684 g sugar in 571 g water makes a liter at 20 °C; weigh a full bottle of it and one of water to check it",
			Cautions: []string{"sugar left on flake chars in an extruder or press: rinse hot and well", "syrup ferments and draws insects within days: make it fresh, keep it cold"}},
	}
	html, _, err := Report(ReportJob{Answer: ans, Sheets: []paper.Handover{{}}})
	if err != nil {
		t.Fatal(err)
	}
	return html
}

// TestReportPrints prints on A4 and Letter: a PDF of several pages comes out, and the bench chart and
// every hand-over sheet each fit one page.
func TestReportPrints(t *testing.T) {
	tab := reportBrowser(t)
	file := filepath.Join(t.TempDir(), "report.html")
	for _, name := range []string{"drawbridge", "one-heap-no-idea", "old-fitting-and-fr-housing", crowded} {
		if err := os.WriteFile(file, printable(t, name), 0o600); err != nil {
			t.Fatal(err)
		}
		for size, p := range papers {
			see(t, tab, chromedp.EmulateViewport(int64((p[0]*25.4-30)/25.4*96), 1000))
			see(t, tab, printing(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
			see(t, tab, chromedp.Navigate("file://"+file))
			tall := see(t, tab, chromedp.Evaluate[[]float64](`[...document.querySelectorAll('.sheet')].map(e => e.getBoundingClientRect().height)`))
			pdf := see(t, tab, printing(page.PrintToPDF, page.PrintToPDFParams{PaperWidth: p[0], PaperHeight: p[1]})).Data
			if !bytes.HasPrefix(pdf, []byte("%PDF-")) || bytes.Count(pdf, []byte("/Type /Page\n")) < 4 {
				t.Errorf("%s on %s: %d pages", name, size, bytes.Count(pdf, []byte("/Type /Page\n")))
			}
			if low := see(t, tab, chromedp.Evaluate[float64](`Math.min(1e4, ...[...document.querySelectorAll('.rules ol')].map(e => e.getBoundingClientRect().height))`)); name != crowded && (low < 40 || low == 1e4) {
				t.Errorf("%s on %s: the rules of a bag are %.0f px high on paper", name, size, low)
			}
			for i, h := range tall {
				if h > p[2] {
					t.Errorf("%s on %s: sheet %d is %.0f px high, a page has %.0f", name, size, i+1, h, p[2])
				}
			}
			if len(tall) < 2 {
				t.Errorf("%s: %d sheets", name, len(tall))
			}
			save(t, fmt.Sprintf("%s-%s.pdf", name, size), pdf)
		}
	}
}

// TestReportIsValid holds the page to an HTML checker of Debian's. It knows no SVG, so what it calls
// proprietary is left out.
func TestReportIsValid(t *testing.T) {
	tidy, err := exec.LookPath("tidy")
	if err != nil {
		t.Skip("no tidy here (Debian: tidy)")
	}
	for _, name := range binsShown {
		c := exec.Command(tidy, "-q", "-e")
		c.Stdin = strings.NewReader(reportOf(t, readBin(t, name)))
		said, _ := c.CombinedOutput() // its exit code only repeats what it says
		for line := range strings.Lines(string(said)) {
			if !strings.Contains(line, "proprietary attribute") && strings.TrimSpace(line) != "" {
				t.Errorf("%s: %s", name, strings.TrimSpace(line))
			}
		}
	}
}
