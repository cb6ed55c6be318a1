package response

import (
	"fmt"

	"brinecut/sorting"
)

// bathSetting is one liquid that tests were made in, with the doubt about its density.
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

func (m *Model) readBaths(bin *sorting.Bin) {
	for i := range bin.Tests {
		o := &bin.Tests[i]
		key := bathKey(o)
		if key == "" || m.bath(key) >= 0 {
			continue
		}
		q := o.Density
		if b, ok := bin.BathOf(o.Bath); ok {
			q = b.Density
		}
		sd := float64(q.SD)
		if sd == 0 {
			sd = m.opt.BathSD
		}
		m.baths = append(m.baths, bathSetting{key, float64(q.Value), sd})
	}
}

func (m *Model) bath(key string) int {
	for i, b := range m.baths {
		if b.name == key {
			return i
		}
	}
	return -1
}

// Baths gives the densities of the liquids that tests were already made in, g/cm3.
func (m *Model) Baths() []float64 {
	out := make([]float64, len(m.baths))
	for i, b := range m.baths {
		out[i] = b.density
	}
	return out
}
