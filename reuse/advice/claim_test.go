package advice_test

import (
	"testing"

	"brinecut/polymers"
	"brinecut/reuse/advice"
	"brinecut/sorting/binfile"
)

// claimBin is invented: pieces drawn at random, numbered, warmed to between the glass transitions of PLA
// and PETG, four of them weighed; known snippets of both were warmed alike.
const claimBin = `
[bin]
gross = "2.00 kg"
tare = "0 g"
origin = "own-print"
[[lot]]
name = "clear"
mass = "2.00 kg"
could_be = ["PETG", "PLA"]
mixed = false
prep = "cut"
[[known]]
name = "clear PETG"
material = "PETG"
[[known]]
name = "box PLA"
material = "PLA"
[[test]]
id = "a"
known = "box PLA"
kind = "hot-water"
temp = "64 °C"
counts = { soft = 8 }
[[test]]
id = "b"
known = "clear PETG"
kind = "hot-water"
temp = "64 °C"
counts = { stiff = 9, soft = 1 }
[[test]]
id = "c"
lot = "clear"
piece = 1
kind = "hot-water"
temp = "64 °C"
outcome = "stiff"
drawn = "random"
[[test]]
id = "d"
lot = "clear"
piece = 1
kind = "weigh"
in_air = "4.0 g"
in_liquid = "0.86 g"
liquid = "0.998 g/cm3"
[[test]]
id = "e"
lot = "clear"
kind = "hot-water"
temp = "64 °C"
counts = { stiff = 30 }
drawn = "random"
`

// What a claim can lean on is as the file says: eight of eight and nine of ten known pieces, and one
// piece's mass; only where it is asked for.
func TestGroundOfAClaim(t *testing.T) {
	bin, _, err := binfile.Read("bin.toml", []byte(claimBin))
	if err != nil {
		t.Fatal(err)
	}
	a, err := advice.Sort(bin, advice.Options{Claims: true})
	if err != nil {
		t.Fatal(err)
	}
	g := a.Fractions[0].Ground
	if a.Fractions[0].Material != "PETG" || g == nil {
		t.Fatalf("%+v", a.Fractions[0])
	}
	known := g.Known()
	if known == nil || known.Found != 8 || known.Others != 8 || known.Passed != 9 || known.Right != 10 {
		t.Errorf("%+v", g.Trials)
	}
	if grabs := g.Grabs(); len(grabs) != 1 || grabs[0].Mass != 4 || grabs[0].Others != 0 {
		t.Errorf("%+v", grabs)
	}
	for _, f := range sorted(t, claimBin).Fractions {
		if f.Ground != nil {
			t.Errorf("%s: not asked for", f.Name)
		}
	}
}

// Without a bin file the usual bench is assumed: PETG that floats like PLA is told by hot water; ABS and
// ASA are told apart by nothing there (they soften alike and dissolve alike).
func TestSecondsWithoutABin(t *testing.T) {
	list, err := advice.Seconds("PETG", []polymers.Symbol{"PLA"}, []advice.Kind{"float"})
	if err != nil || len(list) == 0 {
		t.Fatalf("%v, %v", list, err)
	}
	for _, s := range list {
		if s.Kind == "float" {
			t.Error("a float was the first test")
		}
	}
	if list, err := advice.Seconds("ABS", []polymers.Symbol{"ASA"}, nil); err == nil {
		t.Errorf("ABS told from ASA: %+v", list)
	}
}
