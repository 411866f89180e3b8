package jobs_test

import (
	"math"
	"path/filepath"
	"testing"

	"proofmass/jobs/result"
)

// Y = sin x1 (1 + 0.1 x3^4) + 7 sin^2 x2: the closed index of {x1, x3} and the total of
// {x1, x2} have closed forms (Ishigami and Homma, 1990): 0.557589 and 1.
func TestGroupsOfIshigami(t *testing.T) {
	o := quick(t, 0)
	mustRun(t, write(t, `format: 1
study: groups
model: formulas
inputs: {x1: {between: [-3.141592653589793, 3.141592653589793]}, x2: {between: [-3.141592653589793, 3.141592653589793]}, x3: {between: [-3.141592653589793, 3.141592653589793]}}
outputs: {y: sin(x1) * (1 + 0.1 * x3^4) + 7 * sin(x2)^2}
groups: {mixed: [x3, x1], two: [x1, x2]}
indices: {half_width: 0.02, pairs: all}
sample: {rows: 4096, seed: 11}
`), o)
	indices, err := result.ReadTable(filepath.Join(o.Out, result.IndicesTable))
	if err != nil {
		t.Fatal(err)
	}
	exact := map[string]float64{"group mixed": 0.557589, "group_total mixed": 0.557589, "group_total two": 1,
		"group two": 0.756316, "second x1 x2": 0, "second x1 x3": 0.243684, "second x2 x3": 0}
	for i, order := range indices.Column("order").Texts {
		name := order + " " + indices.Column("input").Texts[i]
		if other := indices.Column("other").Texts[i]; other != "" {
			name += " " + other
		}
		if want, known := exact[name]; known {
			near(t, name, want, cell(indices, "low", i), cell(indices, "high", i))
			delete(exact, name)
		}
	}
	if len(exact) > 0 {
		t.Errorf("no row for %v", exact)
	}
}

// The inputs of a vehicle are a group without being asked for, and so is what
// vehicles share; the groups of an additive change add up to all of it.
func TestVehiclesAreGroups(t *testing.T) {
	o := quick(t, 4096)
	a := mustRun(t, studies+"heron.yaml", o).Answer
	for _, d := range a.Decides {
		if d.Output != "bonded.kerb_mass_change" {
			continue
		}
		sum := 0.0
		names := map[string]bool{}
		for _, g := range d.Groups {
			names[g.Input] = true
			sum += *g.Share
		}
		if !names["boxed"] || !names["bonded"] || !names["drum"] || math.Abs(sum-1) > 0.1 {
			t.Errorf("groups %v add up to %.3f", names, sum)
		}
		return
	}
	t.Error("nothing on the change of mass")
}
