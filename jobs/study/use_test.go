package study

import (
	"path/filepath"
	"strings"
	"testing"
)

const usingStudy = `format: 1
use: [cells.yaml]
inputs:
  outside_temperature: 23 degC
vehicles:
  boxed:
    based_on: cells
    kerb_mass: 1950 kg
    pack_mass: 450 kg
    series: 101
    parallel: 38
`

func TestUse(t *testing.T) {
	s := mustRead(t, Options{}, usingStudy, "cells.yaml", cellsFile)
	const want = "outside_temperature air_pressure boxed.kerb_mass boxed.pack_mass boxed.series boxed.parallel " +
		"cells.cell_mass cells.cell_charge cells.cell_voltage cells.cell_diameter cells.cell_height cells.cell_resistance"
	if got := names(s.Inputs); got != want { // nothing of the template that nobody uses
		t.Errorf("inputs:\n got %s\nwant %s", got, want)
	}
	if in, _ := s.input("outside_temperature"); in.Value != 296.15 {
		t.Errorf("outside_temperature is %g K, want the study's own 296.15", in.Value)
	}
	if in, _ := s.input("cells.cell_mass"); filepath.Base(in.Place.File) != "cells.yaml" || in.Place.Line != 3 {
		t.Errorf("cells.cell_mass stands in %v", in.Place)
	}
	if len(s.Vehicles) != 3 || !s.Vehicles[0].Run || s.Vehicles[1].Run || s.Vehicles[2].Run || len(s.Candidates) != 0 {
		t.Errorf("vehicles %+v, candidates %v", s.Vehicles, s.Candidates)
	}
	if s.Cars[0].Base != "" { // cells have no mass: no car to differ from
		t.Errorf("the base of boxed is %q", s.Cars[0].Base)
	}
	if len(s.Files) != 2 || s.Files[1].Name != "cells.yaml" || string(s.Files[1].Data) != cellsFile || len(s.Files[1].Digest) != 64 {
		t.Errorf("files %d, second %q", len(s.Files), s.Files[1].Name)
	}
}

// TestTemplateLines has lines of the study win over those of the template it names.
func TestTemplateLines(t *testing.T) {
	const template = "vehicles:\n  boxed: {kerb_mass: 1900 kg, pack_mass: 450 kg, certified: yes, mass_basis: eu_running_order}\n"
	s := mustRead(t, Options{}, "format: 1\nuse: [cars.yaml]\nvehicles:\n  boxed: {pack_mass: 400 kg, certified: no}\n", "cars.yaml", template)
	if in, _ := s.input("boxed.pack_mass"); in.Value != 400 || in.Place.Line != 4 {
		t.Errorf("boxed.pack_mass is %g kg from %v", in.Value, in.Place)
	}
	if in, ok := s.input("boxed.kerb_mass"); !ok || in.Value != 1900 {
		t.Errorf("boxed.kerb_mass is %g kg", in.Value)
	}
	if v := s.Vehicles[0]; !v.Run || v.Certified || v.MassBasis != "eu_running_order" {
		t.Errorf("boxed: %+v", v)
	}
	s = mustRead(t, Options{}, "format: 1\nuse: [cars.yaml]\nvehicles:\n  boxed:\n", "cars.yaml", template)
	if v := s.Vehicles[0]; !v.Run || !v.Certified || len(s.Inputs) != 2 {
		t.Errorf("boxed as in the template: %+v with %s", v, names(s.Inputs))
	}
}

func TestReadFolders(t *testing.T) {
	outside := t.TempDir()
	write(t, filepath.Join(outside, "cells.yaml"), cellsFile)
	study := strings.Replace(usingStudy, "[cells.yaml]", "["+filepath.Join(outside, "cells.yaml")+"]", 1)
	if _, err := readText(t, Options{}, study); err == nil || !strings.Contains(err.Error(), "lies outside the study's folder") {
		t.Errorf("a file outside: %v", err)
	}
	s := mustRead(t, Options{ReadFolders: []string{outside}}, study)
	name := s.Files[1].Name
	if filepath.Base(name) != name || !strings.HasSuffix(name, "__cells.yaml") {
		t.Errorf("the copy would be called %q", name)
	}
	// A result folder holds a copy; there the study may be read without leave.
	mustRead(t, Options{}, study, filepath.Join("given", name), cellsFile)
	mustRead(t, Options{}, usingStudy, filepath.Join("given", "cells.yaml"), cellsFile)
}

// TestStoredName has every used file kept under a plain name, which a result folder
// accepts.
func TestStoredName(t *testing.T) {
	for name, want := range map[string]string{
		"cells.yaml": "cells.yaml", "lib/cells.yaml": "lib__cells.yaml", "../lib/./cells.yaml": "lib__cells.yaml",
		"/data/cells.yaml": "data__cells.yaml", ".cells.yaml": "_.cells.yaml", "a:b.yaml": "a_b.yaml", "zellé.yaml": "zellé.yaml",
	} {
		if got := storedName(name); got != want {
			t.Errorf("%s is kept as %s, want %s", name, got, want)
		}
	}
}

// TestLinks has a link out of the study's folder count as outside.
func TestLinks(t *testing.T) {
	outside, folder := t.TempDir(), t.TempDir()
	write(t, filepath.Join(outside, "cells.yaml"), cellsFile)
	write(t, filepath.Join(folder, "study.yaml"), usingStudy)
	link(t, filepath.Join(outside, "cells.yaml"), filepath.Join(folder, "cells.yaml"))
	_, err := Read(filepath.Join(folder, "study.yaml"), Options{})
	if err == nil || !strings.Contains(err.Error(), "lies outside the study's folder") {
		t.Errorf("a link to a file outside: %v", err)
	}
}
