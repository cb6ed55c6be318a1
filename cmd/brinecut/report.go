package main

import (
	"bytes"
	"path/filepath"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/page"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/reuse/advice"
)

func (a *app) reportPage() *cobra.Command {
	var f labelFlags // the words of the hand-over sheets
	var chart bool
	c := &cobra.Command{
		Use:   "report BIN.toml -o FILE.html",
		Short: "Everything on one page for a browser or a printer, with pictures",
		Long: `Write one HTML page that holds everything: the answer first, pictures, steps with their cautions, how each
lot was found out, sources, assumptions, and to print the bench chart of this bin and the hand-over sheet of
each bag. Nothing in it is fetched from elsewhere. With --chart the bench chart alone, as a page of text.`,
		Example: `  brinecut report bin.toml -o report.html
  brinecut report bin.toml -o report.html --date "25 November" --rinses "twice in plain water"
  brinecut report bin.toml --chart`,
		Args: args(1, 1),
		RunE: func(c *cobra.Command, given []string) error {
			ans, err := a.judgeWith(given[0], advice.Options{Trace: true, Chart: true})
			if err != nil {
				return err
			}
			if chart {
				return a.answer(show.ChartJSON(ans.Chart), func(p *show.Page) { show.Chart(p, ans) })
			}
			if err := need(c, "output"); err != nil {
				return err
			}
			return a.writeReport(&f, given[0], ans)
		},
		ValidArgsFunction: completeBin,
	}
	c.Flags().StringVarP(&f.out, "output", "o", "", "the HTML page to write; - is standard output")
	c.Flags().BoolVar(&chart, "chart", false, "the bench chart alone, as text")
	f.defineWords(c)
	completes(c, map[string]offers{"output": files("html")})
	return c
}

func (a *app) writeReport(f *labelFlags, path string, ans advice.Answer) error {
	job := page.ReportJob{Answer: ans, File: filepath.Base(path), Units: a.units.show(), Names: a.names}
	ids := idsOf(ans)
	for _, b := range batches(ans) {
		job.Sheets = append(job.Sheets, b.sheet(f, ans.Bin, ids))
	}
	a.besideSheets(job.Sheets)
	html, parts, err := page.Report(job)
	if err != nil {
		return cannot("could not make the page: "+err.Error(), "")
	}
	if !f.toStdout() && samePath(f.out, path) {
		return wrongUse("the report would be written over the bin file", "name another file behind -o")
	}
	if err := a.writeWhole(f.out, html, reportFile); err != nil {
		return err
	}
	if f.toStdout() { // the result itself is there
		return nil
	}
	r := show.Report{File: f.out}
	for _, p := range parts {
		r.Parts = append(r.Parts, p.Head)
	}
	return a.answer(show.ReportJSON(r, ans), func(p *show.Page) { show.ReportText(p, r) })
}

// isReport tells a page of ours, which may be written over, from any other file.
func isReport(old []byte) bool {
	return bytes.Contains(old[:min(len(old), 2000)], []byte(`<meta name="generator" content="brinecut report">`))
}

// reportFile and pdfFile are what a command may write anew each time.
var (
	reportFile = wholeFile{".html", "report of this tool", isReport}
	pdfFile    = wholeFile{".pdf", "PDF", func(old []byte) bool { return bytes.HasPrefix(old, []byte("%PDF-")) }}
)
