package plan_test

import (
	"slices"
	"testing"
)

// TestInsideHasTheLinesThatChange: of two bills the figure of steps gets the lines that differ,
// from either side, pack and car apart, and none that is kept.
func TestInsideHasTheLinesThatChange(t *testing.T) {
	p := planOf(t, `format: 1
vehicles:
  boxed:
    kerb_mass: 1900 kg
    bill:
      cells: {group: cells, mass: 280(1) kg}
      tray: {group: tray, mass: 40(1) kg}
      screws: {count: 90, mass: 12(1) g}
      beam: {group: body, mass: 5(1) kg}
  bonded:
    based_on: boxed
    bill:
      tray: {mass: 31(1) kg}
      screws: {fate: removed}
      foam: {fate: added, group: filler, mass: 8(1) kg}
      beam: {fate: removed}
claims: {lighter: {of: bonded.kerb_mass_difference, announced: -9 kg, sense: at_least}}
`)
	x, err := p.Inside()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range x.Columns {
		if c.Quantity.Figure == "lines of the pack" || c.Quantity.Figure == "lines of the car" {
			got = append(got, c.Name+" in "+c.Quantity.Figure)
		}
	}
	want := []string{"boxed.bill.tray.total in lines of the pack", "bonded.bill.tray.total in lines of the pack", "boxed.bill.screws.total in lines of the pack",
		"boxed.bill.beam.total in lines of the car", "bonded.bill.foam.total in lines of the pack"}
	if !slices.Equal(got, want) {
		t.Errorf("got %v", got)
	}
}
