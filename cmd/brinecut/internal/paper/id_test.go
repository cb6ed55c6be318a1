package paper

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestCheckCharacter: the example of the Global Release Identifier, which takes ISO 7064 MOD 37,36:
// A1-2425G-ABC1234002-M (IFPI, GRid Standard 2.1).
func TestCheckCharacter(t *testing.T) {
	if got := CheckCharacter("A1-2425G-ABC1234002"); got != 'M' {
		t.Errorf("check character %c, the standard has M", got)
	}
}

// TestCheckFindsEverySingleError: what ISO 7064 promises of its systems; neighbours swapped are found but
// for a few pairs, here at least 97 of 100 (judgement: one pair in 37 is the order of what is lost).
func TestCheckFindsEverySingleError(t *testing.T) {
	const whole = "BIN7F03"
	right := CheckCharacter(whole)
	for i := range whole {
		for _, c := range digits {
			wrong := whole[:i] + string(c) + whole[i+1:]
			if wrong != whole && CheckCharacter(wrong) == right {
				t.Errorf("%s passes for %s", wrong, whole)
			}
		}
	}
	swaps, missed := 0, 0
	for _, a := range digits {
		for _, b := range digits {
			if x, y := string(a)+string(b)+"Q4", string(b)+string(a)+"Q4"; a != b {
				swaps++
				if CheckCharacter(x) == CheckCharacter(y) {
					missed++
				}
			}
		}
	}
	if 100*missed > 3*swaps {
		t.Errorf("%d of %d swaps pass", missed, swaps)
	}
}

func TestIDs(t *testing.T) {
	names := []string{"A1", "a1", "bag 1", "Bag-1", "κουτί 3", "κουτί 4", "../../etc/passwd", "<b>A1</b>", "=SUM(A1)", "", "a name that is far too long for any label",
		"a name that is far too long for any table", "A1"}
	ids := IDs(names)
	if !strings.HasPrefix(ids[0], "A1+") || !strings.HasPrefix(ids[2], "BAG-1+") {
		t.Errorf("plain names changed: %q %q", ids[0], ids[2])
	}
	seen := map[string]string{}
	for i, id := range ids {
		stem, check, _ := strings.Cut(id, "+")
		if len(id) > 16 || stem == "" || len(check) != 1 || check[0] != CheckCharacter(stem) || strings.Trim(stem, digits+"-") != "" {
			t.Errorf("%q: id %q", names[i], id)
		}
		if old, ok := seen[id]; ok {
			t.Errorf("%q and %q are both %s", old, names[i], id)
		}
		seen[id] = names[i]
	}
}

// TestIDsStay: what is printed on a bag stays its id when bags are added behind it.
func TestIDsStay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfNDistinct(rapid.String(), 1, 12, rapid.ID[string]).Draw(t, "names")
		all, first := IDs(names), IDs(names[:1])
		if all[0] != first[0] {
			t.Fatalf("%q became %q", first[0], all[0])
		}
		seen := map[string]bool{}
		for _, id := range all {
			if seen[id] {
				t.Fatalf("%q twice", id)
			}
			seen[id] = true
		}
	})
}
