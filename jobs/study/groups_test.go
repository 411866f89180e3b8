package study

import (
	"slices"
	"strings"
	"testing"
)

// Invented numbers. The bonded car's model error is its own, for it is certified.
const groupStudy = `format: 1
vehicles:
  boxed:
    kerb_mass: 1900(20) kg
    series: 101
    parallel: 33
    cell_mass: {between: [95 g, 98 g]}
    cell_charge: 6.6 Ah
    cell_voltage: 3.63 V
    cell_resistance: 17 mohm
    usable_share: 94 %
    pack_mass: 430(5) kg
  bonded: {based_on: boxed, certified: yes, pack_mass: 400(5) kg, displaced: {floor_panel: 20(3) kg}}
inputs: {drag_coefficient: {between: [0.23, 0.25]}, frontal_area: {between: [2.2 m2, 2.4 m2]}, rolling_coefficient: 0.0085}
together:
  - {inputs: [drag_coefficient, frontal_area], spearman: -0.3}
groups:
  air: [frontal_area, drag_coefficient]     # all that is tied
  packs: [bonded.pack_mass, boxed.pack_mass]
  masses: [boxed.pack_mass, boxed.kerb_mass, boxed.cell_mass, bonded.displaced.floor_panel]
  defaults: [losses, bonded.model_error_own]   # the losses that are left to the catalogue
  drive: [boxed.drive, model_error]           # of the chain that begins with the boxed car
  errors: [model_error, bonded.model_error_own]   # its two numbers are drawn, and hidden
indices: {half_width: 0.05, pairs: all, screen: no}
`

// oneDefault has two cars of one kind; only the old one leaves auxiliary_power to its
// default.
var oneDefault = strings.ReplaceAll(groupStudy[:strings.Index(groupStudy, "  bonded:")], "boxed", "old") +
	`  new: {based_on: old, auxiliary_power: {between: [150 W, 250 W]}}
inputs: {drag_coefficient: 0.24, frontal_area: 2.3 m2, rolling_coefficient: 0.0085}
groups: {on_board: [new.auxiliary_power, losses]}
`

const groupFormulas = `format: 1
model: formulas
inputs: {kerb_mass: {between: [0, 1]}, model_error: {between: [0, 1]}, b: {normal: {mean: 0, sd: 1}}, c: {one_of: [1, 2]}}
outputs: {y: kerb_mass + b + c + model_error}
groups: {pack_mass: [kerb_mass, c, model_error], one: [b], again: [b]}
indices: {pairs: none, screen: "yes"}
`

func TestGroups(t *testing.T) {
	tests := []struct{ name, study, want, pairs, screen string }{
		{"vehicles", groupStudy, "air: frontal_area drag_coefficient; packs: bonded.pack_mass boxed.pack_mass; " +
			"masses: boxed.pack_mass boxed.kerb_mass boxed.cell_mass bonded.displaced.floor_panel; " +
			"defaults: gear_efficiency torque_loss_factor idle_loss_per_mass spin_loss_per_mass regen_share auxiliary_power recharge_efficiency all_wheel_drive_extra bonded.model_error_own; drive: boxed.drive_draw model_error_z1 model_error_z2; errors: model_error_z1 model_error_z2 bonded.model_error_own", "all", "no"},
		{"formulas", groupFormulas, "pack_mass: kerb_mass c model_error; one: b; again: b", "none", "yes"},
		{"default of one vehicle", oneDefault, "on_board: new.auxiliary_power gear_efficiency torque_loss_factor idle_loss_per_mass spin_loss_per_mass regen_share auxiliary_power recharge_efficiency all_wheel_drive_extra", "interacting", ""},
		{"none", formulaStudy, "", "interacting", ""},
		{"empty", formulaStudy + "groups: {}\nindices: {pairs: interacting}\n", "", "interacting", ""},
		{"no indices", formulaStudy + "groups: {beam: [length, load]}\nindices: none\n", "beam: length load", "interacting", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := mustRead(t, Options{}, tt.study)
			var got []string
			for _, g := range s.Groups {
				got = append(got, g.Name+": "+strings.Join(g.Inputs, " "))
			}
			if text := strings.Join(got, "; "); text != tt.want {
				t.Errorf("groups:\n got %s\nwant %s", text, tt.want)
			}
			if i := s.Indices; i.Pairs != tt.pairs || i.Screen != tt.screen {
				t.Errorf("pairs %q, screen %q; want %q, %q", i.Pairs, i.Screen, tt.pairs, tt.screen)
			}
		})
	}
}

// TestGroupPlace: what is said of a group later says where it stands.
func TestGroupPlace(t *testing.T) {
	s := mustRead(t, Options{}, groupStudy)
	i := slices.IndexFunc(s.Groups, func(g Group) bool { return g.Name == "packs" })
	if p := s.Groups[i].Place; p.Line != 19 || p.Column != 3 {
		t.Errorf("packs stands at %v, want line 19, column 3", p)
	}
}

// TestMostGroups: a hundred are allowed; a hundred and one are among the wrong studies.
func TestMostGroups(t *testing.T) {
	s := mustRead(t, Options{}, formulaStudy+"groups:\n"+numbered(mostGroups, "  g%d: [load]\n"))
	if len(s.Groups) != mostGroups {
		t.Errorf("%d groups, want %d", len(s.Groups), mostGroups)
	}
}
