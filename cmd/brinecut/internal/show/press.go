package show

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers/quantity"
	"brinecut/reuse/press"
)

type pressed struct {
	Diffusivity number       `json:"diffusivity_m2_s"`
	Fourier     number       `json:"fourier"`
	HeatUp      number       `json:"heat_up_s"`
	HeatUpRange [2]number    `json:"heat_up_range_s"`
	CoolDown    number       `json:"cool_down_s"`
	Release     number       `json:"release_c"`
	Charge      *number      `json:"charge_g"`
	Fills       *int         `json:"fills"`
	Sheets      *int         `json:"sheets"`
	Force       *number      `json:"force_kn"`
	Energy      number       `json:"energy_kj_per_kg"`
	Allowance   allowance    `json:"allowance"`
	Basis       string       `json:"basis"`
	Steps       []step       `json:"steps"`
	Cautions    []string     `json:"cautions"`
	Assumptions []assumption `json:"assumptions"`
}

type allowance struct {
	SetClock  number `json:"set_clock_s"`
	FlakeFill number `json:"loose_flake_per_fill_s"`
	Cool      number `json:"cool_at_least_s"`
}

type step struct {
	N        int      `json:"n"`
	Do       string   `json:"do"`
	Minutes  number   `json:"minutes"`
	Cautions []string `json:"cautions"`
}

type assumption struct {
	Says   string `json:"says"`
	Key    string `json:"key"`
	Source string `json:"source"`
}

// Batch is the fraction a sheet is pressed from.
type Batch struct {
	Name  string
	Grams float64
}

// Sheets is how many such sheets a batch gives; nil where there is no batch or the sheet has no size.
func (b *Batch) Sheets(s press.Schedule) *int {
	if b == nil || s.Charge <= 0 {
		return nil
	}
	n := int(b.Grams / float64(s.Charge))
	return &n
}

// PressJSON is the wire form of a sheet's plan; b is nil where a material was named.
func PressJSON(s press.Schedule, b *Batch) any {
	out := pressed{Diffusivity: number(s.Diffusivity.Typical), Fourier: number(s.Fourier), HeatUp: number(s.HeatUp),
		HeatUpRange: [2]number{number(s.HeatUpEarly), number(s.HeatUpLate)}, CoolDown: number(s.CoolDown), Release: number(s.Release), Energy: number(s.PerKg),
		Allowance: allowance{number(s.Allow.SetClock), number(s.Allow.FlakeFill), number(s.Allow.CoolAtLeast)},
		Sheets:    b.Sheets(s),
		Basis:     s.Basis, Steps: []step{}, Cautions: nonNil(s.Cautions), Assumptions: []assumption{}}
	if s.Charge > 0 {
		charge, force := number(s.Charge), number(s.Force/1000)
		out.Charge, out.Fills, out.Force = &charge, &s.Fills, &force
	}
	for i, x := range s.Steps {
		out.Steps = append(out.Steps, step{N: i + 1, Do: x.Do, Minutes: number(x.Time.Minutes()), Cautions: nonNil(x.Cautions)})
	}
	for _, x := range s.Assumptions {
		out.Assumptions = append(out.Assumptions, assumption{x.Says, FlagOf(x.Says, x.Key), x.Source})
	}
	return out
}

// Press writes a sheet's plan; b is nil where a material was named.
func Press(p *Page, r press.Request, s press.Schedule, b *Batch) {
	p.Title(fmt.Sprintf("a sheet of %s, %s thick, platens at %s", r.Material.Symbol, quantity.Format(r.Thickness.Value), quantity.Format(r.Platen.Value)))
	p.Section("heat up")
	p.Line(fmt.Sprintf("%s  (%s to %s) until the middle is at %s", clock(s.HeatUp), clock(s.HeatUpEarly), clock(s.HeatUpLate), quantity.Format(r.Centre.Value)))
	p.Text(s.Basis, 0)
	p.Line("set the clock to " + clock(s.Allow.SetClock) + "; the probe decides, not the clock")
	p.Section("cool down")
	p.Line(fmt.Sprintf("%s until the middle is at %s; allow %s", clock(s.CoolDown), quantity.Format(s.Release), clock(s.Allow.CoolAtLeast)))
	if s.Charge > 0 {
		p.Section("charge")
		p.Line(fmt.Sprintf("%s in %d fills of loose flake", mass(float64(s.Charge)), s.Fills))
		if n := b.Sheets(s); n != nil {
			p.Line(fmt.Sprintf("%s is %s: %s", name(b.Name), mass(b.Grams), sheetsOf(*n)))
		}
		p.Line(fmt.Sprintf("force %s kN", digits(float64(s.Force)/1000, 3)))
	}
	p.Section("energy")
	p.Line(digits(s.PerKg, 3) + " kJ for each kilogram, ideal: the press itself takes several times that")
	p.Section("steps")
	for i, x := range s.Steps {
		p.Item(fmt.Sprintf("%d.", i+1), x.Do)
		cautions(p, x.Cautions)
	}
	p.Section("caution")
	for _, c := range s.Cautions {
		if !slices.ContainsFunc(s.Steps, func(x press.Step) bool { return slices.Contains(x.Cautions, c) }) {
			p.Item("-", c)
		}
	}
	p.Section("taken as")
	for _, x := range s.Assumptions {
		p.Item("-", taken(x.Says, x.Source, x.Key))
	}
}

func sheetsOf(n int) string {
	switch n {
	case 0:
		return "not enough for one such sheet"
	case 1:
		return "one such sheet"
	}
	return fmt.Sprintf("%d such sheets", n)
}

// cautions stand beside the step above them.
func cautions(p *Page, list []string) {
	for _, c := range list {
		p.Inset(3, "!", c)
	}
}

// clock writes a time for a person at a press.
func clock(s quantity.Second) string {
	switch x := float64(s); {
	case x < 100:
		return digits(x, 2) + " s"
	default:
		return minutes(x / 60)
	}
}

type regrind struct {
	Passes    []number    `json:"passes"`
	Rest      number      `json:"passes_beyond"`
	Mean      number      `json:"mean_passes"`
	Retention *number     `json:"retention"`
	Range     *span       `json:"retention_published"`
	LetDown   [2]number   `json:"let_down"`
	Most      *number     `json:"most_share"`
	MeanAfter *number     `json:"mean_passes_after_loops"`
	FeedFlow  *number     `json:"feed_flow_g_10_min"`
	FlowShare *number     `json:"share_for_target_flow"`
	Finer     *span       `json:"finer_grinding_kwh_kg"`
	Drying    string      `json:"drying"`
	NotFor    []string    `json:"not_for"`
	Published []published `json:"published"`
	Cautions  []string    `json:"cautions"`
}

type published struct {
	Measure string  `json:"measure"`
	Melts   int     `json:"melts"`
	Kept    *number `json:"kept"`
	InLoop  *number `json:"kept_in_loop"`
	Words   string  `json:"words,omitempty"`
	Source  string  `json:"source"`
}

// RegrindJSON is the wire form of a regrind loop.
func RegrindJSON(r press.Passes) any {
	out := regrind{Passes: []number{}, Rest: number(r.Rest), Mean: number(r.Mean), Retention: some(r.Retention), LetDown: [2]number{number(r.LetDown.Low), number(r.LetDown.High)},
		Drying: r.Drying, NotFor: nonNil(r.NotFor), Published: []published{}, Cautions: nonNil(r.Cautions)}
	for _, x := range r.Shares {
		out.Passes = append(out.Passes, number(x))
	}
	if r.Range != nil {
		out.Range = &span{number(r.Range.Low), number(r.Range.Typical), number(r.Range.High)}
	}
	if r.Supply != nil {
		out.Most = some(&r.Supply.Most)
	}
	out.MeanAfter, out.FeedFlow, out.FlowShare = some(r.MeanAfter), some(r.FeedFlow), some(r.FlowShare)
	if f := r.Finer; f != nil {
		out.Finer = &span{number(f.Low), number(f.Typical), number(f.High)}
	}
	for _, k := range r.Published {
		w := published{Measure: k.Measure, Melts: k.Cycles, Words: k.Words, Source: source(k.Source)}
		if k.Of > 0 {
			w.Kept, w.InLoop = some(&k.Of), some(&k.InLoop)
		}
		out.Published = append(out.Published, w)
	}
	return out
}

// Regrind writes what a regrind loop gives out.
func Regrind(p *Page, q press.RegrindRequest, r press.Passes) {
	p.Title(fmt.Sprintf("%s with %s regrind in the feed, once the loop is steady", q.Material.Symbol, percent(float64(q.Share.Value))))
	p.Section("melts")
	rows := [][]string{}
	for i, x := range r.Shares[:min(len(r.Shares), 6)] {
		rows = append(rows, []string{percent(x), "of the output has been melted " + times(i+1)})
	}
	p.Table("rl", rows)
	p.Line("mean " + digits(r.Mean, 3) + " melts")
	if r.MeanAfter != nil {
		p.Line(fmt.Sprintf("mean %s melts after %d loops from all-new material", digits(*r.MeanAfter, 3), q.Loops))
	}
	p.Section("kept")
	if r.Retention != nil {
		p.Line(percent(*r.Retention) + " of the virgin value, linear mixing")
	}
	p.Text(r.Studied, 0)
	for _, k := range r.Published {
		p.Item("-", k.Measure+": "+kept(k)+" ("+source(k.Source)+")")
	}
	p.Section("let down")
	p.Text(fmt.Sprintf("usual ceiling %s to %s regrind among new material (%s)", percent(r.LetDown.Low), percent(r.LetDown.High), source(r.LetDown.Source)), 0)
	if r.Supply != nil {
		p.Line("the loop's own scrap feeds at most " + percent(r.Supply.Most))
	}
	flowAndSize(p, q, r)
	p.Section("drying")
	p.Text(r.Drying, 0)
	p.Section("not for")
	p.Text(strings.Join(r.NotFor, "; "), 0)
	p.Section("caution")
	for _, c := range r.Cautions {
		p.Item("-", c)
	}
}

// flowAndSize is what was asked of melt flow and of finer flake.
func flowAndSize(p *Page, q press.RegrindRequest, r press.Passes) {
	if r.FeedFlow != nil {
		p.Section("melt flow")
		p.Line(fmt.Sprintf("%s g/10 min at %s of regrind (logarithmic rule, Nielsen 1977)", digits(*r.FeedFlow, 3), percent(float64(q.Share.Value))))
		if r.FlowShare != nil {
			p.Line(fmt.Sprintf("%s of regrind brings it to %s g/10 min", percent(*r.FlowShare), digits(q.Flow.Target, 3)))
		}
	}
	if f := r.Finer; f != nil {
		p.Section("grinding")
		p.Text(fmt.Sprintf("to %s: %s to %s kWh for each kilogram, by the laws of Kick and Rittinger; tough plastic follows neither well", quantity.Format(q.Ground.Finer.Value), digits(f.Low, 2), digits(f.High, 2)), 0)
	}
}

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

func kept(k press.Kept) string {
	if k.Of > 0 {
		melts := "melts"
		if k.Cycles == 1 {
			melts = "melt"
		}
		return fmt.Sprintf("%s after %d %s, so %s in this loop", percent(k.Of), k.Cycles, melts, percent(k.InLoop))
	}
	return k.Words
}
