package reuse

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"brinecut/polymers"
	"brinecut/sorting"
)

// Worth is what keeping a fraction gains over throwing it out. Ranges hold 90 % of the probability.
type Worth struct {
	Keep       bool          // the mean value is above zero, and the route is not disposal
	Value      sorting.Range // money, in Currency
	Currency   string
	BreakEvenG *float64       // g at which the mean value is zero; nil where no mass breaks even
	HoursPerKg *float64       // bench hours for each kilogram of product; nil where there is none
	EnergyKWh  sorting.Range  // for the whole fraction
	CO2Kg      *sorting.Range // kg CO2 equivalent saved; nil where no figure for the material is known
}

// points of the quasi-random sweep over the constants: judgement.
const points = 512

// sweep holds the Halton points, one prime base a constant (Halton, Numerische Mathematik 2 (1960) 84).
var sweep = sync.OnceValue(func() [points][len(primes)]float64 {
	var out [points][len(primes)]float64
	for i := range out {
		for d, p := range primes {
			out[i][d] = halton(i+1, p)
		}
	}
	return out
})

// primes are the bases of the Halton points, one a constant (Halton 1960).
var primes = [...]int{2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31}

// bracket is what a kilogram earns before labour and fixed cost, method.md (R3), money/kg.
func (c costs) bracket() float64 {
	return c.price.mean*c.good.mean*c.yield.mean - c.energy.mean*c.tariff.mean - c.consumables.mean + c.fee.mean
}

// once is what the fraction costs whatever its mass: labour and fixed cost, money.
func (c costs) once() float64 { return c.hours.mean*c.wage.mean + c.fixed.mean }

// breakEven is the mass in g at which keeping costs as much as it gains; nil where no mass does.
func (c costs) breakEven() *float64 {
	b := c.bracket()
	if !(b > 1e-9) {
		return nil
	}
	m := max(0, 1000*c.once()/b)
	return &m
}

// appraise reckons the worth of one way from the mass draws (g) and the constants. The mean is exact,
// since value is linear in each constant and they are held to be independent; the range sweeps them
// together over a Halton sequence.
func (c costs) appraise(massG []float64) Worth {
	m := sum(massG) / float64(len(massG)) / 1000
	w := Worth{Currency: currencyOf(c.currency), BreakEvenG: c.breakEven()}
	mean := m*c.bracket() - c.once()
	values, energies := make([]float64, points), make([]float64, points)
	sorted := slices.Sorted(slices.Values(massG))
	table := sweep()
	for i, u := range table {
		kg := sorted[min(int(u[0]*float64(len(sorted))), len(sorted)-1)] / 1000
		e := kg * max(0, c.energy.at(u[1]))
		earned := c.price.at(u[2])*c.good.at(u[3])*c.yield.at(u[4]) - c.consumables.at(u[5]) + c.fee.at(u[6])
		values[i] = kg*earned - e*c.tariff.at(u[7]) - max(0, c.hours.at(u[8]))*c.wage.at(u[9]) - c.fixed.at(u[10])
		energies[i] = e
	}
	w.Value = rangeOf(mean, values)
	w.EnergyKWh = rangeOf(m*c.energy.mean, energies)
	w.Keep = mean > 0
	if kg := m * c.yield.mean; kg > 1e-6 {
		h := c.hours.mean / kg
		w.HoursPerKg = &h
	}
	return w
}

// halton is the i-th term, i >= 1, of the radical inverse sequence in a prime base: 0 < u < 1.
func halton(i, base int) float64 {
	u, f := 0.0, 1.0
	for ; i > 0; i /= base {
		f /= float64(base)
		u += f * float64(i%base)
	}
	return u
}

// virgin is the carbon footprint of new material, kg CO2e/kg, cradle to gate.
type virgin struct {
	low, high float64
	source    string
}

const hopewell = "Hopewell, Dvorak, Kosior, Phil Trans R Soc B 364 (2009) 2115, table 3"

// virgins by polymer. Where one figure is known its spread is a quarter each way (judgement).
var virgins = map[polymers.Symbol]virgin{
	"PET":  {2.2, 3.4, hopewell + " (3.4); a later eco-profile has 2.2 (PlasticsEurope 2017, from memory)"},
	"PETG": {2.2, 3.4, "PET as proxy, no open figure found: " + hopewell},
	"PLA":  {0.47, 0.78, "0.62: Vink and Davies, Industrial Biotechnology 11 (2015) 167, from memory"},
	"ABS":  {2.3, 3.9, "3.1: PlasticsEurope eco-profile 2015, from memory"},
	"HIPS": {2.6, 4.2, "PS as proxy, 3.4: " + hopewell},
	"PP":   {1.5, 2.5, "2.0: " + hopewell},
}

// reprocessed is the footprint of plastic made from waste by a recycler, kg CO2e/kg (Hopewell, Dvorak and Kosior 2009).
const reprocessed = 1.4

// end is the way that a hold is worth as, else the way itself.
func (w way) end() Route {
	if w.route == Hold {
		return w.held
	}
	return w.route
}

// carbon is the CO2 equivalent that a way saves on kg of material, as a range between the worst and the
// best of its factors, method.md (R4); nil where no figure for the material was found, or nothing is
// kept. Carriage and the end of life that is put off are left out.
func (w way) carbon(syms []polymers.Symbol, kg float64, grid [2]float64) *sorting.Range {
	r, c := w.end(), w.costs
	v, ok := virginOf(syms)
	if !ok || !(r.Hot() || r == Recycler) {
		return nil
	}
	low, high := kg*(v.low-reprocessed), kg*(v.high-reprocessed)
	if r.Hot() {
		low = kg * (c.yield.low()*c.good.low()*v.low - grid[1]*c.energy.high())
		high = kg * (c.yield.high()*c.good.high()*v.high - grid[0]*c.energy.low())
	}
	return &sorting.Range{Mean: (low + high) / 2, Low: low, High: high}
}

// carbonAssumed are the constants behind carbon, each stated alike whatever fraction asks.
func (w way) carbonAssumed(syms []polymers.Symbol, grid [2]float64) []sorting.Assumption {
	v, _ := virginOf(syms)
	var names []string
	for _, s := range syms {
		names = append(names, string(s))
	}
	out := []sorting.Assumption{{Says: fmt.Sprintf("new %s: %s kg CO2e/kg, carriage and end of life left out", strings.Join(names, " or "), span(v.low, v.high)), Source: v.source}}
	if w.end().Hot() {
		return append(out, sorting.Assumption{Says: "electricity: " + span(grid[0], grid[1]) + " kg CO2/kWh", Source: practice})
	}
	return append(out, sorting.Assumption{Says: "recycled plastic: 1.4 kg CO2e/kg", Source: hopewell})
}

func virginOf(syms []polymers.Symbol) (virgin, bool) {
	out := virgin{low: math.Inf(1)}
	for _, s := range syms {
		if m, ok := polymers.Find(s); ok {
			s = m.Base
		}
		v, ok := virgins[s]
		if !ok {
			return virgin{}, false
		}
		out = virgin{min(out.low, v.low), max(out.high, v.high), v.source}
	}
	return out, len(syms) > 0
}
