package show

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"brinecut/polymers"
	"brinecut/reuse/advice"
	"brinecut/sorting"
	"brinecut/sorting/balance"
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
