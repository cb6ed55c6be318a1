package triage

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/sorting"
	"brinecut/sorting/response"
)

// Trials counts known snippets that went through the same tests as pieces drawn at random, and how many
// of them the rule of RandomPieces judged right.
type Trials struct {
	Found, Others int // of Others pieces of another material, Found were told to be another
	Passed, Right int // of Right pieces of the material, Passed were told to be it
}

// Trials (method.md, purity claims) holds the bin's known snippets against the way the drawn pieces of the lots were tested: a
// snippet's piece counts where it went through all the tests of some drawn piece, in the same bath or
// water, and could be told, as a drawn piece does. It is judged by a model that has not seen its own
// readings, so that none is used twice. Others are the snippets of what the claim is held against.
func (b *Belief) Trials(lots []string, key string) Trials {
	var out Trials
	for l, p := range b.piles {
		if !slices.Contains(lots, p.name) {
			continue
		}
		ways := b.waysOf(p)
		for _, k := range b.bin.Known {
			out.add(b.snippetTrials(l, k, key, ways))
		}
		if len(ways) > 0 {
			break // the same snippets stand for every lot of a bag
		}
	}
	return out
}

func (t *Trials) add(o Trials) {
	t.Found, t.Others = t.Found+o.Found, t.Others+o.Others
	t.Passed, t.Right = t.Passed+o.Passed, t.Right+o.Right
}

// waysOf lists the ways that drawn pieces of a lot were tested.
func (b *Belief) waysOf(p *pile) [][]string {
	var out [][]string
	for _, piece := range b.model.Pieces(b.randomTests(p.name), p.lot.Prep) {
		w := wayOf(piece.Readings)
		if !slices.ContainsFunc(out, func(o []string) bool { return slices.Equal(o, w) }) {
			out = append(out, w)
		}
	}
	return out
}

// wayOf names the tests of a piece with their settings, in order.
func wayOf(readings []response.Reading) []string {
	var out []string
	for i := range readings {
		out = append(out, settingOf(&readings[i]))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func settingOf(r *response.Reading) string {
	switch r.Kind {
	case cues.Float:
		return fmt.Sprintf("%s %.3f", r.Kind, r.Density)
	case cues.HotWater:
		return fmt.Sprintf("%s %.1f", r.Kind, r.Temp)
	}
	return string(r.Kind)
}

// snippetTrials judges the pieces of one known snippet.
func (b *Belief) snippetTrials(l int, k sorting.Known, key string, ways [][]string) Trials {
	var out Trials
	against := b.rivals(l, key)
	at := b.keyOfMaterial(k.Material)
	if at < 0 || b.Keys[at] != key && !against[at] {
		return out
	}
	for _, group := range b.groupsOf(k.Name) {
		for _, piece := range b.unseen(group, ways) {
			right, told := b.told(piece.drawn(b.piles[l].lot), &piece.Piece, key, against)
			switch {
			case !told:
			case b.Keys[at] == key:
				out.Right += piece.N
				if right {
					out.Passed += piece.N
				}
			default:
				out.Others += piece.N
				if !right {
					out.Found += piece.N
				}
			}
		}
	}
	return out
}

// KeyOf is the key that a material stands under; false where it is not among the candidates.
func (b *Belief) KeyOf(s polymers.Symbol) (string, bool) {
	if at := b.keyOfMaterial(s); at >= 0 {
		return b.Keys[at], true
	}
	return "", false
}

// keyOfMaterial is the key a known material stands under; -1 where it is not among the candidates.
func (b *Belief) keyOfMaterial(s polymers.Symbol) int {
	m, ok := polymers.Find(s)
	for c, cand := range b.Candidates {
		if ok && (cand.Symbol == m.Symbol || cand.Symbol == m.Base) {
			return b.keyOf[c]
		}
	}
	return -1
}

// groupsOf lists the tests of a known snippet, those of one numbered piece together.
func (b *Belief) groupsOf(known string) [][]int {
	var out [][]int
	at := map[int]int{}
	for i, o := range b.bin.Tests {
		if o.Known != known {
			continue
		}
		j, seen := at[o.Piece]
		if seen && o.Piece > 0 && len(o.Counts) == 0 {
			out[j] = append(out[j], i)
			continue
		}
		if len(o.Counts) == 0 {
			at[o.Piece] = len(out)
		}
		out = append(out, []int{i})
	}
	return out
}

// unseenPiece is a piece with a model that has not seen it.
type unseenPiece struct {
	response.Piece
	model *response.Model
}

func (p unseenPiece) drawn(lot sorting.Lot) *response.Drawn { return p.model.Products(lot) }

// unseen gives the pieces of a group of tests that went one of the ways, with a model that knows
// everything but the group.
func (b *Belief) unseen(group []int, ways [][]string) []unseenPiece {
	var tests []sorting.Observation
	for _, i := range group {
		tests = append(tests, b.bin.Tests[i])
	}
	var out []unseenPiece
	var without *response.Model
	for _, p := range b.model.Pieces(tests, sorting.Cut) {
		if p.Readings = along(p.Readings, ways); p.Readings == nil {
			continue
		}
		if without == nil {
			without = b.without(group)
		}
		out = append(out, unseenPiece{p, without})
	}
	return out
}

// along keeps of the readings those of the first of the ways that they all went; nil where they went none.
func along(readings []response.Reading, ways [][]string) []response.Reading {
	for _, w := range ways {
		var kept []response.Reading
		for _, r := range readings {
			if slices.Contains(w, settingOf(&r)) {
				kept = append(kept, r)
			}
		}
		if len(w) > 0 && strings.Join(wayOf(kept), "|") == strings.Join(w, "|") {
			return kept
		}
	}
	return nil
}

// without is the model of the bin with those tests unread: their baths stay.
func (b *Belief) without(group []int) *response.Model {
	bin := *b.bin
	bin.Tests = slices.Clone(b.bin.Tests)
	for _, i := range group {
		bin.Tests[i].Outcome, bin.Tests[i].Counts, bin.Tests[i].Flame = cues.Unclear, nil, nil
	}
	m, err := response.New(&bin, b.Candidates, b.opt)
	if err != nil {
		panic("triage: candidates that made a model make none now: " + err.Error())
	}
	return m
}
