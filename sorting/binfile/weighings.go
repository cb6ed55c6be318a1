package binfile

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

func (r *reader) readWeighings() {
	for _, t := range r.top.many("scale") {
		r.bin.Scales = append(r.bin.Scales, r.scale(t))
	}
	if t := r.top.one("bin"); t != nil {
		r.bin.Floor = r.floor(t)
	}
	for _, t := range r.top.many("printed") {
		r.bin.Printed = append(r.bin.Printed, r.counter(t))
	}
	for _, t := range r.top.many("spool") {
		r.bin.Spools = append(r.bin.Spools, r.spool(t))
	}
	for _, t := range r.top.many("kept") {
		r.bin.Kept = append(r.bin.Kept, r.kept(t))
	}
	for _, t := range r.top.many("thrown") {
		x := sorting.Thrown{Line: t.line(), Mass: quant[quantity.Gram](t, "mass"), What: t.text("what")}
		t.must("mass")
		t.done()
		r.bin.Thrown = append(r.bin.Thrown, x)
	}
	for _, t := range r.top.many("stream") {
		r.bin.Streams = append(r.bin.Streams, r.stream(t))
	}
}

func (r *reader) scale(t *table) sorting.Scale {
	s := sorting.Scale{Line: t.line(), Name: t.name("name"), Step: quant[quantity.Gram](t, "step"), Error: quant[quantity.Share](t, "error")}
	positive(t, "step", s.Step)
	t.must("name")
	t.need(`"step" and "error" are both missing`, `write the smallest step it shows: step = "1 g"`, "step", "error")
	t.done()
	r.unique("scale", t, "name", s.Name)
	return s
}

// scaleRef reads `scale`: the name of a [[scale]], or a step.
func (r *reader) scaleRef(t *table) sorting.ScaleRef {
	c, ok := t.cell("scale")
	if !ok {
		return sorting.ScaleRef{}
	}
	var names []string
	for _, s := range r.bin.Scales {
		names = append(names, s.Name)
	}
	if s, ok := c.v.(string); ok && slices.Contains(names, s) {
		return sorting.ScaleRef{Name: s}
	}
	q, err := parse[quantity.Gram](c)
	switch {
	case err == nil && q.Value > 0:
		return sorting.ScaleRef{Step: q}
	case err == nil:
		c.refuse("a step has to be more than nothing", `write the smallest step it shows: scale = "10 g"`)
	default:
		right := `write the smallest step it shows: scale = "10 g", or the name of a [[scale]]`
		if s, ok := c.v.(string); ok && nearest(s, names) != "" {
			right = "did you mean " + quoted(nearest(s, names)) + "?"
		}
		c.refuse("this is neither the step of a scale nor the name of a [[scale]]", right)
	}
	return sorting.ScaleRef{}
}

var origins = []string{string(sorting.OwnPrint), string(sorting.Moulded), string(sorting.UnknownOrigin)}

// floor reads [bin]. A [bin] that only says where its lots come from is no weighed bin: nil.
func (r *reader) floor(t *table) *sorting.Floor {
	f := &sorting.Floor{Line: t.line(), Origin: sorting.UnknownOrigin}
	f.Gross, f.Tare = r.grossTare(t)
	f.Scale = r.scaleRef(t)
	if o := t.choice("origin", origins...); o != "" {
		f.Origin, f.OriginGiven = sorting.Origin(o), true
	}
	f.Opening, f.Hardware = quant[quantity.Gram](t, "opening"), quant[quantity.Gram](t, "hardware")
	r.origin, r.originGiven = f.Origin, f.OriginGiven
	onlyOrigin := t.has("origin") && len(t.values) == 1 && len(r.top.values) > 1
	if !onlyOrigin {
		t.need(`"gross" is missing`, `weigh the full bin: gross = "5.84 kg"`, "gross")
	}
	t.done()
	if onlyOrigin {
		return nil
	}
	return f
}

// grossTare reads a weighing with its container and refuses a tare above its gross.
func (r *reader) grossTare(t *table) (gross, tare quantity.Mass) {
	gross, tare = quant[quantity.Gram](t, "gross"), quant[quantity.Gram](t, "tare")
	switch {
	case gross.Given() && tare.Given() && tare.Value > gross.Value:
		t.refuse("tare", fmt.Sprintf("the tare is above the gross of %s", gross.Text), "gross is with the container, tare the container alone")
	case gross.Given() && !t.has("tare"):
		r.warn(t.lineOf("gross"), t.keyName("tare"), "no tare is written: the container counts as nothing", "weigh the empty container")
	}
	return gross, tare
}

// counter reads [[printed]].
func (r *reader) counter(t *table) sorting.Counter {
	c := sorting.Counter{Line: t.line(), From: t.text("from"), Diameter: quant[quantity.Millimeter](t, "diameter")}
	c.Counted, c.Metres = counted(t)
	c.Jobs = t.jobs()
	c.Error, c.SharedError = quant[quantity.Share](t, "error"), quant[quantity.Share](t, "shared_error")
	c.Material = t.material("material")
	c.Hidden = t.materials("hidden", "name the materials that may be hidden here; some mass is always left for others")
	c.HiddenShare = quant[quantity.Share](t, "hidden_share")
	positive(t, "diameter", c.Diameter)
	t.need(`neither "counted" nor "jobs" is there`, `write what the machine counted: counted = "7.9 kg"`, "counted", "jobs")
	if !t.has("jobs") {
		t.must("material")
	}
	t.done()
	counterFits(t, c)
	return c
}

// counterFits refuses keys of a counter that do not go together.
func counterFits(t *table, c sorting.Counter) {
	if t.has("jobs") && t.has("counted") {
		t.refuse("jobs", "a counter has a count or a job list, not both", "leave one of the two out")
	}
	if c.Metres.Given() && !t.has("diameter") {
		t.refuse("counted", "a length says no mass without its diameter", `write the filament's diameter: diameter = "1.75 mm"`)
	}
	if t.has("diameter") && !t.has("counted") || c.Counted.Given() && t.has("diameter") {
		t.refuse("diameter", "a diameter goes with a counted length", "leave it out, or count in metres")
	}
	if t.has("hidden_share") && !t.has("hidden") {
		t.refuse("hidden_share", "a hidden share is given and no material for it", `name the materials: hidden = ["PLA"]`)
	}
	if c.Material != "" && slices.Contains(c.Hidden, c.Material) {
		t.refuse("hidden", "a counter does not hide a material under its own name", "name the others alone")
	}
}

// counted reads a count by mass or by length.
func counted(t *table) (quantity.Mass, quantity.Length) {
	c, ok := t.cell("counted")
	if !ok {
		return quantity.Mass{}, quantity.Length{}
	}
	m, err := parse[quantity.Gram](c)
	if err == nil {
		return m, quantity.Length{}
	}
	if l, other := parse[quantity.Millimeter](c); other == nil {
		return quantity.Mass{}, l
	}
	c.refuse(err.Fault, err.Right+`, or a length such as "1690 m"`)
	return quantity.Mass{}, quantity.Length{}
}

// jobs reads the name of a job list, which lies beside the bin file and nowhere else.
func (t *table) jobs() string {
	name := t.name("jobs")
	if strings.ContainsAny(name, `/\:`) || name == "." || name == ".." {
		t.refuse("jobs", "a job list lies beside the bin file", `write its name alone, such as jobs = "jobs.csv"`)
		return ""
	}
	return name
}

func (r *reader) spool(t *table) sorting.Spool {
	s := sorting.Spool{Line: t.line(), Material: t.material("material"), Before: quant[quantity.Gram](t, "before"),
		After: quant[quantity.Gram](t, "after"), ReelsOut: quant[quantity.Gram](t, "reels_out"), Scale: r.scaleRef(t)}
	t.must("material", "before", "after")
	t.done()
	return s
}

func (r *reader) kept(t *table) sorting.Kept {
	k := sorting.Kept{Line: t.line(), What: t.text("what"), Mass: quant[quantity.Gram](t, "mass"),
		Hardware: quant[quantity.Gram](t, "hardware"), Scale: r.scaleRef(t)}
	k.Materials = t.materials("materials", "leave it out: what is not named may be there as well")
	t.must("mass")
	t.done()
	return k
}

func (r *reader) stream(t *table) sorting.Stream {
	s := sorting.Stream{Line: t.line(), Name: t.name("name"), From: t.name("from"), To: t.name("to"),
		Mass: quant[quantity.Gram](t, "mass"), Scale: r.scaleRef(t), Material: t.material("material")}
	t.must("name")
	t.need(`neither "from" nor "to" is there`, "name the node it leaves or the node it enters; one left out is the outside", "from", "to")
	t.done()
	r.unique("stream", t, "name", s.Name)
	if s.From != "" && s.From == s.To {
		t.refuse("to", "a stream does not end where it begins", "name two nodes, or leave one out for the outside")
	}
	return s
}
