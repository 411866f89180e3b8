package vehicle

import (
	"maps"
	"slices"
)

// MadeFrom returns the quantities that q is made from, at any depth and by any way,
// in alphabetical order; kerb_mass also lists "displaced" and "added". A car that states
// one of them does not inherit a value of q that its base was given. What usually
// changes without q is left out: a new pack mass leaves a given energy as it was.
func (m *Model) MadeFrom(q string) []string { return slices.Sorted(maps.Keys(m.made[q])) }

// Undoes reports whether part, stated anew by a car for which given tells what else is
// given, undoes a value of q that its base was given. A new specific energy makes a new
// energy where the mass is given; else the mass follows from it and the energy stays.
func (m *Model) Undoes(part, q string, given func(quantity string) bool) bool {
	with, makes := m.made[q][part]
	return makes && (with == "" || given(with))
}

// makers are the quantities that q is made from, each with the one that must be given
// for it, "" where none must.
func (m *Model) makers(q string) map[string]string {
	found := map[string]string{}
	seen := map[string]bool{q: true}
	var walk func(name string)
	walk = func(name string) {
		if m.named[name] == nil {
			return
		}
		for _, w := range m.named[name].ways {
			for _, part := range w.undone {
				if _, known := found[part]; !known {
					found[part] = w.undoneWith
				}
			}
			if w.fixed {
				continue
			}
			for _, need := range slices.Concat(w.needs, w.from) {
				if part, ok := bare(need); ok && !seen[part] {
					seen[part] = true
					found[part] = ""
					walk(part)
				}
			}
		}
	}
	walk(q)
	delete(found, q)
	return found
}
