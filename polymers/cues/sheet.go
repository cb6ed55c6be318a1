package cues

import (
	"embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/*.tsv
var data embed.FS

// unlisted is the weight of a sight that no source lists for a material (judgement, the lowest step
// of the scale 0.02 0.1 0.3 0.5 0.7 0.9 0.97 the tables are written in).
const unlisted = 0.02

// anyRow is the row of every material without one of its own; rest is the complement of a sight that
// is either seen or not.
const (
	anyRow = "*"
	rest   = "else"
)

// sheet is one table of rows: for each material P(outcome), in the order of outcomes.
type sheet struct {
	name     string
	outcomes []string
	names    []string // of the rows, as the file orders them
	rows     map[string][]float64
	leansOn  map[string][]string
}

// lean says which row stands for a material that has none under its own name.
type lean struct{ row, why string }

// shift moves a part of one outcome to another in a filled grade.
type shift struct {
	sheet, from, to   string
	fillers, polymers []string // nil: all others, all
	share             float64
}

type tables struct {
	sheets  map[string]*sheet
	leans   map[[2]string]lean
	shifts  []shift
	sources map[string]string
}

// loaded reads the embedded tables once; a broken one panics, which a test has caught before.
var loaded = sync.OnceValue(func() *tables {
	t := &tables{sheets: map[string]*sheet{}, leans: map[[2]string]lean{}, sources: map[string]string{}}
	seen := t.readOutcomes()
	t.readRows(seen)
	for _, r := range lines("leans") {
		t.leans[[2]string{r[0], r[1]}] = lean{row: r[2], why: r[3]}
	}
	for _, r := range lines("fillers") {
		t.shifts = append(t.shifts, shift{sheet: r[0], fillers: words(r[1]), polymers: words(r[2]), from: r[3], to: r[4], share: number(r[5])})
	}
	for _, r := range lines("sources") {
		t.sources[r[0]] = r[1]
	}
	return t
})

// sight is one thing a source describes, and the outcomes of the bench it counts as.
type sight struct {
	name   string
	shares []float64
}

func (t *tables) readOutcomes() map[string][]sight {
	seen := map[string][]sight{}
	for _, r := range lines("outcomes") {
		s := t.sheets[r[0]]
		if s == nil {
			s = &sheet{name: r[0], outcomes: outcomesOf(r[0]), rows: map[string][]float64{}, leansOn: map[string][]string{}}
			t.sheets[r[0]] = s
		}
		list := seen[r[0]]
		if n := len(list); n == 0 || list[n-1].name != r[1] {
			list = append(list, sight{name: r[1], shares: make([]float64, len(s.outcomes))})
		}
		list[len(list)-1].shares[place(s.outcomes, r[2])] += number(r[3])
		seen[r[0]] = list
	}
	return seen
}

// outcomesOf gives what the kind or cue that a sheet belongs to can show.
func outcomesOf(name string) []string {
	if strings.HasPrefix(name, "soak-") {
		return Seen(Soak, "")
	}
	for _, q := range questions {
		if q.look == name || q.over == name {
			return Seen(q.kind, q.cue)
		}
	}
	panic(fmt.Sprintf("cues: no kind has a sheet %q", name))
}

func (t *tables) readRows(seen map[string][]sight) {
	listed := map[*sheet]map[string]map[string]float64{}
	for _, r := range lines("rows") {
		s, row := t.sheets[r[0]], r[1]
		if s == nil {
			panic(fmt.Sprintf("cues: a row of %q, which has no outcomes", r[0]))
		}
		if listed[s] == nil {
			listed[s] = map[string]map[string]float64{}
		}
		if listed[s][row] == nil {
			listed[s][row] = map[string]float64{}
			s.names = append(s.names, row)
		}
		if !slices.ContainsFunc(seen[r[0]], func(x sight) bool { return x.name == r[2] }) {
			panic(fmt.Sprintf("cues: %s of %s shows %q, which counts as nothing", row, r[0], r[2]))
		}
		listed[s][row][r[2]] = number(r[3])
		for _, id := range words(r[4]) {
			if !slices.Contains(s.leansOn[row], id) {
				s.leansOn[row] = append(s.leansOn[row], id)
			}
		}
	}
	for name, s := range t.sheets {
		for _, row := range s.names {
			s.rows[row] = spread(seen[name], listed[s][row], len(s.outcomes))
		}
	}
}

// spread turns what is listed of a material into P(outcome): sights that exclude each other are
// filled up with unlisted and normalised; a sight that is either there or not keeps its value.
func spread(seen []sight, listed map[string]float64, n int) []float64 {
	weights, sum := make([]float64, len(seen)), 0.0
	alone := len(seen) == 1 || len(seen) == 2 && seen[1].name == rest
	for i, s := range seen {
		w, ok := listed[s.name]
		switch {
		case ok:
		case s.name == rest:
			w = 1 - sum
		default:
			w = unlisted
		}
		weights[i] = w
		sum += w
	}
	if alone {
		sum = 1
	}
	p := make([]float64, n)
	for i, s := range seen {
		for o, share := range s.shares {
			p[o] += weights[i] / sum * share
		}
	}
	return p
}

// lines reads an embedded table without its head.
func lines(name string) [][]string {
	text, err := data.ReadFile("data/" + name + ".tsv")
	if err != nil {
		panic(err)
	}
	var out [][]string
	all := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	columns := len(strings.Split(all[0], "\t"))
	for i, l := range all[1:] {
		cells := strings.Split(l, "\t")
		if len(cells) != columns {
			panic(fmt.Sprintf("cues: data/%s.tsv:%d has %d cells, not %d", name, i+2, len(cells), columns))
		}
		out = append(out, cells)
	}
	return out
}

// words splits a cell at blanks; "*" gives nil.
func words(cell string) []string {
	if cell == "*" {
		return nil
	}
	return strings.Fields(cell)
}

func number(cell string) float64 {
	x, err := strconv.ParseFloat(cell, 64)
	if err != nil || !(x >= 0 && x <= 1) {
		panic(fmt.Sprintf("cues: %q is not a probability", cell))
	}
	return x
}

func place(list []string, item string) int {
	i := slices.Index(list, item)
	if i < 0 {
		panic(fmt.Sprintf("cues: %q is none of %v", item, list))
	}
	return i
}
