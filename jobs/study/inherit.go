package study

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"proofmass/model/vehicle"
)

// madeFrom is what each quantity is made from, asked of the catalogue once.
var madeFrom = sync.OnceValue(func() map[string][]string {
	all := map[string][]string{}
	for _, q := range vehicle.Catalogue() {
		if q.Computed {
			all[q.Name] = vehicle.MadeFrom(q.Name)
		}
	}
	return all
})

// resolve merges what the bases are given (later ones win), what the vehicle itself
// states, and the shared inputs.
func (d *vehicleDecl) resolve(bases []*vehicleDecl, shared statements) *vehicle.Car {
	d.given, d.items = map[string]string{}, map[string]string{}
	root := ""
	for _, base := range bases {
		if root == "" {
			root = base.rootName()
		}
		d.inherit(base)
	}
	d.override()
	if d.MassBasis == "" {
		d.MassBasis = "us_curb"
	}
	d.Certified = d.certified == "yes"
	c := &vehicle.Car{Name: d.Name, Given: maps.Clone(d.given), Root: root, Certified: d.Certified, MassBasis: d.MassBasis}
	for _, st := range shared.order {
		if _, own := c.Given[st.Name]; !own && !d.remakes(st.Name, d.given, nil) {
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

// rootName is the vehicle at the root of the chain, "" if there is none yet; with
// several bases the first one's, which the others amend. A template without a mass,
// such as a file of cells, is no car that another could differ from.
func (d *vehicleDecl) rootName() string {
	if d.car.Root != "" {
		return d.car.Root
	}
	for _, mass := range []string{"kerb_mass", "test_mass", "body_mass"} {
		if _, given := d.car.Given[mass]; given {
			return d.Name
		}
	}
	if d.Run {
		return d.Name
	}
	return ""
}

// inherit takes over what a base is given. What an earlier base was given of a
// computed quantity goes when this one is given other parts of it.
func (d *vehicleDecl) inherit(base *vehicleDecl) {
	for q := range d.given {
		if _, given := base.given[q]; !given && base.remakes(q, base.given, d.given) {
			delete(d.given, q)
		}
	}
	maps.Copy(d.given, base.given)
	for _, item := range base.order {
		d.item(item, base.items[item])
	}
	if d.certified == "" {
		d.certified = base.certified
	}
	if d.MassBasis == "" {
		d.MassBasis = base.MassBasis
	}
}

// override puts the vehicle's own lines above the inherited ones.
func (d *vehicleDecl) override() {
	own := map[string]string{}
	for _, st := range d.stated.order {
		own[st.Quantity] = st.Name
	}
	for _, st := range slices.Concat(d.displaced.order, d.added.order) {
		d.item(st.Quantity, st.Name)
	}
	for q := range d.given {
		if _, given := own[q]; !given && (d.remakes(q, own, nil) || d.hasItems() && slices.Contains(madeFrom()[q], "displaced")) {
			delete(d.given, q)
		}
	}
	maps.Copy(d.given, own)
}

func (d *vehicleDecl) hasItems() bool { return len(d.displaced.order)+len(d.added.order) > 0 }

// remakes reports whether given holds something that q is made from, at any depth,
// and that is not the same in besides.
func (d *vehicleDecl) remakes(q string, given, besides map[string]string) bool {
	for _, part := range madeFrom()[q] {
		if name, ok := given[part]; ok && besides[part] != name {
			return true
		}
	}
	return false
}

// item adds or replaces a displaced or added item.
func (d *vehicleDecl) item(item, name string) {
	if _, known := d.items[item]; !known {
		d.order = append(d.order, item)
	}
	d.items[item] = name
}
