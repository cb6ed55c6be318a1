package chart

import (
	"encoding/xml"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
)

// all is one picture of each kind, with names that try to break out.
func all() map[string]string {
	evil := `<script>alert(1)</script>" onload="x`
	about := func(id string) About { return About{ID: id, Title: evil, Desc: evil} }
	return map[string]string{
		"flow": Flow{About: about("a"), Heads: [2]string{evil, "out"}, From: []Node{{Name: evil, Value: evil, Size: 10, Mark: MarkOf(1)}, {Name: "b", Size: 0, Mark: Rest()}},
			To: []Node{{Name: "c", Value: "10 g", Size: 10, Mark: MarkOf(4)}}, Ribbons: []Ribbon{{0, 0, 10}}}.Picture(),
		"trunk":  Flow{About: about("b"), From: []Node{{Name: "in", Size: 3, Mark: Bare(0)}}, To: []Node{{Name: "out", Size: 2, Mark: Bare(2)}, {Name: "lost", Size: 1, Mark: Bare(4)}}}.Picture(),
		"ranges": Ranges{About: about("c"), Rows: []Range{{evil, evil, MarkOf(3), 0.1, 0.4, 0.9}, {"x", "", Rest(), 0, 0, math.NaN()}}}.Picture(),
		"axis": Axis{About: about("d"), Liquids: []Liquid{{evil, 0.998, 0.998}, {"salt", 1, 1.2}}, Materials: []Material{{evil, MarkOf(5), 1.2, 1.24, 1.3, []float64{1.25}}},
			Pieces: []Pieces{{Name: evil, Density: 1.25, Floats: 1, Hovers: 2, Sinks: 3}, {Name: "w", Density: 1.27, Weighed: true}}}.Picture(),
		"purity": Purity{About: about("e"), Mark: MarkOf(0), Low: 0.5, Mean: 0.9, High: 1, Expected: evil, Demonstrated: 0.7, Shown: evil, Asked: []Asked{{0.95, evil}}}.Picture(),
		"worth":  Worth{About: about("f"), Mass: 1, Value: 5, Low: -2, High: 12, BreakEven: 0.6, Currency: evil}.Picture(),
		"never":  Worth{About: about("g"), Mass: 1, Value: -5, Low: -7, High: -2}.Picture(),
		"point":  Worth{About: about("h"), Mass: math.Inf(1), Value: math.NaN()}.Picture(),
		"empty":  Flow{About: about("i")}.Picture() + Ranges{About: about("j")}.Picture() + Axis{About: about("k")}.Picture() + Purity{About: about("l")}.Picture(),
	}
}

// TestPicturesAreXML: every picture is well-formed with a text alternative that its role points to
// (SVG 2, 5.8: title first; WAI-ARIA, role img named by its title), holds no element that could run or
// fetch, and no length that is no number.
func TestPicturesAreXML(t *testing.T) {
	for name, svg := range all() {
		d := xml.NewDecoder(strings.NewReader("<r>" + svg + "</r>"))
		for {
			tok, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v\n%s", name, err, svg)
			}
			e, ok := tok.(xml.StartElement)
			if !ok {
				continue
			}
			if !slices.Contains([]string{"r", "svg", "title", "desc", "defs", "pattern", "rect", "line", "path", "circle", "text"}, e.Name.Local) {
				t.Errorf("%s has an element %s", name, e.Name.Local)
			}
			for _, a := range e.Attr {
				if strings.HasPrefix(a.Name.Local, "on") || strings.Contains(a.Name.Local, "href") || a.Name.Local == "style" {
					t.Errorf("%s: %s has an attribute %s", name, e.Name.Local, a.Name.Local)
				}
				if e.Name.Local == "svg" && a.Name.Local == "role" && a.Value != "img" {
					t.Errorf("%s has role %s", name, a.Value)
				}
			}
		}
		for _, part := range strings.SplitAfter(svg, "</svg>\n") {
			if part != "" && (!strings.Contains(part, "\n<title id=") || !strings.Contains(part, "aria-labelledby=")) {
				t.Errorf("%s has no text alternative", name)
			}
		}
		if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
			t.Errorf("%s writes what is no number", name)
		}
	}
}

// TestPalette holds the colours to Okabe and Ito, Color Universal Design, 2002, revised 2008: the values
// as reprinted by Wong, Nature Methods 8 (2011) 441. White stands for what is on no list.
func TestPalette(t *testing.T) {
	okabeIto := []string{"#000000", "#E69F00", "#56B4E9", "#009E73", "#F0E442", "#0072B2", "#D55E00", "#CC79A7"}
	hatches := map[string]bool{}
	for _, f := range fills {
		if f.colour != "#FFFFFF" && !slices.Contains(okabeIto, f.colour) {
			t.Errorf("%s is none of the eight", f.colour)
		}
		if hatches[f.hatch] {
			t.Errorf("the hatching of %s stands twice: in grey they could be taken for each other", f.colour)
		}
		hatches[f.hatch] = true
	}
}

// TestMarksStayApart: no two of the first hundred materials have the same letter.
func TestMarksStayApart(t *testing.T) {
	seen := map[string]bool{Rest().Letter: true}
	for i := range 100 {
		if m := MarkOf(i); seen[m.Letter] {
			t.Errorf("letter %s stands twice", m.Letter)
		} else {
			seen[m.Letter] = true
		}
	}
}

// TestSizesAreTrue: bars are as long as their figures: a flow of twice the mass is twice as high, a range
// from 25 to 75 % is half the track.
func TestSizesAreTrue(t *testing.T) {
	c := layOut([]Node{{Name: "a", Size: 200}, {Name: "b", Size: 100}}, 0.5)
	if c.high[0] != 100 || c.high[1] != 50 {
		t.Errorf("bars of 200 and 100 at half a unit each are %v high", c.high)
	}
	s := scale{0, 1, trackFrom, trackTo}
	if got := (s.at(0.75) - s.at(0.25)) / (trackTo - trackFrom); math.Abs(got-0.5) > 1e-12 {
		t.Errorf("25 to 75 %% takes %.3f of the track", got)
	}
}

// TestLabelsDoNotCover: labels of a column keep apart, however thin their bars are.
func TestLabelsDoNotCover(t *testing.T) {
	var list []Node
	for range 12 {
		list = append(list, Node{Name: "machine with a long name", Value: "1 g", Size: 0.01})
	}
	c := layOut(list, 1)
	for i := 1; i < len(list); i++ {
		need := float64(len(c.lines[i])) * (type2 + 2)
		if c.label[i]-c.label[i-1] < need {
			t.Errorf("labels %d and %d are %.1f apart, need %.1f", i-1, i, c.label[i]-c.label[i-1], need)
		}
	}
}

func TestFold(t *testing.T) {
	for _, c := range []struct {
		in    string
		width int // letters
		n     int
		want  []string
	}{
		{"machine 3, soluble support", 18, 2, []string{"machine 3, soluble", "support"}},
		{"ABS/ASA/HIPS", 8, 2, []string{"ABS/ASA/", "HIPS"}},
		{"ABS/ASA", 8, 2, []string{"ABS/ASA"}},
		{"abcdefghijkl", 5, 2, []string{"abcde", "fghi…"}},
		{"one two three four", 5, 2, []string{"one", "two…"}},
		{"", 5, 1, []string{""}},
	} {
		if got := fold(c.in, type2, (float64(c.width)+0.1)*type2*glyph, c.n); !slices.Equal(got, c.want) {
			t.Errorf("%q in %d letters: %q, want %q", c.in, c.width, got, c.want)
		}
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      []float64
	}{{0, 10, []float64{0, 2, 4, 6, 8, 10}}, {-14.2, 21, []float64{-10, 0, 10, 20}}, {0.95, 1.35, []float64{1, 1.1, 1.2, 1.3}}, {1, 1, nil}} {
		got := ticks(c.low, c.high, 5)
		if len(got) != len(c.want) {
			t.Errorf("%v to %v: %v, want %v", c.low, c.high, got, c.want)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%v to %v: %v, want %v", c.low, c.high, got, c.want)
			}
		}
	}
}
