package show

import (
	"fmt"
	"math"

	"brinecut/sorting"
	"brinecut/sorting/purity"
)

// Claimed is all that is said of a claim.
type Claimed struct {
	purity.Result
	Drawn       *Drawn // nil where the user counted the pieces
	Known       *Known
	ByMass      *ByMass
	Second      *Second
	Drawing     []string // steps; none where no further piece is asked for
	Assumptions []sorting.Assumption
}

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
	Against      []string   `json:"against"`
	NotTold      *int       `json:"not_told"`

	Sizes       *sizes       `json:"sizes"`
	Known       *known       `json:"known"`
	ByMass      *byMass      `json:"by_mass"`
	Second      *second      `json:"second_test"`
	Drawing     []string     `json:"drawing"`
	Assumptions []assumption `json:"assumptions"`
}

// Drawn is what the counted pieces of a fraction were held against.
type Drawn struct {
	Material string
	Against  []string // the materials: nothing is shown of others
	NotTold  int      // pieces drawn that could not be told, and do not count
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
func ClaimJSON(c Claimed) any {
	r := c.Result
	out := claim{Tested: r.Tested, Wrong: r.Wrong, Confidence: number(r.Confidence), AtLeast: number(r.AtLeast),
		Exact: limits{number(r.Exact.Low), number(r.Exact.High)}, Bayes: limits{number(r.Bayes.Low), number(r.Bayes.High)},
		Demonstrated: number(r.Demonstrated), PiecesNeeded: r.PiecesNeeded, Basis: string(r.Basis), Wording: r.Wording,
		Avoid: nonNil(r.Avoid), Warnings: nonNil(r.Warnings), Corrected: correctedOf(r.Corrected),
		Known: c.Known.wire(), ByMass: c.ByMass.wire(), Second: c.Second.wire(), Drawing: nonNil(c.Drawing), Assumptions: assumptionsOf(c.Assumptions)}
	if r.Of > 0 {
		out.Of = &r.Of
	}
	out.Against = []string{}
	if c.Drawn != nil {
		out.Against, out.NotTold = nonNil(c.Drawn.Against), &c.Drawn.NotTold
	}
	if r.Purity > 0 {
		out.Purity, out.Supported = some(&r.Purity), &r.Supported
	}
	if s := r.Sizes; s != nil {
		out.Sizes = &sizes{s.Exact, s.CannonRoe, s.MacDiarmid}
	}
	return out
}

// sizes are the pieces that rules in use ask of a counted lot, none of them wrong.
type sizes struct {
	Exact      int `json:"exact"`
	CannonRoe  int `json:"cannon_roe"`
	MacDiarmid int `json:"macdiarmid"`
}

func correctedOf(e *purity.Estimate) *corrected {
	if e == nil {
		return nil
	}
	return &corrected{number(e.Best), number(e.Low), number(e.High)}
}

// Claim writes what counted pieces support.
func Claim(p *Page, c Claimed) {
	r := c.Result
	of := ""
	if r.Of > 0 {
		of = fmt.Sprintf(" of %d", r.Of)
	}
	p.Title(fmt.Sprintf("%d pieces%s tested, %d of another material", r.Tested, of, r.Wrong))
	if c.Drawn != nil {
		p.Section("counted")
		p.Text(heldAgainst(c.Drawn), 0)
	}
	p.Section("at least")
	if r.Tested == 0 {
		p.Line("nothing was tested: no purity can be stated")
	} else {
		p.Line(fmt.Sprintf("%s pure by %s, with %s confidence", lowerLimit(r.AtLeast), "pieces", percent(r.Confidence)))
	}
	if r.Demonstrated != r.AtLeast {
		p.Line(fmt.Sprintf("%s by %s, once what the test misses and unequal pieces are allowed for", lowerLimit(r.Demonstrated), r.Basis))
	}
	c.Known.write(p, r)
	p.Section("between")
	p.Table("lr", [][]string{
		{"exact, two-sided", limit(r.Exact.Low) + " to " + limit(r.Exact.High)},
		{"Bayes, Jeffreys prior", limit(r.Bayes.Low) + " to " + limit(r.Bayes.High)},
	})
	if r.Corrected != nil {
		p.Text("share of others, corrected for the test's own errors: "+estimated(*r.Corrected), 0)
	}
	c.ByMass.write(p)
	if r.Purity > 0 {
		p.Section("asked")
		p.Line(fmt.Sprintf("%s: %s", limit(r.Purity), supported(r)))
		if s := r.Sizes; s != nil {
			p.Text(fmt.Sprintf("from the start, none wrong, a lot of %d takes %s pieces by the exact hypergeometric, which is used here; %d by Cannon and Roe, %d by MacDiarmid, approximations that differ by a piece or two",
				s.Lot, exactly(s.Exact), s.CannonRoe, s.MacDiarmid), 0)
		}
	}
	c.Second.write(p)
	p.Section("say")
	p.Text(r.Wording, 0)
	for _, a := range r.Avoid {
		p.Item("-", "avoid: "+a)
	}
	notes(p, r.Warnings)
	if len(c.Drawing) > 0 {
		p.Section("draw")
		for i, s := range c.Drawing {
			p.Item(fmt.Sprintf("%d.", i+1), s)
		}
	}
	assumed(p, c.Assumptions)
}

func estimated(e purity.Estimate) string {
	return fmt.Sprintf("%s (%s to %s)", limit(e.Best), limit(e.Low), limit(e.High))
}

// heldAgainst says what the counted pieces show, and which of them show nothing.
func heldAgainst(d *Drawn) string {
	s := "each counted piece was told as " + d.Material + " or not, held against " + list(d.Against) + " alone: of other materials nothing is shown"
	switch d.NotTold {
	case 0:
	case 1:
		s += "; 1 more was drawn, could not be told and does not count"
	default:
		s += fmt.Sprintf("; %d more were drawn, could not be told and do not count", d.NotTold)
	}
	return s
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

// exactly is a number of pieces; 0 where all of them are not enough.
func exactly(n int) string {
	if n == 0 {
		return "more than all its"
	}
	return fmt.Sprint(n)
}
