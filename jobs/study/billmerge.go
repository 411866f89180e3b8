package study

import (
	"slices"

	"proofmass/jobs/study/source"
	"proofmass/model/vehicle"
)

// inheritBill takes over the lines of a base; a later base's line wins.
func (d *vehicleDecl) inheritBill(base *vehicleDecl) {
	for _, l := range base.billed.lines {
		if had := d.billed.find(l.Name); had != nil {
			*had = l
		} else {
			d.billed.lines = append(d.billed.lines, l)
		}
		d.billed.material[l.Name] = base.billed.material[l.Name]
	}
}

// dropLines leaves inherited lines of a part that the vehicle's own lines make anew in
// another way, as a new number of cells does to weighed ones, unless it has lines of it too.
func (d *vehicleDecl) dropLines(own map[string]string) {
	dropped := map[string]bool{}
	for _, l := range d.billed.lines {
		part := vehicle.PartOfGroup(l.Group)
		if _, known := dropped[part]; known || d.hasLineOf(part) {
			continue
		}
		why := d.remakes(part, own, nil, anything)
		_, given := own[part]
		if dropped[part] = given || why != ""; why != "" && !given {
			d.undone[part] = why
		}
	}
	d.billed.lines = slices.DeleteFunc(d.billed.lines, func(l vehicle.BillLine) bool { return dropped[vehicle.PartOfGroup(l.Group)] })
}

// hasLineOf reports whether the vehicle itself says something of a line of the part.
func (d *vehicleDecl) hasLineOf(part string) bool {
	return slices.ContainsFunc(d.billLines, func(l *billLine) bool {
		group := l.group
		if was := d.billed.find(l.name); was != nil && group == "" {
			group = was.Group
		}
		return vehicle.PartOfGroup(group) == part
	})
}

// overrideBill puts the vehicle's own lines over inherited ones and returns the parts whose
// mass they change.
func (d *vehicleDecl) overrideBill(based bool) map[string]string {
	changed := map[string]string{}
	for _, l := range d.billLines {
		was := d.billed.find(l.name)
		if !l.fits(was, based) {
			continue
		}
		var line vehicle.BillLine
		if was != nil {
			line = *was
		}
		line.Name = l.name
		if was == nil {
			if line.Group = l.group; l.group == "" {
				line.Group = groupLeftOut
			}
		}
		if l.fate != fateKept || was == nil {
			changed[vehicle.PartOfGroup(line.Group)] = "bill"
		}
		if l.fate == fateRemoved {
			d.billed.lines = slices.DeleteFunc(d.billed.lines, func(of vehicle.BillLine) bool { return of.Name == l.name })
			continue
		}
		for what, to := range map[string]*string{"mass": &line.Mass, "count": &line.Count, "x": &line.X, "y": &line.Y, "z": &line.Z, "length": &line.Length, "width": &line.Width, "height": &line.Height} {
			if full, stated := l.stated[what]; stated {
				*to = full
			}
		}
		if l.material != "" || was == nil {
			d.billed.material[l.name] = l.material
		}
		if was != nil {
			*was = line
		} else {
			d.billed.lines = append(d.billed.lines, line)
		}
	}
	return changed
}

// fits holds a line's fate to the bill that its vehicle is based on.
func (l *billLine) fits(was *vehicle.BillLine, based bool) bool {
	wrong := func(found, allowed string) bool { l.key.Err(found, allowed); return false }
	named := source.Quote(l.name)
	switch {
	case was == nil && l.fate == fateAdded && !based:
		return wrong("fate added of "+named, "what a vehicle has that is based on no car is neither added nor changed: leave fate out")
	case was == nil && (l.fate == fateRemoved || l.fate == fateChanged || l.fate == fateKept && based):
		return wrong(named+" is in no bill that this vehicle is based on", "what is "+l.fate+" stands there; what is new has a mass and fate: added")
	case was == nil && l.stated["mass"] == "":
		return wrong(named+" has no mass", "mass: 9.2(1) kg")
	case was == nil:
		return true
	case l.fate == fateAdded:
		return wrong("fate added of "+named+", which the bill has that this vehicle is based on", "changed, kept or removed")
	case l.group != "" && l.group != was.Group:
		return wrong("group "+l.group+" of "+named+", which is "+was.Group+" in the bill that this vehicle is based on", "leave group out, or remove the line and add one of another name")
	case l.fate == fateKept && len(l.stated) > 0:
		return wrong(named+" is kept and has a "+l.firstStated(), "fate: changed, or the fate alone")
	case l.fate != fateKept && l.fate != fateRemoved && len(l.stated) == 0:
		return wrong(named+" says nothing new", "mass: 7.4(1) kg, or fate: removed or kept")
	}
	return true
}

// firstStated is the first thing that a line says of itself, for a message.
func (l *billLine) firstStated() string {
	for _, what := range append([]string{"mass", "count"}, lineMeasures...) {
		if l.stated[what] != "" {
			return what
		}
	}
	return ""
}

// stringGroups are the groups whose mass goes with how many cells there are.
var stringGroups = []string{"cells", "filler", "bond", "module"}

// sizedBill refuses lines whose number follows from size_for.
func (d *vehicleDecl) sizedBill() {
	for _, l := range d.billLines {
		if slices.Contains(stringGroups, l.group) {
			l.key.Err(source.Quote(l.name)+" of the group "+l.group+" beside size_for: "+string(d.sizeFor), "how much of it there is then follows: state cell_mass and the like in place of the line")
		}
	}
}
