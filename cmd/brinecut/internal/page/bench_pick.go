package page

import (
	"net/http"
	"slices"

	"brinecut/polymers/cues"
	"brinecut/reuse/advice"
	"brinecut/sorting"
)

// testFields are what a test takes beside its outcome. The settings of float and hot water stand on the
// sheet itself.
func testFields(k cues.Kind) []benchField {
	var out []benchField
	switch k {
	case cues.Weigh:
		out = []benchField{{Name: "in_air", Label: "Dry, in air", Unit: "g", Kind: "amount", Must: true},
			{Name: "in_liquid", Label: "Hanging in the liquid", Unit: "g", Kind: "amount", Must: true},
			{Name: "liquid", Label: "Density of the liquid", Unit: "g/cm3", Kind: "amount", Must: true, Value: "0.998", Hint: "plain water at 20 °C is 0.998"}}
	case cues.Marked:
		out = []benchField{{Name: "symbol", Label: "Marking, as it stands", Kind: "text", Must: true, Hint: "with its signs, as >PETG<"}}
	case cues.HotWater, cues.Soak:
		out = []benchField{{Name: "time", Label: "How long it was in", Unit: "min", Kind: "amount"}}
	}
	if k == cues.HotWater {
		out = append(out, benchField{Name: "thickness", Label: "Thickness of the piece", Unit: "mm", Kind: "amount"})
	}
	return append(out, benchField{Name: "note", Label: "Note", Kind: "text"})
}

// testView is a test chosen by hand, or the choice itself.
type testView struct {
	benchFrame
	Step  *stepView
	Lots  []string
	Known []string
	Kinds []benchOption
	Lot   string
	Many  bool // counts instead of one outcome
	Fault *benchFault
}

// testSheet is any test the bench can do, on any lot or known snippet.
func (p *BenchPage) testSheet(w http.ResponseWriter, r *http.Request) {
	run, ok := p.seen(w, r)
	if !ok {
		return
	}
	q, bin := r.URL.Query(), run.answer.Bin
	v := p.choice(r, run.answer)
	v.Lot, v.Many = q.Get("lot"), q.Get("many") != ""
	kind, known := cues.Kind(q.Get("kind")), q.Get("known")
	offered := slices.ContainsFunc(v.Kinds, func(o benchOption) bool { return o.Value == string(kind) })
	there := slices.Contains(v.Lots, v.Lot) || v.Lot == "" && slices.Contains(v.Known, known)
	if !offered || !there {
		p.render(w, http.StatusOK, "choose", v)
		return
	}
	t, _ := cues.Find(kind)
	if why, barred := tooHot(run.answer, v.Lot, t); barred {
		p.fail(w, r, benchFault{Code: http.StatusForbidden, Says: "Do not heat “" + v.Lot + "”: " + why + ".", Cure: "Choose a test that stays cold."})
		return
	}
	v.Step = newStep(bin, asBarred(run.answer, v.Lot, t), v.Lot+known, v.Lot == "")
	v.Step.Bath, v.Step.Density, v.Step.Temp = q.Get("bath"), q.Get("density"), q.Get("temp")
	p.render(w, http.StatusOK, "test", v)
}

// choice offers what there is to test, and how. A flame is no test of this page.
func (p *BenchPage) choice(r *http.Request, ans advice.Answer) testView {
	v := testView{benchFrame: p.frame(r, "Another test"), Lots: standing(ans)}
	for _, k := range ans.Bin.Known {
		v.Known = append(v.Known, k.Name)
	}
	for _, o := range advice.Menu(ans.Bin).Offers {
		if t, _ := cues.Find(o.Kind); o.Kind != cues.Flame {
			v.Kinds = append(v.Kinds, benchOption{string(o.Kind), t.Title})
		}
	}
	return v
}

// againTest shows a test that was refused, with what was filled in; where its kind is not known there is
// nothing to show.
func (p *BenchPage) againTest(w http.ResponseWriter, r *http.Request, o sorting.Observation, f benchFault) {
	t, found := cues.Find(o.Kind)
	if wantsJSON(r) || f.Code != http.StatusUnprocessableEntity || !found || o.Kind == cues.Flame {
		p.fail(w, r, f)
		return
	}
	run, ok := p.seen(w, r)
	if !ok {
		return
	}
	v := p.choice(r, run.answer)
	v.Fault, v.Many = &f, len(o.Counts) > 0
	v.Step = newStep(run.answer.Bin, asBarred(run.answer, o.Lot, t), o.Lot+o.Known, o.Lot == "")
	v.Step.Token = postedToken(r)
	v.Step.Bath, v.Step.Density, v.Step.Temp = r.PostForm.Get("bath"), r.PostForm.Get("density"), r.PostForm.Get("temp")
	for i := range v.Step.Fields {
		v.Step.Fields[i].Value, v.Step.Fields[i].Given = r.PostForm.Get(v.Step.Fields[i].Name), true
	}
	for i := range v.Step.Choices {
		v.Step.Choices[i].Count = r.PostForm.Get("count-" + v.Step.Choices[i].Word)
	}
	p.render(w, f.Code, "test", v)
}

// asBarred is a test as it is done on a lot, whose pieces are left whole where they must not be heated.
func asBarred(ans advice.Answer, lot string, t cues.Test) cues.Test {
	if slices.ContainsFunc(ans.Lots, func(l advice.Lot) bool { return l.Name == lot && !l.Heat.May }) {
		return t.OnWhole()
	}
	return t
}

// tooHot reports a test that heats a lot which must not be.
func tooHot(ans advice.Answer, lot string, t cues.Test) (why string, barred bool) {
	for _, l := range ans.Lots {
		if l.Name == lot && t.Heats && !l.Heat.May {
			why = "it is not known to be safe"
			if len(l.Heat.WhyNot) > 0 {
				why = l.Heat.WhyNot[0].Words
			}
			return why, true
		}
	}
	return "", false
}
