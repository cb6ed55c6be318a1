package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"brinecut/cmd/brinecut/internal/ledger"
)

// readColumns reads a CSV file: the rows below its head, each with the named columns in that order. The
// columns may stand in any order, separated by commas, or by semicolons where the head has more of them.
func readColumns(path string, names []string) ([][]string, error) {
	src, err := ledger.Read(path)
	if err != nil {
		return nil, err
	}
	in := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))))
	in.TrimLeadingSpace, in.Comment = true, '#'
	if head, _, _ := bytes.Cut(src, []byte("\n")); bytes.Count(head, []byte(";")) > bytes.Count(head, []byte(",")) {
		in.Comma = ';'
	}
	first := "its first line names " + strings.Join(names, ",")
	rows, err := in.ReadAll()
	if err != nil || len(rows) < 2 {
		return nil, wrongUse(path+" holds no table", first+", then one line a row")
	}
	at := make([]int, len(names))
	for i, name := range names {
		at[i] = slices.IndexFunc(rows[0], func(s string) bool { return strings.EqualFold(strings.TrimSpace(s), name) })
		if at[i] < 0 {
			return nil, wrongUse(path+" has no column "+name, first)
		}
	}
	out := make([][]string, len(rows)-1)
	for n, row := range rows[1:] {
		for _, i := range at {
			out[n] = append(out[n], strings.TrimSpace(row[i]))
		}
	}
	return out, nil
}

// figure reads a finite number, with or without a percent sign.
func figure(s string) (float64, error) {
	x, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "%")), 64)
	if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
		err = strconv.ErrRange
	}
	return x, err
}

// rowFault names a row of a table, as a line of the file counts.
func rowFault(path string, n int, what, right string) error {
	return wrongUse(fmt.Sprintf("%s: row %d: %s", path, n+2, what), right)
}
