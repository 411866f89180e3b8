package vehicle

import "strings"

// movedLines are the lines of bills that a car has in place of what its base had.
func (s *System) movedLines(c, base *car) []moved {
	var all []moved
	pack := s.packExplained(c, base)
	for _, change := range s.lineChanges(c, base, "") {
		if inPack := s.inPack(change.Part); inPack && !pack || !inPack && !s.explained(c, base, change.Part) {
			continue
		}
		for _, of := range []struct {
			car *car
			is  bool
		}{{base, change.Base != ""}, {c, change.Own != ""}} {
			if of.is {
				all = append(all, s.movedLine(of.car, *of.car.line(change.Line), of.car == base))
			}
		}
	}
	return all
}

func (s *System) movedLine(c *car, l BillLine, out bool) moved {
	place := func(node, axis string) string {
		if node == "" {
			return c.Name + "." + billPrefix + l.Name + axis // which is lacking
		}
		return node
	}
	return moved{mass: s.lineName(c, l, lineTotal), out: out, x: place(l.X, ".x"), height: place(l.Z, ".z"), y: l.Y,
		yaw: s.lineName(c, l, lineYaw), roll: s.lineName(c, l, lineRoll), q: billPrefix + l.Name}
}

// hasOfLine reports whether a full name of something of a line can be had.
func (c *car) hasOfLine(name string) bool {
	item, what, of := strings.Cut(strings.TrimPrefix(name, c.Name+"."+billPrefix), ".")
	l := c.line(item)
	if !of || l == nil {
		return l != nil
	}
	switch "." + what {
	case ".x":
		return l.X != ""
	case ".y":
		return l.Y != ""
	case ".z":
		return l.Z != ""
	}
	return true
}

// offCentre is where a car's item stands right of the centre plane, "" where it stands on it.
func (s *System) offCentre(c *car, y string) string {
	if y == "" || !s.has(c, y) {
		return ""
	}
	return s.nameOf(c, y)
}

// sideways reports whether a car or what moved in it stands off the centre plane.
func (s *System) sideways(c, base *car) bool {
	if s.has(base, "centre_of_mass_y") {
		return true
	}
	for _, m := range s.movedItems(c, base) {
		if m.y != "" {
			return true
		}
	}
	return false
}

// offsets are the distances from the centre plane that inertia counts too: numbers of
// columns. The zero offsets are those of a car on its centre plane.
type offsets struct {
	now, was int
	items    []int // -1: on the centre plane
}

// aside appends the needs of offsets.
func (s *System) aside(c, base *car, items []moved, needs []string) (offsets, []string) {
	if !s.sideways(c, base) {
		return offsets{}, needs
	}
	o := offsets{now: len(needs), was: len(needs) + 1}
	needs = append(needs, "centre_of_mass_y", "="+s.nameOf(base, "centre_of_mass_y"))
	for _, m := range items {
		if m.y == "" {
			o.items = append(o.items, -1)
			continue
		}
		o.items = append(o.items, len(needs))
		needs = append(needs, "="+m.y)
	}
	return o, needs
}

// square is that of an item's distance, sideways, from the base's centre of mass.
func (o offsets) square(x []float64, item int) float64 {
	if o.now == 0 {
		return 0
	}
	far := -x[o.was]
	if at := o.items[item]; at >= 0 {
		far += x[at]
	}
	return far * far
}

// shift is the square of the way, sideways, of the centre of mass.
func (o offsets) shift(x []float64) float64 {
	if o.now == 0 {
		return 0
	}
	moved := x[o.now] - x[o.was]
	return moved * moved
}
