package main

import (
	"errors"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/quantity"
)

// labelFlags are what label reads.
type labelFlags struct {
	what, out                  string
	sheet, sheets, paper, roll string
	start                      int
	offsetX, offsetY           string
	calibrate                  bool
	handover                   string
	date, rinses, packaging    string
}

func (a *app) label() *cobra.Command {
	var f labelFlags
	c := &cobra.Command{
		Use:   "label BIN.toml -o FILE.pdf",
		Short: "Labels to print: for bags, for lots not yet sorted, for the boxes of the next build",
		Long: `Print labels as PDF, and behind those of bags the hand-over sheet of each batch. Without any [[bag]] in the
file the labels are planned ones, one a fraction, and say so. FILE.pdf is written anew each time; a file that
is no PDF is left alone. Print at 100 %, never fitted to the page. With --units us pounds stand behind the kilograms.`,
		Example: `  brinecut label bin.toml -o labels.pdf
  brinecut label bin.toml --what lots --sheet a4-2x4-99.1x67.7 --start-at 3 -o lots.pdf
  brinecut label bin.toml --roll "100 x 150 mm" -o roll.pdf
  brinecut label --calibrate --sheet a4-2x4-99.1x67.7 -o calibration.pdf`,
		Args:              args(0, 1),
		RunE:              func(c *cobra.Command, given []string) error { return a.printLabels(c, &f, given) },
		ValidArgsFunction: completeBin,
	}
	f.define(c)
	completes(c, map[string]offers{"output": files("pdf"), "what": fixed("bags", "lots", "boxes"), "paper": fixed("A4", "Letter"), "sheet": completeSheets,
		"sheets": files("toml"), "handover": fixed("last", "only", "none")})
	return c
}

func (f *labelFlags) define(c *cobra.Command) {
	s := c.Flags()
	s.StringVarP(&f.out, "output", "o", "", "the PDF to write; - is standard output")
	s.StringVar(&f.what, "what", "bags", "bags, lots or boxes")
	s.StringVar(&f.paper, "paper", "A4", "A4 or Letter")
	s.StringVar(&f.sheet, "sheet", "", "label sheet by its dimensions; four to a page of plain paper, to cut")
	s.StringVar(&f.sheets, "sheets", "", "a TOML file with label sheets of your own")
	s.StringVar(&f.roll, "roll", "", `one label a page instead, as "62 x 100 mm"`)
	s.IntVar(&f.start, "start-at", 1, "first label to use on the first sheet, along the rows")
	s.StringVar(&f.offsetX, "offset-x", "0 mm", `print further right, as "1.5 mm"; "-1.5 mm" is left`)
	s.StringVar(&f.offsetY, "offset-y", "0 mm", "print further down; negative is up")
	s.BoolVar(&f.calibrate, "calibrate", false, "a page to measure the printer with, instead of labels")
	s.StringVar(&f.handover, "handover", "last", "hand-over sheets of bags: last (behind the labels; none on a roll), only, none")
	f.defineWords(c)
}

// defineWords are the flags for what only its user knows of a batch.
func (f *labelFlags) defineWords(c *cobra.Command) {
	s := c.Flags()
	s.StringVar(&f.date, "date", "", "printed as it is written here; else a line to fill in")
	s.StringVar(&f.rinses, "rinses", "", `how pieces were rinsed, as "twice in plain water"`)
	s.StringVar(&f.packaging, "packaging", "", `what the batch is in, as "closed bags"`)
}

func (a *app) printLabels(c *cobra.Command, f *labelFlags, given []string) error {
	if err := need(c, "output"); err != nil {
		return err
	}
	o, err := f.options()
	if err != nil {
		return err
	}
	if c.Flags().Changed("handover") && f.what != "bags" {
		return wrongUse("a hand-over sheet goes with bags, not with "+f.what, "leave --handover or --what out")
	}
	if f.calibrate {
		r, err := paper.Calibrate(o)
		if err != nil {
			return paperFault(err)
		}
		return a.printed(f, o, show.Labels{What: "calibration"}, r)
	}
	if len(given) == 0 {
		return wrongUse("something is missing behind "+c.CommandPath(), "use: "+c.UseLine())
	}
	job, listed, err := a.labelJob(f, given[0])
	if err != nil {
		return err
	}
	if len(job.Labels)+len(job.Handovers) == 0 {
		return cannot("there is nothing to label: the file names no "+f.what, "brinecut sort "+given[0]+" shows what it holds")
	}
	a.beside(&job)
	r, err := paper.Print(job, o)
	if err != nil {
		return paperFault(err)
	}
	for i, at := range r.Places {
		listed.Labels[i].Page, listed.Labels[i].Row, listed.Labels[i].Column = at.Page, at.Row, at.Column
	}
	if !f.toStdout() && samePath(f.out, given[0]) {
		return wrongUse("the labels would be written over the bin file", "name another file behind -o")
	}
	return a.printed(f, o, listed, r)
}

// printed writes the file and says what is in it.
func (a *app) printed(f *labelFlags, o paper.Options, l show.Labels, r paper.Result) error {
	if err := a.writeWhole(f.out, r.PDF, pdfFile); err != nil {
		return err
	}
	l.File, l.Sheet, l.Pages, l.HandoverPages = f.out, o.Sheet.Name, r.Pages, r.HandoverPages
	for _, n := range r.Notes {
		l.Notes = append(l.Notes, show.LabelNote{About: n.About, Says: n.Says, Cure: n.Cure})
		a.say("note", n.About+": "+n.Says+"; "+n.Cure)
	}
	if f.toStdout() { // the result itself is there
		return nil
	}
	return a.answer(show.LabelsJSON(l), func(p *show.Page) { show.LabelsText(p, l) })
}

func (f *labelFlags) toStdout() bool { return f.out == "-" }

func samePath(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// paperFault puts a refusal of the paper into words.
func paperFault(err error) error {
	var r *paper.Refusal
	if errors.As(err, &r) {
		return wrongUse(r.Fault, r.Right)
	}
	return cannot("could not make the PDF: "+err.Error(), "")
}

// options reads what to print on.
func (f *labelFlags) options() (paper.Options, error) {
	var o paper.Options
	own := ""
	if f.sheets != "" {
		src, err := os.ReadFile(f.sheets)
		if err != nil {
			return o, cannot("could not read the sheets: "+err.Error(), "")
		}
		own = string(src)
	}
	list, err := paper.Sheets(own)
	if err != nil {
		return o, paperFault(err)
	}
	var names []string
	for _, s := range list {
		names = append(names, s.Name)
	}
	if o.Plain, err = plainPaper(list, f.paper); err != nil {
		return o, err
	}
	if o.Sheet, err = f.pick(list, names, o.Plain); err != nil {
		return o, err
	}
	if o.OffsetX, err = readOffset("--offset-x", f.offsetX); err != nil {
		return o, err
	}
	if o.OffsetY, err = readOffset("--offset-y", f.offsetY); err != nil {
		return o, err
	}
	if f.start < 1 {
		return o, wrongUse("--start-at: labels are counted from 1", "the first label of the sheet is 1")
	}
	o.Start = f.start
	choice := map[string][]string{"--what": {"bags", "lots", "boxes"}, "--handover": {"last", "only", "none"}}
	for flag, given := range map[string]string{"--what": f.what, "--handover": f.handover} {
		if !slices.Contains(choice[flag], given) {
			return o, wrongUse(flag+": there is no "+quote(given), didYouMean(given, choice[flag], "it takes "+strings.Join(choice[flag], ", ")))
		}
	}
	return o, nil
}

func plainPaper(list []paper.Sheet, name string) (paper.Sheet, error) {
	s, ok := paper.Default(list, name)
	if !ok {
		return s, wrongUse("--paper: there is no "+quote(name), "it takes A4, Letter")
	}
	return s, nil
}

// pick is the roll, the sheet that is named, or the default of the paper.
func (f *labelFlags) pick(list []paper.Sheet, names []string, plain paper.Sheet) (paper.Sheet, error) {
	switch {
	case f.roll != "" && f.sheet != "":
		return plain, wrongUse("a sheet and a roll are both named", "leave one of the two out")
	case f.roll != "":
		w, h, ok := readRoll(f.roll)
		if !ok {
			return plain, wrongUse("--roll: this is no width by a height (read "+quote(f.roll)+")", `write it as "62 x 100 mm"`)
		}
		s, err := paper.Roll(w, h)
		if err != nil {
			return plain, paperFault(err)
		}
		return s, nil
	case f.sheet == "":
		return plain, nil
	}
	i := slices.Index(names, f.sheet)
	if i < 0 {
		return plain, wrongUse("there is no sheet "+quote(f.sheet), didYouMean(f.sheet, names, "sheets are "+strings.Join(names, ", ")))
	}
	return list[i], nil
}

// readRoll reads "62 x 100 mm"; one unit stands for both, and mm for none.
func readRoll(s string) (w, h float64, ok bool) {
	first, second, ok := strings.Cut(strings.ReplaceAll(s, "×", "x"), "x")
	if !ok {
		return 0, 0, false
	}
	unit := strings.TrimLeft(strings.TrimSpace(second), "0123456789., ")
	w, errW := readMillimeters(first, unit)
	h, errH := readMillimeters(second, "")
	return w, h, errW == nil && errH == nil && w > 0 && h > 0
}

func readOffset(flag, s string) (float64, error) {
	far, back := strings.CutPrefix(strings.TrimSpace(s), "-")
	x, err := readMillimeters(far, "")
	if back {
		x = -x
	}
	if err != nil {
		return 0, wrongUse(flag+": this is no length (read "+quote(s)+")", `write it as "1.5 mm"; negative is left, or up`)
	}
	return x, nil
}

// readMillimeters reads a length in its own unit, else in the one given, else in mm.
func readMillimeters(s, unit string) (float64, error) {
	s = strings.TrimSpace(s)
	if _, err := strconv.ParseFloat(s, 64); err == nil {
		if unit == "" {
			unit = "mm"
		}
		s += " " + unit
	}
	q, err := quantity.Parse[quantity.Millimeter](s)
	return float64(q.Value), err
}
