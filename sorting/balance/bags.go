package balance

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/sorting"
)

// addBags adds what is in the sacks that leave. Bags that share lots go together: their lots weigh what
// the bags do, or more where part of a lot is not bagged.
func (s *sheet) addBags() error {
	groups := s.bagGroups()
	if len(groups) == 0 {
		return nil
	}
	before, err := Reconcile(s.p)
	if err != nil {
		return err
	}
	for _, g := range groups {
		s.addBagGroup(g, before)
	}
	return nil
}

// bagGroup is a set of bags that share lots.
type bagGroup struct {
	bags []sorting.Bag
	lots []string
}

func (s *sheet) bagGroups() []bagGroup {
	var groups []bagGroup
	for _, b := range s.bin.Bags {
		one := bagGroup{bags: []sorting.Bag{b}, lots: append([]string(nil), b.Lots...)}
		var rest []bagGroup
		for _, g := range groups {
			if slices.ContainsFunc(g.lots, func(l string) bool { return slices.Contains(one.lots, l) }) {
				one.bags = append(g.bags, one.bags...)
				for _, l := range g.lots {
					if !slices.Contains(one.lots, l) {
						one.lots = append(one.lots, l)
					}
				}
				continue
			}
			rest = append(rest, g)
		}
		groups = append(rest, one)
	}
	return groups
}

func (s *sheet) addBagGroup(g bagGroup, before *Solution) {
	var lots []Term
	for _, name := range g.lots {
		if p := s.lots.find[name]; p != nil {
			lots = append(lots, Term{p.now, 1})
		}
	}
	if len(lots) == 0 {
		return
	}
	terms, weight, v := lots, 0.0, 0.0
	for _, b := range g.bags {
		m := s.weighed(b.Scale, b.Gross, b.Tare)
		name := s.named("bag "+b.ID, b.Line)
		u := s.unknown(name)
		r := s.read(name, b.Line, []Term{{u, 1}}, m)
		s.flows = append(s.flows, flow{name: name, kind: IsBag, line: b.Line, terms: []Term{{u, 1}}, reading: r, measured: &m.value})
		terms = append(terms, Term{u, -1})
		weight += m.value
		v += m.sd * m.sd
	}
	names := strings.Join(g.lots, ", ")
	switch e := before.At(lots); {
	case !e.Determined:
		s.assume(fmt.Sprintf("the bags of %s hold all of it", names), "[[lot]] mass", practice)
	case e.Value-weight > 2*sqrt(v+e.FreeSD*e.FreeSD):
		terms = append(terms, Term{s.unknown("not bagged of " + names), -1})
	}
	s.balance("bags of "+names, terms)
}
