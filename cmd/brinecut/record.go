package main

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/ledger"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
	"brinecut/sorting/bath"
	"brinecut/sorting/binfile"
)

// recordFlags are what record reads beside the words of its command line.
type recordFlags struct {
	o             sorting.Observation
	counts, drawn string
	prep, smoke   string
	drips, out    *bool
	displaced     quantity.Mass
}

func (a *app) record() *cobra.Command {
	var f recordFlags
	c := &cobra.Command{
		Use:   "record BIN.toml (--lot L | --known N) KIND [OUTCOME]",
		Short: "Write a test into the bin file",
		Long: `Write one test at the end of the bin file. Kinds:
` + words(cues.Kinds()) + `.
Every kind but weigh and marked also takes the outcome unclear.`,
		Example: `  brinecut record bin.toml --lot "white gloss" float sinks --density "1.250 g/cm3"
  brinecut record bin.toml --lot crumbs float --bath A --counts sinks=10,floats=2 --drawn random
  brinecut record bin.toml --known "red PETG" hot-water stiff --temp "63 °C"
  brinecut record bin.toml --lot grey weigh --in-air "3.41 g" --in-liquid "0.71 g" \
    --liquid "0.998 g/cm3"
  brinecut record bin.toml --lot grey weigh --in-air "25.43 g" --displaced "20.02 g" \
    --liquid "0.998 g/cm3"`,
		Args: args(2, 3),
		RunE: func(_ *cobra.Command, given []string) error {
			if err := f.read(given); err != nil {
				return err
			}
			if f.o.At == "" {
				f.o.At = time.Now().Format(time.RFC3339)
			}
			return a.recordTest(given[0], f.o, f.displaced)
		},
	}
	f.define(c)
	c.ValidArgsFunction = completeKinds
	completes(c, map[string]offers{"lot": a.ofBin(lotNames), "known": a.ofBin(knownNames), "bath": a.ofBin(bathNames), "counts": completeCounts,
		"drawn": fixed("random", "judgement"), "prep": fixed("as-is", "cut", "flake"), "smoke": fixed("none", "light", "sooty"),
		"drips": fixed("true", "false"), "goes-out": fixed("true", "false")})
	return c
}

func (f *recordFlags) define(c *cobra.Command) {
	s := c.Flags()
	s.StringVar(&f.o.Lot, "lot", "", "the lot the piece is from")
	s.StringVar(&f.o.Known, "known", "", "or the known snippet that was tested")
	s.IntVar(&f.o.Piece, "piece", 0, "number of the piece, where it is tested again; left out: a fresh piece")
	s.StringVar(&f.counts, "counts", "", "so many fresh pieces at once, as sinks=10,floats=2")
	s.StringVar(&f.drawn, "drawn", "", "random, where the pieces were drawn blindly: only those support a claim of purity")
	s.StringVar(&f.o.Bath, "bath", "", "the bath of the bin file it was made in")
	quantityFlag(c, &f.o.Density, "density", `density of the bath, as "1.250 g/cm3 ± 0.005"`)
	quantityFlag(c, &f.o.Temp, "temp", `temperature of the water or bath, as "63 °C"`)
	quantityFlag(c, &f.o.Time, "time", `how long, as "2 min"`)
	quantityFlag(c, &f.o.Thickness, "thickness", `wall of the piece, as "1.2 mm"`)
	quantityFlag(c, &f.o.InAir, "in-air", "mass of the piece in air")
	quantityFlag(c, &f.o.InLiquid, "in-liquid", "mass of the piece hanging in the liquid")
	quantityFlag(c, &f.displaced, "displaced", "or what a tared vessel of the liquid shows while the piece hangs in it")
	quantityFlag(c, &f.o.Liquid, "liquid", "density of that liquid")
	s.StringVar(&f.o.Symbol, "symbol", "", `marking read on the piece, as ">PETG<"`)
	s.StringVar(&f.smoke, "smoke", "", "flame: none, light or sooty")
	s.Var(truth{&f.drips}, "drips", "flame: whether it drips")
	s.Var(truth{&f.out}, "goes-out", "flame: whether it goes out by itself")
	s.StringVar(&f.prep, "prep", "", "how the piece was prepared: as-is, cut or flake")
	quantityFlag(c, &f.o.UsedUp, "used-up", "mass that the test consumed")
	s.StringVar(&f.o.Note, "note", "", "anything worth keeping")
	s.StringVar(&f.o.By, "by", "", "who tested")
	s.StringVar(&f.o.At, "at", "", "when; left out: now")
}

// read puts words and flags together; what they name is checked against the bin file later.
func (f *recordFlags) read(given []string) error {
	o := &f.o
	o.Kind, o.Prep = cues.Kind(given[1]), sorting.Prep(f.prep)
	if len(given) > 2 {
		o.Outcome = given[2]
	}
	switch {
	case o.Lot == "" && o.Known == "":
		return wrongUse("it is not said what was tested", `name the lot with --lot, or a known snippet with --known`)
	case o.Lot != "" && o.Known != "":
		return wrongUse("a lot and a known snippet are both named", "leave --lot or --known out")
	case o.Piece < 0:
		return wrongUse("--piece: pieces are counted from 1", "leave it out for a fresh piece")
	}
	switch f.drawn {
	case "random":
		o.Random = true
	case "", "judgement":
	default:
		return wrongUse("--drawn: there is no such way (read "+quote(f.drawn)+")", didYouMean(f.drawn, []string{"random", "judgement"}, "write random or judgement"))
	}
	if f.smoke != "" || f.drips != nil || f.out != nil {
		o.Flame = &sorting.FlameCues{Smoke: f.smoke, Drips: f.drips, GoesOut: f.out}
	}
	if err := f.sunk(); err != nil {
		return err
	}
	var err error
	o.Counts, err = readCounts(f.counts)
	return err
}

// sunk puts the mass of the liquid that a piece pushes aside, which is what a kitchen scale shows, into
// that of the piece in the liquid, which is what the file holds.
func (f *recordFlags) sunk() error {
	switch {
	case !f.displaced.Given():
		return nil
	case f.o.InLiquid.Given():
		return wrongUse("--displaced and --in-liquid are both given", "leave one of the two out: each is the mass in air less the other")
	case !f.o.InAir.Given():
		return wrongUse("--displaced without --in-air tells nothing", "weigh the dry piece too, as --in-air")
	case f.displaced.SD > 0:
		f.o.InLiquid = quantity.With(f.o.InAir.Value-f.displaced.Value, f.displaced.SD)
	default:
		f.o.InLiquid = quantity.Exact(f.o.InAir.Value - f.displaced.Value)
	}
	return nil
}

// readCounts reads "sinks=10,floats=2".
func readCounts(s string) ([]sorting.Count, error) {
	if s == "" {
		return nil, nil
	}
	var out []sorting.Count
	for part := range strings.SplitSeq(s, ",") {
		name, figure, ok := strings.Cut(part, "=")
		n, err := strconv.Atoi(strings.TrimSpace(figure))
		if !ok || err != nil || n < 0 {
			return nil, wrongUse("--counts: this is no count (read "+quote(part)+")", "write outcomes with whole numbers, as sinks=10,floats=2")
		}
		out = append(out, sorting.Count{Outcome: strings.TrimSpace(name), N: n})
	}
	return out, nil
}

// recordTest appends a test under the next free id.
func (a *app) recordTest(path string, o sorting.Observation, displaced quantity.Mass) error {
	var piece *show.Piece
	done, err := a.add(path, "test", func(src []byte, bin *sorting.Bin) (string, []byte, error) {
		if err := possible(bin, o); err != nil {
			return "", nil, err
		}
		o.ID = binfile.NextID(bin)
		tail, err := binfile.AppendTest(src, o)
		if err == nil {
			a.odd(bin, o)
			piece = weighedPiece(bin, o, displaced)
		}
		return o.ID, tail, err
	})
	if err != nil {
		return err
	}
	done.Piece = piece
	return a.answer(done, func(p *show.Page) { show.RecordedText(p, done, "brinecut next "+show.Word(path)) })
}

// weighedPiece is the density of a piece weighed in air and in a liquid; nil where it was not, or where
// the weighings give none, of which the bin file's own warnings speak.
func weighedPiece(bin *sorting.Bin, o sorting.Observation, displaced quantity.Mass) *show.Piece {
	if o.Kind != cues.Weigh {
		return nil
	}
	liquid := o.Liquid
	for _, b := range bin.Baths {
		if !liquid.Given() && b.Name == o.Bath {
			liquid = b.Density
		}
	}
	d, err := bath.PieceDensity(o.InAir, o.InLiquid, liquid)
	if displaced.Given() {
		d, err = bath.DisplacedDensity(o.InAir, displaced, liquid)
	}
	if err != nil {
		return nil
	}
	return &show.Piece{Density: d}
}

// recorder gives what is appended to a bin file, and its id.
type recorder func(src []byte, bin *sorting.Bin) (id string, tail []byte, err error)

// append records a table at the end of a bin file, says so, and names the next sensible command.
func (a *app) append(path, table string, record recorder, then string) error {
	done, err := a.add(path, table, record)
	if err != nil {
		return err
	}
	return a.answer(done, func(p *show.Page) { show.RecordedText(p, done, then) })
}

// add appends to a bin file and warns of what contradicts only since then.
func (a *app) add(path, table string, record recorder) (show.Recorded, error) {
	var done show.Recorded
	if path == "-" {
		return done, wrongUse("standard input cannot be added to", "name the bin file")
	}
	var before, after []sorting.Warning
	err := ledger.Append(path, func(src []byte) ([]byte, error) {
		bin, doubts, err := binfile.Read(path, src)
		if err != nil {
			return nil, err
		}
		id, tail, err := record(src, bin)
		if err != nil {
			return nil, err
		}
		done = show.Recorded{File: path, Table: table, ID: id, Text: strings.TrimSpace(strings.ReplaceAll(string(tail), "\r\n", "\n"))}
		before = doubts
		_, after, err = binfile.Read(path, slices.Concat(src, tail))
		return tail, err
	})
	if err != nil {
		return done, nearFile(path, err)
	}
	for _, w := range after {
		if !slices.Contains(before, w) {
			a.say("warning", w.Says+"; "+w.Cure)
		}
	}
	return done, nil
}

// words joins texts of any kind with commas.
func words[T ~string](list []T) string { return strings.Join(plainWords(list), ", ") }

func plainWords[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = string(x)
	}
	return out
}
