package vehicle

import (
	"slices"
	"strings"
	"testing"
)

// TestRoutes: an equation names its direct parents and nothing else, and those of a
// quantity come in the order of its ways.
func TestRoutes(t *testing.T) {
	told := 0
	for _, q := range BuiltIn().Quantities() {
		routes := BuiltIn().Routes(q.Name)
		if (q.Computed || BuiltIn().isBillPart(q.Name)) == (len(routes) == 0) && q.Name != "coastdown_mass" && q.Name != "built_mass" {
			t.Errorf("%s: computed %t, %d routes", q.Name, q.Computed, len(routes))
		}
		for _, r := range routes {
			if r.Equation != "" {
				told++
			}
			for _, name := range namesIn(r.Equation) {
				if _, known := BuiltIn().Find(name); !known || !slices.Contains(r.From, name) {
					t.Errorf("%s = %s: %s is no direct parent of %v", q.Name, r.Equation, name, r.From)
				}
			}
			for _, name := range r.From {
				if _, known := BuiltIn().Find(name); known && r.Equation != "" && !strings.Contains(r.Equation, name) && q.Name != "kerb_mass" {
					t.Errorf("%s = %s lacks its parent %s", q.Name, r.Equation, name)
				}
			}
		}
	}
	if told < 60 {
		t.Errorf("only %d equations are told", told)
	}
	for q, list := range equations {
		open := 0
		for _, w := range BuiltIn().named[q].ways {
			if w.form == "" {
				open++
			}
		}
		if open != len(list) {
			t.Errorf("%s: %d equations for %d ways", q, len(list), open)
		}
	}
	for q, want := range map[string]string{"cell_share": "cells_mass / pack_mass", "cell_pitch": "cell_diameter + cell_gap", "label_range": "combined_range x label_factor", "net_pack_less_cells": "net_pack_mass - cells_mass"} {
		if r := BuiltIn().Routes(q); len(r) != 1 || r[0].Equation != want {
			t.Errorf("%s: %+v, want %s", q, r, want)
		}
	}
	if r := BuiltIn().Routes("aero_coefficient"); len(r) != 2 || r[1].Equation != "0.5 x air_density x drag_area" {
		t.Errorf("aero_coefficient: %+v", r)
	}
	if BuiltIn().Routes("colour") != nil {
		t.Error("colour has routes")
	}
}
