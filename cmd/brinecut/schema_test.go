package main

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// schemas is docs/schema.json as a validator of the draft reads it, which is not ours. The page lets
// later versions add keys; here no key may be missing from it.
type schemas struct {
	t    *testing.T
	c    *jsonschema.Compiler
	defs map[string]any
	seen map[string]bool // definition and key met in an output
}

func readSchemas(t *testing.T) *schemas {
	t.Helper()
	text, err := os.ReadFile(root + "/docs/schema.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	closed(doc)
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	return &schemas{t, c, doc.(map[string]any)["$defs"].(map[string]any), map[string]bool{}}
}

// closed forbids what an object's schema does not name.
func closed(v any) {
	switch v := v.(type) {
	case map[string]any:
		if _, object := v["properties"].(map[string]any); object && v["type"] == "object" {
			v["additionalProperties"] = false
		}
		for _, x := range v {
			closed(x)
		}
	case []any:
		for _, x := range v {
			closed(x)
		}
	}
}

// hold validates what a command writes against a definition; code is the exit code it ends with.
func (s *schemas) hold(def string, code int, args ...string) {
	s.t.Helper()
	var out, errs bytes.Buffer
	if got := run(append(args, "--json"), strings.NewReader(""), &out, &errs); got != code {
		s.t.Errorf("%v: exit code %d, %s", args, got, &errs)
		return
	}
	s.valid(def, args, out.Bytes())
}

func (s *schemas) valid(def string, args []string, text []byte) {
	s.t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		s.t.Errorf("%v: %v", args, err)
		return
	}
	schema, err := s.c.Compile("schema.json#/$defs/" + def)
	if err != nil {
		s.t.Fatal(err)
	}
	if err := schema.Validate(v); err != nil {
		s.t.Errorf("%v: %v", args, err)
	}
	s.note(map[string]any{"$ref": "#/$defs/" + def}, v)
}

// note marks the keys of an output as met, following the references of its schema.
func (s *schemas) note(schema, v any) {
	m, ok := schema.(map[string]any)
	if !ok || v == nil {
		return
	}
	def, ok := m["$ref"].(string)
	if ok {
		def = strings.TrimPrefix(def, "#/$defs/")
		s.seen[def] = true
		m = s.defs[def].(map[string]any)
	}
	if any, ok := m["anyOf"].([]any); ok {
		s.note(any[0], v)
	}
	switch v := v.(type) {
	case map[string]any:
		props, _ := m["properties"].(map[string]any)
		for k, x := range v {
			if p, ok := props[k]; ok {
				s.seen[def+"."+k] = true
				s.note(p, x)
				continue
			}
			s.note(m["additionalProperties"], x)
		}
	case []any:
		for _, x := range v {
			s.note(m["items"], x)
		}
	}
}

// What every command writes with --json is as docs/schema.json says, and nothing stands there that no
// command writes.
func TestSchema(t *testing.T) {
	s := readSchemas(t)
	const bins = "../../testdata/bins/"
	for _, bin := range goodBins(t) {
		s.hold("sort", exitDone, "sort", bin)
		s.hold("balance", exitDone, "balance", bin)
		s.hold("next", exitDone, "next", bin)
	}
	s.hold("sort", exitDone, "sort", bins+"drawbridge.toml", "--trace")
	for _, c := range []struct {
		def, args string
		code      int
	}{
		{"bath", "bath|--density|1.2 g/cm3|--volume|1 l|--salt|epsom salt", exitDone},
		{"bath", "bath|--density|1.3 g/cm3|--volume|1 l|--salt|table salt", exitCannot},
		{"bath", "bath|--density|0.9 g/cm3|--volume|1 l|--salt|ethanol", exitDone},
		{"bath_check", "bath|check|--empty|32 g|--water|532 g|--filled|657 g|--target|1.25 g/cm3", exitDone},
		{"bath_check", "bath|check|--empty|32 g|--water|532 g|--filled|657 g", exitDone},
		{"cut", "cut|" + bins + "drawbridge.toml|--lot|crumbs|--density|1.15 g/cm3", exitDone},
		{"claim", "claim|--tested|40|--wrong|1|--of|400|--purity|95 %|--finds|90 %|--false-alarms|2 %", exitDone},
		{"claim", "claim|--tested|0|--wrong|0", exitDone},
		{"claim", "claim|--tested|100|--wrong|8|--purity|95 %|--false-alarms|9 %|--material|PETG|--against|PLA|--first|float", exitDone},
		{"claim", "claim|" + bins + "recycler-asks-95.toml|--fraction|PETG", exitDone},
		{"polymers", "polymer", exitDone},
		{"polymer", "polymer|PVC-U", exitDone},
		{"evidence", "polymer|--evidence", exitDone},
		{"mark", "mark|>PC+ABS-GF20FR(40)<", exitDone},
		{"mark", "mark|>PA6-GF30<", exitDone},
		{"mark", "mark|--of|PETG", exitDone},
		{"sources", "polymer|--sources", exitDone},
		{"press", "press|--material|PETG|--thickness|6 mm|--platen|220 °C|--centre|200 °C|--size|300 x 300 mm|--pressure|2 MPa", exitDone},
		{"press", "press|--material|PETG|--thickness|6 mm|--platen|220 °C|--centre|200 °C", exitDone},
		{"regrind", "regrind|--material|PLA|--share|25 %", exitDone},
		{"regrind", "regrind|--material|PETG|--share|20 %|--loops|3|--flow|12 g/10 min|--new-flow|8 g/10 min|--target-flow|9 g/10 min|--grinding|0.05 kWh/kg|--pieces|60 mm|--screen|10 mm|--finer|4 mm", exitDone},
		{"regrind", "regrind|--material|TPU|--share|25 %|--retention|95 %", exitDone},
		{"chart", "report|" + bins + "drawbridge.toml|--chart", exitDone},
	} {
		s.hold(c.def, c.code, strings.Split(c.args, "|")...)
	}
	s.bagged()
	s.written()
	s.leftOver()
}

// baggedBin is invented: a bag that was weighed, and a large heap that pays for being parted.
const baggedBin = `[bin]
gross  = "62 kg"
tare   = "2 kg"
origin = "own-print"

[[lot]]
name     = "heap"
mass     = "58 kg"
mixed    = true
could_be = ["PETG", "PP"]
prep     = "flake"

[[lot]]
name     = "clear"
could_be = ["PETG"]
mass     = "1.45 kg"

[[test]]
id     = "t1"
lot    = "heap"
kind   = "float"
density = "1.05 g/cm3"
counts = { floats = 20, sinks = 20 }
drawn  = "random"

[[bag]]
id    = "A1"
lots  = ["clear"]
gross = "1.45 kg"
tare  = "20 g"

[kit]
has = ["table salt", "epsom salt", "kettle", "thermometer", "scale 1 g", "granulator", "dryer", "filament extruder"]
`

// bagged holds what is said of weighed bags and of a heap worth parting.
func (s *schemas) bagged() {
	path := filepath.Join(s.t.TempDir(), "bagged.toml")
	if err := os.WriteFile(path, []byte(baggedBin), 0o644); err != nil {
		s.t.Fatal(err)
	}
	s.hold("sort", exitDone, "sort", path)
	s.hold("label", exitDone, "label", path, "-o", path+".pdf")
	pieces := filepath.Join(s.t.TempDir(), "pieces.csv")
	if err := os.WriteFile(pieces, []byte("mass_g,others_g\n4,0\n3,3\n5,0\n"), 0o644); err != nil {
		s.t.Fatal(err)
	}
	s.hold("claim", exitDone, "claim", "--masses", pieces, "--purity", "60 %")
}

// written holds what the commands that write a file say of it.
func (s *schemas) written() {
	dir := s.t.TempDir()
	file := func(name string) string { return filepath.Join(dir, name) }
	s.hold("started", exitDone, "start", file("a.toml"), "--example")
	s.hold("recorded", exitDone, "record", file("a.toml"), "--lot", "crumbs", "bend", "snaps", "--at", "2031-05-04")
	s.hold("recorded", exitDone, "record", file("a.toml"), "--lot", "crumbs", "weigh", "--in-air", "25.43 g", "--displaced", "20.02 g", "--liquid", "0.998 g/cm3", "--at", "2031-05-04")
	s.hold("recorded", exitDone, "bag", file("a.toml"), "A1", "--lot", "white gloss", "--gross", "1.84 kg", "--tare", "20 g")
	s.hold("recorded", exitDone, "merge", file("a.toml"), "--lot", "soft", "--lot", "black", "--into", "dark")
	s.hold("recorded", exitDone, "take", file("a.toml"), "--lot", "crumbs", "--mass", "100 g")
	s.hold("bath_check", exitDone, "bath", "check", "--hydrometer", "1.152", "--marked", "60/60", "--target", "1.15 g/cm3")
	s.hold("bath_check", exitDone, "bath", "check", "--empty", "32 g", "--water", "532 g", "--filled", "657 g", "--record", file("a.toml"), "--name", "new")
	ids := s.ids(file("a.toml"))
	s.hold("recorded", exitDone, "withdraw", file("a.toml"), ids[len(ids)-1], "--why", "wrong bowl")
	for _, what := range []string{"bags", "lots", "boxes"} {
		s.hold("label", exitDone, "label", file("a.toml"), "--what", what, "-o", file(what+".pdf"))
	}
	s.hold("label", exitDone, "label", "../../testdata/bins/old-fitting-and-fr-housing.toml", "--what", "lots", "-o", file("stop.pdf"))
	s.hold("man", exitDone, "man", dir)
	s.hold("report", exitDone, "report", file("a.toml"), "-o", file("a.html"))
	key := "k"
	text, err := json.Marshal(benchWire{URLs: []string{"http://192.0.2.7:7420/?key=k"}, Keyed: true, Key: &key})
	if err != nil {
		s.t.Fatal(err)
	}
	s.valid("bench", []string{"bench"}, text)
}

func (s *schemas) ids(path string) (out []string) {
	for _, o := range readBin(s.t, path).Tests {
		out = append(out, o.ID)
	}
	return out
}

// leftOver names what stands in the page and was not met in any output.
func (s *schemas) leftOver() {
	for _, def := range slices.Sorted(maps.Keys(s.defs)) {
		if !s.seen[def] {
			s.t.Errorf("docs/schema.json: no output has a %q", def)
			continue
		}
		props, _ := s.defs[def].(map[string]any)["properties"].(map[string]any)
		for _, k := range slices.Sorted(maps.Keys(props)) {
			if !s.seen[def+"."+k] {
				s.t.Errorf("docs/schema.json: no output has %q in a %q", k, def)
			}
		}
	}
}

// A schema that holds nothing would pass all: what is wrong is found.
func TestSchemaFinds(t *testing.T) {
	s := readSchemas(t)
	schema, err := s.c.Compile("schema.json#/$defs/claim")
	if err != nil {
		t.Fatal(err)
	}
	good := wire(t, "claim", "--tested", "40", "--wrong", "1")
	for what, change := range map[string]func(map[string]any){
		"a key gone":       func(m map[string]any) { delete(m, "wording") },
		"a key added":      func(m map[string]any) { m["more"] = 1 },
		"a share above 1":  func(m map[string]any) { m["at_least"] = 1.1 },
		"a text for a sum": func(m map[string]any) { m["tested"] = "40" },
		"a new basis":      func(m map[string]any) { m["basis"] = "volume" },
	} {
		bad := maps.Clone(good)
		change(bad)
		if schema.Validate(bad) == nil {
			t.Errorf("%s passes", what)
		}
	}
	if err := schema.Validate(good); err != nil {
		t.Error(err)
	}
}
