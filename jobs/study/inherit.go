package study

import (
	"maps"
	"slices"
	"strings"

	"proofmass/model/vehicle"
)

// resolve merges what the bases are given (later ones win), what the vehicle itself
// states, and the shared inputs.
func (d *vehicleDecl) resolve(bases []*vehicleDecl, shared statements) *vehicle.Car {
	d.takes, d.items, d.undone = map[string]string{}, map[string]string{}, map[string]string{}
	d.billed = billOf{material: map[string]string{}}
	from := ""
	for _, base := range bases {
		amends := from != ""
		if !amends && base.isCar() {
			from = base.Name
		}
		d.inherit(base, amends, shared)
	}
	d.override(from != "", shared)
	d.Bill = d.billed.told()
	if d.BasisStated = d.BasisStated || d.MassBasis != ""; d.MassBasis == "" {
		d.MassBasis = "us_curb"
	}
	d.Certified = d.certified == "yes"
	c := &vehicle.Car{Name: d.Name, Given: maps.Clone(d.takes), Base: from, Certified: d.Certified, MassBasis: d.MassBasis, SizeFor: d.sizeFor, Bill: d.billed.lines}
	c.Undone = slices.Sorted(maps.Keys(d.undone))
	for _, st := range shared.order {
		_, own := c.Given[st.Name]
		if _, undone := d.undone[st.Name]; !own && !undone {
			c.Given[st.Name] = st.Name
		}
	}
	for _, item := range d.order {
		if strings.HasPrefix(item, "displaced.") {
			c.Displaced = append(c.Displaced, d.items[item])
		} else {
			c.Added = append(c.Added, d.items[item])
		}
	}
	return c
}

// isCar reports whether another vehicle can count its masses from this one: the first
// of several bases that is a car is the base, which the others amend. A template without
// a mass, such as a file of cells, is none.
func (d *vehicleDecl) isCar() bool {
	for q := range d.car.Given {
		if known, _ := d.catalogue.Find(q); known.WholeCar {
			return true
		}
	}
	return d.Run || d.car.Base != ""
}

// inherit takes over what a base is given. What an earlier base was given of a
// computed quantity, or all vehicles share of it, goes when this one amends a car by
// other parts of it.
func (d *vehicleDecl) inherit(base *vehicleDecl, amends bool, shared statements) {
	for q := range d.takes {
		if _, has := base.takes[q]; !has && base.remakes(q, base.takes, d.takes, anything) != "" {
			delete(d.takes, q)
		}
	}
	if amends {
		d.undo(shared, base.takes, d.takes)
	}
	maps.Copy(d.takes, base.takes)
	maps.Copy(d.undone, base.undone)
	for _, item := range base.order {
		d.item(item, base.items[item])
	}
	d.inheritBill(base)
	if d.certified == "" {
		d.certified = base.certified
	}
	if d.MassBasis == "" && base.BasisStated {
		d.MassBasis = base.MassBasis
	}
}

// override puts the vehicle's own lines above the inherited ones. Only a vehicle
// that is based on a car undoes a shared quantity: in the first car of a chain
// parts beside a shared total are a remainder, as beside its own.
func (d *vehicleDecl) override(based bool, shared statements) {
	own := map[string]string{}
	for _, st := range d.stated.order {
		own[st.Quantity] = st.Name
	}
	if d.sized() {
		for _, q := range []string{"parallel", "cell_count", "cell_rows", "cell_columns", "filled_share"} {
			if st := d.stated.named[d.Name+"."+q]; st != nil {
				st.key.Err(q+" beside size_for: "+string(d.sizeFor), "how many cells there are then follows from it: leave one of the two out")
			}
		}
		own["parallel"] = d.Name + ".parallel"
		d.sizedBill()
	}
	for _, st := range slices.Concat(d.displaced.order, d.added.order) {
		d.item(st.Quantity, st.Name)
	}
	d.dropLines(own)
	lines := d.overrideBill(based)
	inherited := maps.Clone(d.takes)
	for q := range inherited {
		if _, has := own[q]; has {
			continue
		}
		part := d.remakes(q, own, nil, in(inherited))
		if part == "" && d.hasItems() && slices.Contains(d.catalogue.MadeFrom(q), "displaced") {
			part = "displaced or added"
		}
		if part == "" && d.remakes(q, lines, nil, in(inherited)) != "" {
			part = "bill"
		}
		if part != "" {
			d.undone[q] = part
		} else if lines[q] == "" {
			continue
		}
		delete(d.takes, q) // of a part with lines the model knows that they make it
	}
	maps.Copy(d.takes, own)
	if based {
		d.undo(shared, own, nil)
		d.undo(shared, lines, nil)
	}
}

// sized reports whether the vehicle's parallel strings follow from something: no line that
// states how many cells there are is then its own, or its base's.
func (d *vehicleDecl) sized() bool { return d.sizeFor != "" && d.sizeFor != vehicle.SizeForCells }

// undo notes which shared quantities the parts taken make anew.
func (d *vehicleDecl) undo(shared statements, takes, besides map[string]string) {
	total := map[string]string{}
	for _, st := range shared.order {
		total[st.Name] = st.Name
	}
	maps.Copy(total, d.takes)
	for _, st := range shared.order {
		if part := d.remakes(st.Name, takes, besides, in(total)); part != "" {
			d.undone[st.Name] = part
		}
	}
}

// told are the lines as a reader is told of them.
func (b billOf) told() []Line {
	var all []Line
	for _, l := range b.lines {
		all = append(all, Line{l.Name, l.Group, b.material[l.Name]})
	}
	return all
}

func (d *vehicleDecl) hasItems() bool { return len(d.displaced.order)+len(d.added.order) > 0 }

// remakes returns something in takes that q is made from, at any depth, that is not the
// same in besides, and that undoes a value of q beside what is given; "" if there is
// nothing.
func (d *vehicleDecl) remakes(q string, takes, besides map[string]string, given func(quantity string) bool) string {
	for _, part := range d.catalogue.MadeFrom(q) {
		if name, ok := takes[part]; ok && besides[part] != name && d.catalogue.Undoes(part, q, given) {
			return part
		}
	}
	return ""
}

// anything may be given; amends asks so, before it is known what will be.
func anything(string) bool { return true }

func in(takes map[string]string) func(quantity string) bool {
	return func(quantity string) bool { _, is := takes[quantity]; return is }
}

// item adds or replaces a displaced or added item.
func (d *vehicleDecl) item(item, name string) {
	if _, known := d.items[item]; !known {
		d.order = append(d.order, item)
	}
	d.items[item] = name
}
