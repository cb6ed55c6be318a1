package paper

import (
	_ "embed"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/BurntSushi/toml"
)

//go:embed sheets.toml
var builtIn string

// Sheet is a grid of labels on one page; all lengths in mm. The zero value stands for the first of A4.
type Sheet struct {
	Name    string  `toml:"name"`
	Paper   string  `toml:"paper"` // A4, Letter
	Columns int     `toml:"columns"`
	Rows    int     `toml:"rows"`
	Width   float64 `toml:"width_mm"`
	Height  float64 `toml:"height_mm"`
	Left    float64 `toml:"left_mm"`
	Top     float64 `toml:"top_mm"`
	PitchX  float64 `toml:"pitch_x_mm"`
	PitchY  float64 `toml:"pitch_y_mm"`
	Inset   float64 `toml:"inset_mm"` // nothing is printed nearer to the edge of a label
	Cut     bool    `toml:"cut"`      // plain paper, with lines to cut along

	PageW float64 `toml:"-"` // of the paper
	PageH float64 `toml:"-"`
}

// roll is the paper of a printer that takes one label a page.
const roll = "roll"

// papers, mm: ISO 216 and ANSI/ASME Y14.1 (8.5 x 11 in).
var papers = map[string][2]float64{"A4": {210, 297}, "Letter": {215.9, 279.4}}

// Sheets are the built-in sheets and those of a file of the user's own, which is empty for none: one of
// the same name takes the place of a built-in one. The error is a *Refusal.
func Sheets(own string) ([]Sheet, error) {
	list, err := readSheets(builtIn)
	if err != nil {
		panic(err)
	}
	more, err := readSheets(own)
	if err != nil {
		return nil, err
	}
	for _, s := range more {
		if i := slices.IndexFunc(list, func(x Sheet) bool { return x.Name == s.Name }); i >= 0 {
			list[i] = s
		} else {
			list = append(list, s)
		}
	}
	return list, nil
}

func readSheets(src string) ([]Sheet, error) {
	var file struct {
		Sheet []Sheet `toml:"sheet"`
	}
	const form = "every [[sheet]] takes name, paper, columns, rows, width_mm, height_mm, left_mm, top_mm, pitch_x_mm, pitch_y_mm, and where wanted inset_mm and cut"
	meta, err := toml.Decode(src, &file)
	if err != nil {
		return nil, &Refusal{"the sheets cannot be read: " + err.Error(), form}
	}
	if unknown := meta.Undecoded(); len(unknown) > 0 {
		return nil, &Refusal{"the sheets have a key that means nothing: " + unknown[0].String(), form}
	}
	for i := range file.Sheet {
		s := &file.Sheet[i]
		size, ok := papers[s.Paper]
		if !ok {
			return nil, &Refusal{"sheet " + s.Name + " is on a paper that is not known: " + s.Paper, "paper is A4 or Letter"}
		}
		s.PageW, s.PageH = size[0], size[1]
		if err := s.check(); err != nil {
			return nil, err
		}
	}
	return file.Sheet, nil
}

// Roll is a single label a page, mm, for a printer with a roll.
func Roll(width, height float64) (Sheet, error) {
	s := Sheet{Name: roll + " " + millimeters(width) + " x " + millimeters(height) + " mm", Paper: roll, Columns: 1, Rows: 1,
		Width: width, Height: height, PitchX: width, PitchY: height, Inset: 2, PageW: width, PageH: height}
	return s, s.check()
}

// Default sheet of a paper: the first that the table has for it.
func Default(list []Sheet, paper string) (Sheet, bool) {
	i := slices.IndexFunc(list, func(s Sheet) bool { return strings.EqualFold(s.Paper, paper) })
	if i < 0 {
		return Sheet{}, false
	}
	return list[i], true
}

// orFirst gives the first sheet of A4 for none.
func (s Sheet) orFirst() Sheet {
	if s.PageW != 0 {
		return s
	}
	list, _ := Sheets("")
	return list[0]
}

// Limits of a label, mm: below the one nothing can be read from it, above the other no paper is.
const (
	leastSide = 20
	mostSide  = 450
)

// check refuses a grid that cannot be printed. A tenth of a millimetre is let pass: measures in inches
// are rounded.
func (s Sheet) check() error {
	const slack = 0.1
	wrong := func(what, right string) error { return &Refusal{"sheet " + s.Name + ": " + what, right} }
	for _, x := range []float64{s.Width, s.Height, s.Left, s.Top, s.PitchX, s.PitchY, s.Inset} {
		if math.IsNaN(x) || x < 0 || x > mostSide {
			return wrong("a measure is below zero or above 450 mm", "all lengths are in mm")
		}
	}
	switch {
	case s.Name == "":
		return wrong("it has no name", "name it by its dimensions, as a4-2x4-99.1x67.7")
	case s.Columns < 1 || s.Rows < 1 || s.Columns > 50 || s.Rows > 50:
		return wrong("columns and rows are whole numbers from 1 to 50", "count the labels on the sheet")
	case s.Width-2*s.Inset < leastSide-4 || s.Height-2*s.Inset < leastSide-4:
		return wrong("its labels have no room for print", "take labels of 20 mm or more each way, and a smaller inset")
	case s.Columns > 1 && s.PitchX < s.Width-slack, s.Rows > 1 && s.PitchY < s.Height-slack:
		return wrong("its labels lie on each other: a pitch is smaller than the label", "the pitch is from one label's left (or top) edge to the next one's")
	case s.Left+float64(s.Columns-1)*s.PitchX+s.Width > s.PageW+slack, s.Top+float64(s.Rows-1)*s.PitchY+s.Height > s.PageH+slack:
		return wrong("its labels run over the edge of the paper", "measure left, top and pitch on the sheet")
	}
	return nil
}

// rect is a part of a page, mm from its top left corner.
type rect struct{ x, y, w, h float64 }

func (r rect) inset(d float64) rect { return rect{r.x + d, r.y + d, r.w - 2*d, r.h - 2*d} }

// at is where a label lies, the printer's offset added.
func (s Sheet) at(p Place, o Options) rect {
	return rect{s.Left + float64(p.Column-1)*s.PitchX + o.OffsetX, s.Top + float64(p.Row-1)*s.PitchY + o.OffsetY, s.Width, s.Height}
}

func whole(n int) string { return strconv.Itoa(n) }

func millimeters(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
