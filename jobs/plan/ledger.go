package plan

import (
	"slices"
	"strings"
)

// The quantities of a vehicle that its ledger of masses is made of, beside the parts that are
// declared to be parts of the whole.
const (
	wholeMass     = "kerb_mass"
	packMass      = "pack_mass"
	cellsMass     = "cells_mass"
	displacedMass = "displaced_mass"
	addedMass     = "added_mass"
)

// RestOfMass is what of a change of mass no item of the ledger tells.
const RestOfMass = "rest of the car"

// ledger divides the change of kerb mass among the things that have changed: cells, the rest
// of the pack, each part displaced or added, each line of a bill, the other subsystems that both vehicles state.
// There is none where one mass counts a driver in and the other does not.
func (s *Splitting) ledger(p *Plan, names *numbered) *Ledger {
	own, base := s.Candidate+".", s.Baseline+"."
	drawn := p.drawnNumbers()
	has := func(q string) (ownHas, baseHas bool) {
		return s.graph.evaluable(own+q, drawn), s.graph.evaluable(base+q, drawn)
	}
	if o, b := has(wholeMass); !o || !b || s.basis(s.Candidate) != s.basis(s.Baseline) {
		return nil
	}
	l := &Ledger{Own: names.number(own + wholeMass), Base: names.number(base + wholeMass)}
	add := func(words string, sign float64, ours, theirs string) {
		item := LedgerItem{Name: words}
		if ours != "" {
			item.Columns, item.Signs = append(item.Columns, names.number(ours)), append(item.Signs, sign)
		}
		if theirs != "" {
			item.Columns, item.Signs = append(item.Columns, names.number(theirs)), append(item.Signs, -sign)
		}
		l.Items = append(l.Items, item)
	}
	both := func(q string) bool { o, b := has(q); return o && b }
	system := p.Study.System
	packExplained := system.Explained(s.Candidate, s.Baseline, packMass)
	switch {
	case packExplained: // by lines of a bill, of which each is an item
	case both(packMass) && both(cellsMass):
		add("cells", 1, own+cellsMass, base+cellsMass)
		add("rest of the pack", 1, own+packMass, base+packMass)
		rest := &l.Items[len(l.Items)-1]
		rest.Columns, rest.Signs = append(rest.Columns, l.Items[0].Columns...), append(rest.Signs, -1, 1)
	case both(packMass):
		add("pack", 1, own+packMass, base+packMass)
	}
	for _, change := range system.BillChanges(s.Candidate, s.Baseline) {
		if q, _ := system.Quantity(s.Candidate + "." + change.Part); q.PartOf == wholeMass || packExplained {
			add(strings.ReplaceAll(change.Line, "_", " "), 1, change.Own, change.Base)
		}
	}
	for _, q := range system.Quantities() {
		if q.PartOf == wholeMass && q.Name != packMass && both(q.Name) && !system.Explained(s.Candidate, s.Baseline, q.Name) {
			add(strings.TrimSuffix(strings.ReplaceAll(q.Name, "_", " "), " mass"), 1, own+q.Name, base+q.Name)
		}
	}
	for _, of := range []struct {
		quantity, words string
		sign            float64
	}{{displacedMass, "displaced", -1}, {addedMass, "added", 1}} {
		s.items(of.quantity, of.words, of.sign, has, add)
	}
	return l
}

// items adds the parts that are displaced or added, each by itself where they are stated one
// by one.
func (s *Splitting) items(q, words string, sign float64, has func(string) (bool, bool), add func(words string, sign float64, ours, theirs string)) {
	ownHas, baseHas := has(q)
	stated := map[string][2]string{}
	var order []string
	for i, of := range []struct {
		vehicle string
		is      bool
	}{{s.Candidate, ownHas}, {s.Baseline, baseHas}} {
		if !of.is {
			continue
		}
		needs := s.graph.Needs(of.vehicle + "." + q)
		if len(needs) == 0 { // left out: nil
			continue
		}
		for _, need := range needs {
			at := strings.LastIndexByte(need, '.')
			if !strings.HasSuffix(need[:max(at, 0)], "."+words) { // it follows from something else
				add(words+" structure", sign, s.Candidate+"."+q, s.Baseline+"."+q)
				return
			}
			item := need[at+1:]
			pair, known := stated[item]
			if !known {
				order = append(order, item)
			}
			pair[i] = need
			stated[item] = pair
		}
	}
	slices.Sort(order)
	for _, item := range order {
		add(words+" "+strings.ReplaceAll(item, "_", " "), sign, stated[item][0], stated[item][1])
	}
}

// basis is the mass basis of a vehicle.
func (s *Splitting) basis(vehicle string) string {
	for _, c := range s.graph.study.Cars {
		if c.Name == vehicle && c.MassBasis != "" {
			return c.MassBasis
		}
	}
	return "us_curb"
}
