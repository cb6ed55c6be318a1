package show

import (
	"fmt"
	"strings"

	"brinecut/polymers/quantity"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/separation"
)

// plan is how a lot that stays mixed is best parted.
type plan struct {
	Lot     string  `json:"lot"`
	Part    bool    `json:"part"`
	Why     string  `json:"why"`
	Gain    number  `json:"gain"`
	Minutes number  `json:"minutes"`
	Cuts    []cutOf `json:"cuts"`
	Bags    []bag   `json:"bags"`
}

// cutOf is one parting of a plan, in bench order.
type cutOf struct {
	N       int       `json:"n"`
	Kind    string    `json:"kind"`
	Density *number   `json:"density_g_cm3"`
	Temp    *number   `json:"temp_c"`
	Feed    grams     `json:"feed"`
	Minutes number    `json:"minutes"`
	Newton  number    `json:"newton_efficiency"`
	Overall number    `json:"overall_effectiveness"`
	Second  bool      `json:"second_pass_pays"`
	Sides   []cutSide `json:"sides"`
}

type cutSide struct {
	Outcome  string   `json:"outcome"`
	Mass     grams    `json:"mass"`
	Main     string   `json:"main"`
	Purity   estimate `json:"purity"`
	Recovery estimate `json:"recovery"`
	Then     *int     `json:"then"`
}

type bag struct {
	Main     string   `json:"main"`
	Mass     grams    `json:"mass"`
	Purity   estimate `json:"purity"`
	Recovery estimate `json:"recovery"`
}

func planOf(p separation.LotPlan) plan {
	out := plan{Lot: p.Lot, Part: p.First != nil, Why: p.Why, Gain: number(p.Value - p.Keep), Minutes: number(p.Minutes), Cuts: []cutOf{}, Bags: []bag{}}
	for _, x := range p.Partings() {
		out.Cuts = append(out.Cuts, cutAs(x))
	}
	for _, b := range p.Bags {
		main := b.Main
		if main == "" {
			main = "mixed"
		}
		out.Bags = append(out.Bags, bag{main, gramsOf(b.Mass), estimateOf(b.Purity), estimateOf(b.Recovery)})
	}
	return out
}

func cutAs(x *separation.Parting) cutOf {
	out := cutOf{N: x.N, Kind: string(x.Kind), Feed: gramsOf(x.Feed), Minutes: number(x.Minutes), Newton: number(x.Newton), Overall: number(x.Overall),
		Second: x.Second != nil && x.Second.Pays}
	switch x.Kind {
	case sorting.ByFloat:
		d := float64(x.Density)
		out.Density = some(&d)
	case sorting.ByHotWater:
		t := float64(x.Temp)
		out.Temp = some(&t)
	}
	for _, s := range x.Sides {
		side := cutSide{Outcome: s.Outcome, Mass: gramsOf(s.Mass), Main: s.Main, Purity: estimateOf(s.Purity), Recovery: estimateOf(s.Recovery)}
		if s.Next != nil {
			side.Then = &s.Next.N
		}
		out.Sides = append(out.Sides, side)
	}
	return out
}

// mixtures says of every lot that stays mixed whether parting it pays, and why.
func mixtures(p *Page, a advice.Answer, f Form) {
	if len(a.Partings) == 0 {
		return
	}
	p.Section("stays mixed")
	for _, plan := range a.Partings {
		s := name(plan.Lot) + ": " + plan.Why
		if plan.First != nil {
			s += fmt.Sprintf(": %s, %s at the bench, gains about %s", howParted(plan), minutes(plan.Minutes), money(plan.Value-plan.Keep, currency(a)))
			if !f.Steps {
				s += "; each cut with what to expect of it: brinecut sort " + word(f.File) + " --steps"
			}
		}
		p.Item("-", s)
	}
}

// howParted names the partings of a plan in bench order.
func howParted(p separation.LotPlan) string {
	var out []string
	for _, x := range p.Partings() {
		switch x.Kind {
		case sorting.ByFloat:
			out = append(out, x.Liquid())
		case sorting.ByHotWater:
			out = append(out, "hot water of "+quantity.Format(x.Temp))
		case sorting.BySoak:
			out = append(out, "a soak")
		default:
			out = append(out, "picking out what is "+x.Sides[0].Outcome)
		}
	}
	return strings.Join(out, ", then ")
}
