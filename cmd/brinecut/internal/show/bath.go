package show

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers/quantity"
	"brinecut/sorting/bath"
)

type recipe struct {
	Salt         string       `json:"salt"`
	Target       number       `json:"target_g_cm3"`
	TempC        number       `json:"temp_c"`
	MassPercent  *number      `json:"mass_percent"`
	WaterG       *number      `json:"water_g"`
	ProductG     *number      `json:"product_g"`
	VolumeML     *number      `json:"volume_ml"`
	Reachable    bool         `json:"reachable"`
	Max          number       `json:"max_g_cm3"`
	Min          number       `json:"min_g_cm3"`
	Product      string       `json:"product"`
	Instead      []string     `json:"instead"`
	Expected     *estimate    `json:"expected_g_cm3"`
	Check        *check       `json:"check"`
	WaitMin      *number      `json:"wait_min"`
	Steps        []step       `json:"steps"`
	Cautions     []string     `json:"cautions"`
	NeverCombine []string     `json:"never_combine"`
	Disposal     []string     `json:"disposal"`
	Warnings     []warning    `json:"warnings"`
	Assumptions  []assumption `json:"assumptions"`
}

type check struct {
	Ratio      number  `json:"bath_over_water"`
	Relative20 *number `json:"hydrometer_20_20"`
	Relative60 *number `json:"hydrometer_60_60_f"`
	Bottle     string  `json:"bottle"`
	Hydrometer string  `json:"hydrometer"`
}

type warning struct {
	About string `json:"about,omitempty"`
	Line  int    `json:"line,omitempty"`
	Says  string `json:"says"`
	Cure  string `json:"cure"`
}

// RecipeJSON is the wire form of a bath's recipe.
func RecipeJSON(r bath.Recipe) any {
	out := recipe{Salt: r.Product.Liquid.String(), Product: r.Product.Name, Target: number(r.Target), TempC: number(r.Temp), Reachable: r.Reachable,
		Max: number(r.Max), Min: number(r.Min), Instead: nonNil(r.Instead), Steps: []step{}, Cautions: says(r.Cautions),
		NeverCombine: says(r.NeverCombine), Disposal: says(r.Disposal), Warnings: []warning{}, Assumptions: []assumption{}}
	for _, w := range r.Warnings {
		out.Warnings = append(out.Warnings, warning{Says: w.Says, Cure: w.Cure})
	}
	for _, x := range r.Assumptions {
		out.Assumptions = append(out.Assumptions, assumption{x.Says, FlagOf(x.Says, x.Key), x.Source})
	}
	if !r.Reachable {
		return out
	}
	percent, water, product, volume, wait := number(100*r.MassFraction), number(r.Water), number(r.Weigh), number(r.Volume), number(r.Wait.Least.Minutes())
	out.MassPercent, out.WaterG, out.ProductG, out.VolumeML, out.WaitMin = &percent, &water, &product, &volume, &wait
	out.Expected = &estimate{number(r.Expected.Mean), number(r.Expected.Low), number(r.Expected.High)}
	out.Check = &check{number(r.Check.Ratio), given(r.Check.Relative20), given(r.Check.Relative60F), r.Check.Bottle, r.Check.Hydrometer}
	for i, s := range r.Order {
		out.Steps = append(out.Steps, step{N: i + 1, Do: s.Do, Cautions: says(s.Cautions)})
	}
	return out
}

// given is null for the zero that stands for "not published".
func given(x float64) *number {
	if x == 0 {
		return nil
	}
	return some(&x)
}

func says(list []bath.Caution) []string {
	out := []string{}
	for _, c := range list {
		out = append(out, c.Says)
	}
	return out
}

// Recipe writes how to mix a bath.
func Recipe(p *Page, r bath.Recipe) {
	p.Title(fmt.Sprintf("a bath of %s at %s from %s", quantity.Format(r.Target), quantity.Format(r.Temp), r.Product.Name))
	if !r.Reachable {
		p.Section("no")
		p.Text(fmt.Sprintf("%s reaches %s at most", r.Product.Name, quantity.Format(r.Max)), 0)
		for _, i := range r.Instead {
			p.Item("-", i)
		}
		return
	}
	cautions(p, says(r.Foremost))
	p.Section("weigh")
	p.Table("lr", [][]string{{"water", mass(float64(r.Water))}, {r.Product.Name, mass(float64(r.Weigh))}})
	p.Text(fmt.Sprintf("makes %s ml, %s; expect %.3f to %.3f g/cm3%s, so check it before use", digits(float64(r.Volume), 3),
		r.Strength(), float64(r.Expected.Low), float64(r.Expected.High), largest(r.Doubts)), 0)
	p.Section("steps")
	for i, s := range r.Order {
		p.Item(fmt.Sprintf("%d.", i+1), s.Do)
		cautions(p, says(s.Cautions))
	}
	p.Line(fmt.Sprintf("   allow %s for pieces to settle", clock(r.Wait.Least)))
	p.Section("check")
	for _, c := range []string{r.Check.Bottle, r.Check.Hydrometer} {
		if c != "" {
			p.Item("-", c)
		}
	}
	for _, part := range []struct {
		head string
		list []bath.Caution
	}{{"caution", r.Cautions}, {"keep apart", r.NeverCombine}, {"after use", r.Disposal}} {
		if len(part.list) > 0 {
			p.Section(part.head)
		}
		for _, c := range part.list {
			p.Item("-", c.Says)
		}
	}
	bathNotes(p, r.Warnings, r.Assumptions)
}

// largest names the contribution that a recipe's doubt is mostly made of; plain water has none.
func largest(list []bath.Doubt) string {
	if len(list) == 0 {
		return ""
	}
	return " (most of the doubt: " + slices.MaxFunc(list, func(a, b bath.Doubt) int { return cmp.Compare(a.SD, b.SD) }).From + ")"
}

func bathNotes(p *Page, warnings []bath.Warning, assumed []bath.Assumption) {
	if len(warnings) > 0 {
		p.Section("doubts")
	}
	for _, w := range warnings {
		p.Item("-", join(w.Says, w.Cure))
	}
	if len(assumed) > 0 {
		p.Section("taken as")
	}
	for _, x := range assumed {
		p.Item("-", taken(x.Says, x.Source, x.Key))
	}
}

// join puts a cure behind what is wrong.
func join(says, cure string) string {
	if cure == "" {
		return says
	}
	return strings.TrimSuffix(says, ".") + "; " + cure
}

// taken is an assumption in words, with what changes it.
func taken(says, source, key string) string {
	s := says + " (" + source + ")"
	if key = FlagOf(says, key); key == "" {
		return s + "; no key: it is built in"
	}
	return s + "; change it with " + key
}

// FlagOf names the flag of bath, bath check or press behind a key of the library; what is no flag, such
// as a percentage behind a product's name, stays in words, and empty is what nothing changes.
func FlagOf(says, key string) string {
	switch key {
	case "temp":
		if strings.Contains(says, "within") {
			return "--temp-within"
		}
	case "scale step", "± behind a weighing":
		return "--scale"
	case "hydrometer limit":
		return "--hydrometer-limit"
	case "coldest temperature":
		return "--coldest"
	case "diffusivity and contact":
		return ""
	}
	if key == "" || strings.Contains(key, " ") {
		return key
	}
	return "--" + key
}

type checked struct {
	Density     estimate     `json:"density_g_cm3"`
	TempC       number       `json:"temp_c"`
	Add         *addition    `json:"add"`
	Recorded    *Recorded    `json:"recorded"`
	Warnings    []warning    `json:"warnings"`
	Assumptions []assumption `json:"assumptions"`
}

type addition struct {
	What  string `json:"what"`
	MassG number `json:"mass_g"`
	ToG   number `json:"to_bath_g"`
	Note  string `json:"note"`
}

// CheckedJSON is the wire form of a bath as measured; recorded is nil where it was not written down.
func CheckedJSON(r bath.Checked, recorded *Recorded) any {
	out := checked{Density: estimate{number(r.Density.Mean), number(r.Density.Low), number(r.Density.High)}, TempC: number(r.Temp), Recorded: recorded,
		Warnings: []warning{}, Assumptions: []assumption{}}
	if r.Add.What != "" {
		out.Add = &addition{r.Add.What, number(r.Add.Mass), number(r.Add.To), r.Add.Note}
	}
	for _, w := range r.Warnings {
		out.Warnings = append(out.Warnings, warning{Says: w.Says, Cure: w.Cure})
	}
	for _, x := range r.Assumptions {
		out.Assumptions = append(out.Assumptions, assumption{x.Says, FlagOf(x.Says, x.Key), x.Source})
	}
	return out
}

// Checked writes a bath as measured.
func Checked(p *Page, r bath.Checked) {
	p.head = "density"
	p.Line(fmt.Sprintf("%.4f g/cm3  (%.4f to %.4f) at %s", float64(r.Density.Mean), float64(r.Density.Low), float64(r.Density.High), quantity.Format(r.Temp)))
	switch a := r.Add; {
	case a.What == "":
	case a.What == "nothing":
		p.Section("add")
		p.Text(join("nothing", a.Note), 0)
	case a.Mass > 0:
		p.Section("add")
		p.Text(join(fmt.Sprintf("%s of %s to %s of bath", mass(float64(a.Mass)), a.What, mass(float64(a.To))), a.Note), 0)
	default:
		p.Section("add")
		p.Text(join(a.What, a.Note), 0)
	}
	bathNotes(p, r.Warnings, r.Assumptions)
}
