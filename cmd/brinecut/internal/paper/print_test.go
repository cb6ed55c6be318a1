package paper

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"brinecut/reuse"
)

// tool runs a program that reads PDF or pictures; a test that needs one that is not here is skipped.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed: apt-get install poppler-utils zbar-tools qpdf", name)
	}
	out, err := exec.Command(path, args...).Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// pages renders a file, in grey, one picture a page.
func pages(t *testing.T, pdf []byte, dpi int) []*image.Gray {
	t.Helper()
	dir := t.TempDir()
	file := filepath.Join(dir, "x.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	tool(t, "pdftoppm", "-gray", "-r", fmt.Sprint(dpi), file, filepath.Join(dir, "p"))
	files, _ := filepath.Glob(filepath.Join(dir, "p*.pgm"))
	slices.Sort(files)
	var out []*image.Gray
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var w, h, most int
		if _, err := fmt.Sscanf(string(src[:40]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil || most != 255 {
			t.Fatalf("%s: %v", f, err)
		}
		out = append(out, &image.Gray{Pix: src[len(src)-w*h:], Stride: w, Rect: image.Rect(0, 0, w, h)})
	}
	return out
}

func dark(img *image.Gray, x, y int) bool {
	return image.Pt(x, y).In(img.Rect) && img.GrayAt(x, y).Y < 0x80
}

// asFile writes a picture for a program to read.
func asFile(t *testing.T, img image.Image) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "seen.png")
	w, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(png.Encode(w, img), w.Close()); err != nil {
		t.Fatal(err)
	}
	return file
}

// read gives what zbarimg finds in one label of a page.
func read(t *testing.T, img *image.Gray, s Sheet, at Place, dpi float64) string {
	t.Helper()
	r := s.at(at, Options{})
	px := func(mm float64) int { return int(mm / 25.4 * dpi) }
	file := asFile(t, img.SubImage(image.Rect(px(r.x), px(r.y), px(r.x+r.w), px(r.y+r.h))))
	return strings.TrimSpace(tool(t, "zbarimg", "-q", "--raw", "-Sdisable", "-Sqrcode.enable", file))
}

// readPage gives what zbarimg finds on a whole page of n codes: with its densest raster of scan lines, then
// with coarser ones until nothing is missing, for with many codes in view it takes the corner marks of one
// for another's, and on each raster for others.
func readPage(t *testing.T, img *image.Gray, n int) map[string]bool {
	t.Helper()
	file := asFile(t, img)
	found := map[string]bool{}
	for raster := 0; raster < 9 && len(found) < n; raster++ {
		out, _ := exec.Command("zbarimg", "-q", "--raw", "-Sdisable", "-Sqrcode.enable",
			fmt.Sprintf("-Sx-density=%d", 1+raster/3), fmt.Sprintf("-Sy-density=%d", 1+raster%3), file).Output() // fails where it finds none
		for _, id := range strings.Fields(string(out)) {
			found[id] = true
		}
	}
	return found
}

func sample(head, stop, name string, i int) Label {
	return Label{Head: head, Stop: stop, Name: name, Mass: "1.43 kg net, weighed", Count: fmt.Sprintf("bag %d of 9", i), ID: IDs([]string{fmt.Sprintf("%s %d", name, i)})[0],
		Facts: []Fact{{Name: "Identified by", Value: "hot-water, float (bench tests), 18 pieces", Keep: true}, {Name: "Other polymers", Value: "not classified", Keep: true},
			{Name: "Purity shown", Value: "at least 95.1 % at 95 % confidence, one-sided (60 pieces at random, 0 wrong)", Keep: true}, {Name: "Flame retardant", Value: "unknown", Keep: true},
			{Name: "Not for", Value: reuse.NotFor}, {Name: "Date"}, {Name: "Supplier", Value: name}, {Name: "Declaration", Value: reuse.Declaration}}}
}

// hostile names: what a spreadsheet, a shell, a browser or the PDF format itself would take for its own,
// other alphabets, marks that turn the reading direction, and very long ones.
var hostile = []string{`=SUM(A1:A9)`, `../../etc/passwd`, `<script>alert("x")</script>`, `\(PDF) Tj ET %%EOF`, "Κουτί ΑΣΦ ά ή ώ", "čšž ğşı ąęł ÅØß", "Ящик 3",
	"a\u202eb\u0000c\nd", "\U0001F600 箱", strings.Repeat("Wwww", 80), strings.Repeat("long name ", 40), "", " "}

var heads = [][2]string{{">PETG<", ""}, {"NOT IDENTIFIED", "DO NOT HEAT"}, {">PC+ABS-(GF25+MD15)FR(40)<", "DO NOT HEAT"}, {"ABS or ASA or HIPS", ""}, {">PVAL<", ""},
	{strings.Repeat("W", 90), "DO NOT HEAT"}}

// job has every head with every name.
func job() Job {
	var j Job
	for _, h := range heads {
		for _, n := range hostile {
			j.Labels = append(j.Labels, sample(h[0], h[1], n, len(j.Labels)))
		}
	}
	return j
}

// all the sheets that are tried: the built-in ones and rolls.
func sheetsTried(t *testing.T) []Sheet {
	list, err := Sheets("")
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range [][2]float64{{62, 100}, {62, 29}, {100, 150}, {29, 90}, {20, 20}} {
		s, err := Roll(size[0], size[1])
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, s)
	}
	return list
}

func printed(t *testing.T, j Job, o Options) Result {
	t.Helper()
	r, err := Print(j, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestSameBytes: the same input gives the same file, and no date of today is in it.
func TestSameBytes(t *testing.T) {
	j := job()
	j.Handovers = []Handover{{Title: "t", Batch: "b", Head: ">PLA<", Fields: []reuse.Field{{Name: "Colour", Value: "not recorded", Need: "required", Basis: "EN 15347"}}}}
	a, b := printed(t, j, Options{}), printed(t, j, Options{})
	if !bytes.Equal(a.PDF, b.PDF) {
		t.Error("two files of one input differ")
	}
	if !bytes.Contains(a.PDF, []byte("/CreationDate (D:20000101000000)")) {
		t.Error("the file's date is not the fixed one")
	}
}

// TestNothingOverflows: whatever the names, nothing is printed outside a label's inset, on any sheet.
func TestNothingOverflows(t *testing.T) {
	for _, s := range sheetsTried(t) {
		s.Cut = false
		r := printed(t, job(), Options{Sheet: s, OffsetX: 0.7, OffsetY: -0.4})
		imgs := pages(t, r.PDF, 50)
		for n, img := range imgs {
			if x, y, out := outside(img, s, 50); out {
				t.Errorf("%s, page %d: black at %.1f, %.1f mm", s.Name, n+1, x, y)
			}
		}
	}
}

// outside finds a black dot that lies in no label's inset, with a dot's width to spare.
func outside(img *image.Gray, s Sheet, dpi float64) (x, y float64, found bool) {
	mm := 25.4 / dpi
	b := img.Bounds()
	for py := b.Min.Y; py < b.Max.Y; py++ {
		for px := b.Min.X; px < b.Max.X; px++ {
			if !dark(img, px, py) {
				continue
			}
			x, y = (float64(px)+0.5)*mm-0.7, (float64(py)+0.5)*mm+0.4
			c, r := int((x-s.Left)/s.PitchX), int((y-s.Top)/s.PitchY)
			in := s.at(Place{Row: r + 1, Column: c + 1}, Options{}).inset(s.Inset - mm)
			if x < in.x || y < in.y || x > in.x+in.w || y > in.y+in.h {
				return x, y, true
			}
		}
	}
	return 0, 0, false
}

// TestCodesDecode: at 150 dpi zbarimg reads the code of every label, as a scanner held to it would, and
// it says what stands beside it.
func TestCodesDecode(t *testing.T) {
	const dpi = 150
	for _, s := range sheetsTried(t) {
		if s.Width < 25 {
			continue // no room for a code of 17.4 mm, which is noted
		}
		var j Job
		for i, n := range hostile {
			j.Labels = append(j.Labels, sample(heads[i%2][0], heads[i%2][1], n, i))
		}
		r := printed(t, j, Options{Sheet: s})
		imgs := pages(t, r.PDF, dpi)
		for i, l := range j.Labels {
			if got := read(t, imgs[r.Places[i].Page-1], s, r.Places[i], dpi); got != l.ID {
				t.Errorf("%s: read %q, printed %q", s.Name, got, l.ID)
			}
		}
	}
}

// TestWholePagesDecode: of a full sheet of every kind, rendered at 150 dpi and given to zbarimg as one
// picture, every code is read, and none that was not printed.
func TestWholePagesDecode(t *testing.T) {
	tool(t, "zbarimg", "--version")
	for _, s := range sheetsTried(t) {
		if s.Width < 25 {
			continue
		}
		var j Job
		want := map[string]bool{}
		for i := range s.Columns * s.Rows {
			l := sample(heads[i%2][0], heads[i%2][1], fmt.Sprintf("lot %d", i), i)
			j.Labels = append(j.Labels, l)
			want[l.ID] = true
		}
		imgs := pages(t, printed(t, j, Options{Sheet: s}).PDF, 150)
		if len(imgs) != 1 {
			t.Fatalf("%s: %d pages", s.Name, len(imgs))
		}
		if got := readPage(t, imgs[0], len(want)); !maps.Equal(got, want) {
			t.Errorf("%s: read %d of %d: %v", s.Name, len(got), len(want), slices.Sorted(maps.Keys(got)))
		}
	}
}

// TestHeadIsTenMillimetres: on a label with room the letters of the material are 10 mm high or more,
// measured on the page; the first row of black in the inset is their top.
func TestHeadIsTenMillimetres(t *testing.T) {
	const dpi = 300
	for _, s := range sheetsTried(t) {
		for _, head := range []string{"PETG", "NOT IDENTIFIED"} {
			r := printed(t, Job{Labels: []Label{sample(head, "", "x", 1)}}, Options{Sheet: s})
			if s.Width < 62 || s.Height < 67 {
				if len(r.Notes) == 0 {
					t.Errorf("%s has smaller letters and does not say so", s.Name)
				}
				continue
			}
			if s.Width < 90 && head != "PETG" {
				continue // IDENTIFIED is wider than a roll of 62 mm at that height, which is noted
			}
			imgs := pages(t, r.PDF, dpi)
			if mm := firstBlack(imgs[0], s, dpi); mm < 10 {
				t.Errorf("%s: %s is %.2f mm high", s.Name, head, mm)
			}
		}
	}
}

// firstBlack is the height of the uppermost black rows of the first label, mm, in a column strip at its
// left edge: the stem of its first letter.
func firstBlack(img *image.Gray, s Sheet, dpi float64) float64 {
	px := func(mm float64) int { return int(mm / 25.4 * dpi) }
	from, to := px(s.Left+s.Inset), px(s.Left+s.Inset+4)
	row := func(y int) bool {
		for x := from; x < to; x++ {
			if dark(img, x, y) {
				return true
			}
		}
		return false
	}
	y := px(s.Top + s.Inset - 0.5)
	for !row(y) && y < img.Bounds().Dy() {
		y++
	}
	top := y
	for row(y) {
		y++
	}
	return float64(y-top) / dpi * 25.4
}

// TestCalibrationPage: the rulers are 100 mm on paper, and the outlines lie where the table says.
func TestCalibrationPage(t *testing.T) {
	const dpi = 300
	px := func(mm float64) int { return int(mm / 25.4 * dpi) }
	near := func(img *image.Gray, x, y float64) bool { // a line within 0.15 mm
		for d := -2; d <= 2; d++ {
			if dark(img, px(x)+d, px(y)) || dark(img, px(x), px(y)+d) {
				return true
			}
		}
		return false
	}
	list, _ := Sheets("")
	for _, s := range list {
		o := Options{Sheet: s, OffsetX: 1.5, OffsetY: 1}
		if s.Cut || s.Left < 1.6 {
			o.OffsetX, o.OffsetY = 0, 0
		}
		r, err := Calibrate(o)
		if err != nil {
			t.Fatal(err)
		}
		imgs := pages(t, r.PDF, dpi)
		y := s.Top + float64((s.Rows-1)/2)*s.PitchY + s.Height*0.4
		row := 0 // the ruler's line is the longest dark run at its height
		for x := 0; x < imgs[0].Bounds().Dx(); x++ {
			if dark(imgs[0], x, px(y)) || dark(imgs[0], x, px(y)-1) || dark(imgs[0], x, px(y)+1) {
				row++
			}
		}
		if mm := float64(row) / dpi * 25.4; mm < 100 || mm > 104 { // with the label edges it crosses
			t.Errorf("%s: the ruler is %.1f mm", s.Name, mm)
		}
		for row := range s.Rows {
			for column := range s.Columns {
				left, top := s.Left+float64(column)*s.PitchX+o.OffsetX, s.Top+float64(row)*s.PitchY+o.OffsetY
				seen := func(edge func(at float64) bool) bool {
					return slices.ContainsFunc([]float64{0.1, 0.3, 0.5, 0.7, 0.9}, edge)
				}
				if left > 1 && !seen(func(at float64) bool { return near(imgs[0], left, top+s.Height*at) }) ||
					top > 1 && !seen(func(at float64) bool { return near(imgs[0], left+s.Width*at, top) }) {
					t.Errorf("%s: no outline of label %d, %d", s.Name, row+1, column+1)
				}
			}
		}
	}
}

// TestFilesAreValid: qpdf finds nothing wrong, and the text reads back.
func TestFilesAreValid(t *testing.T) {
	j := job()
	fields := []reuse.Field{{Name: "Colour", Value: "not recorded", Need: "required", Basis: "EN 15347"}}
	var bags []Bag
	for i, n := range hostile {
		fields = append(fields, reuse.Field{Name: "Field " + fmt.Sprint(i), Value: n, Need: "optional", Basis: n})
		bags = append(bags, Bag{Name: n, ID: "A1+W", Gross: "1.45 kg", Net: "1.43 kg", Lots: n})
	}
	j.Handovers = []Handover{{Title: hostile[9], Batch: "PETG", Head: ">PETG<", Fields: slices.Concat(fields, fields, fields), Bags: slices.Concat(bags, bags, bags)}}
	r := printed(t, j, Options{})
	file := filepath.Join(t.TempDir(), "x.pdf")
	if err := os.WriteFile(file, r.PDF, 0o600); err != nil {
		t.Fatal(err)
	}
	tool(t, "qpdf", "--check", file)
	text := tool(t, "pdftotext", "-layout", file, "-")
	for _, want := range []string{">PETG<", "IDENTIFIED", "DO NOT HEAT", "1.43 kg net, weighed", "=SUM(A1:A9)", "../../etc/passwd", `<script>alert("x")</script>`,
		`\(PDF) Tj ET %%EOF`, "Κουτί ΑΣΦ ά ή ώ", "čšž ğşı ąęł ÅØß", "Ящик 3", "abc d", "Received by"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on paper", want)
		}
	}
	if strings.ContainsAny(text, "\u202e\x00") {
		t.Error("a control character is on paper")
	}
	if r.HandoverPages < 2 {
		t.Errorf("%d fields and %d bags on %d page", 3*len(fields), 3*len(bags), r.HandoverPages)
	}
	imgs := pages(t, r.PDF, 50)
	margins := Sheet{Name: "hand-over", Width: 210, Height: 297, PitchX: 210, PitchY: 297, Inset: 10}
	for n, img := range imgs[r.Pages-r.HandoverPages:] {
		if x, y, out := outside(img, margins, 50); out {
			t.Errorf("hand-over page %d: black at %.1f, %.1f mm", n+1, x, y)
		}
	}
}

// TestStartAt fills a used sheet from where it is told, then whole ones.
func TestStartAt(t *testing.T) {
	j := Job{Labels: []Label{sample("PLA", "", "a", 1), sample("PLA", "", "b", 2), sample("PLA", "", "c", 3)}}
	r := printed(t, j, Options{Start: 3})
	if want := []Place{{1, 2, 1}, {1, 2, 2}, {2, 1, 1}}; !slices.Equal(r.Places, want) || r.Pages != 2 {
		t.Errorf("places %v on %d pages, want %v", r.Places, r.Pages, want)
	}
}
