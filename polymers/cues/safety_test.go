package cues

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// docs/safety.md cites only what it lists, lists only what it cites, and speaks of every hazard that
// a bin of print scrap is known to hold.
func TestSafetyPage(t *testing.T) {
	raw, err := os.ReadFile("../../docs/safety.md")
	if err != nil {
		t.Fatal(err)
	}
	text, list, ok := strings.Cut(string(raw), "\n## Sources\n")
	if !ok {
		t.Fatal("the page has no list of sources")
	}
	cited := map[int]bool{}
	for _, m := range regexp.MustCompile(`\[(\d+)\]`).FindAllStringSubmatch(text, -1) {
		n, _ := strconv.Atoi(m[1])
		cited[n] = true
	}
	listed := regexp.MustCompile(`(?m)^(\d+)\. `).FindAllStringSubmatch(list, -1)
	for i, m := range listed {
		if m[1] != strconv.Itoa(i+1) || !cited[i+1] {
			t.Errorf("source %s stands at place %d, cited: %v", m[1], i+1, cited[i+1])
		}
	}
	if len(cited) != len(listed) {
		t.Errorf("%d sources cited, %d listed", len(cited), len(listed))
	}
	for _, hazard := range []string{"Cells and batteries", "Electronics", "Lead stabilisers", "brominated", "Glue, primer, paint", "not cured", "Resin prints, cured", "Magnets", "Threaded inserts",
		"Wood-filled", "Metal-filled", "Glow-in-the-dark", "Kitchen blenders", "home-made", "Local codes come first", "licensed", "No copper wire", "Nothing is ever smelled"} {
		if !strings.Contains(text, hazard) {
			t.Errorf("the page says nothing of %q", hazard)
		}
	}
}
