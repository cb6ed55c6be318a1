package page

import (
	"html"
	"strings"
	"testing"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/reuse/advice"
)

// TestReportShowsEveryRule: for each bag of each invented bin the report has a fold-out with every rule,
// its condition, how the bag stands to it, what would mend it, its source, and what the rule lost by;
// outside of the fold-out, why the bag goes its way and what came nearest.
func TestReportShowsEveryRule(t *testing.T) {
	for _, name := range binsShown {
		bin := readBin(t, name)
		ans, err := advice.Sort(bin, advice.Options{})
		if err != nil {
			t.Fatal(err)
		}
		parts := strings.Split(reportOf(t, bin), `<section class="ruling"`)[1:]
		if len(parts) != len(ans.Fractions) {
			t.Fatalf("%s: %d rulings for %d bags", name, len(parts), len(ans.Fractions))
		}
		for i, f := range ans.Fractions {
			holdsRules(t, name, html.UnescapeString(parts[i]), f)
		}
	}
}

func holdsRules(t *testing.T, bin, part string, f advice.Fraction) {
	t.Helper()
	open, folded, ok := strings.Cut(part, `<details class="rules">`)
	want := func(where, what string) {
		t.Helper()
		if what = together.Replace(show.Clean(what)); !strings.Contains(where, what) {
			t.Errorf("%s, %s: the rules lack %q", bin, f.Name, what)
		}
	}
	if !ok || !strings.Contains(open, "Nearest: ") || strings.Count(folded, "taken</b>") != 1 {
		t.Errorf("%s, %s: no fold-out, nothing nearest, or not one rule taken", bin, f.Name)
	}
	for _, w := range f.Decision.Why {
		want(open, w.Words)
	}
	for _, r := range f.Decision.Rules {
		want(folded, strings.ReplaceAll(string(r.Route), "-", " "))
		want(folded, r.Outlet)
		for _, by := range strings.Split(r.By, "; ") {
			want(folded, by)
		}
		for _, a := range r.Asks {
			want(folded, a.Asks)
			want(folded, a.By)
			want(folded, a.Cure)
			want(folded, a.Source)
		}
	}
}
