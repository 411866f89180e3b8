package study

import (
	"slices"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model"
	"proofmass/model/vehicle"
)

const (
	mostVehicles = 64
	mostBases    = 8
)

// studyVehicles reads the vehicles that the study names: these run.
func (r *reader) studyVehicles(v source.Field) {
	if r.notInFormulas(v, "vehicles") {
		return
	}
	r.readVehicles(v, true)
}

// templates reads the vehicles of a used file: they run only if the study names
// them, and the study's own lines win.
func (r *reader) templates(v source.Field) {
	if r.notInFormulas(v, "vehicles") {
		return
	}
	r.readVehicles(v, false)
}

func (r *reader) readVehicles(v source.Field, run bool) {
	pairs, ok := v.Pairs("vehicles are a mapping: name: what is known of it")
	if !ok || !v.AtMost(mostVehicles, "vehicles") {
		r.refuse("vehicles")
		return
	}
	for _, p := range pairs {
		if !named(p, "vehicle") {
			r.refuse("vehicles")
			continue
		}
		d := r.vehicle(p.Name)
		if d == nil {
			d = &vehicleDecl{key: p.Key, value: p.Value, catalogue: r.catalogue}
			d.Name, d.Run, d.Place = p.Name, run, p.Key.Place()
			r.vehicles = append(r.vehicles, d)
		} else if !d.value.InFileOf(r.root) {
			p.Key.Err("also stated in "+d.Place.String(), "a template stands in one used file")
			continue
		}
		r.readVehicle(d, p.Value)
	}
}

// vehicleKeys are the keys of a vehicle that are no quantities.
var vehicleKeys = []string{"based_on", "displaced", "added", "bill", "certified", "mass_basis", "size_for", "source", "note", "link", "as_of", "said_by", "said_on", "how_known", "history"}

// readVehicle reads the lines of one vehicle; where it has lines already, these win.
func (r *reader) readVehicle(d *vehicleDecl, v source.Field) {
	if v.IsNull() {
		return // a template that the study takes as it is
	}
	pairs, ok := v.Pairs("a vehicle is a mapping: quantity: how well it is known")
	if !ok {
		return
	}
	text := FreeText{}
	free := uncertain.FreeKeys(&text)
	for _, p := range pairs {
		switch {
		case p.Name == "based_on":
			r.basedOn(d, p.Value)
		case p.Name == "displaced":
			r.massItems(d, &d.displaced, p)
		case p.Name == "added":
			r.massItems(d, &d.added, p)
		case p.Name == "bill":
			r.bill(d, p)
		case p.Name == "certified":
			if word, ok := p.Value.OneOf("yes", "no"); ok && d.certified == "" {
				d.certified = word
			}
		case p.Name == "mass_basis":
			if word, ok := p.Value.OneOf("us_curb", "eu_running_order"); ok && d.MassBasis == "" {
				d.MassBasis = word
			}
		case p.Name == "size_for":
			if word, ok := p.Value.OneOf(vehicle.SizeForWords()...); ok && d.sizeFor == "" {
				d.sizeFor, d.sizeField = vehicle.SizeFor(word), p.Key
			}
		case slices.Contains(vehicleKeys, p.Name):
			free[p.Name](p.Value)
		default:
			r.vehicleQuantity(d, p)
		}
	}
	if d.Free.Empty() {
		d.Free = text
	}
}

// vehicleQuantity reads what a vehicle itself states of a catalogue quantity.
func (r *reader) vehicleQuantity(d *vehicleDecl, p source.Pair) {
	q, ok := r.stated(p, d.Name, vehicleKeys...)
	if !ok {
		return
	}
	r.part(&d.stated, d, d.Name+"."+p.Name, p, &q)
}

// part reads a quantity or an item of a vehicle unless a line that wins has it.
func (r *reader) part(to *statements, d *vehicleDecl, full string, p source.Pair, q *model.Quantity) {
	if to.named[full] != nil {
		return
	}
	st := r.item(full, q, p)
	st.Vehicle, st.Quantity = d.Name, full[len(d.Name)+1:]
	r.take(to, st)
}

// items reads `displaced` or `added`: masses by name.
func (r *reader) massItems(d *vehicleDecl, to *statements, p source.Pair) {
	pairs, ok := p.Value.Pairs(p.Name + " is a mapping of masses: floor_panel: 20(3) kg")
	if !ok || !p.Value.AtMost(source.MostEntries, "items") {
		return
	}
	mass, _ := r.catalogue.Find("pack_mass")
	for _, item := range pairs {
		if named(item, "item") {
			q := mass
			q.Name, q.Low, q.LowOpen = item.Name, 0, false
			r.part(to, d, d.Name+"."+p.Name+"."+item.Name, item, &q)
		}
	}
}

// basedOn reads a name or a list of names.
func (r *reader) basedOn(d *vehicleDecl, v source.Field) {
	before := r.errs.Count()
	bases, names := bases(v)
	r.unclear = r.unclear || r.errs.Count() > before
	if len(d.bases) == 0 { // else the study's own line wins
		d.bases, d.BasedOn = bases, names
	}
}

func bases(f source.Field) (fields []source.Field, names []string) {
	if !f.IsList() {
		if name, ok := f.Text("the name of a vehicle or a list of names is expected"); ok {
			return []source.Field{f}, []string{name}
		}
		return nil, nil
	}
	list, _ := f.List("")
	if len(list) == 0 {
		f.Err("an empty list", "the name of a vehicle or a list of names is expected")
	}
	if !f.AtMost(mostBases, "vehicles to be based on") {
		return nil, nil
	}
	for _, base := range list {
		if name, ok := base.Text("the name of a vehicle is expected"); ok {
			fields, names = append(fields, base), append(names, name)
		}
	}
	return fields, names
}
