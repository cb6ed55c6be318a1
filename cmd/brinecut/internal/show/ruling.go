package show

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/reuse"
	"brinecut/reuse/advice"
)

// Ruling is how one bag fared under the rules, in words: first why it goes its way and what came nearest.
type Ruling struct {
	Bag, Goes string
	Won       []reuse.Reason
	Nearest   string // the way that came nearest and what it lost by
	Ended     bool   // by a rule ahead of all ways
	Rules     []Ruled
}

// Ruled is one rule in words. A rule of one condition has it in If and its source beside; a way has
// its conditions in Asks, and those of them that are not met in Lacks too.
type Ruled struct {
	N                int
	What, If, Source string
	Taken            bool
	Fate             string // "taken", or "no" and why
	By               string // the why alone
	Asks, Lacks      []reuse.Asked
	Worth            string // empty where the rule keeps nothing
}

// RulingOf puts the rules of a bag into words.
func RulingOf(f advice.Fraction) Ruling {
	d := f.Decision
	out := Ruling{Bag: name(f.Name), Goes: goesTo(d), Won: d.Why, Nearest: nearestWords(d), Ended: ended(d) >= 0}
	for i, r := range d.Rules {
		out.Rules = append(out.Rules, ruledOf(i+1, r))
	}
	return out
}

func ruledOf(n int, r reuse.Rule) Ruled {
	out := Ruled{N: n, What: ruleName(r), Taken: r.Taken, Fate: "no", By: r.By}
	if r.Worth != nil {
		out.Worth = worthSum(*r.Worth) + ", " + WorthWords(*r.Worth)
	}
	if r.Taken {
		out.Fate = "taken"
	}
	if !isWay(r) {
		out.If, out.Source = r.Asks[0].Asks, r.Asks[0].Source
		out.Fate = join(out.Fate, r.By)
		return out
	}
	out.Asks = r.Asks
	for _, a := range r.Asks {
		if !a.Met {
			out.Lacks = append(out.Lacks, a)
		}
	}
	if !r.Taken && len(out.Lacks) == 0 {
		out.Fate = join(out.Fate, r.By)
	}
	return out
}

// isWay tells a way that keeps the material from a gate, from holding and from giving up.
func isWay(r reuse.Rule) bool {
	return r.Route == reuse.Regrind || r.Route == reuse.Sheet || r.Route == reuse.Recycler
}

func ruleName(r reuse.Rule) string {
	s := strings.ReplaceAll(string(r.Route), "-", " ")
	if r.Outlet != "" {
		s += ", " + Clean(r.Outlet)
	}
	return s
}

// nearestWords are the way that came nearest and all it lost by; where a gate ended the matter, that.
func nearestWords(d reuse.Decision) string {
	if at := ended(d); at >= 0 {
		return fmt.Sprintf("none: rule %d ends the matter, no way is asked after it", at+1)
	}
	at := nearestRule(d)
	if at < 0 {
		return "none: there is no other way"
	}
	r := d.Rules[at]
	return fmt.Sprintf("%s (rule %d), lost by: %s", ruleName(r), at+1, lostBy(r))
}

// ended is the gate that was taken ahead of all ways, or -1.
func ended(d reuse.Decision) int {
	at := slices.IndexFunc(d.Rules, func(r reuse.Rule) bool { return r.Taken })
	if at < slices.IndexFunc(d.Rules, isWay) {
		return at
	}
	return -1
}

// nearestRule is the way that the decision names as its next, else the one that lacks least and, of
// those, is worth most; -1 where there is none.
func nearestRule(d reuse.Decision) int {
	best := -1
	for i, r := range d.Rules {
		switch {
		case r.Taken || !isWay(r):
		case d.NextRoute == r.Route && d.NextOutlet == r.Outlet && len(d.NextBetter) > 0:
			return i
		case best < 0 || nearer(r, d.Rules[best]):
			best = i
		}
	}
	return best
}

func nearer(a, b reuse.Rule) bool {
	switch x, y := unmet(a), unmet(b); {
	case (a.Worth == nil) != (b.Worth == nil):
		return a.Worth != nil
	case x != y:
		return x < y
	}
	return a.Worth != nil && a.Worth.Value.Mean > b.Worth.Value.Mean
}

func unmet(r reuse.Rule) int {
	n := 0
	for _, a := range r.Asks {
		if !a.Met {
			n++
		}
	}
	return n
}

func lostBy(r reuse.Rule) string {
	var out []string
	for _, a := range r.Asks {
		if !a.Met {
			out = append(out, mended(a))
		}
	}
	if len(out) == 0 {
		return r.By
	}
	return strings.Join(out, "; ")
}

// mended is what is lacking, and what would mend it.
func mended(a reuse.Asked) string {
	if a.Cure == "" {
		return a.By
	}
	return a.By + " (to mend it: " + a.Cure + ")"
}
