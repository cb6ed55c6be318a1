package paper

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// TestSheetsAreCentred: every built-in grid lies in the middle of its paper (A4 of ISO 216, Letter of
// ANSI/ASME Y14.1): the margins differ by no more than what its measures are rounded to.
func TestSheetsAreCentred(t *testing.T) {
	list, err := Sheets("")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range list {
		page := map[string][2]float64{"A4": {210, 297}, "Letter": {8.5 * 25.4, 11 * 25.4}}[s.Paper]
		right := page[0] - s.Left - float64(s.Columns-1)*s.PitchX - s.Width
		foot := page[1] - s.Top - float64(s.Rows-1)*s.PitchY - s.Height
		if math.Abs(right-s.Left) > 0.15 || math.Abs(foot-s.Top) > 0.15 {
			t.Errorf("%s: left %.2f right %.2f top %.2f foot %.2f", s.Name, s.Left, right, s.Top, foot)
		}
		if !strings.HasPrefix(s.Name, strings.ToLower(s.Paper)+"-"+whole(s.Columns)+"x"+whole(s.Rows)+"-"+millimeters(s.Width)+"x"+millimeters(s.Height)) {
			t.Errorf("%s is not named by its dimensions", s.Name)
		}
	}
}

const good = `[[sheet]]
name = "a4-2x4-99.1x67.7"
paper = "A4"
columns = 2
rows = 4
width_mm = 99.1
height_mm = 67.7
left_mm = 4
top_mm = 13.1
pitch_x_mm = 101.6
pitch_y_mm = 67.7
`

func TestOwnSheets(t *testing.T) {
	builtIn, _ := Sheets("")
	list, err := Sheets(good + strings.Replace(good, "a4-2x4-99.1x67.7", "mine", 1))
	if err != nil || len(list) != len(builtIn)+1 {
		t.Fatalf("%d sheets, %v", len(list), err)
	}
	for _, s := range list {
		if s.Name == "a4-2x4-99.1x67.7" && s.Left != 4 {
			t.Error("the user's measures do not take the place of the built-in ones")
		}
	}
	for name, change := range map[string][2]string{
		"unknown key":      {"rows = 4", "rows = 4\nrow = 4"},
		"unknown paper":    {`"A4"`, `"B4"`},
		"over the edge":    {"left_mm = 4", "left_mm = 14"},
		"below the edge":   {"rows = 4", "rows = 5"},
		"on each other":    {"pitch_x_mm = 101.6", "pitch_x_mm = 90"},
		"no columns":       {"columns = 2", "columns = 0"},
		"below zero":       {"top_mm = 13.1", "top_mm = -1"},
		"not a number":     {"top_mm = 13.1", "top_mm = nan"},
		"no room":          {"height_mm = 67.7", "height_mm = 4"},
		"text":             {"rows = 4", `rows = "4"`},
		"no name":          {`"a4-2x4-99.1x67.7"`, `""`},
		"no TOML":          {"rows", "ro ws"},
		"inset of a label": {"rows = 4", "rows = 4\ninset_mm = 40"},
	} {
		_, err := Sheets(strings.Replace(good, change[0], change[1], 1))
		var r *Refusal
		if !errors.As(err, &r) || r.Fault == "" || r.Right == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, size := range [][2]float64{{5, 100}, {100, 0}, {-62, 100}, {62, 2000}, {math.NaN(), 50}, {math.Inf(1), 50}} {
		if _, err := Roll(size[0], size[1]); err == nil {
			t.Errorf("a roll of %v mm is taken", size)
		}
	}
}

func TestOptionsThatCannotBe(t *testing.T) {
	for _, o := range []Options{{Start: 5}, {Start: -1}, {OffsetX: 21}, {OffsetY: math.NaN()}, {Sheet: Sheet{Name: "odd", PageW: 100, PageH: 100}}} {
		var r *Refusal
		if _, err := Print(Job{}, o); !errors.As(err, &r) {
			t.Errorf("%+v: %v", o, err)
		}
		if _, err := Calibrate(o); !errors.As(err, &r) {
			t.Errorf("calibration %+v: %v", o, err)
		}
	}
}
