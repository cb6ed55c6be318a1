package page

import (
	"errors"
	"mime"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

// form reads what was posted, within its limits, before a door takes it.
func (p *BenchPage) form(take http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/x-www-form-urlencoded" {
			p.fail(w, r, benchFault{Code: http.StatusUnsupportedMediaType, Says: "This is no form of this page.", Cure: "Use the worksheet."})
			return
		}
		if err := r.ParseForm(); err != nil {
			var big *http.MaxBytesError
			f := benchFault{Code: http.StatusBadRequest, Says: "This form could not be read.", Cure: "Send it again.", Keep: true}
			if errors.As(err, &big) {
				f = benchFault{Code: http.StatusRequestEntityTooLarge, Says: "This is longer than anything this page takes.", Cure: "Shorten it."}
			}
			p.fail(w, r, f)
			return
		}
		if b := r.PostForm.Get("bin"); b != "" && b != p.id {
			p.fail(w, r, benchFault{Code: http.StatusConflict, Says: "This was meant for another bin file than the one that is open here.", Cure: "Start the bench for that one, and send it again."})
			return
		}
		take(w, r)
	}
}

// answer tells the phone what became of a form: the script at once, else on the next page.
func (p *BenchPage) answer(w http.ResponseWriter, r *http.Request, a benchAnswer) {
	if wantsJSON(r) {
		p.tell(w, http.StatusOK, a)
		return
	}
	p.gate.tell(phoneOf(r), a.Says, a.More)
	http.Redirect(w, r, a.Next, http.StatusSeeOther)
}

// recorded answers a form that was recorded, or shows the form again with what is wrong in it.
func (p *BenchPage) recorded(w http.ResponseWriter, r *http.Request, e benchEntry, err error, again *sheetView) {
	if err == nil {
		a := benchAnswer{OK: true, Says: e.Says, More: e.Doubts, Twice: e.Twice, Next: "/"}
		if e.Undo {
			a.Undo = e.ID
		}
		p.answer(w, r, a)
		return
	}
	f := faultOfBench(err)
	if again == nil || wantsJSON(r) || f.Code != http.StatusUnprocessableEntity {
		p.fail(w, r, f)
		return
	}
	again.Fault, again.Token = &f, postedToken(r)
	p.sheet(w, f.Code, *again, r.PostForm, nil)
}

// benchReader reads the fields of a form and gathers what is wrong with them.
type benchReader struct {
	form   url.Values
	faults []string
}

// reBare is a number to which the unit of its field belongs, with or without a doubt.
var reBare = regexp.MustCompile(`^[-+]?[0-9.,\s]+((±|\+/-)\s*[0-9.,]+\s*)?$`)

func (f *benchReader) text(name string) string { return strings.TrimSpace(f.form.Get(name)) }

// inUnit reads a quantity; a bare number is in the unit of the field, in the units that the form came with.
func inUnit[U quantity.Unit](f *benchReader, name, unit string) quantity.Of[U] {
	s := f.text(name)
	unit = unitOf(unitsOf(f.form), unit)
	if s == "" {
		return quantity.Of[U]{}
	}
	if reBare.MatchString(s) {
		number, doubt, both := strings.Cut(strings.Replace(s, "+/-", "±", 1), "±")
		s = strings.TrimSpace(number) + " " + unit
		if both {
			s += " ± " + strings.TrimSpace(doubt)
		}
	}
	q, err := quantity.Parse[U](s)
	if err != nil {
		f.wrong(name, err)
	}
	return q
}

func (f *benchReader) wrong(name string, err error) {
	says := err.Error()
	var q *quantity.Error
	if errors.As(err, &q) {
		says = q.Fault + "; " + q.Right
	}
	f.faults = append(f.faults, strings.ReplaceAll(name, "_", " ")+": "+says)
}

func (f *benchReader) whole(name string) int {
	s := f.text(name)
	if s == "" {
		return 0
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 || n > 1e6 {
		f.faults = append(f.faults, strings.ReplaceAll(name, "_", " ")+": this is no whole number; write it in digits")
		return 0
	}
	return n
}

func (f *benchReader) err() error {
	if len(f.faults) == 0 {
		return nil
	}
	return benchFault{Code: http.StatusUnprocessableEntity, Says: "This cannot be recorded as it stands.", More: f.faults, Cure: "Change it and send it again."}
}

var reToken = regexp.MustCompile(`^[a-z2-7]{8}$`)

// postedToken is the mark of the form; a form that brings none is given one, and can then count twice.
func postedToken(r *http.Request) string {
	if t := r.PostForm.Get("token"); reToken.MatchString(t) {
		return t
	}
	return token()
}

// takeTest records a test.
func (p *BenchPage) takeTest(w http.ResponseWriter, r *http.Request) {
	f := &benchReader{form: r.PostForm}
	o := readTest(f)
	if o.Kind == cues.Flame {
		f.faults = append(f.faults, "there is no flame on this page")
	}
	if len(o.Counts) > 0 && f.text("outcome") != "" {
		f.faults = append(f.faults, "one piece and counted pieces at once: empty the counts, or tap Record the counts")
	}
	err := f.err()
	var e benchEntry
	if err == nil {
		e, err = p.book.putTest(o, postedToken(r), o.Piece == 0)
	}
	if err != nil {
		p.againTest(w, r, o, faultOfBench(err))
		return
	}
	p.recorded(w, r, e, nil, nil)
}

// readTest reads an observation. What a kind does not take is not asked for, and refused where it comes.
func readTest(f *benchReader) sorting.Observation {
	o := sorting.Observation{Lot: f.text("lot"), Known: f.text("known"), Kind: cues.Kind(f.text("kind")), Outcome: f.text("outcome"),
		Piece: f.whole("piece"), Note: f.text("note"), Symbol: f.text("symbol"), Random: f.text("drawn") == "random", Prep: sorting.Prep(f.text("prep")),
		Bath: f.text("bath"), Temp: inUnit[quantity.Celsius](f, "temp", "°C"), Time: inUnit[quantity.Second](f, "time", "min"),
		Thickness: inUnit[quantity.Millimeter](f, "thickness", "mm"), InAir: inUnit[quantity.Gram](f, "in_air", "g"),
		InLiquid: inUnit[quantity.Gram](f, "in_liquid", "g"), UsedUp: inUnit[quantity.Gram](f, "used_up", "g")}
	if o.Bath == "" {
		o.Density = inUnit[quantity.GramPerCm3](f, "density", "g/cm3")
		o.Liquid = inUnit[quantity.GramPerCm3](f, "liquid", "g/cm3")
	}
	t, _ := cues.Find(o.Kind)
	for _, out := range append(slices.Clone(t.Outcomes), cues.Unclear) {
		if n := f.whole("count-" + out); n > 0 {
			o.Counts = append(o.Counts, sorting.Count{Outcome: out, N: n})
		}
	}
	if len(o.Counts) > 0 {
		o.Outcome, o.Piece = "", 0
	}
	return o
}

// symbols reads a list of materials parted by commas.
func symbols(s string) []polymers.Symbol {
	var out []polymers.Symbol
	for part := range strings.FieldsFuncSeq(s, func(r rune) bool { return r == ',' || r == ';' || r == '/' }) {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, polymers.Symbol(part))
		}
	}
	return out
}

// takeLot records a new lot.
func (p *BenchPage) takeLot(w http.ResponseWriter, r *http.Request) {
	f := &benchReader{form: r.PostForm}
	l := sorting.Lot{Name: f.text("name"), Mass: inUnit[quantity.Gram](f, "mass", "g"), Gross: inUnit[quantity.Gram](f, "gross", "g"), Tare: inUnit[quantity.Gram](f, "tare", "g"),
		State: sorting.State(f.text("state")), Pieces: f.whole("pieces"), CouldBe: symbols(f.text("could_be")), Colour: f.text("colour"),
		Origin: sorting.Origin(f.text("origin")), OriginGiven: f.text("origin") != ""}
	switch f.text("mixed") {
	case "true", "false":
		yes := f.text("mixed") == "true"
		l.Mixed = &yes
	}
	v := p.lotForm(r)
	if err := f.err(); err != nil {
		p.recorded(w, r, benchEntry{}, err, &v)
		return
	}
	same := func(bin *sorting.Bin) bool {
		return slices.ContainsFunc(bin.Lots, func(x sorting.Lot) bool {
			return x.Name == l.Name && x.Mass.Text == l.Mass.Text && x.Gross.Text == l.Gross.Text && x.Tare.Text == l.Tare.Text
		})
	}
	e, err := p.book.putNamed("lot “"+l.Name+"”", same, func(src []byte) ([]byte, error) { return binfile.AppendLot(src, l) })
	p.recorded(w, r, e, err, &v)
}

// takeKnown records a snippet whose material is certain.
func (p *BenchPage) takeKnown(w http.ResponseWriter, r *http.Request) {
	f := &benchReader{form: r.PostForm}
	k := sorting.Known{Name: f.text("name"), Material: polymers.Symbol(f.text("material")), Spool: f.text("spool"), Colour: f.text("colour"),
		Density: inUnit[quantity.GramPerCm3](f, "density", "g/cm3")}
	v := p.knownForm(r)
	if err := f.err(); err != nil {
		p.recorded(w, r, benchEntry{}, err, &v)
		return
	}
	same := func(bin *sorting.Bin) bool {
		return slices.ContainsFunc(bin.Known, func(x sorting.Known) bool {
			return x.Name == k.Name && strings.EqualFold(string(x.Material), string(k.Material)) && x.Density.Text == k.Density.Text
		})
	}
	e, err := p.book.putNamed("known snippet “"+k.Name+"”", same, func(src []byte) ([]byte, error) { return binfile.AppendKnown(src, k) })
	p.recorded(w, r, e, err, &v)
}

// takeSplit records a lot divided at the bench.
func (p *BenchPage) takeSplit(w http.ResponseWriter, r *http.Request) {
	run, ok := p.seen(w, r)
	if !ok {
		return
	}
	f := &benchReader{form: r.PostForm}
	s := sorting.Split{Lot: f.text("lot"), Kind: sorting.SplitKind(f.text("kind")), Bath: f.text("bath"), Temp: inUnit[quantity.Celsius](f, "temp", "°C"),
		Loss: inUnit[quantity.Gram](f, "loss", "g")}
	if s.Bath == "" {
		s.Density = inUnit[quantity.GramPerCm3](f, "density", "g/cm3")
	}
	for i := range benchSides {
		n := strconv.Itoa(i + 1)
		if name := f.text("side" + n); name != "" {
			s.Into = append(s.Into, sorting.Side{Lot: sorting.Lot{Name: name, Mass: inUnit[quantity.Gram](f, "mass"+n, "g")}, Outcome: f.text("outcome" + n)})
		}
	}
	if len(s.Into) < 2 {
		f.faults = append(f.faults, "sides: a split has at least two, each with a name")
	}
	v := p.splitForm(r, run)
	if err := f.err(); err != nil {
		p.recorded(w, r, benchEntry{}, err, &v)
		return
	}
	same := func(bin *sorting.Bin) bool {
		return slices.ContainsFunc(bin.Splits, func(x sorting.Split) bool {
			return x.Lot == s.Lot && x.Kind == s.Kind && slices.EqualFunc(x.Into, s.Into, func(a, b sorting.Side) bool {
				return a.Name == b.Name && a.Mass.Text == b.Mass.Text && a.Outcome == b.Outcome
			})
		})
	}
	e, err := p.book.putNamed("“"+s.Lot+"” divided into "+strconv.Itoa(len(s.Into)), same, func(src []byte) ([]byte, error) { return binfile.AppendSplit(src, s) })
	p.recorded(w, r, e, err, &v)
}

// takeBack withdraws a test.
func (p *BenchPage) takeBack(w http.ResponseWriter, r *http.Request) {
	f := &benchReader{form: r.PostForm}
	e, err := p.book.takeBack(f.text("id"), f.text("why"))
	p.recorded(w, r, e, err, nil)
}
