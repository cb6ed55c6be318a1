package advice_test

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// The closed loop plays whole evenings against bins whose truth does not come from this tool's tables:
// product densities are single rows of the open list of declared densities; softening and bending are
// written down here from the literature notes named below; errors are drawn, and shared where a bench
// shares them.

// truthProduct is one spool of the simulated world.
type truthProduct struct {
	material polymers.Symbol
	density  float64
	softens  float64 // °C; +Inf never in water, -Inf limp when cold
	producer string
}

type truthPart struct {
	product int
	share   float64
}

// world is one simulated bin with its truth.
type world struct {
	bin      *sorting.Bin
	products []truthProduct
	lots     map[string][]truthPart
	mass     map[string]float64 // g by lot
	truth    map[string]float64 // g by key
	baths    map[int]float64    // true less stated, by stated density in mg/cm3
	thermo   float64
	air      float64
	pieces   map[string]truthPiece
	snippets map[string]int // product of each known snippet
	rng      *rand.Rand
	spent    float64 // bench minutes
	lastTemp quantity.Celsius
}

type truthPiece struct {
	product int
	density float64
	softens float64
}

// declared reads the open list: material, density and producer of every plain, plausible row.
func declared(tb testing.TB) map[polymers.Symbol][]truthProduct {
	tb.Helper()
	f, err := os.Open("../../polymers/data/declared/densities.tsv")
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	out := map[polymers.Symbol][]truthProduct{}
	sc := bufio.NewScanner(f)
	sc.Buffer(make([]byte, 1<<20), 1<<20)
	for sc.Scan() {
		c := strings.Split(sc.Text(), "\t")
		if len(c) < 16 || c[15] != "ok" || (c[2] != "plain" && c[2] != "silk" && c[2] != "matte") || c[14] == "form_default_1.24" {
			continue
		}
		d, err := strconv.ParseFloat(c[4], 64)
		if err != nil {
			continue
		}
		m := polymers.Symbol(c[1])
		out[m] = append(out[m], truthProduct{material: m, density: d, producer: c[10]})
	}
	return out
}

// softening of a spool, °C: glass transitions and heat deflection as the literature notes give them
// (PLA 53-63, PETG 68-85, ABS and ASA 90-108, HIPS 88-100; PVA softens when damp), uniform.
func softening(m polymers.Symbol, r *rand.Rand) float64 {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	switch m {
	case "PLA":
		if r.Float64() < 0.03 {
			return math.Inf(1) // annealed
		}
		return between(54, 62)
	case "PETG":
		return between(68, 82)
	case "ABS", "ASA":
		return between(90, 106)
	case "HIPS":
		return between(88, 100)
	case "PVA":
		return between(50, 75)
	case "TPU":
		return math.Inf(-1)
	}
	return math.Inf(1)
}

// bending: how strips of each material fold; this simulation's own judgement.
var bending = map[polymers.Symbol][4]float64{ // snaps, whitens, bends, rubbery
	"PLA": {0.7, 0.12, 0.17, 0.01}, "PETG": {0.15, 0.35, 0.48, 0.02}, "ABS": {0.12, 0.6, 0.27, 0.01}, "ASA": {0.12, 0.6, 0.27, 0.01},
	"HIPS": {0.2, 0.6, 0.19, 0.01}, "TPU": {0.01, 0.02, 0.17, 0.8}, "PVA": {0.4, 0.1, 0.45, 0.05}, "PC": {0.05, 0.15, 0.79, 0.01}, "PA6": {0.02, 0.13, 0.83, 0.02},
}

// newWorld invents a bin. Seeds are its number.
func newWorld(tb testing.TB, seed uint64, all map[polymers.Symbol][]truthProduct) *world {
	r := rand.New(rand.NewPCG(seed, 20261125))
	w := &world{lots: map[string][]truthPart{}, mass: map[string]float64{}, truth: map[string]float64{}, baths: map[int]float64{},
		pieces: map[string]truthPiece{}, snippets: map[string]int{}, rng: r, thermo: r.NormFloat64(), air: 0.02 * math.Exp(0.4*r.NormFloat64()), lastTemp: -1}
	w.bin = &sorting.Bin{Title: fmt.Sprint("invented bin ", seed), Currency: "EUR"}
	w.bin.Kit = sorting.Kit{Given: true, Has: []string{"table salt", "sugar", "epsom salt", "kettle", "thermometer", "scale 1 g", "sheet press", "granulator", "filament extruder"}}
	w.bin.Worth.Hour = quantity.Of[quantity.MoneyPerHour]{Value: 3, Text: "3 EUR/h", Currency: "EUR"}
	w.fill(all)
	w.count()
	return w
}

var colours = []string{"white", "black", "grey", "red", "blue", "green", "orange", "natural"}

func (w *world) fill(all map[polymers.Symbol][]truthProduct) {
	r := w.rng
	mains := []polymers.Symbol{"PETG", "PLA", "ABS"}
	main := mains[[]int{0, 0, 0, 1, 1, 2}[r.IntN(6)]]
	others := []polymers.Symbol{}
	for _, m := range []polymers.Symbol{"PLA", "PETG", "TPU", "PVA", "ABS", "ASA"} {
		if m != main && r.Float64() < map[polymers.Symbol]float64{"PLA": 0.8, "PETG": 0.7, "TPU": 0.45, "PVA": 0.35, "ABS": 0.25, "ASA": 0.15}[m] {
			others = append(others, m)
		}
	}
	total := 2500 + 5000*r.Float64()
	pool := map[polymers.Symbol][]int{} // spools of a material
	spool := func(m polymers.Symbol) int {
		if n := len(pool[m]); n > 0 && (n >= 4 || r.Float64() < 0.35) {
			return pool[m][r.IntN(n)]
		}
		rows := all[m]
		p := rows[r.IntN(len(rows))]
		p.softens = softening(m, r)
		w.products = append(w.products, p)
		pool[m] = append(pool[m], len(w.products)-1)
		return len(w.products) - 1
	}
	crumbs := total * (0.12 + 0.2*r.Float64())
	rest := total - crumbs
	n := 4 + r.IntN(5)
	cuts := make([]float64, n)
	sum := 0.0
	for i := range cuts {
		cuts[i] = 0.3 + r.ExpFloat64()
		sum += cuts[i]
	}
	used := map[int]float64{}
	for i := 0; i < n; i++ {
		name := fmt.Sprintf("%s %d", colours[r.IntN(len(colours))], i+1)
		mass := math.Round(rest * cuts[i] / sum)
		m := main
		if i > 0 && len(others) > 0 && r.Float64() < 0.42 {
			m = others[r.IntN(len(others))]
			mass = math.Round(mass * (0.2 + 0.5*r.Float64()))
			if m == "PVA" {
				mass = math.Round(mass * 0.4)
			}
		}
		parts := []truthPart{{spool(m), 1}}
		if r.Float64() < 0.2 && len(others) > 0 { // two materials of one colour
			o := others[r.IntN(len(others))]
			if o == m {
				o = main
			}
			f := 0.05 + 0.35*r.Float64()
			parts = []truthPart{{parts[0].product, 1 - f}, {spool(o), f}}
		}
		w.lot(name, mass, parts, nil)
		for _, p := range parts {
			used[p.product] += p.share * mass
		}
	}
	w.crumbs(crumbs, used)
	w.known(pool, main, others)
}

func (w *world) lot(name string, mass float64, parts []truthPart, mixed *bool) {
	w.lots[name], w.mass[name] = parts, mass
	w.bin.Lots = append(w.bin.Lots, sorting.Lot{Name: name, Mass: quantity.Exact(quantity.Gram(mass)), State: sorting.Dry, Prep: sorting.AsIs,
		Pieces: 40 + w.rng.IntN(200), Origin: sorting.OwnPrint, OriginGiven: true, Colour: strings.Fields(name)[0], Mixed: mixed})
	for _, p := range parts {
		w.truth[string(w.products[p.product].material)] += p.share * mass
	}
}

// crumbs hold a bit of everything, unevenly.
func (w *world) crumbs(mass float64, used map[int]float64) {
	var parts []truthPart
	total := 0.0
	for p := range w.products {
		x := used[p] * math.Exp(0.6*w.rng.NormFloat64())
		if x > 0 {
			parts = append(parts, truthPart{p, x})
			total += x
		}
	}
	for i := range parts {
		parts[i].share /= total
	}
	yes := true
	w.lot("crumbs", math.Round(mass), parts, &yes)
}

// known snippets: one spool of the main material, and one of another in half of the bins.
func (w *world) known(pool map[polymers.Symbol][]int, main polymers.Symbol, others []polymers.Symbol) {
	add := func(m polymers.Symbol) {
		if len(pool[m]) == 0 {
			return
		}
		p := pool[m][w.rng.IntN(len(pool[m]))]
		w.snippets[fmt.Sprintf("snippet %s", m)] = p
		w.bin.Known = append(w.bin.Known, sorting.Known{Name: fmt.Sprintf("snippet %s", m), Material: m, Density: quantity.With(
			quantity.GramPerCm3(w.products[p].density+0.004*w.rng.NormFloat64()), 0.004)})
	}
	if w.rng.Float64() < 0.7 {
		add(main)
	}
	if len(others) > 0 && w.rng.Float64() < 0.5 {
		add(others[0])
	}
}

// count writes the counters: each material printed, one of them unnamed in a quarter of the bins, one
// named that is not in the bin in a fifth; PLA hides behind PETG in a third.
func (w *world) count() {
	r := w.rng
	shared := 1 + 0.02*r.NormFloat64()
	total := 0.0
	for _, l := range w.bin.Lots {
		total += w.mass[l.Name]
	}
	w.bin.Floor = &sorting.Floor{Gross: quantity.Exact(quantity.Gram(math.Round((total+700)/10) * 10)), Tare: quantity.Exact(quantity.Gram(700)),
		Scale: sorting.ScaleRef{Step: quantity.Exact[quantity.Gram](10)}, Origin: sorting.OwnPrint, OriginGiven: true}
	skip := ""
	names := []string{}
	for _, m := range []polymers.Symbol{"PETG", "PLA", "ABS", "ASA", "TPU", "PVA"} {
		if w.truth[string(m)] > 0 {
			names = append(names, string(m))
		}
	}
	if len(names) > 2 && r.Float64() < 0.25 {
		skip = names[1+r.IntN(len(names)-1)]
	}
	hide := r.Float64() < 0.33 && w.truth["PLA"] > 0 && w.truth["PETG"] > 0
	kept := map[string]float64{}
	for i, m := range names {
		if m == skip || (m == "PLA" && hide) {
			continue
		}
		if i == 0 || r.Float64() < 0.5 {
			kept[m] = total * (0.5 + 1.5*r.Float64())
		}
		printed := kept[m] + w.truth[m]
		row := sorting.Counter{From: "counter " + m, Material: polymers.Symbol(m)}
		if m == "PETG" && hide {
			printed += w.truth["PLA"]
			row.Hidden = []polymers.Symbol{"PLA"}
			f := w.truth["PLA"] / printed
			row.HiddenShare = quantity.MustParse[quantity.Share](fmt.Sprintf("%.12f-%.12f %%", 40*f, 100*math.Min(1, f*1.8)))
		}
		row.Counted = quantity.Exact(quantity.Gram(math.Round(printed * shared * (1 + 0.04*r.NormFloat64()))))
		row.Error, row.SharedError = quantity.Exact[quantity.Share](0.04), quantity.Exact[quantity.Share](0.02)
		w.bin.Printed = append(w.bin.Printed, row)
		if kept[m] > 0 {
			w.bin.Kept = append(w.bin.Kept, sorting.Kept{What: "parts " + m, Mass: quantity.With(quantity.Gram(math.Round(kept[m])), 20), Materials: []polymers.Symbol{polymers.Symbol(m)}})
		}
	}
	if r.Float64() < 0.2 {
		for _, m := range []polymers.Symbol{"TPU", "ASA", "ABS", "PVA"} {
			if w.truth[string(m)] == 0 {
				g := math.Round(300 + 800*r.Float64())
				w.bin.Printed = append(w.bin.Printed, sorting.Counter{From: "counter " + string(m), Material: m, Counted: quantity.Exact(quantity.Gram(g)), Error: quantity.Exact[quantity.Share](0.04)})
				w.bin.Kept = append(w.bin.Kept, sorting.Kept{What: "parts " + string(m), Mass: quantity.With(quantity.Gram(g), 20), Materials: []polymers.Symbol{m}})
				break
			}
		}
	}
}

// try plays a test on the bench: what is seen, with the errors of the day.
func (w *world) try(lot string, piece int, kind cues.Kind, density quantity.GramPerCm3, temp quantity.Celsius) string {
	key := fmt.Sprint(lot, "|", piece)
	p, ok := w.pieces[key]
	if !ok {
		p = w.grab(lot)
		w.pieces[key] = p
	}
	return w.see(p, kind, density, temp)
}

// see is what a piece shows in a test.
func (w *world) see(p truthPiece, kind cues.Kind, density quantity.GramPerCm3, temp quantity.Celsius) string {
	wrong := w.rng.Float64() < 0.015
	m := w.products[p.product].material
	switch kind {
	case cues.Float:
		mg := int(math.Round(float64(density) * 1000))
		if _, ok := w.baths[mg]; !ok {
			w.baths[mg] = 0.003 * w.rng.NormFloat64()
		}
		d := p.density - float64(density) - w.baths[mg]
		if wrong {
			d = -d
		}
		switch {
		case d > 0.002:
			return "sinks"
		case d < -0.002:
			return "floats"
		}
		return "hovers"
	case cues.HotWater:
		soft := float64(temp)+w.thermo+1.5*w.rng.NormFloat64() > p.softens
		if soft != wrong {
			return "soft"
		}
		return "stiff"
	case cues.Soak:
		if (m == "PVA") != wrong && w.rng.Float64() < 0.95 {
			return "slimy"
		}
		return "unchanged"
	case cues.Bend:
		row := bending[m]
		u := w.rng.Float64()
		for i, o := range []string{"snaps", "whitens", "bends", "rubbery"} {
			if u -= row[i]; u < 0 {
				return o
			}
		}
	}
	return "unclear"
}

// grab takes a piece of a lot, or cuts one off a known snippet.
func (w *world) grab(lot string) truthPiece {
	u := w.rng.Float64()
	parts, isLot := w.lots[lot]
	if !isLot {
		parts = []truthPart{{w.snippets[lot], 1}}
	}
	at := parts[len(parts)-1].product
	for _, p := range parts {
		if u -= p.share; u < 0 {
			at = p.product
			break
		}
	}
	pr := w.products[at]
	air := w.air * w.rng.ExpFloat64()
	return truthPiece{product: at, density: pr.density*(1-math.Min(air, 0.6)) + 0.002*w.rng.NormFloat64(), softens: pr.softens}
}
