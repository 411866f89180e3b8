package vehicle

import (
	"fmt"
	"slices"
	"strings"
)

// Missing is the error of a quantity that can't be made from what is given.
type Missing struct {
	Name  string   // full name of what was asked for
	Needs []string // full names of what would have to be given
}

func (m *Missing) Error() string {
	if len(m.Needs) == 0 {
		return m.Name + ": this vehicle has none"
	}
	return fmt.Sprintf("%s: can't be computed; not given: %s", m.Name, strings.Join(m.Needs, ", "))
}

// Refused is the error of what a car states and may not: its full name, what was found
// and what is allowed.
type Refused struct{ Name, Found, Allowed string }

func (r *Refused) Error() string {
	if r.Allowed == "" {
		return r.Name + ": " + r.Found
	}
	return r.Name + ": " + r.Found + "; " + r.Allowed
}

func (s *System) missing(c *car, q string) *Missing {
	m := &Missing{Name: c.Name + "." + q}
	m.Needs = s.lacking(c, q, map[string]bool{})
	return m
}

// tooMany is the length from which on a list of parts is no help: asking for the whole
// is shorter.
const tooMany = 4

// lacking returns the shortest list of what would have to be given for quantity q
// that the car's statements point to: the rest of a way of which something is known,
// else the quantity itself; of what can't be given, the rest of its shortest way.
func (s *System) lacking(c *car, q string, seen map[string]bool) []string {
	name := c.Name + "." + q
	if seen[name] {
		return nil
	}
	seen[name] = true
	defer delete(seen, name)
	e := s.model.named[q]
	inPart := e.absent != nil && c.begins(e)
	var best []string
	for i := range e.ways {
		w := &e.ways[i]
		if !(e.outputOnly || inPart || s.begun(c, w)) || c.gives(w.unless) {
			continue
		}
		p := s.plan(c, w)
		l := s.leaves(p.missing, seen)
		if p.inPart {
			return l
		}
		if l != nil && (best == nil || len(l) < len(best)) {
			best = l
		}
	}
	if !e.outputOnly && (len(best) == 0 || len(best) >= tooMany) {
		return []string{name}
	}
	return best
}

// leaves returns what would have to be given for all of the names.
func (s *System) leaves(names []string, seen map[string]bool) []string {
	var all []string
	for _, name := range names {
		carName, q, _ := strings.Cut(name, ".")
		lacks := []string{name}
		if !strings.HasPrefix(q, billPrefix) {
			lacks = s.lacking(s.cars[carName], q, seen)
		}
		for _, l := range lacks {
			if !slices.Contains(all, l) {
				all = append(all, l)
			}
		}
	}
	return all
}

// begun reports whether the car has something that the way needs.
func (s *System) begun(c *car, w *way) bool {
	return slices.ContainsFunc(slices.Concat(w.needs, w.from), func(need string) bool {
		q, ok := bare(need)
		return ok && !strings.Contains(need, ":") && s.model.named[q] != nil && s.has(c, q)
	})
}
