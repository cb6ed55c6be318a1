package show

import (
	"fmt"
	"strings"

	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting/purity"
	"brinecut/sorting/triage"
)

// Known is what a bin's known snippets say of the test's errors.
type Known struct {
	purity.Trials
	Result *purity.Result // the claim with their errors; nil where they say too little
}

type known struct {
	Found        int        `json:"found"`
	Others       int        `json:"others"`
	Passed       int        `json:"passed"`
	Right        int        `json:"right"`
	Corrected    *corrected `json:"corrected"`
	Demonstrated *number    `json:"demonstrated"`
	Supported    *bool      `json:"supported"`
}

func (k *Known) wire() *known {
	if k == nil {
		return nil
	}
	out := &known{Found: k.Found, Others: k.Others, Passed: k.Passed, Right: k.Right}
	if r := k.Result; r != nil {
		out.Corrected, out.Demonstrated = correctedOf(r.Corrected), some(&r.Demonstrated)
		if r.Purity > 0 {
			out.Supported = &r.Supported
		}
	}
	return out
}

// write says what the pieces show once the known snippets' errors are allowed for, in their own doubt.
func (k *Known) write(p *Page, plain purity.Result) {
	if k == nil {
		return
	}
	p.Section("known")
	p.Text(fmt.Sprintf("tested alike, %d of %d known pieces of other materials were found, %d of %d of the right one passed", k.Found, k.Others, k.Passed, k.Right), 0)
	if k.Result == nil {
		p.Text("that is too little to allow for the test's errors: try it on known pieces of both", 0)
		return
	}
	p.Text("share of others, corrected with these errors and their own doubt: "+estimated(*k.Result.Corrected), 0)
	if plain.Tested == 0 {
		return
	}
	s := fmt.Sprintf("%s by %s, once as much is allowed for misses as so few trials leave open", lowerLimit(k.Result.Demonstrated), k.Result.Basis)
	if plain.Supported && !k.Result.Supported {
		s += fmt.Sprintf(": %s is shown only if the test misses next to nothing; more trials on known other pieces settle that", limit(plain.Purity))
	}
	p.Text(s, 0)
}

// ByMass is what weighed pieces or grabs say.
type ByMass struct {
	purity.MassShare
	Estimated bool    // MassShare is filled: some grab held others
	Pieces    int     // weighed
	Ratio     float64 // mass of a wrong piece over a right one, at most; 0 where not known
	AtLeast   float64 // share of the mass that the counts show with that ratio
	Grabs     *int    // further grabs for the error below; nil where not estimated
	Why       string  // where nothing is estimated
}

// GrabError is the relative error, with 90 % confidence, for which further grabs are counted; judgement.
const GrabError = 0.25

type byMass struct {
	Weighed int        `json:"weighed"`
	Others  *corrected `json:"others"`
	Ratio   *number    `json:"mass_ratio"`
	AtLeast *number    `json:"at_least"`
	Grabs   *int       `json:"grabs_needed"`
}

func (m *ByMass) wire() *byMass {
	if m == nil {
		return nil
	}
	out := &byMass{Weighed: m.Pieces, Grabs: m.Grabs}
	if m.Estimated {
		out.Others = correctedOf(&m.Estimate)
	}
	if m.Ratio > 0 {
		out.Ratio, out.AtLeast = some(&m.Ratio), some(&m.AtLeast)
	}
	return out
}

func (m *ByMass) write(p *Page) {
	if m == nil {
		return
	}
	p.Section("by mass")
	if m.Estimated {
		p.Text(fmt.Sprintf("others are %s of the mass of %d weighed (ratio estimator): an estimate, never a demonstration; some %d like these in all bring it to within a quarter",
			estimated(m.Estimate), m.Pieces, *m.Grabs), 0)
	} else {
		p.Text(m.Why, 0)
	}
	if m.Ratio > 0 {
		p.Text(fmt.Sprintf("at least %s of the mass, if no piece of another material is more than %s times as heavy as the mean right one", lowerLimit(m.AtLeast), figures(m.Ratio)), 0)
	}
}

// figures writes a ratio to three digits.
func figures(x float64) string { return fmt.Sprintf("%.3g", x) }

// Second is the second test that repairs a first one with false alarms.
type Second struct {
	triage.Second
	None   bool // no test at hand does
	Both   purity.Test
	Pieces int // with which a pure lot would be expected to show the purity
}

type second struct {
	Kind        string   `json:"kind"`
	Density     *number  `json:"density_g_cm3"`
	Temp        *number  `json:"temp_c"`
	Alarms      []string `json:"alarms"`
	Finds       number   `json:"finds"`
	FalseAlarms number   `json:"false_alarms"`
	Pieces      int      `json:"pieces_if_pure"`
	Cautions    []string `json:"cautions"`
}

func (s *Second) wire() *second {
	if s == nil || s.None {
		return nil
	}
	out := &second{Kind: string(s.Kind), Alarms: nonNil(s.Alarms), Finds: number(s.Finds), FalseAlarms: number(s.FalseAlarms), Pieces: s.Pieces, Cautions: nonNil(s.Cautions)}
	switch s.Kind {
	case cues.Float:
		d := float64(s.Density)
		out.Density = some(&d)
	case cues.HotWater:
		t := float64(s.Temp)
		out.Temp = some(&t)
	}
	return out
}

func (s *Second) write(p *Page) {
	if s == nil {
		return
	}
	p.Section("second test")
	if s.None {
		p.Text("no other test of this bench brings that purity within reach; ask for less, or for a test that never alarms falsely", 0)
		return
	}
	p.Text(fmt.Sprintf("repeat every alarm on the same piece by %s; only where it too %s does the piece count as wrong. By the response model it finds %s of the others and alarms on %s of right pieces; the two together then find %s and alarm on %s, if they err apart, and a pure lot needs about %d pieces in all, the alarms so far looked at again",
		s.what(), strings.Join(s.shows(), " or "), limit(s.Finds), limit(s.FalseAlarms), limit(s.Both.Finds), limit(s.Both.FalseAlarms), s.Pieces), 0)
	cautions(p, s.Cautions)
}

// what names the test with its setting.
func (s *Second) what() string {
	switch s.Kind {
	case cues.Float:
		return "a float in a bath of " + quantity.Format(s.Density)
	case cues.HotWater:
		return "hot water of " + quantity.Format(s.Temp)
	}
	t, _ := cues.Find(s.Kind)
	return strings.ToLower(t.Title[:1]) + t.Title[1:]
}

// shows words the outcomes that speak for another material.
func (s *Second) shows() []string {
	var out []string
	for _, o := range s.Alarms {
		switch s.Kind {
		case cues.HotWater:
			o = map[string]string{"soft": "goes limp", "stiff": "stays stiff"}[o]
		case cues.Bend, cues.HotAir, cues.Acetone, cues.Soak:
			o = "shows \"" + o + "\""
		}
		out = append(out, o)
	}
	return out
}
