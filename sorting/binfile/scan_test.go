package binfile

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/google/go-cmp/cmp"
)

// The places are right only if the scanner sees the keys that the library sees, in the same order.
func TestScannerSeesTheKeysOfTheLibrary(t *testing.T) {
	paths, _ := filepath.Glob("../../testdata/refused/*.toml")
	bins, _ := filepath.Glob("../../testdata/bins/*.toml")
	seen := 0
	for _, path := range append(paths, bins...) {
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if sameKeys(t, path, string(src)) {
			seen++
		}
	}
	if seen < 200 {
		t.Errorf("only %d files are TOML", seen)
	}
}

func TestScannerFollowsEveryForm(t *testing.T) {
	for _, src := range []string{
		"a.b.c = 1\na.\"b\".d = 2\n'x y' = 3\n\"\" = 4\n",
		"[a . b]\nc = 1\n[a]\nd = 2\n[a.e.f]\ng = 3\n",
		"[[a]]\nb = 1\n[[a.c]]\nd = 1\n[[a.c]]\nd = 2\n[a.e]\nf = 1\n[[a]]\nb = 2\n[[a.c]]\nd = 3\n",
		"a = [ [1, 2], [ { b = 1 }, { b = 2, c.d = 3 } ], ] # tail\n",
		"a = \"\"\"\n[[no]] \\\"\"\" \"\" x\"\"\"\"\"\nb = '''\n''no\\'''\nc = \"#\\\\\"\n",
		"a = 1979-05-27 07:32:00 # date\nb = [1979-05-27,07:32:00]\nc = +1_000.5e-3\nd = { }\n",
		"a = [\r\n # comment ] with bracket\r\n \"]\", # and\r\n]\r\n[b] # x\r\nc = 1",
	} {
		if !sameKeys(t, src, src) {
			t.Errorf("not TOML: %q", src)
		}
	}
}

// sameKeys compares; false where the text is not TOML.
func sameKeys(t *testing.T, name, src string) bool {
	var values map[string]any
	md, err := toml.Decode(src, &values)
	if err != nil {
		return false
	}
	s, ok := scan(trimMark(src))
	if s.tooFar >= 0 {
		return true
	}
	if !ok {
		t.Errorf("%s: the scanner stopped at %d", name, s.pos)
	}
	var want [][]string
	for _, k := range md.Keys() {
		want = append(want, k)
	}
	if !slices.EqualFunc(want, s.keys, slices.Equal) {
		t.Errorf("%s: keys (-library +scanner):\n%s", name, cmp.Diff(want, s.keys))
	}
	samePlaces(t, name, values, s.root)
	return true
}

// samePlaces holds the places against the values: a place for each, and none besides.
func samePlaces(t *testing.T, name string, v any, p *place) {
	if items, ok := list(v); ok {
		if len(items) != len(p.items) {
			t.Errorf("%s: %d items and %d places", name, len(items), len(p.items))
			return
		}
		for i := range items {
			samePlaces(t, name, items[i], p.items[i])
		}
		return
	}
	m, _ := v.(map[string]any)
	if len(m) != len(p.fields) {
		t.Errorf("%s: %d keys and %d places", name, len(m), len(p.fields))
	}
	for k := range m {
		if p.fields[k] == nil {
			t.Errorf("%s: %q has no place", name, k)
			continue
		}
		samePlaces(t, name, m[k], p.fields[k])
	}
}
