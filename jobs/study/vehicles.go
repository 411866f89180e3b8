package study

import (
	"slices"

	"proofmass/model"
	"proofmass/model/vehicle"
)

const (
	mostVehicles = 64
	mostBases    = 8
)

// vehicleDecl is a vehicle as the files state it.
type vehicleDecl struct {
	Vehicle
	key, value field
	bases      []field
	certified  string     // "yes", "no" or "" for as its base
	stated     statements // by full name: its own quantities
	displaced  statements // items, by full name
	added      statements

	// Resolved, see inherit.go.
	given  map[string]string // quantity to full name, own and inherited, without shared inputs
	items  map[string]string // "displaced.floor_panel" to full name
	order  []string          // of items
	undone map[string]string // computed quantity that is not taken over to the line that is the reason
	car    *vehicle.Car
	looped bool // based on itself, and reported
}

// studyVehicles reads the vehicles that the study names: these run.
func (r *reader) studyVehicles(v field) {
	if r.notInFormulas(v, "vehicles") {
		return
	}
	r.readVehicles(v, true)
}

// templates reads the vehicles of a used file: they run only if the study names
// them, and the study's own lines win.
func (r *reader) templates(v field) {
	if r.notInFormulas(v, "vehicles") {
		return
	}
	r.readVehicles(v, false)
}

func (r *reader) readVehicles(v field, run bool) {
	pairs, ok := v.pairs("vehicles are a mapping: name: what is known of it")
	if !ok || !v.atMost(mostVehicles, "vehicles") {
		return
	}
	for _, p := range pairs {
		if !p.named("vehicle") {
			continue
		}
		d := r.vehicle(p.name)
		if d == nil {
			d = &vehicleDecl{key: p.key, value: p.value}
			d.Name, d.Run, d.Place = p.name, run, p.key.place()
			r.vehicles = append(r.vehicles, d)
		} else if d.value.src != r.main {
			p.key.err("also stated in "+d.Place.String(), "a template stands in one used file")
			continue
		}
		r.readVehicle(d, p.value)
	}
}

// vehicle finds a vehicle by name, nil if there is none.
func (r *reader) vehicle(name string) *vehicleDecl {
	for _, d := range r.vehicles {
		if d.Name == name {
			return d
		}
	}
	return nil
}

func (r *reader) vehicleNames() []string {
	var names []string
	for _, d := range r.vehicles {
		names = append(names, d.Name)
	}
	return names
}

// vehicleKeys are the keys of a vehicle that are no quantities.
var vehicleKeys = []string{"based_on", "displaced", "added", "certified", "mass_basis", "source", "note", "link", "as_of", "said_by", "said_on", "how_known"}

var laterVehicleKeys = []string{"bill", "size_for", "history"}

// readVehicle reads the lines of one vehicle; where it has lines already, these win.
func (r *reader) readVehicle(d *vehicleDecl, v field) {
	if v.isNull() {
		return // a template that the study takes as it is
	}
	pairs, ok := v.pairs("a vehicle is a mapping: quantity: how well it is known")
	if !ok {
		return
	}
	text := FreeText{}
	free := freeKeys(&text)
	for _, p := range pairs {
		switch {
		case p.name == "based_on":
			r.basedOn(d, p.value)
		case p.name == "displaced":
			r.massItems(d, &d.displaced, p)
		case p.name == "added":
			r.massItems(d, &d.added, p)
		case p.name == "certified":
			if word, ok := p.value.oneOf("yes", "no"); ok && d.certified == "" {
				d.certified = word
			}
		case p.name == "mass_basis":
			if word, ok := p.value.oneOf("us_curb", "eu_running_order"); ok && d.MassBasis == "" {
				d.MassBasis = word
			}
		case p.name == "size_for" && p.value.node.Value == "cells": // what it does anyway
		case slices.Contains(laterVehicleKeys, p.name):
			p.notBuilt()
		case slices.Contains(vehicleKeys, p.name):
			free[p.name](p.value)
		default:
			r.vehicleQuantity(d, p)
		}
	}
	if d.Free == (FreeText{}) {
		d.Free = text
	}
}

// vehicleQuantity reads what a vehicle itself states of a catalogue quantity.
func (r *reader) vehicleQuantity(d *vehicleDecl, p pair) {
	q, ok := r.stated(p, d.Name, vehicleKeys...)
	if !ok {
		return
	}
	r.part(&d.stated, d, d.Name+"."+p.name, p, &q)
}

// part reads a quantity or an item of a vehicle unless a line that wins has it.
func (r *reader) part(to *statements, d *vehicleDecl, full string, p pair, q *model.Quantity) {
	if to.named[full] != nil {
		return
	}
	st, good := readItem(full, q, p)
	st.Vehicle, st.Quantity, st.broken = d.Name, full[len(d.Name)+1:], !good
	to.add(st)
}

// items reads `displaced` or `added`: masses by name.
func (r *reader) massItems(d *vehicleDecl, to *statements, p pair) {
	pairs, ok := p.value.pairs(p.name + " is a mapping of masses: floor_panel: 20(3) kg")
	if !ok || !p.value.atMost(mostEntries, "items") {
		return
	}
	mass, _ := vehicle.Find("pack_mass")
	for _, item := range pairs {
		if item.named("item") {
			q := mass
			q.Name, q.Low, q.LowOpen = item.name, 0, false
			r.part(to, d, d.Name+"."+p.name+"."+item.name, item, &q)
		}
	}
}

// basedOn reads a name or a list of names.
func (r *reader) basedOn(d *vehicleDecl, v field) {
	before := r.errs.count
	bases, names := v.bases()
	r.misspelt = r.misspelt || r.errs.count > before
	if len(d.bases) == 0 { // else the study's own line wins
		d.bases, d.BasedOn = bases, names
	}
}

func (f field) bases() (fields []field, names []string) {
	if !f.isList() {
		if name, ok := f.text("the name of a vehicle or a list of names is expected"); ok {
			return []field{f}, []string{name}
		}
		return nil, nil
	}
	list, _ := f.list("")
	if len(list) == 0 {
		f.err("an empty list", "the name of a vehicle or a list of names is expected")
	}
	if !f.atMost(mostBases, "vehicles to be based on") {
		return nil, nil
	}
	for _, base := range list {
		if name, ok := base.text("the name of a vehicle is expected"); ok {
			fields, names = append(fields, base), append(names, name)
		}
	}
	return fields, names
}
