package show

import (
	"encoding/json"
	"fmt"
	"strings"

	"brinecut/polymers/quantity"
)

// Started is the wire form of a new bin file.
type Started struct {
	File    string `json:"file"`
	Example bool   `json:"example"`
}

// Manual is the wire form of the manual pages that were written.
type Manual struct {
	Folder string   `json:"folder"`
	Pages  []string `json:"pages"`
}

// ManualText says where the manual pages are.
func ManualText(p *Page, m Manual) {
	p.Title("wrote " + count(len(m.Pages), "manual page") + " into " + m.Folder)
	p.Title("next: man " + word(m.Folder+"/"+m.Pages[0]))
}

// Recorded is the wire form of what was appended to a bin file.
type Recorded struct {
	File  string `json:"file"`
	Table string `json:"table"` // test, withdrawn, bath, bag, merge or taken
	ID    string `json:"id"`    // of the test or bag; the name of a bath or lot
	Text  string `json:"text"`  // as it stands in the file
	Piece *Piece `json:"piece"` // of a piece weighed in air and in a liquid; nil for all else
}

// Piece is what weighing a piece in air and in a liquid told of it.
type Piece struct{ Density quantity.Density }

// z90 is the normal quantile of 0.95: the range holds 90 %.
const z90 = 1.644854

func (x Piece) span() (low, high quantity.GramPerCm3) {
	return x.Density.Value - z90*x.Density.SD, x.Density.Value + z90*x.Density.SD
}

// MarshalJSON writes the density with its range.
func (x Piece) MarshalJSON() ([]byte, error) {
	low, high := x.span()
	return json.Marshal(struct {
		Density estimate `json:"density_g_cm3"`
	}{estimate{number(x.Density.Value), number(low), number(high)}})
}

// RecordedText says what was appended and what to do next.
func RecordedText(p *Page, r Recorded, next string) {
	switch r.Table {
	case "withdrawn":
		p.Title("withdrew " + r.ID + " in " + r.File + ":")
	case "taken":
		p.Title("wrote down what left " + r.ID + " in " + r.File + ":")
	case "merge":
		p.Title("put together as " + r.ID + " in " + r.File + ":")
	default:
		p.Title("recorded " + r.Table + " " + r.ID + " in " + r.File + ":")
	}
	for line := range strings.SplitSeq(r.Text, "\n") {
		p.print("    " + Clean(line))
	}
	if r.Piece != nil {
		low, high := r.Piece.span()
		p.Title(fmt.Sprintf("that piece has %.3f g/cm3 (%.3f to %.3f); air in it or on it makes it less than its material has", float64(r.Piece.Density.Value), float64(low), float64(high)))
	}
	Then(p, next)
}
