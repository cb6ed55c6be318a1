package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"brinecut/cmd/brinecut/internal/ledger"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers"
	"brinecut/polymers/quantity"
	"brinecut/reuse/press"
	"brinecut/sorting/bath"
	"brinecut/sorting/binfile"
	"brinecut/sorting/purity"
)

// fault ends a command: what is wrong, what helps, and the exit code. Says may be empty where the
// result itself tells it.
type fault struct {
	code       int
	says, hint string
	shown      string // lines that stand between the two, such as a text with its fault under a caret
}

func (f *fault) Error() string { return f.says }

// wrongUse is a command line that cannot be meant.
func wrongUse(says, hint string) error { return &fault{code: exitWrongUse, says: says, hint: hint} }

// cannot is a job that could not be done.
func cannot(says, hint string) error { return &fault{code: exitCannot, says: says, hint: hint} }

// report writes an error to standard error and gives the exit code. Messages are lower case, without a
// full stop: "brinecut: error: …", then "brinecut: hint: …".
func (a *app) report(err error) int {
	if err == nil {
		return exitDone
	}
	var faults binfile.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			a.say("error", f.Error())
		}
		if faults[0].Line > 0 {
			a.say("hint", "mend "+lines(len(faults))+" above, then run it again; nothing was changed")
		} else {
			a.say("hint", "nothing was written")
		}
		return exitWrongUse
	}
	f := faultOf(err)
	if f.says != "" {
		a.say("error", f.says)
	}
	for line := range strings.Lines(f.shown) {
		fmt.Fprintf(a.err, "    %s\n", show.Clean(strings.TrimSuffix(line, "\n")))
	}
	if f.hint != "" {
		a.say("hint", f.hint)
	}
	return f.code
}

func (a *app) say(what, text string) {
	fmt.Fprintf(a.err, "brinecut: %s: %s\n", what, show.Clean(text))
}

func lines(n int) string {
	if n == 1 {
		return "the line"
	}
	return "the " + strconv.Itoa(n) + " lines"
}

// faultOf finds the code and the hint that belong to an error of the library.
func faultOf(err error) *fault {
	var (
		own     *fault
		problem *ledger.Problem
		q       *quantity.Error
		b       *bath.Refusal
		p       *press.Refusal
		c       *purity.Refusal
		unknown *polymers.UnknownError
	)
	switch {
	case errors.As(err, &own):
		return own
	case errors.As(err, &problem):
		return &fault{code: exitCannot, says: problem.Error(), hint: problem.Hint}
	case errors.As(err, &q):
		return &fault{code: exitWrongUse, says: q.Fault + " (read " + quote(q.Read) + ")", hint: q.Right}
	case errors.As(err, &b):
		return &fault{code: exitWrongUse, says: b.Fault, hint: b.Instead}
	case errors.As(err, &p):
		code := exitCannot // a plan that safety or physics forbids
		if p.Reason == press.NotPossible || p.Reason == press.Unknown {
			code = exitWrongUse
		}
		return &fault{code: code, says: p.Fault, hint: p.Right}
	case errors.As(err, &c):
		return &fault{code: exitWrongUse, says: c.Fault, hint: c.Right}
	case errors.As(err, &unknown):
		return &fault{code: exitWrongUse, says: unknown.Error(), hint: "brinecut polymer lists them all"}
	}
	return &fault{code: exitCannot, says: err.Error(), hint: ""}
}

// outFault tells that the result could not be written.
func outFault(err error) error {
	if err == nil {
		return nil
	}
	return cannot("could not write the result: "+err.Error(), "")
}

// flagFault puts an error of the flag library into words.
func flagFault(c *cobra.Command, err error) error {
	var (
		value   *pflag.InvalidValueError
		missing *pflag.ValueRequiredError
		unknown *pflag.NotExistError
		q       *quantity.Error
	)
	switch {
	case errors.As(err, &value) && errors.As(err, &q):
		return wrongUse(fmt.Sprintf("--%s: %s (read %s)", value.GetFlag().Name, q.Fault, quote(value.GetValue())), q.Right)
	case errors.As(err, &value):
		return wrongUse(fmt.Sprintf("--%s: %v (read %s)", value.GetFlag().Name, value.Unwrap(), quote(value.GetValue())), value.GetFlag().Usage)
	case errors.As(err, &missing):
		return wrongUse("--"+missing.GetFlag().Name+" needs a value", missing.GetFlag().Usage)
	case errors.As(err, &unknown):
		name := unknown.GetSpecifiedName()
		var names []string
		c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, "--"+f.Name) })
		return wrongUse(c.CommandPath()+" has no flag "+quote("--"+name), didYouMean("--"+name, names, c.CommandPath()+" --help shows them"))
	}
	return wrongUse(err.Error(), c.CommandPath()+" --help shows how it is used")
}

// args holds a command to a number of words behind it.
func args(least, most int) cobra.PositionalArgs {
	return func(c *cobra.Command, given []string) error {
		switch {
		case len(given) < least:
			return wrongUse("something is missing behind "+c.CommandPath(), "use: "+c.UseLine())
		case len(given) > most:
			return wrongUse("there is one word too many: "+quote(given[most]), "use: "+c.UseLine()+"; put names with blanks in quotes")
		}
		return nil
	}
}

// didYouMean is the nearest of the words, or what is said where none is near.
func didYouMean(read string, words []string, otherwise string) string {
	best, least := "", 1+len(read)/3
	for _, w := range words {
		if d := levenshtein.ComputeDistance(strings.ToLower(read), strings.ToLower(w)); d <= least && (best == "" || d < least) {
			best, least = w, d
		}
	}
	if best == "" {
		return otherwise
	}
	return "did you mean " + quote(best) + "? " + otherwise
}

// quote is text of the user as a message repeats it: on one line, without escapes, not too long.
func quote(s string) string {
	if r := []rune(s); len(r) > 60 {
		s = string(r[:59]) + "…"
	}
	return `"` + show.Clean(s) + `"`
}
