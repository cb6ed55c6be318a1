package bath

import (
	"fmt"
	"regexp"
	"strings"

	"brinecut/polymers/quantity"
)

// Product is what stands on the shelf: a liquid's solute with the water it was sold with.
type Product struct {
	Liquid  Liquid
	Name    string         // as recipes print it, "calcium chloride dihydrate 77 %"
	Content quantity.Share // mass fraction of anhydrous or pure solute in what is weighed
	Low     quantity.Share // least content that its label allows
	High    quantity.Share // greatest content that its label allows
	Source  string         // where content and span come from
	Stated  bool           // false where the content is this package's assumption
	heat    float64        // kJ given off for each mole of solute, from this form
}

var (
	rePercent = regexp.MustCompile(`(\d[\d.,]*(?:\s*(?:-|–|to)\s*\d[\d.,]*)?)\s*%\s*(vol\b\.?|by volume|v/v|abv|mass\b|by mass|by weight|w/w|m/m)?`)
	reWater   = regexp.MustCompile(`[·.*]\s*(1\.5|[1-9])\s*h2o$`)
	hydrates  = map[string]string{"1.5": "sesquihydrate", "2": "dihydrate", "6": "hexahydrate", "7": "heptahydrate"}
)

// ReadProduct reads a liquid or product as kits write it: "table salt", "MgCl2", "calcium chloride
// dihydrate 77 %", "CaCl2·2H2O", "glycerol 86 %", "isopropanol 70 % vol". A percentage of an
// alcohol is by volume unless it says mass; of a hydrate it is the anhydrous salt's where it lies
// near that (trade labels), and the hydrate's own purity where it is near 100 %. Without one, the
// usual household grade is assumed and Stated is false. The error is a *Refusal.
func ReadProduct(text string) (Product, error) {
	name := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	if len(name) > 100 {
		return Product{}, refuse("name one of "+nameList(), "this is too long for a product")
	}
	if name == "rubbing alcohol" {
		name = "isopropanol 70 % vol"
	}
	bare, percent, basis := name, "", ""
	if m := rePercent.FindStringSubmatchIndex(name); m != nil {
		percent = name[m[2]:m[3]]
		if m[4] >= 0 {
			basis = name[m[4]:m[5]]
		}
		bare = strings.TrimSpace(name[:m[0]] + " " + name[m[1]:])
	}
	f, err := findForm(bare)
	if err != nil {
		return Product{}, err
	}
	p := Product{Liquid: f.liquid, Name: strings.TrimSpace(f.liquid.String() + " " + f.word),
		Content: quantity.Share(f.content), Low: quantity.Share(f.low), High: quantity.Share(f.high),
		Source: f.source, heat: f.heat}
	if percent == "" {
		return p, nil
	}
	return p.labelled(f, percent, basis)
}

const (
	assay         = 0.95 // from here on a label speaks of the purity of the hydrate itself: judgement
	mostlyDry     = 0.85 // calcium chloride above is pellets or powder, not flake: judgement
	anhydrousHeat = 81.3 // kJ/mol, of anhydrous calcium chloride, as published: the source of forms
)

// labelled takes the content from the percentage on the label.
func (p Product) labelled(f form, percent, basis string) (Product, error) {
	q, err := quantity.Parse[quantity.Share](percent + " %")
	if err != nil {
		return Product{}, refuse("write a percentage such as 77 %", "the percentage of %s cannot be read: %v", p.Name, err)
	}
	low, high := float64(q.Low()), float64(q.High())
	if low == high { // a label rounds: one point either way, common practice, no source
		low, high = max(low-0.01, low/2), min(1, high+0.01)
	}
	convert, err := contentOf(f, float64(q.Value), basis)
	if err != nil {
		return Product{}, err
	}
	p.Name = fmt.Sprintf("%s %s %%", p.Name, percent)
	if basis != "" {
		p.Name += " " + basis
	}
	p.Content, p.Low, p.High = quantity.Share(convert(float64(q.Value))), quantity.Share(convert(low)), quantity.Share(convert(high))
	p.Source, p.Stated = "label", true
	if f.hydrate < 1 && float64(q.Value) >= assay {
		p.Source = "label, read as the purity of the hydrate"
	}
	if p.Liquid == CalciumChloride && p.Content > mostlyDry {
		p.heat = anhydrousHeat
	}
	return p, nil
}

// contentOf says how a labelled percentage of this form becomes mass fraction of solute.
func contentOf(f form, x float64, basis string) (func(float64) float64, error) {
	same := func(x float64) float64 { return x }
	byMass := strings.Contains(basis, "mass") || strings.Contains(basis, "weight") || basis == "w/w" || basis == "m/m"
	switch {
	case x <= 0:
		return nil, refuse("write the percentage of the label", "%s without any content makes no bath", f.liquid)
	case f.liquid.Flammable() && !byMass:
		return func(v float64) float64 { return massFromVolume(f.liquid, v) }, nil
	case basis != "" && !byMass:
		return nil, refuse("write the percentage by mass", "a percentage by volume of %s says nothing here", f.liquid)
	case f.hydrate == 1:
		return same, nil
	case x <= f.hydrate+(1-f.hydrate)/3: // trade label: anhydrous salt in what is weighed
		return same, nil
	case x >= assay:
		return func(x float64) float64 { return x * f.hydrate }, nil
	}
	return nil, refuse(fmt.Sprintf("write the anhydrous share (about %.0f %% when pure) or the purity of the hydrate (95 %% or more)", 100*f.hydrate),
		"%.4g %% of %s can be read two ways", 100*x, strings.TrimSpace(f.liquid.String()+" "+f.word))
}

// massFromVolume turns % by volume at 20 °C into mass fraction through the density table
// (OIML R 22, definition of alcoholic strength by volume).
func massFromVolume(l Liquid, v float64) float64 {
	k := liquids[l]
	pure := k.density(1, 20)
	return bisect(func(w float64) float64 { return w * k.density(w, 20) / pure }, between(v, 0, 1), 0, 1)
}

// VolumePercent is the alcoholic strength by volume at 20 °C of an alcohol's mass fraction, as a
// share: OIML R 22 for ethanol, Lebo (1921) for 2-propanol.
func VolumePercent(l Liquid, massFraction quantity.Share) quantity.Share {
	k, w := liquids[l], float64(massFraction)
	return quantity.Share(w * k.density(w, 20) / k.density(1, 20))
}

// findForm matches a name without percentage to a liquid and the form it is sold in.
func findForm(name string) (form, error) {
	word := ""
	if m := reWater.FindStringSubmatchIndex(name); m != nil {
		word = hydrates[name[m[2]:m[3]]]
		if word == "" {
			word = "hydrate with " + name[m[2]:m[3]] + " H2O"
		}
		name = name[:m[0]]
	}
	var rest []string
	for _, w := range strings.Fields(name) {
		switch w = strings.Trim(w, ",;()"); {
		case strings.HasSuffix(w, "hydrate") || w == "anhydrous":
			word = w
		case w == "flake" || w == "flakes" || w == "pellet" || w == "pellets":
			if word == "" {
				word = strings.TrimSuffix(w, "s")
			}
		case w != "":
			rest = append(rest, w)
		}
	}
	l, ok := findLiquid(strings.Join(rest, " "))
	if !ok {
		return form{}, refuse("name one of "+nameList()+", or its formula", "%.60q is not a liquid that a bath can be mixed from here", name)
	}
	for _, f := range forms {
		if f.liquid == l && f.word == word {
			return f, nil
		}
	}
	return form{}, refuse("write "+l.String()+" with the percentage of its label", "%s is not known as %s", l, word)
}

// findLiquid matches a name, another name or a formula, in lower case.
func findLiquid(name string) (Liquid, bool) {
	for _, l := range Liquids() {
		k := liquids[l]
		if name == k.name || name == strings.ToLower(k.formula) {
			return l, true
		}
		for _, also := range k.also {
			if name == also {
				return l, true
			}
		}
	}
	return 0, false
}

// nameList writes the ten names.
func nameList() string {
	var names []string
	for _, l := range Liquids()[1:] {
		names = append(names, l.String())
	}
	return strings.Join(names, ", ")
}
