package page

import (
	"crypto/rand"
	"encoding/base32"
	"fmt"
	"html/template"
	"math"
	"net/http"
	"slices"
	"strings"
	"time"

	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/triage"
)

// benchFrame is what stands round every page.
type benchFrame struct {
	Title, Bin, File string
	BinID            string
	Now              int64
	Clock            string
	Keyed            bool
	Units            show.Units // that bare numbers are taken in
	Says             string     // what was just done
	Doubt            []string
	Timers           []benchTimerLine
	Again            template.URL // this page, asked for once more
}

type benchTimerLine struct {
	benchTimer
	Left string
	Done bool
}

func (p *BenchPage) frame(r *http.Request, title string) benchFrame {
	now := p.opt.Now()
	f := benchFrame{Title: title, Bin: p.book.named(), File: p.bin.Name, BinID: p.id, Now: now.UnixMilli(), Clock: now.Format("15:04:05"), Keyed: p.opt.Keyed, Units: p.opt.Units,
		Again: template.URL("?" + r.URL.RawQuery)} // on the same path, so it leads nowhere else
	if r.PostForm.Has("token") { // a form that is shown again holds what was written in its own units
		f.Units = unitsOf(r.PostForm)
	}
	f.Says, f.Doubt = p.gate.told(phoneOf(r))
	for _, t := range p.timers(r) {
		left := t.left(now)
		f.Timers = append(f.Timers, benchTimerLine{t, left, left == "done"})
	}
	return f
}

// token marks a form, so that it counts once.
func token() string {
	b := make([]byte, 5)
	_, _ = rand.Read(b) // never fails (crypto/rand)
	return strings.ToLower(base32.StdEncoding.EncodeToString(b))
}

// worksheetView is the one line of work: take, do, see.
type worksheetView struct {
	benchFrame
	Version  string
	Wait     bool // not worked out yet
	Done     bool
	DoneWhy  string
	Step     *stepView
	Skips    []cues.Kind
	Recent   []recentView
	Count    int
	Faults   []string
	Standing []string // lots that can be tested
}

// stepView is a test to be done, as the page shows it.
type stepView struct {
	Token    string
	Lot      string
	Known    bool
	Kind     cues.Kind
	KindName string
	Piece    int
	Again    bool // the piece was tested before
	AtOnce   int  // fresh pieces to be put in together and counted
	Take     string
	Do       string
	How      []string
	Why      string
	Careful  []string
	Mix      string // density of a bath to be mixed first, as a query gives it
	Baths    []string
	Bath     string
	Density  string
	Temp     string
	Choices  []benchChoice
	Fields   []benchField
	Pauses   []pauseView
	Heads    []string // what the file says that is doubtful of this lot
}

type pauseView struct {
	Seconds int
	Words   string
}

type recentView struct {
	ID, Says, When string
}

const benchRecent = 6

// worksheet shows the next step.
func (p *BenchPage) worksheet(w http.ResponseWriter, r *http.Request) {
	skip := p.skipped(r)
	v := worksheetView{benchFrame: p.frame(r, "Worksheet"), Skips: skip}
	run, ok := p.book.judge(append([]cues.Kind{cues.Flame}, skip...), p.opt.Patience)
	if !ok {
		v.Wait = true
		p.render(w, http.StatusOK, "worksheet", v)
		return
	}
	v.Version = run.version
	bin := run.answer.Bin
	if bin == nil {
		p.fail(w, r, faultOfBench(run.err))
		return
	}
	v.Bin, v.Count, v.Recent = p.book.named(), len(bin.Tests), recent(bin, p.opt.Now())
	if run.err != nil {
		f := faultOfBench(run.err)
		v.Faults = append([]string{f.Says, f.Cure}, f.More...)
		p.render(w, http.StatusOK, "worksheet", v)
		return
	}
	ans := run.answer
	v.Standing = standing(ans)
	v.Done, v.DoneWhy = ans.Next.Done, ans.Next.Why
	if best := p.choose(ans, phoneOf(r)); best != nil {
		v.Step = p.step(ans, best, run.doubts)
	}
	p.render(w, http.StatusOK, "worksheet", v)
}

// choose gives the best test of a lot that no other phone is at; where each lot is taken, the best.
func (p *BenchPage) choose(ans advice.Answer, ph *benchPhone) *triage.Proposal {
	now := p.opt.Now()
	best := ans.Next.Best
	if best != nil && best.Kind == cues.Flame {
		best = nil
	}
	if held := p.gate.held(ph, now); best != nil && held[best.Lot] && !ans.Next.Done {
		var other *triage.Proposal
		for l, x := range ans.Next.ByLot {
			if x == nil || x.Kind == cues.Flame || ans.Next.Settled[l] || held[x.Lot] {
				continue
			}
			if other == nil || x.Net > other.Net {
				other = x
			}
		}
		if other != nil {
			best = other
		}
	}
	if best != nil {
		p.gate.hold(ph, best.Lot, now)
	}
	return best
}

// step puts a proposal on the page.
func (p *BenchPage) step(ans advice.Answer, b *triage.Proposal, doubts []sorting.Warning) *stepView {
	t, _ := cues.Find(b.Kind)
	thing, known := b.Lot, b.Known != ""
	if known {
		thing = b.Known
	}
	if b.Whole {
		t = t.OnWhole()
	}
	s := newStep(ans.Bin, t, thing, known)
	s.Piece, s.Careful, s.Why = b.Piece, b.Cautions, whyThis(b)
	s.Again, s.AtOnce = b.Again, b.AtOnce
	s.Take, s.Do = takeLine(thing, known, b.Piece, b.AtOnce, b.Again, t.PieceMust), doLine(b)
	switch b.Kind {
	case cues.Float:
		s.Bath = b.Bath
		s.Density = fmt.Sprintf("%.3f g/cm3", math.Round(float64(b.Density)*1000)/1000)
		if b.NewSetting && b.Bath == "" {
			s.Mix = fmt.Sprintf("%.3f", float64(b.Density))
		}
	case cues.HotWater:
		s.Temp = p.opt.Units.In(quantity.Format(b.Temp))
	}
	for _, x := range doubts {
		if x.About == b.Lot {
			s.Heads = append(s.Heads, sentence(x.Says)+" "+sentence(x.Cure))
		}
	}
	s.Heads = s.Heads[:min(len(s.Heads), 3)]
	return s
}

// newStep is what every sheet for a test has, whoever chose it.
func newStep(bin *sorting.Bin, t cues.Test, lot string, known bool) *stepView {
	s := &stepView{Token: token(), Lot: lot, Known: known, Kind: t.Kind, Take: takeLine(lot, known, 0, 1, false, t.PieceMust), Do: sentence(t.Title), KindName: kindName(t.Kind), How: t.Protocol, Careful: t.Cautions,
		Choices: choices(t), Fields: testFields(t.Kind)}
	for _, b := range bin.Baths {
		s.Baths = append(s.Baths, b.Name)
	}
	for _, n := range pauses[t.Kind] {
		s.Pauses = append(s.Pauses, pauseView{n, timeWords(n)})
	}
	return s
}

// standing are the lots that are there to be tested.
func standing(ans advice.Answer) []string {
	var out []string
	for _, l := range ans.Balance.Budget.Lots {
		if !l.Unsorted {
			out = append(out, l.Lot.Name)
		}
	}
	return out
}

// recent are the last tests, the newest first.
func recent(bin *sorting.Bin, now time.Time) []recentView {
	var out []recentView
	for _, o := range slices.Backward(bin.Tests) {
		if len(out) == benchRecent {
			break
		}
		v := recentView{ID: o.ID, Says: sayTest(o)}
		if at, err := time.Parse(time.RFC3339, o.At); err == nil && now.Sub(at) < 24*time.Hour {
			v.When = at.In(now.Location()).Format("15:04")
		}
		out = append(out, v)
	}
	return out
}

// newsView is what changes while a page is open.
type newsView struct {
	Version string
	Recent  []recentView
	Count   int
}

// tellNews gives what was recorded last, to be put into an open page. It never changes the step: that
// must not move under a thumb.
func (p *BenchPage) tellNews(w http.ResponseWriter, r *http.Request) {
	src, err := p.bin.Read()
	if err != nil {
		p.fail(w, r, faultOfBench(err))
		return
	}
	bin, _, err := p.bin.Parse(src)
	if err != nil {
		p.fail(w, r, faultOfBench(err))
		return
	}
	p.render(w, http.StatusOK, "news", newsView{Version: versionOf(src), Recent: recent(bin, p.opt.Now()), Count: len(bin.Tests)})
}
