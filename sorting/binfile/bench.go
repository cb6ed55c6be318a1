package binfile

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// liquids are what a bath can be made of, by name; tools are what else a bench can have.
var (
	liquids = []string{"table salt", "epsom salt", "sugar", "calcium chloride", "magnesium chloride", "potassium carbonate",
		"sodium bromide", "glycerol", "ethanol", "isopropanol"}
	solvents = []string{"acetone", "limonene", "water"}
	tools    = []string{"kettle", "thermometer", "hydrometer", "scale 0.1 g", "scale 1 g", "heat gun", "lighter", "sieve", "magnet", "dryer",
		"granulator", "sheet press", "filament extruder"}
	formulas = []string{"NaCl", "MgSO4", "C12H22O11", "CaCl2", "MgCl2", "K2CO3", "NaBr", "C3H8O3", "C2H5OH", "C2H6O", "C3H8O", "H2O"}
)

// reForm is what a product's form may add to a salt's name: "dihydrate 77 %", "·2H2O".
var reForm = regexp.MustCompile(`^(?: (?:anhydrous|(?:mono|di|tri|tetra|penta|hexa|hepta)?hydrate))?(?: \d{1,3}(?:[.,]\d+)? %)?$`)

var reWater = regexp.MustCompile(`[·.*]\d{0,2}H2O$`)

// isSalt reports whether the text names one of the liquids, by name, form of product or formula.
func isSalt(s string) bool {
	s = strings.TrimSpace(s)
	name := strings.ToLower(s)
	for _, l := range append(solvents, liquids...) {
		if rest, ok := strings.CutPrefix(name, l); ok && reForm.MatchString(rest) {
			return true
		}
	}
	formula, form, _ := strings.Cut(s, " ")
	if form != "" {
		form = " " + form
	}
	return slices.Contains(formulas, reWater.ReplaceAllString(formula, "")) && reForm.MatchString(form)
}

// isTool reports whether a word of the kit is known.
func isTool(s string) bool {
	if slices.Contains(tools, s) || isSalt(s) {
		return true
	}
	text, ok := strings.CutPrefix(s, "scale ")
	if !ok {
		return false
	}
	q, err := quantity.Parse[quantity.Gram](text)
	return err == nil && q.Value > 0 && q.Shape == quantity.Unstated
}

// readBench reads [kit], [place], [worth], the outlets and the supplier, and the baths.
func (r *reader) readBench() {
	r.readTop()
	if t := r.top.one("kit"); t != nil {
		r.bin.Kit = r.kit(t)
	}
	if t := r.top.one("place"); t != nil {
		r.bin.Place = sorting.Place{Given: true, Drain: t.choice("drain", "sewer", "septic", "none", "unknown"),
			Exhaust: isTrue(t.truth("exhaust")), ChildrenOrPets: isTrue(t.truth("children_or_pets"))}
		t.done()
	}
	if t := r.top.one("worth"); t != nil {
		r.bin.Worth = worth(t)
	}
	for _, t := range r.top.many("outlet") {
		r.bin.Outlets = append(r.bin.Outlets, r.outlet(t))
	}
	if t := r.top.one("supplier"); t != nil {
		r.bin.Supplier = &sorting.Supplier{Name: t.text("name"), Contact: t.note("contact")}
		t.done()
	}
	for _, t := range r.top.many("bath") {
		r.bin.Baths = append(r.bin.Baths, r.bath(t))
	}
}

func (r *reader) kit(t *table) sorting.Kit {
	k := sorting.Kit{Given: true}
	words := slices.Concat(liquids, solvents, tools)
	for _, c := range t.each("has") {
		s := c.name()
		switch {
		case s == "":
		case !isTool(s):
			c.refuse("this is not known at a bench", instead(s, words))
		case slices.Contains(k.Has, s):
			c.refuse("this is in the list already", "name it once")
		default:
			k.Has = append(k.Has, s)
		}
	}
	for _, c := range t.each("allow") {
		if s := c.choice([]string{string(cues.Flame)}); s != "" {
			k.Allow = append(k.Allow, s)
		}
	}
	for _, c := range t.each("forbid") {
		s := c.choice(kindNames())
		if slices.Contains(k.Allow, s) {
			c.refuse("this is allowed and forbidden at once", "leave one of the two out")
		} else if s != "" {
			k.Forbid = append(k.Forbid, cues.Kind(s))
		}
	}
	if m := t.one("minutes"); m != nil {
		k.Minutes = minutes(m)
	}
	t.done()
	return k
}

func minutes(t *table) map[cues.Kind]quantity.Time {
	out := map[cues.Kind]quantity.Time{}
	for _, kind := range cues.Kinds() {
		q := quant[quantity.Second](t, string(kind))
		positive(t, string(kind), q)
		if q.Given() {
			out[kind] = q
		}
	}
	t.done()
	return out
}

func worth(t *table) sorting.Worth {
	w := sorting.Worth{
		Replaces: quant[quantity.MoneyPerKg](t, "replaces"), AsGoodAs: quant[quantity.Share](t, "as_good_as"),
		Yield: quant[quantity.Share](t, "yield"), Energy: quant[quantity.KilowattHoursKg](t, "energy"),
		Electricity: quant[quantity.MoneyPerKWh](t, "electricity"), Consumables: quant[quantity.MoneyPerKg](t, "consumables"),
		Disposal: quant[quantity.MoneyPerKg](t, "disposal"), Hours: quant[quantity.Second](t, "hours"),
		Hour: quant[quantity.MoneyPerHour](t, "hour"), Fixed: quant[quantity.Money](t, "fixed"),
	}
	t.done()
	for _, x := range []struct {
		key   string
		price quantity.Of[quantity.MoneyPerKg]
	}{{"replaces", w.Replaces}, {"consumables", w.Consumables}, {"disposal", w.Disposal}} {
		if x.price.Value < 0 {
			t.refuse(x.key, "this price cannot be negative", fmt.Sprintf("write %s = \"0.20 EUR/kg\" or leave it out", x.key))
		}
	}
	return w
}

func (r *reader) outlet(t *table) sorting.Outlet {
	o := sorting.Outlet{Line: t.line(), Name: t.name("name"), Purity: quant[quantity.Share](t, "purity"),
		Minimum: quant[quantity.Gram](t, "minimum"), Pays: quant[quantity.MoneyPerKg](t, "pays"), Refuses: t.texts("refuses")}
	o.Accepts = t.materials("accepts", "name the materials it takes; what is not told apart is not taken by a recycler")
	t.must("name", "accepts")
	t.done()
	t.atLeast("accepts", 1, "an outlet that takes nothing is none", `name the materials it takes: accepts = ["PETG"]`)
	r.unique("outlet", t, "name", o.Name)
	return o
}
