package binfile

import (
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// readLeaving reads what left the lots: [[taken]] and [[bag]].
func (r *reader) readLeaving() {
	for _, t := range r.top.many("taken") {
		x := sorting.Taken{Line: t.line(), Mass: quant[quantity.Gram](t, "mass"), For: t.text("for")}
		if c, ok := t.cell("lot"); ok {
			x.Lot = c.lotName()
		}
		t.must("lot", "mass")
		t.done()
		r.bin.Taken = append(r.bin.Taken, x)
	}
	for _, t := range r.top.many("bag") {
		r.bin.Bags = append(r.bin.Bags, r.bag(t))
	}
}

func (r *reader) bag(t *table) sorting.Bag {
	b := sorting.Bag{Line: t.line(), ID: t.name("id")}
	for _, c := range t.each("lots") {
		name := c.lotName()
		for _, have := range b.Lots {
			if name != "" && have == name {
				c.refuse("this lot is in the list already", "name it once")
			}
		}
		b.Lots = append(b.Lots, name)
	}
	b.Gross, b.Tare = r.grossTare(t)
	b.Scale = r.scaleRef(t)
	t.must("id", "lots", "gross")
	t.done()
	t.atLeast("lots", 1, "a bag of no lot is empty", "name the lots that are in it")
	r.unique("bag", t, "id", b.ID)
	return b
}
