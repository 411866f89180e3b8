package vehicle

import "strings"

// A moved mass is put into a car against its base, or taken out of it: full names.
type moved struct {
	mass      string
	out       bool
	x, height string
	y         string // "": on the centre plane
	yaw, roll string
	q         string // of which quantity
}

// An axis along which a place is told.
type axis int

const (
	lengthways axis = iota
	upwards
	sideways
)

// place is where it stands along an axis.
func (m moved) place(along axis) string {
	return [...]string{m.x, m.height, m.y}[along]
}

func (m moved) inertia(roll bool) string {
	if roll {
		return m.roll
	}
	return m.yaw
}

func (m moved) sign() float64 {
	if m.out {
		return -1
	}
	return 1
}

// whereItems are the quantities that say where a mass of a car stands.
var whereItems = []struct{ mass, x, y, height, yaw, roll string }{
	{"pack_mass", "pack_x", "pack_y", "pack_mass_height", "pack_yaw_inertia", "pack_roll_inertia"},
	{"displaced_mass", "displaced_x", "", "displaced_height", "displaced_yaw_inertia", "displaced_roll_inertia"},
	{"added_mass", "added_x", "", "added_height", "added_yaw_inertia", "added_roll_inertia"},
}

// movedItems are what the car has of its own in place of what its base had. What
// neither states again is the same thing at the same place.
func (s *System) movedItems(c, base *car) []moved {
	var all []moved
	for _, w := range whereItems {
		own, was := s.has(c, w.mass), s.has(base, w.mass)
		if own && was && s.sameItem(c, base, w.mass, w.x, w.height, w.yaw, w.roll) {
			continue
		}
		if w.mass == "pack_mass" && s.packExplained(c, base) {
			continue // its lines move
		}
		for _, of := range []struct {
			car  *car
			is   bool
			back bool
		}{{base, was, true}, {c, own, false}} {
			if of.is {
				all = append(all, moved{mass: s.nameOf(of.car, w.mass), out: of.back != (w.mass == "displaced_mass"), x: s.nameOf(of.car, w.x),
					height: s.nameOf(of.car, w.height), yaw: s.nameOf(of.car, w.yaw), roll: s.nameOf(of.car, w.roll), q: w.mass, y: s.offCentre(of.car, w.y)})
			}
		}
	}
	all = append(all, s.movedLines(c, base)...)
	if s.changesElse(c, base) {
		all = append(all, moved{mass: c.Name + ".other_change_mass", x: s.nameOf(c, "other_change_x"), height: s.nameOf(c, "other_change_height"),
			yaw: s.nameOf(c, "other_change_yaw_inertia"), roll: s.nameOf(c, "other_change_roll_inertia"), q: "other_change_mass"})
	}
	return all
}

// nameOf is the full name of the column of a car's quantity, whether it can be had or
// not.
func (s *System) nameOf(c *car, q string) string {
	name, _ := s.full(c, q)
	return name
}

// sameItem reports whether two cars' items are one: the same nodes give or make them.
func (s *System) sameItem(c, base *car, quantities ...string) bool {
	for _, q := range quantities {
		if s.has(c, q) && s.nameOf(c, q) != s.nameOf(base, q) {
			return false
		}
	}
	return true
}

// changesElse reports whether more of the kerb mass than pack, displaced and added may
// differ between a car and its base.
func (s *System) changesElse(c, base *car) bool {
	own := s.source(c, "kerb_mass")
	if s.nameOf(c, "kerb_mass") == s.nameOf(base, "kerb_mass") {
		return false
	}
	if c.resizes() || own.kind != made || own.way.by != "change" || base != s.weighedBase(c) {
		return true
	}
	for _, part := range s.model.parts["kerb_mass"] {
		if part != "pack_mass" && !s.explained(c, base, part) && (s.has(c, part) || s.has(base, part)) && s.nameOf(c, part) != s.nameOf(base, part) {
			return true
		}
	}
	return false
}

// placedBase is the nearest car in the chain of bases whose handling is known.
func (s *System) placedBase(c *car, q string) *car {
	for base := c.base; base != nil; base = base.base {
		if s.has(base, q) && s.has(base, "kerb_mass") {
			return base
		}
	}
	return nil
}

// otherChange is what of the change of kerb mass is neither pack nor displaced nor added.
func otherChange(s *System, c *car) plan {
	base := s.placedBase(c, "centre_of_mass_x")
	if base == nil {
		base = s.placedBase(c, "centre_of_mass_height")
	}
	if base == nil || !s.changesElse(c, base) {
		return plan{}
	}
	driver := c.driver() - base.driver()
	needs, signs := []string{"kerb_mass", "=" + s.nameOf(base, "kerb_mass")}, []float64{0, 0}
	for _, m := range s.movedItems(c, base) {
		if m.q != "other_change_mass" {
			needs, signs = append(needs, "="+m.mass), append(signs, m.sign())
		}
	}
	p := eachOf(func(x []float64) float64 {
		other := x[0] - x[1] - driver
		for k := 2; k < len(x); k++ {
			other -= float64(signs[k] * x[k])
		}
		if other < nothing*x[0] && other > -nothing*x[0] {
			return 0 // rounding alone
		}
		return other
	}, needs)
	return p
}

// movedTo makes a coordinate of the centre of mass from the base's: r' = (M r + sum m_i
// r_i)/M'.
func movedTo(along axis) fitter {
	q := [...]string{"centre_of_mass_x", "centre_of_mass_height", "centre_of_mass_y"}[along]
	return func(s *System, c *car) plan {
		base := s.placedBase(c, q)
		if along == sideways {
			if base = s.placedBase(c, "centre_of_mass_x"); base == nil || !s.sideways(c, base) {
				return plan{}
			}
		}
		if base == nil {
			return plan{}
		}
		items := s.movedItems(c, base)
		needs := []string{"kerb_mass", "=" + s.nameOf(base, "kerb_mass"), "=" + s.nameOf(base, q)}
		var signs []float64
		for _, m := range items {
			if along == sideways && m.y == "" {
				continue // on the centre plane
			}
			needs, signs = append(needs, "="+m.mass, "="+m.place(along)), append(signs, m.sign())
		}
		if p, ok := s.placed(items, along == upwards, false); along != sideways && !ok {
			return p
		}
		drivers := [2]float64{c.driver(), base.driver()}
		return eachOf(func(x []float64) float64 {
			mass, was := x[0]-drivers[0], x[1]-drivers[1]
			moment := float64(was * x[2])
			for k, sign := range signs {
				moment += float64(sign * float64(x[3+2*k]*x[4+2*k]))
			}
			return moment / mass
		}, needs)
	}
}

// placed says what is lacking to know where the items stand.
func (s *System) placed(items []moved, height, inertia bool) (plan, bool) {
	var missing []string
	for _, m := range items {
		names := []string{m.mass, m.place(map[bool]axis{false: lengthways, true: upwards}[height])}
		if inertia {
			names = append(names, m.inertia(height))
		}
		for _, name := range names {
			if !s.canHave(name) {
				missing = append(missing, name)
			}
		}
	}
	return plan{missing: missing}, len(missing) == 0
}

// canHave reports whether the column of that full name can be had.
func (s *System) canHave(name string) bool {
	carName, q, isOf := strings.Cut(name, ".")
	c := s.cars[carName]
	if c != nil && strings.HasPrefix(q, billPrefix) {
		return c.hasOfLine(name)
	}
	if !isOf || c == nil || s.model.named[q] == nil {
		return true // a node
	}
	_, ok := s.full(c, q)
	return ok
}

// movedInertia makes the inertia from the base's: I' = I + sum(I_i + m_i (r_i - r)^2) - M'
// (r' - r)^2, about the new centre.
func movedInertia(roll bool) fitter {
	q, centre, place := "yaw_inertia", "centre_of_mass_x", lengthways
	if roll {
		q, centre, place = "roll_inertia", "centre_of_mass_height", upwards
	}
	return func(s *System, c *car) plan {
		base := s.placedBase(c, q)
		if base == nil {
			return plan{}
		}
		if at, known := s.full(base, centre); !known {
			return plan{missing: []string{at}}
		}
		items := s.movedItems(c, base)
		needs := []string{"kerb_mass", centre, "=" + s.nameOf(base, centre), "=" + s.nameOf(base, q)}
		for _, m := range items {
			needs = append(needs, "="+m.mass, "="+m.place(place), "="+m.inertia(roll))
		}
		if p, ok := s.placed(items, roll, true); !ok {
			return p
		}
		wide, needs := s.aside(c, base, items, needs)
		driver := c.driver()
		return eachOf(func(x []float64) float64 {
			mass, now, was, sum := x[0]-driver, x[1], x[2], x[3]
			for k, m := range items {
				far := x[5+3*k] - was
				sum += float64(m.sign() * (x[6+3*k] + float64(x[4+3*k]*(float64(far*far)+wide.square(x, k)))))
			}
			moved := now - was
			return sum - float64(mass*(float64(moved*moved)+wide.shift(x)))
		}, needs)
	}
}
