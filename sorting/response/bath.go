package response

import (
	"fmt"

	"brinecut/polymers/quantity"
	"brinecut/sorting"
)

// bathSetting is one liquid that stands, with the doubt about its density.
type bathSetting struct {
	name    string
	density float64
	sd      float64
}

// bathKey names the liquid of a test: its bath, or its stated density (tests at the same density are
// one bath and share its error). Empty where the test has none.
func bathKey(o *sorting.Observation) string {
	switch {
	case o.Bath != "":
		return "bath " + o.Bath
	case o.Density.Given():
		return fmt.Sprintf("density %.4f", float64(o.Density.Value))
	}
	return ""
}

// readBaths lists the liquids that tests were made in, then the bin's other baths, which stand and in
// which a lot may have been split.
func (m *Model) readBaths(bin *sorting.Bin) {
	for i := range bin.Tests {
		o := &bin.Tests[i]
		q := o.Density
		if b, ok := bin.BathOf(o.Bath); ok {
			q = b.Density
		}
		m.stands(bathKey(o), q)
	}
	for _, b := range bin.Baths {
		if b.Density.Given() {
			m.stands("bath "+b.Name, b.Density)
		}
	}
}

func (m *Model) stands(key string, q quantity.Density) {
	if key == "" || m.bath(key) >= 0 {
		return
	}
	sd := float64(q.SD)
	if sd == 0 {
		sd = m.opt.BathSD
	}
	m.baths = append(m.baths, bathSetting{key, float64(q.Value), sd})
}

func (m *Model) bath(key string) int {
	for i, b := range m.baths {
		if b.name == key {
			return i
		}
	}
	return -1
}

// Baths gives the densities of the liquids that stand: of the bin's [[bath]]s, and those that tests were
// already made in, g/cm3.
func (m *Model) Baths() []float64 {
	out := make([]float64, len(m.baths))
	for i, b := range m.baths {
		out[i] = b.density
	}
	return out
}
