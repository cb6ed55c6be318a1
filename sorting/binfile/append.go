package binfile

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"brinecut/sorting"
)

// The Append functions give the text that records something at the end of a bin file. They change
// nothing: the caller writes src and then the tail. The tail begins on a line of its own and follows
// the file's line ends. src with the tail has been read before it is given out; what the format does not
// allow is an error of type Faults, without a file name, and without a line where the fault is in what
// was to be appended.

// AppendTest records an observation as a [[test]].
func AppendTest(src []byte, o sorting.Observation) (tail []byte, err error) {
	var w rows
	w.text("id", o.ID)
	w.text("at", o.At)
	w.text("by", o.By)
	w.text("lot", o.Lot)
	w.text("known", o.Known)
	w.whole("piece", o.Piece)
	w.text("kind", string(o.Kind))
	w.text("bath", o.Bath)
	amount(&w, "density", o.Density)
	amount(&w, "temp", o.Temp)
	amount(&w, "time", o.Time)
	amount(&w, "thickness", o.Thickness)
	amount(&w, "in_air", o.InAir)
	amount(&w, "in_liquid", o.InLiquid)
	amount(&w, "liquid", o.Liquid)
	w.text("symbol", o.Symbol)
	w.finding(o)
	if o.Random {
		w.text("drawn", "random")
	}
	w.text("prep", string(o.Prep))
	amount(&w, "used_up", o.UsedUp)
	w.text("note", o.Note)
	return tailOf(src, "test", w)
}

func (w *rows) finding(o sorting.Observation) {
	w.text("outcome", o.Outcome)
	if o.Flame != nil {
		var f rows
		f.text("smoke", o.Flame.Smoke)
		f.truth("drips", o.Flame.Drips)
		f.truth("goes_out", o.Flame.GoesOut)
		w.raw("outcome", f.inline())
	}
	if len(o.Counts) > 0 {
		var c rows
		for _, n := range o.Counts {
			c.whole(n.Outcome, n.N)
		}
		w.raw("counts", c.inline())
	}
}

// AppendWithdrawal takes a recorded test back.
func AppendWithdrawal(src []byte, x sorting.Withdrawal) (tail []byte, err error) {
	var w rows
	w.text("id", x.ID)
	w.text("why", x.Why)
	return tailOf(src, "withdrawn", w)
}

// AppendBath records a bath as mixed and checked.
func AppendBath(src []byte, b sorting.Bath) (tail []byte, err error) {
	var w rows
	w.text("name", b.Name)
	w.text("salt", b.Salt)
	amount(&w, "density", b.Density)
	amount(&w, "temp", b.Temp)
	return tailOf(src, "bath", w)
}

// AppendKnown records a snippet whose material is certain.
func AppendKnown(src []byte, k sorting.Known) (tail []byte, err error) {
	var w rows
	w.text("name", k.Name)
	w.text("material", string(k.Material))
	w.text("spool", k.Spool)
	w.text("colour", k.Colour)
	amount(&w, "density", k.Density)
	return tailOf(src, "known", w)
}

// AppendLot records a pile that can be told apart.
func AppendLot(src []byte, l sorting.Lot) (tail []byte, err error) {
	var w rows
	w.lot(l)
	return tailOf(src, "lot", w)
}

// lot writes what a lot and a side have in common.
func (w *rows) lot(l sorting.Lot) {
	w.text("name", l.Name)
	amount(w, "mass", l.Mass)
	amount(w, "gross", l.Gross)
	amount(w, "tare", l.Tare)
	w.scale(l.Scale)
	w.text("state", string(l.State))
	w.whole("pieces", l.Pieces)
	var could []string
	for _, m := range l.CouldBe {
		could = append(could, string(m))
	}
	w.texts("could_be", could)
	w.truth("mixed", l.Mixed)
	if l.PrepGiven {
		w.text("prep", string(l.Prep))
	}
	if l.OriginGiven {
		w.text("origin", string(l.Origin))
	}
	w.text("colour", l.Colour)
	w.text("form", l.Form)
	w.whole("heats", l.Heats)
	w.texts("additives", l.Additives)
}

func (w *rows) scale(s sorting.ScaleRef) {
	w.text("scale", s.Name)
	amount(w, "scale", s.Step)
}

// AppendSplit records a lot divided at the bench.
func AppendSplit(src []byte, s sorting.Split) (tail []byte, err error) {
	var w rows
	w.text("lot", s.Lot)
	w.text("kind", string(s.Kind))
	amount(&w, "density", s.Density)
	w.text("bath", s.Bath)
	amount(&w, "temp", s.Temp)
	amount(&w, "loss", s.Loss)
	sides := make([]string, len(s.Into))
	for i, side := range s.Into {
		var x rows
		x.lot(side.Lot)
		x.text("outcome", side.Outcome)
		sides[i] = x.inline()
	}
	w.raw("into", "[ "+strings.Join(sides, ",\n         ")+" ]")
	return tailOf(src, "split", w)
}

// AppendMerge records lots put together.
func AppendMerge(src []byte, m sorting.Merge) (tail []byte, err error) {
	var w rows
	w.raw("from", basicList(m.From))
	w.text("into", m.Into)
	return tailOf(src, "merge", w)
}

// AppendTaken records what left a lot. Nothing leaves a lot that was split or merged by then: that is
// refused here, where it can still be put right; a file that says so is read, with a warning.
func AppendTaken(src []byte, x sorting.Taken) (tail []byte, err error) {
	if b, _, err := Read("", src); err == nil {
		if did, line, into := became(b, x.Lot); line > 0 {
			return nil, Faults{{Key: "[[taken]] lot", Wrong: fmt.Sprintf("this lot is gone: it was %s on line %d", did, line), Read: quoted(x.Lot),
				Right: "name what it became: " + strings.Join(into, ", ")}}
		}
	}
	var w rows
	w.text("lot", x.Lot)
	amount(&w, "mass", x.Mass)
	w.text("for", x.For)
	return tailOf(src, "taken", w)
}

// became is what was done with a lot that is gone, on which line, and the lots it is in since.
func became(b *sorting.Bin, lot string) (did string, line int, into []string) {
	for _, s := range b.Splits {
		if s.Lot != lot {
			continue
		}
		for _, side := range s.Into {
			into = append(into, quoted(side.Name))
		}
		return "split", s.Line, into
	}
	for _, m := range b.Merges {
		if slices.Contains(m.From, lot) {
			return "merged", m.Line, []string{quoted(m.Into)}
		}
	}
	return "", 0, nil
}

// AppendBag records what is in a sack that leaves.
func AppendBag(src []byte, b sorting.Bag) (tail []byte, err error) {
	var w rows
	w.text("id", b.ID)
	w.texts("lots", b.Lots)
	amount(&w, "gross", b.Gross)
	amount(&w, "tare", b.Tare)
	w.scale(b.Scale)
	return tailOf(src, "bag", w)
}

// tailOf writes the table so that it can follow src, and reads the whole again.
func tailOf(src []byte, head string, w rows) ([]byte, error) {
	if err := appendable(src, head); err != nil {
		return nil, err
	}
	text := w.table(head)
	switch {
	case len(src) == 0:
	case src[len(src)-1] != '\n':
		text = "\n\n" + text
	default:
		text = "\n" + text
	}
	if bytes.Contains(src, []byte("\r\n")) {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	if !utf8.ValidString(text) {
		return nil, Faults{{Key: "[[" + head + "]]", Wrong: "this is not in UTF-8", Read: strings.ToValidUTF8(text, "�"), Right: "write it in UTF-8"}}
	}
	_, _, err := Read("", append(bytes.Clone(src), text...))
	if err == nil {
		return []byte(text), nil
	}
	var faults Faults
	if errors.As(err, &faults) {
		return nil, faults.apart(1 + bytes.Count(src, []byte("\n")))
	}
	return nil, err
}

// apart leaves the faults of the file itself, up to its last line; where it has none, those of the tail
// without their lines, which nobody can look up.
func (fs Faults) apart(last int) Faults {
	var own, tail Faults
	for _, f := range fs {
		if f.Line <= last {
			own = append(own, f)
			continue
		}
		f.Line = 0
		tail = append(tail, f)
	}
	if len(own) > 0 {
		return own
	}
	return tail
}

// appendable refuses a file in which a table of that name cannot be added from below: TOML lets nothing
// follow a list that was written with its brackets.
func appendable(src []byte, head string) error {
	s, ok := scan(trimMark(string(src)))
	p := s.root.fields[head]
	if !ok || p == nil || !p.static {
		return nil
	}
	f := Fault{Line: s.line(p.at), Key: head, Wrong: "this is written as a list in brackets, and TOML can add nothing to it from below",
		Read: s.src[p.from:p.to], Right: fmt.Sprintf("write each entry as a [[%s]] table of its own", head)}
	if len(p.items) == 0 {
		f.Right = "delete this line"
	}
	return Faults{f}
}

// NextID is the id for the next test: t1, t2, … above every number that is taken, by a withdrawn test
// as well, so that an id never comes to mean something else.
func NextID(b *sorting.Bin) string {
	most, taken := 0, map[string]bool{}
	note := func(id string) {
		taken[id] = true
		n := 0
		if _, err := fmt.Sscanf(id, "t%d", &n); err == nil && n < 1e9 && id == fmt.Sprintf("t%d", n) {
			most = max(most, n)
		}
	}
	for _, o := range b.Tests {
		note(o.ID)
	}
	for _, w := range b.Withdrawn {
		note(w.ID)
	}
	for most++; taken[fmt.Sprintf("t%d", most)]; most++ {
	}
	return fmt.Sprintf("t%d", most)
}
