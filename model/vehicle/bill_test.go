package vehicle

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// partLine is a line of a trial's bill.
type partLine struct {
	name, group      string
	count, mass      float64
	x, y, z          float64
	long, wide, high float64
}

// bill gives a car lines over those of its base; a mass of nil removes one.
func (x *trial) bill(name string, lines ...partLine) {
	c := &x.cars[slices.IndexFunc(x.cars, func(c Car) bool { return c.Name == name })]
	for i := range x.cars {
		if x.cars[i].Name == c.Base {
			c.Bill = slices.Clone(x.cars[i].Bill)
		}
	}
	for _, w := range lines {
		c.Bill = slices.DeleteFunc(c.Bill, func(l BillLine) bool { return l.Name == w.name })
		if w.mass == 0 {
			continue
		}
		node := func(what string, v float64) string {
			full := name + ".bill." + w.name + what
			x.node[full] = v
			return full
		}
		l := BillLine{Name: w.name, Group: w.group, Mass: node("", w.mass), X: node(".x", w.x), Y: node(".y", w.y), Z: node(".z", w.z),
			Length: node(".length", w.long), Width: node(".width", w.wide), Height: node(".height", w.high)}
		if w.count != 1 {
			l.Count = node(".count", w.count)
		}
		c.Bill = append(c.Bill, l)
		delete(c.Given, "pack_mass")
		delete(c.Given, "kerb_mass")
	}
}

// billed are two cars of which the second has other lines; own says what the first has
// besides. Amounts made up.
func billed(t *testing.T, own values) *trial {
	x := newTrial(t, nil)
	x.car("boxed", "", own)
	kerb := x.cars[0].Given["kerb_mass"]
	x.bill("boxed",
		partLine{"cells", "cells", 3100, 0.092, 1.5, 0, 0.25, 1.9, 1.3, 0.09},
		partLine{"lid", "tray", 1, 14, 1.5, 0, 0.32, 1.9, 1.3, 0},
		partLine{"tray", "tray", 1, 39, 1.5, 0, 0.2, 1.9, 1.3, 0},
		partLine{"box", "electronics", 1, 9, 2.3, 0.4, 0.4, 0.3, 0.2, 0.1},
		partLine{"beams", "body", 3, 5, 1.2, 0, 0.42, 0, 1.4, 0.1})
	x.cars[0].Given["kerb_mass"] = kerb
	x.cars[0].Given["pack_mass"] = ""
	if own["pack_mass"] > 0 {
		x.cars[0].Given["pack_mass"] = "boxed.pack_mass"
	}
	for q, node := range x.cars[0].Given {
		if node == "" {
			delete(x.cars[0].Given, q)
		}
	}
	c := x.car("bonded", "boxed", nil)
	for _, q := range []string{"centre_of_mass_x", "centre_of_mass_height", "yaw_inertia", "roll_inertia", "pack_mass", "kerb_mass"} {
		delete(c.Given, q)
	}
	x.bill("bonded",
		partLine{name: "lid"},
		partLine{"tray", "tray", 1, 32, 1.45, 0, 0.19, 1.9, 1.3, 0},
		partLine{"beams", "body", 1, 5, 1.2, 0, 0.42, 0, 1.4, 0.1},
		partLine{"foam", "filler", 1, 12, 1.5, 0.01, 0.25, 1.9, 1.3, 0.05})
	return x
}

var standing1 = values{"kerb_mass": 1900, "wheelbase": 2.9, "track_width": 1.6, "centre_of_mass_x": 1.42, "centre_of_mass_height": 0.53, "yaw_inertia": 3000, "roll_inertia": 650}

// TestBillCloses: pack and car weigh what they weighed plus count x (after - before) of every
// line, whether or not the pack was also weighed as a whole; first principles.
func TestBillCloses(t *testing.T) {
	const lines, change, beams = 3100*0.092 + 14 + 39 + 9, -14 + (32 - 39) + 12.0, -2 * 5.0
	for _, whole := range []float64{0, 361.5} {
		own := values{"kerb_mass": 1900}
		was := lines
		if whole > 0 {
			own["pack_mass"], was = whole, whole
		}
		x := billed(t, own)
		found := x.run("boxed.pack_mass", "bonded.pack_mass", "bonded.kerb_mass", "bonded.tray_mass", "bonded.bill.beams.total")
		near(t, "boxed.pack_mass", found["boxed.pack_mass"], was, 1e-15)
		near(t, "bonded.pack_mass", found["bonded.pack_mass"], was+change, 1e-15)
		near(t, "bonded.kerb_mass", found["bonded.kerb_mass"], 1900+change+beams, 1e-15)
		near(t, "bonded.tray_mass", found["bonded.tray_mass"], 32, 1e-15)
		s, sum := x.system(), 0.0
		for _, c := range s.BillChanges("bonded", "boxed") {
			c.each(func(name string, sign float64) { sum += sign * x.run(name)[name] })
		}
		near(t, "sum of the lines", sum, change+beams, 1e-14)
		if whole > 0 {
			near(t, "pack_mass_by_bill", x.run("boxed.pack_mass_by_bill")["boxed.pack_mass_by_bill"], lines, 1e-15)
		} else if _, err := s.Rule("boxed.pack_mass_by_bill"); err == nil {
			t.Error("a pack that is the sum of its lines has no second route")
		}
	}
}

// TestBillOfNothingNew: a car with its base's lines weighs exactly what that weighs.
func TestBillOfNothingNew(t *testing.T) {
	x := billed(t, values{"kerb_mass": 1900.3})
	x.cars[1].Bill = slices.Clone(x.cars[0].Bill)
	found := x.run("bonded.kerb_mass", "bonded.pack_mass_change")
	if found["bonded.kerb_mass"] != 1900.3 || found["bonded.pack_mass_change"] != 0 {
		t.Errorf("%v", found)
	}
}

// TestBillMovesTheCar: centre and inertia against masses put together point by point, each
// line's own box with it: parallel axes, first principles.
func TestBillMovesTheCar(t *testing.T) {
	x := billed(t, standing1)
	found := x.run("bonded.kerb_mass", "bonded.centre_of_mass_x", "bonded.centre_of_mass_y", "bonded.centre_of_mass_height", "bonded.yaw_inertia", "bonded.roll_inertia")
	type body struct{ m, x, y, z, yaw, roll float64 }
	box := func(sign, m, x, y, z, l, w, h float64) body {
		m *= sign
		return body{m, x, y, z, m * (l*l + w*w) / 12, m * (w*w + h*h) / 12}
	}
	all := []body{{1900, 1.42, 0, 0.53, 3000, 650},
		box(-1, 14, 1.5, 0, 0.32, 1.9, 1.3, 0), box(-1, 39, 1.5, 0, 0.2, 1.9, 1.3, 0), box(1, 32, 1.45, 0, 0.19, 1.9, 1.3, 0),
		box(-1, 15, 1.2, 0, 0.42, 0, 1.4, 0.1), box(1, 5, 1.2, 0, 0.42, 0, 1.4, 0.1), box(1, 12, 1.5, 0.01, 0.25, 1.9, 1.3, 0.05)}
	var m, mx, my, mz, yaw, roll float64
	for _, b := range all {
		m, mx, my, mz = m+b.m, mx+b.m*b.x, my+b.m*b.y, mz+b.m*b.z
	}
	for _, b := range all {
		dx, dy, dz := b.x-mx/m, b.y-my/m, b.z-mz/m
		yaw, roll = yaw+b.yaw+b.m*(dx*dx+dy*dy), roll+b.roll+b.m*(dy*dy+dz*dz)
	}
	for name, want := range map[string]float64{"kerb_mass": m, "centre_of_mass_x": mx / m, "centre_of_mass_y": my / m, "centre_of_mass_height": mz / m, "yaw_inertia": yaw, "roll_inertia": roll} {
		near(t, name, found["bonded."+name], want, 1e-13)
	}
}

// TestBillPlacesThePack: a pack of lines stands and turns as these do.
func TestBillPlacesThePack(t *testing.T) {
	x := billed(t, standing1)
	found := x.run("boxed.pack_x", "boxed.pack_y", "boxed.pack_mass_height", "boxed.pack_yaw_inertia", "boxed.pack_roll_inertia")
	cells, m := 3100*0.092, 3100*0.092+14+39+9
	cx, cy, cz := ((cells+53)*1.5+9*2.3)/m, 9*0.4/m, (cells*0.25+14*0.32+39*0.2+9*0.4)/m
	near(t, "pack_x", found["boxed.pack_x"], cx, 1e-14)
	near(t, "pack_y", found["boxed.pack_y"], cy, 1e-13)
	near(t, "pack_mass_height", found["boxed.pack_mass_height"], cz, 1e-14)
	yaw := (cells+53)*((1.9*1.9+1.3*1.3)/12+(1.5-cx)*(1.5-cx)+cy*cy) + 9*((0.09+0.04)/12+(2.3-cx)*(2.3-cx)+(0.4-cy)*(0.4-cy))
	near(t, "pack_yaw_inertia", found["boxed.pack_yaw_inertia"], yaw, 1e-13)
	roll := 0.0
	for _, l := range [][5]float64{{cells, 0, 0.25, 1.3, 0.09}, {14, 0, 0.32, 1.3, 0}, {39, 0, 0.2, 1.3, 0}, {9, 0.4, 0.4, 0.2, 0.1}} {
		roll += l[0] * ((l[3]*l[3]+l[4]*l[4])/12 + (l[1]-cy)*(l[1]-cy) + (l[2]-cz)*(l[2]-cz))
	}
	near(t, "pack_roll_inertia", found["boxed.pack_roll_inertia"], roll, 1e-13)
}

// TestBillLineWithoutAPlace: what moved and says not where is named, and put nowhere.
func TestBillLineWithoutAPlace(t *testing.T) {
	x := billed(t, standing1)
	i := slices.IndexFunc(x.cars[1].Bill, func(l BillLine) bool { return l.Name == "foam" })
	x.cars[1].Bill[i].X = ""
	s := x.system()
	for _, q := range []string{"centre_of_mass_x", "yaw_inertia"} {
		_, err := s.Rule("bonded." + q)
		var lacks *Missing
		if !errors.As(err, &lacks) || !slices.Contains(lacks.Needs, "bonded.bill.foam.x") {
			t.Errorf("%s: %v", q, err)
		}
	}
	if _, err := s.Rule("bonded.centre_of_mass_height"); err != nil {
		t.Error(err)
	}
	if _, err := s.Rule("bonded.kerb_mass"); err != nil {
		t.Error(err)
	}
}

// TestBillBesideACount: cells that are weighed in a bill and counted are shown side by side.
func TestBillBesideACount(t *testing.T) {
	x := billed(t, values{"kerb_mass": 1900, "cell_count": 3100, "cell_mass": 0.0915})
	found := x.run("boxed.cells_mass", "boxed.cells_mass_by_count")
	near(t, "cells_mass", found["boxed.cells_mass"], 3100*0.092, 1e-15)
	near(t, "cells_mass_by_count", found["boxed.cells_mass_by_count"], 3100*0.0915, 1e-15)
}

// TestBillWithEveryLineRemoved: a part of which nothing is left weighs nothing.
func TestBillWithEveryLineRemoved(t *testing.T) {
	x := billed(t, values{"kerb_mass": 1900})
	x.bill("bonded", partLine{name: "cells"}, partLine{name: "lid"}, partLine{name: "tray"})
	found := x.run("bonded.cells_mass", "bonded.tray_mass", "bonded.kerb_mass")
	if found["bonded.cells_mass"] != 0 || found["bonded.tray_mass"] != 0 || math.Abs(found["bonded.kerb_mass"]-(1900-3100*0.092-53)) > 1e-9 {
		t.Errorf("%v", found)
	}
}
