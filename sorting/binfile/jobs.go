package binfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"

	"brinecut/polymers"
	"brinecut/sorting"
)

// jobColumns are the columns of a job list; others may stand beside them.
var jobColumns = []string{"machine", "material", "mass_g", "hours", "outcome"}

// jobs holds what is found while a job list is read.
type jobs struct {
	reader
	comma rune
	at    map[string]int // column by name
}

// ReadJobs reads a job list: a CSV with the columns machine, material, mass_g (grams), hours and outcome
// (ok or failed) in any order, parted by comma, semicolon or tab. Materials come back by their symbol.
// The error is of type Faults.
func ReadJobs(name string, src []byte) ([]sorting.Job, error) {
	j := &jobs{reader: reader{file: name}, at: map[string]int{}}
	if !j.encoding(src) {
		return nil, j.faults
	}
	src = bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))
	j.comma = sniff(src)
	in := csv.NewReader(bytes.NewReader(src))
	in.Comma, in.FieldsPerRecord, in.TrimLeadingSpace = j.comma, -1, j.comma != '\t'
	head, err := in.Read()
	switch {
	case err == io.EOF:
		j.fault(Fault{Line: 1, Wrong: "the list is empty", Right: "write the columns " + strings.Join(jobColumns, ", ") + " in its first line"})
	case err != nil:
		j.broken(err)
	default:
		j.columns(head)
	}
	if len(j.faults) > 0 {
		return nil, j.faults
	}
	rows := j.rows(in, len(head))
	if len(j.faults) > 0 {
		return nil, j.faults
	}
	return rows, nil
}

// sniff picks the sign between columns: the one its first line has most of.
func sniff(src []byte) rune {
	line, _, _ := bytes.Cut(src, []byte("\n"))
	best, most := ',', 0
	for _, c := range []rune{',', ';', '\t'} {
		if n := bytes.Count(line, []byte(string(c))); n > most {
			best, most = c, n
		}
	}
	return best
}

func (j *jobs) broken(err error) {
	f := Fault{Line: 1, Wrong: "this line cannot be read as a CSV", Right: `write a quote inside quotes twice: "3"" nozzle"`}
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		f.Line, f.Key = pe.StartLine, fmt.Sprintf("column %d", pe.Column)
	}
	j.fault(f)
}

// columns finds the columns and refuses missing and doubled ones.
func (j *jobs) columns(head []string) {
	for i, h := range head {
		name := strings.ToLower(strings.TrimSpace(h))
		if first, ok := j.at[name]; ok && name != "" {
			j.fault(Fault{Line: 1, Key: fmt.Sprintf("column %d", i+1), Wrong: fmt.Sprintf("this column is there already, as column %d", first+1), Read: h, Right: "keep one of the two"})
			continue
		}
		j.at[name] = i
	}
	for _, c := range jobColumns {
		if _, ok := j.at[c]; ok {
			continue
		}
		right := "the first line names " + strings.Join(jobColumns, ", ")
		if near := nearest(c, head); near != "" {
			right = fmt.Sprintf("did you mean it by %s? write %q", quoted(near), c)
		}
		j.fault(Fault{Line: 1, Wrong: fmt.Sprintf("the column %q is missing", c), Right: right})
	}
}

func (j *jobs) rows(in *csv.Reader, width int) []sorting.Job {
	var out []sorting.Job
	for {
		row, err := in.Read()
		if err == io.EOF {
			return out
		}
		if err != nil {
			j.broken(err)
			return nil
		}
		line, _ := in.FieldPos(0)
		if len(row) != width {
			j.fault(Fault{Line: line, Wrong: fmt.Sprintf("this line has %d columns and the first has %d", len(row), width), Read: strings.Join(row, string(j.comma)), Right: "give each line the same columns; a comma inside a text needs quotes round it"})
			continue
		}
		out = append(out, j.job(line, row))
	}
}

// job reads one row.
func (j *jobs) job(line int, row []string) sorting.Job {
	f := func(name string) string { return strings.TrimSpace(row[j.at[name]]) }
	job := sorting.Job{Line: line, Machine: f("machine"), Material: f("material"), Failed: f("outcome") == "failed"}
	refuse := func(name, wrong, right string) {
		j.fault(Fault{Line: line, Key: fmt.Sprintf("column %d (%s)", j.at[name]+1, name), Wrong: wrong, Read: f(name), Right: right})
	}
	if shown(job.Machine, maxName+1) != job.Machine {
		refuse("machine", "this name is too long, or has a character that cannot be seen", fmt.Sprintf("write up to %d characters", maxName))
	}
	sym, err := polymers.Lookup(job.Material)
	if err != nil {
		refuse("material", "there is no such material", materialHint(err))
	}
	job.Material = string(sym)
	if o := f("outcome"); o != "ok" && o != "failed" {
		refuse("outcome", "there is no such outcome", instead(o, []string{"ok", "failed"}))
	}
	for _, x := range []struct {
		name string
		to   *float64
	}{{"mass_g", (*float64)(&job.Mass)}, {"hours", &job.Hours}} {
		v, wrong := j.number(f(x.name))
		if wrong != "" {
			refuse(x.name, wrong, "write a number from 0 up with a decimal point, such as 12.5")
		}
		*x.to = v
	}
	return job
}

var reDecimal = regexp.MustCompile(`^\d+(?:\.\d+)?(?:[eE][+-]?\d+)?$`)

// number reads a cell; a decimal comma is taken where commas do not part the columns and it cannot be a
// thousand.
func (j *jobs) number(s string) (v float64, wrong string) {
	if before, after, ok := strings.Cut(s, ","); ok && j.comma != ',' && (len(after) != 3 || before == "0") {
		s = before + "." + after
	}
	if !reDecimal.MatchString(s) {
		return 0, "this is not a plain number"
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) || v > 1e9 {
		return 0, "this number is too large"
	}
	return v, ""
}
