package main

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"brinecut/cmd/brinecut/internal/show"
)

func (a *app) man() *cobra.Command {
	return &cobra.Command{
		Use:   "man FOLDER",
		Short: "Write the manual pages, one a command, for man to read",
		Long: `Write the manual pages of every command into a folder that is there, over those of the same names. The
same program writes the same bytes: no clock is read, and the date of a page is that of the commit the
program was built from, where the build knows it.`,
		Example: `  mkdir -p ~/.local/share/man/man1
  brinecut man ~/.local/share/man/man1
  man brinecut-record`,
		Args: args(1, 1),
		RunE: func(c *cobra.Command, given []string) error {
			pages, err := manPages(c.Root())
			if err != nil {
				return cannot("could not make the manual pages: "+err.Error(), "")
			}
			return a.writeMan(given[0], pages)
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		},
	}
}

// writeMan puts pages into a folder.
func (a *app) writeMan(dir string, pages []manPage) error {
	for _, p := range pages {
		if err := os.WriteFile(filepath.Join(dir, p.name), p.text, 0o644); err != nil {
			return cannot("could not write "+filepath.Join(dir, p.name)+": "+err.Error(), "name a folder that is there and may be written to")
		}
	}
	m := show.Manual{Folder: dir}
	for _, p := range pages {
		m.Pages = append(m.Pages, p.name)
	}
	return a.answer(m, func(p *show.Page) { show.ManualText(p, m) })
}

// manPage is a manual page with the name of its file.
type manPage struct {
	name string
	text []byte
}

// noDate stands in for a date until it is taken out: the library would read the clock for none.
var noDate = time.Date(1, time.January, 1, 0, 0, 0, 0, time.UTC)

// manPages are those of a command and of all below it, but for what is hidden.
func manPages(c *cobra.Command) ([]manPage, error) {
	c.DisableAutoGenTag = true
	when, source := builtAt(), "brinecut "+version()
	var buf bytes.Buffer
	if err := doc.GenMan(c, &doc.GenManHeader{Section: "1", Date: &when, Source: source, Manual: "brinecut"}, &buf); err != nil {
		return nil, err
	}
	text := bytes.Replace(buf.Bytes(), []byte(noDate.Format(`"Jan 2006"`)), []byte(`""`), 1)
	pages := []manPage{{strings.ReplaceAll(c.CommandPath(), " ", "-") + ".1", text}}
	for _, sub := range c.Commands() {
		if !sub.IsAvailableCommand() || sub.IsAdditionalHelpTopicCommand() {
			continue
		}
		below, err := manPages(sub)
		if err != nil {
			return nil, err
		}
		pages = append(pages, below...)
	}
	return pages, nil
}

// builtAt is the time of the commit the program was built from, or noDate.
func builtAt() time.Time {
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if at, err := time.Parse(time.RFC3339, s.Value); s.Key == "vcs.time" && err == nil {
				return at
			}
		}
	}
	return noDate
}
