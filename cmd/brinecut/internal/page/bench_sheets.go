package page

import (
	"net/http"
	"net/url"
	"strconv"
	"time"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/polymers/cues"
)

// benchField is one field of a form.
type benchField struct {
	Name, Label, Hint string
	Unit              string // a bare number is taken in it
	Kind              string // text, amount, choice, tick
	Options           []benchOption
	Must              bool
	Value, Fault      string
	Given             bool // Value was filled in, and is shown as it was
}

type benchOption struct{ Value, Label string }

func options(first string, words ...string) []benchOption {
	out := []benchOption{{"", first}}
	for _, w := range words {
		out = append(out, benchOption{w, w})
	}
	return out
}

// sheetView is a form to fill in.
type sheetView struct {
	benchFrame
	Token   string
	Action  string
	Lead    string
	Careful []string
	Fields  []benchField
	Buttons []benchOption // name "do"
	Fault   *benchFault
	Found   []string // what a check gave
	Recipe  *recipeView
}

// sheet shows a form, filled with what was sent where it is shown again.
func (p *BenchPage) sheet(w http.ResponseWriter, code int, v sheetView, given url.Values, faults map[string]string) {
	if v.Token == "" {
		v.Token = token()
	}
	for i := range v.Fields {
		f := &v.Fields[i]
		if given.Has(f.Name) {
			f.Value, f.Given = given.Get(f.Name), true
		}
		f.Fault = faults[f.Name]
	}
	p.render(w, code, "sheet", v)
}

// seen is the bin as it was last read, for forms that offer what is in it.
func (p *BenchPage) seen(w http.ResponseWriter, r *http.Request) (*benchRun, bool) {
	run, ok := p.book.judge(append([]cues.Kind{cues.Flame}, p.skipped(r)...), p.opt.Patience)
	switch {
	case !ok:
		p.fail(w, r, benchFault{Code: http.StatusServiceUnavailable, Says: "The bin is still being worked out.", Cure: "Look again in a moment.", Keep: true})
		return nil, false
	case run.answer.Bin == nil:
		p.fail(w, r, faultOfBench(run.err))
		return nil, false
	}
	return run, true
}

func (p *BenchPage) lotForm(r *http.Request) sheetView {
	return sheetView{benchFrame: p.frame(r, "A new lot"), Action: "/lot", Lead: "A pile that can be told apart by eye.",
		Buttons: []benchOption{{"record", "Record the lot"}},
		Fields: []benchField{
			{Name: "name", Label: "Name", Kind: "text", Must: true, Hint: "as on its bowl: white gloss"},
			{Name: "mass", Label: "Mass", Unit: "g", Kind: "amount", Hint: "or gross and tare below"},
			{Name: "gross", Label: "Gross, with its bowl", Unit: "g", Kind: "amount"},
			{Name: "tare", Label: "Tare, the bowl", Unit: "g", Kind: "amount"},
			{Name: "state", Label: "Weighed", Kind: "choice", Options: options("dry", "surface-dry", "wet")},
			{Name: "pieces", Label: "Pieces, about", Kind: "amount"},
			{Name: "could_be", Label: "Could be", Kind: "text", Hint: "what the spool shelf says: PETG, PLA"},
			{Name: "mixed", Label: "Material", Kind: "choice", Options: []benchOption{{"", "not decided"}, {"false", "one material"}, {"true", "more than one"}}},
			{Name: "origin", Label: "Comes from", Kind: "choice", Options: []benchOption{{"", "as the rest of the bin"}, {"own-print", "own print"}, {"moulded", "moulded part"}, {"unknown", "not known"}}},
			{Name: "colour", Label: "Colour", Kind: "text"},
		}}
}

func (p *BenchPage) lotSheet(w http.ResponseWriter, r *http.Request) {
	p.sheet(w, http.StatusOK, p.lotForm(r), nil, nil)
}

func (p *BenchPage) knownForm(r *http.Request) sheetView {
	return sheetView{benchFrame: p.frame(r, "A known snippet"), Action: "/known", Lead: "A piece whose material is certain. Testing it the same way shows what your bath, thermometer and eyes make of it.",
		Buttons: []benchOption{{"record", "Record the snippet"}},
		Fields: []benchField{
			{Name: "name", Label: "Name", Kind: "text", Must: true, Hint: "red PETG"},
			{Name: "material", Label: "Material", Kind: "text", Must: true, Hint: "PETG"},
			{Name: "spool", Label: "Spool", Kind: "text"},
			{Name: "colour", Label: "Colour", Kind: "text"},
			{Name: "density", Label: "Density, where it is known", Unit: "g/cm3", Kind: "amount"},
		}}
}

func (p *BenchPage) knownSheet(w http.ResponseWriter, r *http.Request) {
	p.sheet(w, http.StatusOK, p.knownForm(r), nil, nil)
}

const benchSides = 4 // sides of a split that the form has room for

// splitForm asks for the lot, what divided it and the sides.
func (p *BenchPage) splitForm(r *http.Request, run *benchRun) sheetView {
	v := sheetView{benchFrame: p.frame(r, "A split"), Action: "/split", Lead: "A lot divided at the bench. Each side is a lot of its own from then on. Weigh what you can, dry.",
		Buttons: []benchOption{{"record", "Record the split"}}}
	var baths []string
	for _, b := range run.answer.Bin.Baths {
		baths = append(baths, b.Name)
	}
	v.Fields = []benchField{
		{Name: "lot", Label: "Lot that was divided", Kind: "choice", Options: options("choose", standing(run.answer)...), Must: true},
		{Name: "kind", Label: "Divided by", Kind: "choice", Must: true, Options: options("choose", "hand", "sieve", "magnet", "float", "hot-water", "soak")},
		{Name: "bath", Label: "Bath (float)", Kind: "choice", Options: options("none of these", baths...)},
		{Name: "density", Label: "or its density", Unit: "g/cm3", Kind: "amount"},
		{Name: "temp", Label: "Temperature of the water", Unit: "°C", Kind: "amount", Hint: "for hot water"},
		{Name: "loss", Label: "Lost on the way", Unit: "g", Kind: "amount"},
	}
	outcomes := []benchOption{{"", "none: divided by hand"}}
	for _, k := range []cues.Kind{cues.Float, cues.HotWater, cues.Soak} {
		t, _ := cues.Find(k)
		for _, o := range t.Outcomes {
			outcomes = append(outcomes, benchOption{o, kindName(k) + ": " + o})
		}
	}
	for i := range benchSides {
		n := strconv.Itoa(i + 1)
		v.Fields = append(v.Fields,
			benchField{Name: "side" + n, Label: "Side " + n + ": name", Kind: "text", Must: i < 2},
			benchField{Name: "mass" + n, Label: "Side " + n + ": mass", Unit: "g", Kind: "amount"},
			benchField{Name: "outcome" + n, Label: "Side " + n + ": what it did", Kind: "choice", Options: outcomes})
	}
	return v
}

func (p *BenchPage) splitSheet(w http.ResponseWriter, r *http.Request) {
	if run, ok := p.seen(w, r); ok {
		p.sheet(w, http.StatusOK, p.splitForm(r, run), r.URL.Query(), nil)
	}
}

// undoView asks why a test is taken back: the reason is what is tapped.
type undoView struct {
	benchFrame
	Test recentView
	Why  []string
}

func (p *BenchPage) undoSheet(w http.ResponseWriter, r *http.Request) {
	run, ok := p.seen(w, r)
	if !ok {
		return
	}
	id := r.URL.Query().Get("id")
	for _, o := range run.answer.Bin.Tests {
		if o.ID != "" && o.ID == id {
			p.render(w, http.StatusOK, "undo", undoView{p.frame(r, "Take back"), recentView{ID: o.ID, Says: sayTest(o)},
				[]string{"wrong button", "wrong piece or lot", "wrong bath or water", "not read properly"}})
			return
		}
	}
	p.fail(w, r, benchFault{Code: http.StatusNotFound, Says: "This test is not in the bin file, or was taken back.", Cure: "Go back to the worksheet."})
}

// phoneView lets one more phone in.
type phoneView struct {
	benchFrame
	Address string
	Squares [][]bool
	Minutes int
}

const benchKeyLasts = 5 * time.Minute

// phoneSheet shows a key for one more phone, as a code to scan.
func (p *BenchPage) phoneSheet(w http.ResponseWriter, r *http.Request) {
	v := phoneView{benchFrame: p.frame(r, "One more phone"), Address: "http://" + r.Host + "/", Minutes: int(benchKeyLasts.Minutes())}
	if p.opt.Keyed {
		v.Address += "?key=" + p.gate.key(p.opt.Now().Add(benchKeyLasts))
	}
	v.Squares, _ = paper.Squares(v.Address) // an address too long for a code is there to be typed
	p.render(w, http.StatusOK, "phone", v)
}
