package binfile

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// readTests reads [[test]] and takes out what [[withdrawn]] names.
func (r *reader) readTests() {
	var all []sorting.Observation
	for _, t := range r.top.many("test") {
		all = append(all, r.test(t))
	}
	for _, t := range r.top.many("withdrawn") {
		r.bin.Withdrawn = append(r.bin.Withdrawn, r.withdrawal(t))
	}
	gone := map[string]bool{}
	for _, w := range r.bin.Withdrawn {
		gone[w.ID] = true
	}
	for _, o := range all {
		if o.ID == "" || !gone[o.ID] {
			r.bin.Tests = append(r.bin.Tests, o)
		}
	}
}

func (r *reader) withdrawal(t *table) sorting.Withdrawal {
	w := sorting.Withdrawal{Line: t.line(), ID: t.name("id"), Why: t.note("why")}
	t.must("id")
	t.done()
	r.unique("withdrawal", t, "id", w.ID)
	if _, ok := r.names["test"][w.ID]; !ok && w.ID != "" && !r.vague["test"] {
		t.refuse("id", "there is no test with this id", "write the id of a [[test]]")
	}
	return w
}

func (r *reader) bath(t *table) sorting.Bath {
	b := sorting.Bath{Line: t.line(), Name: t.name("name"), Salt: t.text("salt"), Density: density(t, "density"), Temp: water(t, "temp")}
	t.must("name", "density")
	t.done()
	r.unique("bath", t, "name", b.Name)
	if b.Salt != "" && !isSalt(b.Salt) {
		r.warn(t.lineOf("salt"), b.Name, fmt.Sprintf("what %s does is not known here, so its cautions are missing", quoted(b.Salt)),
			"write its name as "+instead(b.Salt, liquids))
	}
	return b
}

// bathRef reads `bath` and refuses one that does not exist.
func (r *reader) bathRef(t *table) string {
	c, ok := t.cell("bath")
	if !ok {
		return ""
	}
	name := c.name()
	if name != "" && r.names["bath"][name] == 0 {
		c.noSuch("bath", "bath", name, names(r.bin.Baths, func(b sorting.Bath) string { return b.Name }))
	}
	return name
}

func names[T any](list []T, name func(T) string) []string {
	var out []string
	for _, x := range list {
		out = append(out, name(x))
	}
	return out
}

func (r *reader) test(t *table) sorting.Observation {
	o := sorting.Observation{Line: t.line(), ID: t.name("id"), At: t.text("at"), By: t.text("by"), Note: t.note("note"),
		Piece: t.whole("piece", 1), Kind: cues.Kind(t.choice("kind", kindNames()...)), Prep: t.prep(),
		UsedUp: quant[quantity.Gram](t, "used_up")}
	o.Lot, o.Known = r.subject(t)
	o.Random = t.choice("drawn", "random", "judgement") == "random"
	o.Bath, o.Density = r.bathRef(t), density(t, "density")
	o.Temp, o.Time, o.Thickness = water(t, "temp"), quant[quantity.Second](t, "time"), quant[quantity.Millimeter](t, "thickness")
	o.InAir, o.InLiquid, o.Liquid = quant[quantity.Gram](t, "in_air"), quant[quantity.Gram](t, "in_liquid"), density(t, "liquid")
	o.Symbol = t.name("symbol")
	positive(t, "thickness", o.Thickness)
	positive(t, "in_air", o.InAir)
	t.must("kind")
	if test, ok := cues.Find(o.Kind); ok {
		r.finding(t, test, &o)
		needs(t, o)
	} else {
		t.ask("outcome", "counts", "smoke", "drips", "goes_out")
	}
	t.done()
	r.unique("test", t, "id", o.ID)
	return o
}

func kindNames() []string {
	var names []string
	for _, k := range cues.Kinds() {
		names = append(names, string(k))
	}
	return names
}

// subject reads what was tested: a lot or a known snippet.
func (r *reader) subject(t *table) (lot, known string) {
	if c, ok := t.cell("lot"); ok {
		lot = c.text()
		if lot != Unsorted || r.bin.Floor == nil {
			lot = c.lotName()
		}
	}
	if c, ok := t.cell("known"); ok {
		known = c.name()
		if known != "" && r.names["known snippet"][known] == 0 {
			c.noSuch("known snippet", "known", known, names(r.bin.Known, func(k sorting.Known) string { return k.Name }))
		}
	}
	t.need(`neither "lot" nor "known" is there`, "name the lot the piece was drawn from, or the known snippet", "lot", "known")
	if t.has("lot") && t.has("known") {
		t.refuse("known", "a piece is drawn from a lot or is a known snippet, not both", "leave one of the two out")
	}
	return lot, known
}

func (c cell) text() string { s, _ := c.v.(string); return s }

// takes lists the keys a kind has of its own beside its outcome.
var takes = map[cues.Kind][]string{
	cues.Float:    {"density", "bath", "temp"},
	cues.Weigh:    {"in_air", "in_liquid", "liquid", "bath", "temp"},
	cues.HotWater: {"temp", "time", "thickness"},
	cues.Soak:     {"time", "temp"},
	cues.Marked:   {"symbol"},
	cues.Flame:    {"smoke", "drips", "goes_out"},
}

var ownKeys = []string{"density", "bath", "temp", "time", "thickness", "in_air", "in_liquid", "liquid", "symbol", "smoke", "drips", "goes_out"}

// needs refuses keys that do not go with the kind, and asks for those it cannot do without. A test that
// was unclear is let through without them.
func needs(t *table, o sorting.Observation) {
	for _, key := range ownKeys {
		if t.has(key) && !slices.Contains(takes[o.Kind], key) {
			t.refuse(key, fmt.Sprintf("this does not go with %s", o.Kind), goesWith(o.Kind))
		}
	}
	if o.Outcome == cues.Unclear && o.Kind != cues.Float && o.Kind != cues.HotWater {
		return
	}
	switch o.Kind {
	case cues.Float:
		t.oneLiquid()
	case cues.HotWater:
		t.need(`"temp" is missing`, `write the temperature of the water: temp = "63 °C"`, "temp")
	case cues.Weigh:
		t.must("in_air", "in_liquid")
		t.need(`neither "liquid" nor "bath" is there`, `write the liquid's density, liquid = "0.998 g/cm3", or the name of a [[bath]]`, "liquid", "bath")
		if t.has("liquid") && t.has("bath") {
			t.refuse("liquid", "a bath and the density of a liquid are both given", "leave one of the two out")
		}
	case cues.Marked:
		t.need(`"symbol" is missing`, `write what is read on the piece: symbol = ">PETG<"`, "symbol")
	}
}

func goesWith(k cues.Kind) string {
	if len(takes[k]) == 0 {
		return fmt.Sprintf("leave it out; %s takes its outcome alone", k)
	}
	return fmt.Sprintf("leave it out; %s takes %s", k, strings.Join(takes[k], ", "))
}

// finding reads what came out: an outcome, counts, or the cues of a flame.
func (r *reader) finding(t *table, test cues.Test, o *sorting.Observation) {
	o.Counts = t.counts(test)
	switch {
	case len(test.Cues) > 0:
		t.flame(test, o)
	case len(test.Outcomes) > 0:
		o.Outcome = t.choice("outcome", outcomes(test)...)
		t.need(`neither "outcome" nor "counts" is there`, "write what was seen: one of "+strings.Join(outcomes(test), ", "), "outcome", "counts")
	default:
		o.Outcome = t.choice("outcome", cues.Unclear)
	}
	t.ask(ownKeys...)
	if t.has("counts") && t.has("outcome") && len(test.Outcomes) > 0 {
		t.refuse("counts", "a test has an outcome or counts, not both", "leave one of the two out")
	}
	if t.has("counts") && t.has("piece") {
		t.refuse("piece", "counts are of fresh pieces, not seen again", "leave the piece out, or write one test for it alone")
	}
}

// counts reads how many fresh pieces gave each outcome, in the order of the kind's outcomes.
func (t *table) counts(test cues.Test) []sorting.Count {
	if t.has("counts") && len(test.Outcomes) == 0 {
		t.ask("counts")
		t.refuse("counts", fmt.Sprintf("there are no counts of %s", test.Kind), "write one test for each piece")
		return nil
	}
	c := t.one("counts")
	if c == nil {
		return nil
	}
	before := len(t.r.faults)
	var out []sorting.Count
	for _, word := range outcomes(test) {
		if n := c.whole(word, 0); n > 0 {
			out = append(out, sorting.Count{Outcome: word, N: n})
		}
	}
	c.done()
	if len(out) == 0 && len(t.r.faults) == before {
		t.refuse("counts", "no piece is counted", "write how many pieces gave each outcome: counts = { "+test.Outcomes[0]+" = 10 }")
	}
	return out
}
