package main

import (
	"io"
	"runtime/debug"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/show"
)

// Exit codes.
const (
	exitDone     = 0
	exitCannot   = 1 // could not be done
	exitWrongUse = 2 // wrong use, or a bin file that was refused
)

// app is what every command works with: the streams, and the flags they share.
type app struct {
	in       io.Reader
	out, err io.Writer
	json     bool
	csv      bool // of commands that print a table
	units    unitsFlag
	names    []string // of the bin that was read: they are written in no other units
}

// run is the whole program: it gives the exit code and touches no stream but those it is given.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	a := &app{in: in, out: out, err: errs}
	root := a.root()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errs)
	return a.report(root.Execute())
}

func (a *app) root() *cobra.Command {
	c := &cobra.Command{
		Use:   "brinecut COMMAND",
		Short: "Tell what a bin of printing scrap holds, what to test next, and what each fraction is good for",
		Example: `  brinecut start mybin.toml          write a bin file to fill in
  brinecut sort mybin.toml           what is in it, the bags, the one thing to do next
  brinecut next mybin.toml           the test that helps most, with its cautions
  brinecut record mybin.toml --lot "white gloss" float sinks --density "1.250 g/cm3"`,
		Long: `Tell what a bin of printing scrap holds, what to test next, and what each fraction is good for.
Results go to standard output, all else to standard error; BIN.toml may be - for standard input.
Exit code 0: done; 1: could not be done; 2: wrong use, or a bin file that was refused.
Output is plain text, never coloured. For your shell: brinecut completion --help, brinecut man --help.`,
		Args:          cobra.ArbitraryArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
		Version:       version(),
		RunE:          noCommand,
	}
	c.PersistentFlags().BoolVar(&a.json, "json", false, "write the result as JSON")
	c.PersistentFlags().Var(&a.units, "units", "of masses and temperatures in text and pages: metric, or us (lb, oz, °F; labels say both); JSON, CSV and bin files keep theirs")
	completes(c, map[string]offers{"units": fixed("metric", "us")})
	c.SetVersionTemplate("brinecut {{.Version}}\n")
	c.SetFlagErrorFunc(flagFault)
	c.CompletionOptions.HiddenDefaultCmd = true
	c.SetHelpCommand(helpOn())
	c.AddCommand(a.commands()...)
	for _, sub := range c.Commands() {
		helpFirst(sub)
	}
	helpFirst(c)
	return c
}

// commands in the order of a job.
func (a *app) commands() []*cobra.Command {
	cobra.EnableCommandSorting = false
	job := []*cobra.Command{a.start(), a.sort(), a.balance(), a.next(), a.record(), a.withdraw(), a.bath(), a.cut(), a.claim()}
	job = append(job, a.moves()...)
	return append(job, a.polymer(), a.mark(), a.press(), a.regrind(), a.label(), a.reportPage(), a.bench(), a.man())
}

// noCommand answers a word that is no command, and none at all.
func noCommand(c *cobra.Command, args []string) error {
	var names []string
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			names = append(names, sub.Name())
		}
	}
	if len(args) == 0 {
		return wrongUse("no command was given", "brinecut --help shows them all; brinecut sort BIN.toml is the main one")
	}
	return wrongUse("there is no command "+quote(args[0]), didYouMean(args[0], names, "brinecut --help shows them all"))
}

// version is that of the module the program was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}

// tabled gives a command that prints a table the flag --csv.
func (a *app) tabled(c *cobra.Command, what string) {
	c.Flags().BoolVar(&a.csv, "csv", false, "write "+what+" as CSV (RFC 4180)")
}

// tableOr writes rows as CSV where that was asked for, else it answers.
func (a *app) tableOr(rows [][]string, wire any, text func(*show.Page)) error {
	switch {
	case a.csv && a.json:
		return wrongUse("--csv and --json are both given", "leave one of the two out")
	case a.csv:
		return outFault(show.CSV(a.out, rows))
	}
	return a.answer(wire, text)
}

// answer writes a result: as JSON where it was asked for, else as text.
func (a *app) answer(wire any, text func(*show.Page)) error {
	if a.json {
		return outFault(show.JSON(a.out, wire))
	}
	p := show.NewPage(a.out, a.units.show())
	p.Keep(a.names...)
	text(p)
	return outFault(p.Err())
}
