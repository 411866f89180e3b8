package vehicle

import (
	"slices"
	"strings"

	"proofmass/model"
)

// A BillLine is a weighed part of a car, from a teardown's bill of parts. All but Name and
// Group are full names of nodes, "" for what is not stated.
type BillLine struct {
	Name  string
	Group string // the mass that it is part of, without its ending: tray, cells, body
	Mass  string // of one
	Count string // one, if it is not stated

	X, Y, Z               string // of its centre: behind the front axle, right of the centre plane (on it, if it is not stated), over the ground
	Length, Width, Height string // of the box over which it is spread; a point, if they are not stated
}

// billPrefix is what the names of lines begin with behind the car's.
const billPrefix = "bill."

// What is computed of a line, behind its name.
const (
	lineTotal = ".total" // mass of all of them
	lineYaw   = ".yaw"   // their inertia about their own centre
	lineRoll  = ".roll"
)

// byBill is what a mass goes by that is the sum of lines.
const byBill = "bill"

// BillGroups are the groups that a line of a bill may belong to: the parts of pack and car.
func (m *Model) BillGroups() []string {
	var groups []string
	for _, part := range m.billParts() {
		groups = append(groups, groupOf(part))
	}
	return groups
}

// billParts are the masses that a bill may give.
func (m *Model) billParts() []string {
	return slices.DeleteFunc(slices.Concat(m.parts["pack_mass"], m.parts["kerb_mass"]), func(part string) bool { return !m.isBillPart(part) })
}

func (m *Model) isBillPart(q string) bool {
	whole := m.named[q].traits.PartOf
	return (whole == "pack_mass" || whole == "kerb_mass" && q != "pack_mass") && strings.HasSuffix(q, "_mass")
}

func groupOf(part string) string { return strings.TrimSuffix(part, "_mass") }

// PartOfGroup is the mass that the lines of a group make.
func PartOfGroup(group string) string { return group + "_mass" }

// billQuantities declares the second routes that a bill gives.
func billQuantities(parts []string) []quantity {
	const check = "cross-check"
	all := []quantity{
		{name: "pack_mass_by_bill", unit: "kg", limits: nonNegative, outputOnly: true, traits: model.Traits{RouteTo: "pack_mass", Beside: "pack_mass"},
			meaning: "mass of the pack by a second route: the sum of its parts, weighed line by line", source: check,
			ways: []way{{fit: packBesideBill, from: []string{"bill", partsMark + "pack_mass"}}}},
		{name: "cells_mass_by_count", unit: "kg", limits: nonNegative, outputOnly: true, traits: model.Traits{RouteTo: "cells_mass", Beside: "cells_mass"},
			meaning: "mass of all cells by a second route: count x mass of one", source: check,
			ways: []way{{from: []string{"cells_placed", "cell_mass"}, form: "cells_placed x cell_mass", fit: cellsBesideBill}}},
	}
	for _, part := range parts {
		all = append(all, quantity{name: part + "_by_bill", unit: "kg", limits: nonNegative, outputOnly: true, traits: model.Traits{RouteTo: part, Beside: part},
			meaning: "sum of the lines that a bill has in the group " + groupOf(part) + ", where their whole is stated too", source: check,
			ways: []way{{form: "the sum of count x mass of these lines", from: []string{"bill"}, fit: func(s *System, c *car) plan {
				if c.Given[part] == "" || !c.ownLines(part, c.Given[part]) {
					return plan{}
				}
				return s.sumOfLines(c, nil, part)
			}}}})
	}
	return all
}

// packBesideBill adds up the parts beside a pack mass that is known otherwise, where the
// same car's lines are among them.
func packBesideBill(s *System, c *car) plan {
	whole := s.source(c, "pack_mass")
	if whole.kind != given || !slices.ContainsFunc(s.model.parts["pack_mass"], func(part string) bool { return c.ownLines(part, whole.name) }) {
		return plan{}
	}
	return packByParts(s, c)
}

func cellsBesideBill(s *System, c *car) plan {
	if !s.byBill(c, "cells_mass") {
		return plan{}
	}
	w := product("cells_placed", "cell_mass")
	return plan{ok: true, needs: w.needs, eval: w.eval}
}

// lines are those of the bill that make a part.
func (c *car) lines(part string) []BillLine {
	return slices.DeleteFunc(slices.Clone(c.Bill), func(l BillLine) bool { return PartOfGroup(l.Group) != part })
}

// ownLines reports whether a line of the part is stated by whoever states the node.
func (c *car) ownLines(part, node string) bool {
	owner, _, _ := strings.Cut(node, ".")
	return slices.ContainsFunc(c.lines(part), func(l BillLine) bool { return strings.HasPrefix(l.Mass, owner+".") })
}

// line is the car's line of that name, nil if it has none.
func (c *car) line(name string) *BillLine {
	for i := range c.Bill {
		if c.Bill[i].Name == name {
			return &c.Bill[i]
		}
	}
	return nil
}

// billed reports whether the car, or one that it is based on, has lines of the part; those
// of a base do not count where the car has undone them.
func (c *car) billed(part string) bool {
	for ; c != nil; c = c.base {
		if len(c.lines(part)) > 0 {
			return true
		}
		if slices.Contains(c.Undone, part) {
			return false
		}
	}
	return false
}

// byBill reports whether a car's part is made of lines.
func (s *System) byBill(c *car, part string) bool {
	from := s.source(c, part)
	return from.kind == made && from.way.by == byBill
}

// fromBill says how lines make a part that is not given: their sum, or that of a base that
// is known as a whole with what lines have changed since. Lines of the car outside its pack
// are taken for some of their part, never for all of it: whole is then false.
func (s *System) fromBill(c *car, part string) (from source, whole bool) {
	root := s.billRoot(c.base, part)
	switch {
	case root == nil && !s.inPack(part):
		return source{}, false
	case root != nil && s.changes(c, part, root):
		return source{kind: lacking}, true // by lines and by what else it is made from
	}
	p := s.sumOfLines(c, root, part)
	return source{kind: made, way: &way{by: byBill, eval: p.eval, start: p.start}, needs: p.needs}, true
}

func (s *System) inPack(part string) bool { return s.model.named[part].traits.PartOf == "pack_mass" }

// billRoot is the car of a chain whose part, known as a whole, all lines of it count from;
// nil where they count from nothing.
func (s *System) billRoot(c *car, part string) *car {
	for ; c != nil; c = c.base {
		if s.byBill(c, part) {
			continue
		}
		if s.has(c, part) {
			return c
		}
		return nil
	}
	return nil
}

// sumOfLines adds up the car's lines of a part; from a root, to what its part is with its
// own lines taken out. Needs are full names.
func (s *System) sumOfLines(c, root *car, part string) plan {
	var needs []string
	signs := []float64{}
	add := func(name string, sign float64) { needs, signs = append(needs, name), append(signs, sign) }
	if root == nil {
		for _, l := range c.lines(part) {
			add(s.lineName(c, l, lineTotal), 1)
		}
	} else {
		whole, _ := s.full(root, part)
		add(whole, 1)
		for _, change := range s.lineChanges(c, root, part) {
			change.each(add)
		}
	}
	return plan{ok: true, needs: needs, eval: func(out, in [][]float64) {
		y := out[0]
		clear(y)
		for k, x := range in {
			for i := range y {
				y[i] += float64(signs[k] * x[i])
			}
		}
	}}
}

// lineName is the full name of what is computed of a line; a line that is as its base's goes
// by the base's name, so that it is one column.
func (s *System) lineName(c *car, l BillLine, what string) string {
	if what == lineTotal && l.Count == "" {
		return l.Mass
	}
	for c.base != nil {
		was := c.base.line(l.Name)
		if was == nil || *was != l {
			break
		}
		c = c.base
	}
	return c.Name + "." + billPrefix + l.Name + what
}

// A BillChange is a line that two cars do not have alike: the full names of its mass, ""
// where one of them has no such line.
type BillChange struct{ Line, Part, Own, Base string }

// each gives the masses that make the change, what is put in with 1 and what is taken out
// with -1.
func (b BillChange) each(do func(name string, sign float64)) {
	if b.Own != "" {
		do(b.Own, 1)
	}
	if b.Base != "" {
		do(b.Base, -1)
	}
}

// lineChanges are those of a part, of every part where it is "".
func (s *System) lineChanges(c, base *car, part string) []BillChange {
	var all []BillChange
	add := func(l BillLine, is, was *BillLine) {
		if part != "" && PartOfGroup(l.Group) != part || is != nil && was != nil && *is == *was {
			return
		}
		change := BillChange{Line: l.Name, Part: PartOfGroup(l.Group)}
		if is != nil {
			change.Own = s.lineName(c, *is, lineTotal)
		}
		if was != nil {
			change.Base = s.lineName(base, *was, lineTotal)
		}
		all = append(all, change)
	}
	for i := range base.Bill {
		add(base.Bill[i], c.line(base.Bill[i].Name), &base.Bill[i])
	}
	for i := range c.Bill {
		if base.line(c.Bill[i].Name) == nil {
			add(c.Bill[i], &c.Bill[i], nil)
		}
	}
	return all
}

// BillChanges are the lines that a candidate does not have as another car has them, in the
// order of that one's bill, then of its own.
func (s *System) BillChanges(own, base string) []BillChange {
	c, b := s.cars[own], s.cars[base]
	if c == nil || b == nil {
		return nil
	}
	return slices.DeleteFunc(s.lineChanges(c, b, ""), func(change BillChange) bool { return !s.explained(c, b, change.Part) })
}

// Explained reports whether all that differs between two cars in a part, or in the mass of
// their packs, are lines of their bills.
func (s *System) Explained(own, base, part string) bool {
	c, b := s.cars[own], s.cars[base]
	return c != nil && b != nil && s.explained(c, b, part)
}

func (s *System) explained(c, base *car, part string) bool {
	if part == "pack_mass" {
		return s.packExplained(c, base)
	}
	own, was := s.billRoot(c, part), s.billRoot(base, part)
	switch {
	case own != was || !s.model.isBillPart(part):
		return false
	case own != nil:
		return s.byBill(c, part)
	case s.inPack(part):
		return s.byBill(c, part) || s.byBill(base, part)
	}
	return len(c.lines(part))+len(base.lines(part)) > 0
}

// packExplained reports whether two packs differ in lines of bills alone.
func (s *System) packExplained(c, base *car) bool {
	if len(c.Bill) == 0 && len(base.Bill) == 0 {
		return false
	}
	own, was := s.source(c, "pack_mass"), s.source(base, "pack_mass")
	if own.kind != made || was.kind == lacking {
		return false
	}
	switch by := own.way.by; {
	case by == "change" && base == c.base:
	case by == "parts" && was.kind == made && was.way.by == "parts":
	default:
		return false
	}
	for _, part := range s.model.parts["pack_mass"] {
		if s.nameOf(c, part) != s.nameOf(base, part) && (s.has(c, part) || s.has(base, part)) && !s.explained(c, base, part) {
			return false
		}
	}
	return true
}

// packByChange is the mass of its base's pack, known as a whole, with what lines of the bill
// have changed.
func packByChange(s *System, c *car) plan {
	base := c.base
	if base == nil || len(c.Bill) == 0 && len(base.Bill) == 0 {
		return plan{}
	}
	if from := s.source(base, "pack_mass"); from.kind == lacking || from.kind == made && from.way.by == "parts" {
		return plan{}
	}
	p := plan{ok: true, needs: []string{"=" + s.nameOf(base, "pack_mass")}}
	signs := []float64{1}
	for _, part := range s.model.parts["pack_mass"] {
		if s.nameOf(c, part) == s.nameOf(base, part) || !s.has(c, part) && !s.has(base, part) {
			continue
		}
		if !s.explained(c, base, part) {
			return plan{}
		}
		for _, change := range s.lineChanges(c, base, part) {
			change.each(func(name string, sign float64) { p.needs, signs = append(p.needs, "="+name), append(signs, sign) })
		}
	}
	p.eval = func(out, in [][]float64) {
		copy(out[0], in[0])
		for k := 1; k < len(in); k++ {
			for i := range out[0] {
				out[0][i] += float64(signs[k] * in[k][i])
			}
		}
	}
	return p
}

// billRule makes what is computed of a line: q is "bill.lid.total".
func (s *System) billRule(c *car, q string) (model.Rule, error) {
	name := c.Name + "." + q
	item, what, _ := strings.Cut(q[len(billPrefix):], ".")
	l := c.line(item)
	if l == nil {
		return model.Rule{}, &Missing{Name: name}
	}
	total := s.lineName(c, *l, lineTotal)
	switch "." + what {
	case lineTotal:
		if l.Count == "" {
			return model.Rule{Out: []string{name}, Needs: []string{l.Mass}, Eval: copyColumn}, nil
		}
		return model.Rule{Out: []string{name}, Needs: []string{l.Count, l.Mass}, Eval: product("", "").eval}, nil
	case lineYaw:
		return boxRule(name, total, l.Length, l.Width), nil
	case lineRoll:
		return boxRule(name, total, l.Width, l.Height), nil
	}
	return model.Rule{}, &Missing{Name: name}
}

// boxRule is the inertia of a uniform box about its centre; a side that is not stated is nil.
func boxRule(name, mass string, sides ...string) model.Rule {
	sides = slices.DeleteFunc(sides, func(side string) bool { return side == "" })
	return model.Rule{Out: []string{name}, Needs: append([]string{mass}, sides...), Eval: func(out, in [][]float64) {
		for i, m := range in[0] {
			square := 0.0
			for _, side := range in[1:] {
				square += float64(side[i] * side[i])
			}
			out[0][i] = m * square / 12
		}
	}}
}

// billQuantity describes what is computed of a line.
func billQuantity(q string) (model.Quantity, bool) {
	item, what, of := strings.Cut(strings.TrimPrefix(q, billPrefix), ".")
	words := strings.ReplaceAll(item, "_", " ")
	switch {
	case !of:
	case "."+what == lineTotal:
		return publish(quantity{name: q, unit: "kg", limits: nonNegative, outputOnly: true, meaning: "mass of " + words + ", all of them", source: "count x mass"}), true
	case "."+what == lineYaw, "."+what == lineRoll:
		return publish(quantity{name: q, unit: "kg m2", limits: nonNegative, outputOnly: true, meaning: "inertia of " + words + " about their own centre", source: "uniform box"}), true
	}
	return model.Quantity{}, false
}
