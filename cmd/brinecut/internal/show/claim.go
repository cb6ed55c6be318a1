package show

import (
	"fmt"
	"math"

	"brinecut/sorting/purity"
)

type claim struct {
	Tested       int        `json:"tested"`
	Wrong        int        `json:"wrong"`
	Of           *int       `json:"of"`
	Confidence   number     `json:"confidence"`
	AtLeast      number     `json:"at_least"`
	Exact        limits     `json:"exact"`
	Bayes        limits     `json:"bayes"`
	Corrected    *corrected `json:"corrected"`
	Purity       *number    `json:"purity"`
	Demonstrated number     `json:"demonstrated"`
	Supported    *bool      `json:"supported"`
	PiecesNeeded *int       `json:"pieces_needed"`
	Basis        string     `json:"basis"`
	Wording      string     `json:"wording"`
	Avoid        []string   `json:"avoid"`
	Warnings     []string   `json:"warnings"`
}

type limits struct {
	Low  number `json:"low"`
	High number `json:"high"`
}

type corrected struct {
	Best number `json:"best"`
	Low  number `json:"low"`
	High number `json:"high"`
}

// ClaimJSON is the wire form of a claim.
func ClaimJSON(r purity.Result) any {
	out := claim{Tested: r.Tested, Wrong: r.Wrong, Confidence: number(r.Confidence), AtLeast: number(r.AtLeast),
		Exact: limits{number(r.Exact.Low), number(r.Exact.High)}, Bayes: limits{number(r.Bayes.Low), number(r.Bayes.High)},
		Demonstrated: number(r.Demonstrated), PiecesNeeded: r.PiecesNeeded, Basis: string(r.Basis), Wording: r.Wording,
		Avoid: nonNil(r.Avoid), Warnings: nonNil(r.Warnings)}
	if r.Of > 0 {
		out.Of = &r.Of
	}
	if r.Corrected != nil {
		out.Corrected = &corrected{number(r.Corrected.Best), number(r.Corrected.Low), number(r.Corrected.High)}
	}
	if r.Purity > 0 {
		out.Purity, out.Supported = some(&r.Purity), &r.Supported
	}
	return out
}

// Claim writes what counted pieces support.
func Claim(p *Page, r purity.Result) {
	of := ""
	if r.Of > 0 {
		of = fmt.Sprintf(" of %d", r.Of)
	}
	p.Title(fmt.Sprintf("%d pieces%s tested, %d of another material", r.Tested, of, r.Wrong))
	p.Section("at least")
	if r.Tested == 0 {
		p.Line("nothing was tested: no purity can be stated")
	} else {
		p.Line(fmt.Sprintf("%s pure by %s, with %s confidence", lowerLimit(r.AtLeast), "pieces", percent(r.Confidence)))
	}
	if r.Demonstrated != r.AtLeast {
		p.Line(fmt.Sprintf("%s by %s, once what the test misses and unequal pieces are allowed for", lowerLimit(r.Demonstrated), r.Basis))
	}
	p.Section("between")
	p.Table("lr", [][]string{
		{"exact, two-sided", limit(r.Exact.Low) + " to " + limit(r.Exact.High)},
		{"Bayes, Jeffreys prior", limit(r.Bayes.Low) + " to " + limit(r.Bayes.High)},
	})
	if r.Corrected != nil {
		p.Text(fmt.Sprintf("share of others, corrected for the test's own errors: %s (%s to %s)", limit(r.Corrected.Best), limit(r.Corrected.Low), limit(r.Corrected.High)), 0)
	}
	if r.Purity > 0 {
		p.Section("asked")
		p.Line(fmt.Sprintf("%s: %s", percent(r.Purity), supported(r)))
	}
	p.Section("say")
	p.Text(r.Wording, 0)
	for _, a := range r.Avoid {
		p.Item("-", "avoid: "+a)
	}
	notes(p, r.Warnings)
}

// limit writes a share to the digit it is published to.
func limit(x float64) string { return plain(round(100*x, 1)) + " %" }

// lowerLimit is limit rounded down: what is shown at least is never said to be more.
func lowerLimit(x float64) string { return plain(math.Floor(1000*x+1e-9)/10) + " %" }

func supported(r purity.Result) string {
	switch {
	case r.Supported:
		return "supported"
	case r.PiecesNeeded == nil:
		return "not supported, and no number of pieces would support it with this test"
	}
	return fmt.Sprintf("not supported; %d further pieces drawn at random, none wrong, would", *r.PiecesNeeded)
}
