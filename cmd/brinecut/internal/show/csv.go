package show

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"brinecut/polymers"
	"brinecut/reuse/advice"
	"brinecut/reuse/press"
	"brinecut/sorting"
	"brinecut/sorting/balance"
	"brinecut/sorting/separation"
)

// CSV writes rows after RFC 4180: commas, CRLF, quotes where needed. Words that a spreadsheet would take
// for a formula, those that begin with = + - or @, get an apostrophe in front; figures have a decimal
// point and may be below zero.
func CSV(w io.Writer, rows [][]string) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = guarded(cell)
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// guarded is a cell that no spreadsheet reckons with.
func guarded(cell string) string {
	cell = Clean(cell)
	if _, err := strconv.ParseFloat(cell, 64); err == nil || cell == "" {
		return cell
	}
	if strings.ContainsRune("=+-@", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}

// bare is a figure of a CSV: as on the wire, empty for none.
func bare(x *float64) string {
	if x == nil {
		return ""
	}
	text, err := number(*x).MarshalJSON()
	if err != nil || string(text) == "null" {
		return ""
	}
	return string(text)
}

func bares(list ...float64) []string {
	out := make([]string, len(list))
	for i := range list {
		out[i] = bare(&list[i])
	}
	return out
}

func rangeCells(r sorting.Range) []string { return bares(r.Mean, r.Low, r.High) }

// BagsCSV is the table of bags; several lots of one are apart by semicolons.
func BagsCSV(a advice.Answer) [][]string {
	rows := [][]string{strings.Fields("bag material lots mass_g mass_low_g mass_high_g purity purity_low purity_high demonstrated marking may_be_heated route outlet worth worth_low worth_high currency")}
	for _, f := range a.Fractions {
		w := fractionOf(f)
		demonstrated := ""
		if f.Demonstrated != nil {
			demonstrated = bare(&f.Demonstrated.AtLeast)
		}
		row := append([]string{f.Name, w.Material, strings.Join(f.Lots, ";")}, rangeCells(f.Mass)...)
		row = append(append(row, rangeCells(f.Purity)...), demonstrated, f.Decision.Marking, strconv.FormatBool(f.Decision.MayBeHeated), w.Route, f.Decision.Outlet)
		rows = append(rows, append(append(row, rangeCells(f.Decision.Worth.Value)...), f.Decision.Worth.Currency))
	}
	return rows
}

// StreamsCSV is the table of streams; what is not known is empty.
func StreamsCSV(r balance.Result) [][]string {
	rows := [][]string{strings.Fields("stream material kind class measured_g reconciled_g sd_g low_g high_g z")}
	for _, s := range r.Streams {
		row := []string{s.Name, string(s.Material), string(s.Kind), string(s.Class), bare(s.Measured), bare(s.Reconciled), "", "", "", bare(s.Z)}
		if s.Reconciled != nil {
			copy(row[6:9], bares(s.SD, s.Low, s.High))
		}
		rows = append(rows, row)
	}
	return rows
}

// CutCSV is what each side of a cut is made of; rows of one label are summed.
func CutCSV(f Feed, floats, sinks separation.Product) [][]string {
	rows := [][]string{strings.Fields("side side_share material share")}
	for _, s := range []struct {
		name string
		is   separation.Product
	}{{"floats", floats}, {"sinks", sinks}} {
		labels, makeUp := summed(f.Labels, s.is.MakeUp)
		for i, l := range labels {
			rows = append(rows, append([]string{s.name, bare(&s.is.Share), l}, bares(makeUp[i])...))
		}
	}
	return rows
}

// NextCSV is what each outcome of the next test would tell; the head alone where testing is done.
func NextCSV(a advice.Answer) [][]string {
	rows := [][]string{strings.Fields("lot kind outcome probability then_mostly then_share")}
	if a.Next.Done || a.Next.Best == nil {
		return rows
	}
	b := a.Next.Best
	for _, e := range b.Outcomes {
		rows = append(rows, []string{b.Lot, string(b.Kind), e.Outcome, bare(&e.Probability), e.Main, bare(&e.Share)})
	}
	return rows
}

// RegrindCSV is the share of the output that has been melted so many times.
func RegrindCSV(r press.Passes) [][]string {
	rows := [][]string{{"melts", "share"}}
	for i, x := range r.Shares {
		rows = append(rows, append([]string{strconv.Itoa(i + 1)}, bares(x)...))
	}
	return rows
}

// ClaimCSV is the limits of purity by pieces, and by the basis of the claim.
func ClaimCSV(c Claimed) [][]string {
	rows := [][]string{strings.Fields("limits basis tested wrong confidence low high")}
	add := func(what, basis string, low, high float64) {
		rows = append(rows, append([]string{what, basis, strconv.Itoa(c.Tested), strconv.Itoa(c.Wrong)}, bares(c.Confidence, low, high)...))
	}
	add("one-sided exact", "pieces", c.AtLeast, 1)
	add("two-sided exact", "pieces", c.Exact.Low, c.Exact.High)
	add("Bayes, Jeffreys prior", "pieces", c.Bayes.Low, c.Bayes.High)
	add("demonstrated", string(c.Basis), c.Demonstrated, 1)
	return rows
}

// EvidenceCSV counts the values that rest on each kind of evidence.
func EvidenceCSV(list []polymers.Tally) [][]string {
	rows := [][]string{{"evidence", "values"}}
	for _, t := range list {
		rows = append(rows, []string{string(t.Evidence), strconv.Itoa(t.Count)})
	}
	return rows
}

// SourcesCSV is the bibliography of the handbook.
func SourcesCSV(list []polymers.Source) [][]string {
	rows := [][]string{strings.Fields("id author title year where read")}
	for _, s := range list {
		rows = append(rows, []string{s.ID, s.Author, s.Title, s.Year, s.Where, s.Read})
	}
	return rows
}

// PolymersCSV is the property table; what does not exist or is not known is empty.
func PolymersCSV(list []polymers.Material) [][]string {
	rows := [][]string{{"symbol", "name", "marking", "never_heat", "water_soluble"}}
	for _, p := range []string{"density", "glass_transition", "melt", "softens_in_water", "process"} {
		unit := "_c"
		if p == "density" {
			unit = "_g_cm3"
		}
		rows[0] = append(rows[0], p+unit, p+"_low"+unit, p+"_high"+unit)
	}
	rows[0] = append(rows[0], "dry_at_c", "dry_for_h")
	for _, m := range list {
		row := []string{string(m.Symbol), m.Name, m.Marking, strconv.FormatBool(m.NeverHeat), strconv.FormatBool(m.WaterSoluble)}
		for _, v := range []*polymers.Value{&m.Density, m.GlassTransition, m.Melt, m.Softens, m.Process} {
			if v == nil {
				row = append(row, "", "", "")
				continue
			}
			row = append(row, bares(v.Typical, v.Low, v.High)...)
		}
		dry := []string{"", ""}
		if d, ok := dryingFirst(m); ok {
			dry = bares(d.TempC.Typical, d.Hours.Typical)
		}
		rows = append(rows, append(row, dry...))
	}
	return rows
}
