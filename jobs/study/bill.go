package study

import (
	"math"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model"
	"proofmass/model/unit"
	"proofmass/model/vehicle"
)

// Fates of a line against the bill that a vehicle is based on.
const (
	fateKept    = "kept"
	fateRemoved = "removed"
	fateChanged = "changed"
	fateAdded   = "added"
)

// groupLeftOut is the group of a line that says none.
const groupLeftOut = "pack_other"

// billLine is a line of a bill as one vehicle states it.
type billLine struct {
	key                   source.Field
	name, group, material string
	fate                  string
	stated                map[string]string // what of it is stated: "mass", "x" ... to full name
}

// billOf is a bill that has been put together: a vehicle's own lines over those of its bases.
type billOf struct {
	lines    []vehicle.BillLine
	material map[string]string
}

func (b *billOf) find(name string) *vehicle.BillLine {
	for i := range b.lines {
		if b.lines[i].Name == name {
			return &b.lines[i]
		}
	}
	return nil
}

// bill reads the weighed lines of a vehicle's parts, from the study or from a file.
func (r *reader) bill(d *vehicleDecl, p source.Pair) {
	if d.billKey != nil {
		return // the study's own bill wins
	}
	pairs, ok := p.Value.Pairs("a bill is a mapping of weighed parts, lid: {mass: 9.2(1) kg, group: tray}, or {file: pack.csv, mass: kg}")
	if !ok || !p.Value.AtMost(mostBillLines, "lines") {
		r.refuse("vehicles")
		return
	}
	d.billKey = &p.Key
	if slices.ContainsFunc(pairs, func(p source.Pair) bool { return p.Name == "file" }) {
		if pairs, ok = r.billFile(p.Value); !ok {
			r.unclear = true
		}
	}
	for _, line := range pairs {
		if !named(line, "item") {
			r.unclear = true
			continue
		}
		r.billLine(d, line)
	}
}

// lineMeasures are what a line may say of its place and extent.
var lineMeasures = []string{"x", "y", "z", "length", "width", "height"}

func (r *reader) billLine(d *vehicleDecl, p source.Pair) {
	l := &billLine{key: p.Key, name: p.Name, stated: map[string]string{}}
	full := d.Name + ".bill." + p.Name
	var text FreeText
	var values []source.Pair
	keep := func(v source.Field, key string) { values = append(values, source.Pair{Name: key, Key: v, Value: v}) }
	before := r.errs.Count()
	if p.Value.IsScalar() {
		keep(p.Value, "mass") // lid: 9.2(1) kg
	} else {
		take := uncertain.FreeKeys(&text)
		delete(take, "meaning")
		delete(take, "history")
		for _, key := range append([]string{"mass", "count"}, lineMeasures...) {
			take[key] = func(v source.Field) { keep(v, key) }
		}
		groups := r.catalogue.BillGroups()
		take["group"] = func(v source.Field) {
			if word, ok := v.Text("a group is expected, such as tray"); ok {
				if l.group = word; !slices.Contains(groups, word) {
					v.Err(v.What()+" is no group", source.SuggestOr(word, groups))
				}
			}
		}
		take["material"] = func(v source.Field) { l.material, _ = v.Text("a material is expected, as text") }
		take["fate"] = func(v source.Field) { l.fate, _ = v.OneOf(fateKept, fateRemoved, fateChanged, fateAdded) }
		take.Read(p.Value, "a line of a bill")
	}
	wrong := r.errs.Count() > before
	for _, v := range values {
		name, q := full+"."+v.Name, lineQuantity(v.Name)
		if v.Name == "mass" {
			name, q.Name = full, p.Name
		}
		st := r.item(name, &q, source.Pair{Name: v.Name, Key: p.Key, Value: v.Value})
		st.Vehicle, st.Quantity = d.Name, name[len(d.Name)+1:]
		if !st.Free.Told() {
			st.Free = text
		}
		if st.Free.Meaning = words(l, v.Name); st.withdrawn != "" {
			v.Value.Err("a part of a line that is withdrawn", "leave the line out, and say so in a note")
			wrong = true
			continue
		}
		d.bill.add(st)
		l.stated[v.Name], wrong = name, wrong || st.broken
	}
	if l.fate == fateRemoved && len(values) > 0 {
		values[0].Value.Err("a "+values[0].Name+" of a line that is removed", "fate: removed says all")
		wrong = true
	}
	if wrong {
		r.unclear = true
		return
	}
	d.billLines = append(d.billLines, l)
}

// words say what a number of a line is.
func words(l *billLine, what string) string {
	of := strings.ReplaceAll(l.name, "_", " ")
	if l.material != "" {
		of += ", " + l.material
	}
	if what == "mass" {
		return "mass of " + of
	}
	return what + " of " + of
}

// lineQuantity is what a number of a line must be.
func lineQuantity(what string) model.Quantity {
	in := func(text string) unit.Unit { u, _ := unit.Parse(text); return u }
	q := model.Quantity{Name: what, Unit: in("m"), Low: math.Inf(-1), High: math.Inf(1), Stated: true}
	switch what {
	case "mass":
		q.Unit, q.Low = in("kg"), 0
	case "count":
		q.Unit, q.Low, q.LowOpen = in("1"), 0, true
	case "length", "width", "height":
		q.Unit, q.Low = in("mm"), 0
	}
	return q
}
