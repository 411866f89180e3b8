package vehicle

import "proofmass/model"

// billPlaceQuantities declares where a pack stands sideways; lines of a bill say it, and the
// rest of its place, where they are all of the pack.
func billPlaceQuantities() []quantity {
	return []quantity{
		{name: "pack_y", unit: "m", limits: anyNumber, absent: absent(0), meaning: "distance of the pack's centre of mass right of the centre plane", source: "as the lines of the bill stand",
			ways: []way{billCentre(func(l BillLine) string { return l.Y }, false).reads("sum of mass x y of the lines of the bill / their mass")}},
		{name: "centre_of_mass_y", unit: "m", limits: anyNumber, absent: absent(0), traits: model.Traits{Aside: true},
			meaning: "distance of the centre of mass right of the centre plane", source: "weighed by wheel, or its base's with what was taken out and put in",
			ways: []way{{fit: movedTo(sideways), from: []string{"kerb_mass", "pack_mass", "pack_y", "bill"}}}},
	}
}

// packLines are the lines that are all of the car's pack, nil where they are not.
func (s *System) packLines(c *car) []BillLine {
	var all []BillLine
	for _, part := range s.model.parts["pack_mass"] {
		if !s.has(c, part) {
			continue
		}
		if !s.byBill(c, part) || s.billRoot(c, part) != nil {
			return nil
		}
		all = append(all, c.lines(part)...)
	}
	return all
}

// billCentre is the mean place of a pack's lines by mass; where every one of them has to say
// its own, one that does not is named.
func billCentre(place func(BillLine) string, must bool) way {
	return way{by: byBill, from: []string{"bill"}, fit: func(s *System, c *car) plan {
		var needs []string
		var at []int // of each line's place among the needs, -1: on the centre plane
		for _, l := range s.packLines(c) {
			needs = append(needs, "="+s.lineName(c, l, lineTotal))
			if place(l) == "" {
				if must {
					return plan{}
				}
				at = append(at, -1)
				continue
			}
			at = append(at, len(needs))
			needs = append(needs, "="+place(l))
		}
		if len(needs) == 0 || len(needs) == len(at) {
			return plan{}
		}
		return eachOf(func(x []float64) float64 {
			mass, moment, k := 0.0, 0.0, 0
			for _, place := range at {
				mass += x[k]
				if place >= 0 {
					moment += float64(x[k] * x[place])
					k++
				}
				k++
			}
			return moment / mass
		}, needs)
	}}
}

// billInertia is that of a pack's lines about their common centre, as a pack of its mass.
func billInertia(roll bool) way {
	return way{by: byBill, from: []string{"bill", "pack_mass"}, fit: func(s *System, c *car) plan {
		lines := s.packLines(c)
		if len(lines) == 0 {
			return plan{}
		}
		needs := []string{"pack_mass"}
		sideways := make([]bool, len(lines))
		for i, l := range lines {
			place, own := l.X, lineYaw
			if roll {
				place, own = l.Z, lineRoll
			}
			if place == "" {
				return plan{}
			}
			needs = append(needs, "="+s.lineName(c, l, lineTotal), "="+s.lineName(c, l, own), "="+place)
			if sideways[i] = l.Y != ""; sideways[i] {
				needs = append(needs, "="+l.Y)
			}
		}
		return eachOf(func(x []float64) float64 { return spreadOf(x, sideways) }, needs)
	}}
}

// spreadOf is x[0] times the mean square of the lines' distances from their centre, their own
// extent with them; of each line x has mass, inertia, place and, as sideways says, y.
func spreadOf(x []float64, sideways []bool) float64 {
	sum := func(u0, y0 float64) (mass, u, y, square float64) {
		k := 1
		for _, off := range sideways {
			m, du, dy := x[k], x[k+2]-u0, -y0
			square += x[k+1]
			if k += 3; off {
				dy += x[k]
				k++
			}
			mass, u, y = mass+m, u+float64(m*du), y+float64(m*dy)
			square += float64(m * (float64(du*du) + float64(dy*dy)))
		}
		return mass, u, y, square
	}
	mass, u, y, _ := sum(0, 0)
	_, _, _, square := sum(u/mass, y/mass)
	return x[0] * (square / mass)
}
