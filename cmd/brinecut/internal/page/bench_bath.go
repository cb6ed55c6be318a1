package page

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/bath"
	"brinecut/sorting/binfile"
)

// recipeView is how to mix a bath.
type recipeView struct {
	Of      string
	Weigh   []string
	Steps   []bath.Step
	Careful []bath.Caution
	After   []bath.Caution
	Instead []string
}

func (p *BenchPage) bathForm(r *http.Request) sheetView {
	var salts []string
	for _, l := range bath.Liquids() {
		salts = append(salts, l.String())
	}
	return sheetView{benchFrame: p.frame(r, "A bath"), Action: "/bath",
		Lead:    "Weigh one bottle three times on one scale: empty and dry, filled to the mark with water, filled to the same mark with the bath. Water and bath at one temperature.",
		Buttons: []benchOption{{"check", "Work out the density"}, {"record", "Record the bath"}},
		Fields: []benchField{
			{Name: "empty", Label: "Bottle, empty and dry", Unit: "g", Kind: "amount", Must: true},
			{Name: "water", Label: "filled with water", Unit: "g", Kind: "amount", Must: true},
			{Name: "filled", Label: "filled with the bath", Unit: "g", Kind: "amount", Must: true},
			{Name: "temp", Label: "Temperature", Unit: "°C", Kind: "amount", Value: "20"},
			{Name: "scale", Label: "Smallest step of the scale", Unit: "g", Kind: "amount", Value: "1"},
			{Name: "target", Label: "Density it is to have", Unit: "g/cm3", Kind: "amount"},
			{Name: "salt", Label: "Mixed from", Kind: "choice", Options: options("not said", salts...)},
			{Name: "name", Label: "Name of the bath", Kind: "text", Hint: "to record it: A"},
		}}
}

// bathSheet is the check of a bath, and how to mix one where a density is asked for.
func (p *BenchPage) bathSheet(w http.ResponseWriter, r *http.Request) {
	v := p.bathForm(r)
	target, err := quantity.Parse[quantity.GramPerCm3](r.URL.Query().Get("target") + " g/cm3")
	if err == nil && target.Value > 0 && !math.IsInf(float64(target.Value), 0) {
		if run, ok := p.seen(w, r); ok {
			v.Recipe = recipe(run.answer.Bin, target)
		} else {
			return
		}
	}
	p.sheet(w, http.StatusOK, v, r.URL.Query(), nil)
}

// recipe proposes a litre of bath from what the kit has.
func recipe(bin *sorting.Bin, target quantity.Density) *recipeView {
	v := &recipeView{Of: target.Text}
	o, err := bath.Propose(target.Value, advice.Kit(bin), bath.Place{})
	if err != nil {
		v.Instead = []string{sentence(err.Error())}
		return v
	}
	rec, err := bath.Mix(bath.Request{Target: target, Product: o.Product}, bath.Options{Drain: bath.Drain(bin.Place.Drain)})
	switch {
	case err != nil:
		v.Instead = []string{sentence(err.Error())}
		return v
	case !rec.Reachable:
		v.Instead = rec.Instead
		return v
	}
	v.Weigh = []string{fmt.Sprintf("%.0f g of water", float64(rec.Water)), fmt.Sprintf("%.0f g of %s", float64(rec.Weigh), rec.Product.Name)}
	v.Steps, v.Careful, v.After = rec.Order, append(rec.Cautions, rec.NeverCombine...), rec.Disposal
	return v
}

// takeBath works out a bath from three weighings, and records it where that was asked for.
func (p *BenchPage) takeBath(w http.ResponseWriter, r *http.Request) {
	f := &benchReader{form: r.PostForm}
	in := bath.Weighings{Empty: inUnit[quantity.Gram](f, "empty", "g"), Water: inUnit[quantity.Gram](f, "water", "g"), Filled: inUnit[quantity.Gram](f, "filled", "g"),
		Temp: inUnit[quantity.Celsius](f, "temp", "°C"), Target: inUnit[quantity.GramPerCm3](f, "target", "g/cm3")}
	step := inUnit[quantity.Gram](f, "scale", "g")
	salt, name := f.text("salt"), f.text("name")
	record := f.text("do") == "record"
	if salt != "" {
		var err error
		if in.Product, err = bath.ReadProduct(salt); err != nil {
			f.faults = append(f.faults, "mixed from: "+err.Error())
		}
	}
	if record && name == "" {
		f.faults = append(f.faults, "name: a bath needs one to be recorded, as A")
	}
	v := p.bathForm(r)
	err := f.err()
	var c bath.Checked
	if err == nil {
		if c, err = bath.Check(in, bath.CheckOptions{ScaleStep: step.Value}); err != nil {
			err = benchFault{Code: http.StatusUnprocessableEntity, Says: sentence(err.Error()), Cure: "Weigh again."}
		}
	}
	if err != nil || !record {
		p.checked(w, r, v, c, err)
		return
	}
	b := sorting.Bath{Name: name, Density: checkedDensity(c), Temp: in.Temp}
	if !b.Temp.Given() {
		b.Temp = quantity.Exact(c.Temp)
	}
	if salt != "" {
		b.Salt = in.Product.Liquid.String()
	}
	same := func(bin *sorting.Bin) bool {
		x, ok := bin.BathOf(name)
		return ok && x.Density.Text == b.Density.Text && x.Salt == b.Salt
	}
	e, err := p.book.putNamed("bath “"+name+"”, "+b.Density.Text, same, func(src []byte) ([]byte, error) { return binfile.AppendBath(src, b) })
	p.recorded(w, r, e, err, &v)
}

// checked shows what three weighings gave, with nothing recorded.
func (p *BenchPage) checked(w http.ResponseWriter, r *http.Request, v sheetView, c bath.Checked, err error) {
	if err != nil {
		p.recorded(w, r, benchEntry{}, err, &v)
		return
	}
	found := []string{"The bath has " + checkedDensity(c).Text + " at " + quantity.Format(c.Temp) + "."}
	if c.Add.What != "" {
		found = append(found, addWords(c.Add))
	}
	for _, x := range c.Warnings {
		found = append(found, sentence(x.Says)+" "+sentence(x.Cure))
	}
	if wantsJSON(r) {
		p.tell(w, http.StatusOK, benchAnswer{OK: true, Says: strings.Join(found, " ")})
		return
	}
	v.Found = found
	p.sheet(w, http.StatusOK, v, r.PostForm, nil)
}

// addWords says what brings a bath to its density.
func addWords(a bath.Addition) string {
	switch {
	case a.What == "start anew":
		return sentence(a.What + ": " + a.Note)
	case a.Mass <= 0:
		return sentence(strings.TrimSpace("add " + a.What + " " + a.Note))
	}
	least := ""
	if a.Least {
		least = "at least "
	}
	return sentence(strings.TrimSpace("add " + least + quantity.Format(a.Mass) + " of " + a.What + " to " + quantity.Format(a.To) + " of bath; " + a.Note))
}

// checkedDensity is a density as measured, with its standard uncertainty.
func checkedDensity(c bath.Checked) quantity.Density {
	text := strconv.FormatFloat(float64(c.Density.Mean), 'f', 4, 64) + " g/cm3 ± " + strconv.FormatFloat(float64(c.Density.SD), 'f', 4, 64)
	q, err := quantity.Parse[quantity.GramPerCm3](text)
	if err != nil {
		return quantity.With(c.Density.Mean, c.Density.SD)
	}
	return q
}
