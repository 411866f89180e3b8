package vehicle

import (
	"slices"
	"strings"
)

// kind says where a car's quantity comes from.
type kind int

const (
	lacking    kind = iota
	open            // being decided: a way that leads back here is none
	given           // a node of the study
	made            // a way
	sharedMade      // a rule that serves all cars
	defaulted       // the catalogue's default
	left            // left out: a constant stands for it
)

// source is where a car's quantity comes from.
type source struct {
	kind  kind
	name  string   // given, defaulted, sharedMade: the node
	way   *way     // made
	needs []string // made: full names
}

// source decides, once, where quantity q of the car comes from.
func (s *System) source(c *car, q string) *source {
	if known := c.sources[q]; known != nil {
		return known
	}
	from := &source{kind: open}
	c.sources[q] = from
	*from = s.decide(c, s.model.named[q])
	return from
}

func (s *System) decide(c *car, e *entry) source {
	if node, ok := c.Given[e.name]; ok {
		return source{kind: given, name: node}
	}
	if e.name == "model_error_own" && c.Certified && c != s.baseline {
		return source{kind: defaulted, name: c.Name + "." + e.name}
	}
	if e.own {
		return source{kind: defaulted, name: s.Chain(c.Name) + "." + e.name}
	}
	if e.shared && len(e.ways) > 0 {
		return source{kind: sharedMade, name: e.name}
	}
	if s.model.isBillPart(e.name) && c.billed(e.name) {
		if from, whole := s.fromBill(c, e.name); whole {
			return from
		}
	}
	for i := range e.ways {
		if p := s.plan(c, &e.ways[i]); p.ok {
			w := e.ways[i]
			w.eval, w.start = p.eval, p.start
			return source{kind: made, way: &w, needs: p.needs}
		}
	}
	if e.fallback != "" {
		return source{kind: defaulted, name: e.name}
	}
	if e.absent != nil && !c.begins(e) {
		return source{kind: left}
	}
	return source{kind: lacking}
}

// Chain is the name of the car at the root of a car's chain of bases, its own without a
// base.
func (s *System) Chain(name string) string {
	if c := s.cars[name]; c != nil && c.root != nil {
		return c.root.Name
	}
	return name
}

// gives reports whether one of the quantities is given for the car.
func (c *car) gives(quantities []string) bool {
	return slices.ContainsFunc(quantities, func(q string) bool { return c.Given[q] != "" })
}

// begins reports whether the car or its bases state something of a quantity that is
// otherwise nil where nothing is stated.
func (c *car) begins(e *entry) bool {
	return c.gives(e.absent.unless) || slices.Contains(c.Undone, e.name)
}

// has reports whether the car's quantity is given or can be made: that it is no
// default and not just left out.
func (s *System) has(c *car, q string) bool {
	k := s.source(c, q).kind
	return k == given || k == made
}

// plan says whether and how the way serves the car.
func (s *System) plan(c *car, w *way) plan {
	if c.gives(w.unless) {
		return plan{}
	}
	if w.fit != nil {
		p := w.fit(s, c)
		if !p.ok {
			return p
		}
		return s.named(c, p.needs, p.eval, p.start)
	}
	return s.named(c, w.needs, w.eval, w.start)
}

// named turns needs into full names; ok is false if one can't be had.
func (s *System) named(c *car, needs []string, eval evaluate, begin start) plan {
	p := plan{eval: eval, start: begin, ok: true}
	for _, need := range needs {
		name, ok := s.need(c, need)
		if !ok {
			p.ok = false
			if name != "" {
				p.missing = append(p.missing, name)
			}
		}
		p.needs = append(p.needs, name)
	}
	return p
}

// need returns the full name that a need stands for. Where it can't be had, it is
// the name of what is lacking, or "" if the car is of the wrong kind for it.
func (s *System) need(c *car, need string) (name string, ok bool) {
	if name, raw := strings.CutPrefix(need, "="); raw {
		return name, true
	}
	if q, must := strings.CutPrefix(need, "!"); must {
		if node := c.Given[q]; node != "" {
			return node, true
		}
		return c.Name + "." + q, false
	}
	if q, ofRoot := strings.CutPrefix(need, rootMark); ofRoot {
		if c.root == nil {
			return "", false
		}
		return s.full(c.root, q)
	}
	if q, ofBaseline := strings.CutPrefix(need, baselineMark); ofBaseline {
		if c == s.baseline {
			return "", false
		}
		return s.full(s.baseline, q)
	}
	return s.full(c, need)
}

// full returns the name of the column that holds quantity q of the car.
func (s *System) full(c *car, q string) (name string, ok bool) {
	switch from := s.source(c, q); from.kind {
	case given, defaulted, sharedMade:
		return from.name, true
	case made, left:
		return c.Name + "." + q, true
	}
	return c.Name + "." + q, false
}

// reference is full with an error.
func (s *System) reference(c *car, q string) (string, error) {
	name, ok := s.full(c, q)
	if !ok {
		return "", s.missing(c, q)
	}
	return name, nil
}
