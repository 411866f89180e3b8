package inspect_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs/inspect"
	"proofmass/jobs/plan"
	"proofmass/jobs/study"
	"proofmass/model"
	"proofmass/model/unit"
	"proofmass/model/vehicle"
)

// added is a catalogue with a quantity of each kind beside the built-in ones.
func added(t *testing.T) *study.Catalogue {
	t.Helper()
	quantity := func(name, in string, traits model.Traits) model.Quantity {
		u, err := unit.Parse(in)
		if err != nil {
			t.Fatal(err)
		}
		return model.Quantity{Name: name, Unit: u, Meaning: "of a test", Source: "test", Low: math.Inf(-1), High: math.Inf(1), Traits: traits}
	}
	part := func(name, whole string) vehicle.Addition {
		q := quantity(name, "kg", model.Traits{PartOf: whole, Usual: model.Band{Low: 1, High: 20, Source: "a test", Slip: "g for kg"}})
		q.Stated, q.Optional, q.Low = true, true, 0
		return vehicle.Addition{Quantity: q}
	}
	made := func(q model.Quantity, f func(a, b float64) float64, needs ...string) vehicle.Addition {
		return vehicle.Addition{Quantity: q, Needs: needs, Eval: func(out, in [][]float64) {
			for i := range out[0] {
				out[0][i] = f(in[0][i], in[1][i])
			}
		}}
	}
	less := func(a, b float64) float64 { return a - b }
	times := func(a, b float64) float64 { return a * b }
	loss := quantity("hub_loss", "1", model.Traits{})
	loss.Stated, loss.Default, loss.DefaultSource, loss.Factor = true, "{normal: {mean: 1, sd: 0.1}}", "a test", "losses"
	stated := func(name string, traits model.Traits) model.Quantity {
		q := quantity(name, "1", traits)
		q.Stated, q.Low = true, 0
		return q
	}
	kind := stated("hub_kind", model.Traits{Words: map[string]float64{"plain": 0, "coated": 1}})
	holes := stated("hub_holes", model.Traits{Whole: true})
	saved := stated("hub_saved", model.Traits{Credit: model.Credit{Of: "hub metal", Within: []model.Share{{Of: "kerb_mass", Most: 0.02, Called: "kerb mass"}, {Of: "hitch_mass", Most: 1, Called: "hitch"}}}})
	saved.Unit = quantity("", "kg", model.Traits{}).Unit
	plate := stated("plate_number", model.Traits{WholeCar: true})
	m, err := vehicle.New(vehicle.Options{Quantities: []vehicle.Addition{
		part("seal_mass", "pack_mass"), part("hitch_mass", "kerb_mass"),
		{Quantity: loss, Moves: 0.01},
		made(quantity("shell_mass", "kg", model.Traits{Headline: 5}), less, "kerb_mass", "pack_mass"),
		made(quantity("shell_spare", "kg", model.Traits{Beside: "kerb_mass", BelowNil: "the pack outweighs the rest"}), less, "shell_mass", "pack_mass"),
		made(quantity("udds_hub", "Wh/km", model.Traits{Headline: 6, Convention: model.Convention{Says: "Hubs of %s are as on the bench."}}), times, "udds_total", "hub_loss"),
		made(quantity("hub_range", "km", model.Traits{Certified: true, Beside: "label_range"}), times, "label_range", "hub_loss"),
		made(quantity("hub_check", "1", model.Traits{Aside: true}), less, "hub_loss", "gear_efficiency"),
		made(quantity("hub_noise", "1", model.Traits{Question: "hub_kind", Beside: "kerb_mass", Silent: true}), times, "hub_kind", "hub_loss"),
		made(quantity("tray_rest", "kg", model.Traits{RestOf: "pack_mass", BelowNil: "the tray weighs more than the pack"}), less, "pack_mass", "tray_mass"),
		made(quantity("driven_mass", "kg", model.Traits{HoldsDriver: true}), times, "kerb_mass", "hub_loss"),
		made(quantity("hub_by_change", "kg", model.Traits{Beside: "kerb_mass", ByChange: true}), times, "kerb_mass", "hub_loss"),
		{Quantity: kind}, {Quantity: holes}, {Quantity: plate}, {Quantity: saved},
		made(quantity("pack_mass_again", "kg", model.Traits{RouteTo: "pack_mass"}), times, "seal_mass", "hub_loss"),
	}})
	if err != nil {
		t.Fatal(err)
	}
	return study.NewCatalogue(m)
}

const withAdditions = `format: 1
vehicles:
  car:
    cells_mass: 300 kg
    tray_mass: 30 kg
    seal_mass: {between: [40 kg, 60 kg]}
    body_mass: 400 kg
    closures_mass: 100 kg
    interior_mass: 200 kg
    chassis_mass: 350 kg
    drive_unit_mass: 120 kg
    low_voltage_mass: 60 kg
    fluids_mass: 10 kg
    hitch_mass: 15 kg
    pack_energy: 60 kWh
    usable_share: 95 %
    drag_area: 0.6 m2
    rolling_coefficient: 0.008
`

func writeStudy(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "s.yaml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestAdditions: a quantity that is declared once is read, summed, shown, drawn with its
// factor, held against its band and against what it should agree with.
func TestAdditions(t *testing.T) {
	o := study.Options{Rows: 512, Catalogue: added(t)}
	path := writeStudy(t, withAdditions)
	s, err := study.Read(path, o)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.New(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"car.shell_mass", "car.udds_hub", "car.shell_spare", "hub_loss"} {
		if !slices.ContainsFunc(p.Columns, func(c plan.Column) bool { return c.Name == want }) {
			t.Errorf("%s is not shown", want)
		}
	}
	if i := slices.IndexFunc(p.Factors, func(f plan.Factor) bool { return f.Name == "losses" }); i < 0 || !slices.Contains(p.Factors[i].Columns, "hub_loss") {
		t.Error("hub_loss is not drawn with the losses")
	}
	w := p.Program.NewWorker(1)
	for i, in := range p.Drawn {
		w.Input(i)[0] = in.Marginal.Quantile(0.5)
	}
	w.Run(1)
	for i, c := range p.Columns {
		if want := map[string]float64{"car.pack_mass": 380, "car.kerb_mass": 1635, "car.shell_mass": 1255}[c.Name]; want != 0 {
			if got := w.Output(i)[0]; math.Abs(got-want) > 1e-6 {
				t.Errorf("%s = %g, want %g", c.Name, got, want)
			}
		}
	}
	if says := s.BelowNil()["shell_spare"]; says == "" {
		t.Error("no caution for shell_spare")
	}
	f, err := inspect.Check(path, o)
	if err != nil {
		t.Fatal(err)
	}
	told := strings.Join(f.Odd, "\n")
	for _, want := range []string{"car.seal_mass is 50 kg; usual is 1 to 20 kg", "Often it is g for kg", "by another route (pack_mass_again)"} {
		if !strings.Contains(told, want) {
			t.Errorf("check does not say %q: %s", want, told)
		}
	}
	constants := strings.Replace(withAdditions, "{between: [40 kg, 60 kg]}", "50 kg", 1) + "    pack_mass: 300 kg\n"
	if _, err := study.Read(writeStudy(t, strings.Replace(withAdditions, "seal_mass", "sael_mass", 1)), o); err == nil || !strings.Contains(err.Error(), "seal_mass") {
		t.Errorf("a slip for an added name: %v", err)
	}
	if _, err := study.Read(writeStudy(t, withAdditions), study.Options{}); err == nil {
		t.Error("the built-in catalogue has the additions of another")
	}
	f, err = inspect.Check(writeStudy(t, constants), o)
	if err != nil || !strings.Contains(strings.Join(f.Odd, "\n"), "the parts given weigh more than the pack mass given, by 80 kg") {
		t.Errorf("parts of 380 kg in a pack of 300 kg: %+v, %v", f, err)
	}
}

// kinds is a pair of cars with figures of which the added quantities say something.
const kinds = `format: 1
vehicles:
  old: {kerb_mass: 1600 kg, pack_energy: 60 kWh, usable_share: 95 %, drag_area: 0.6 m2, rolling_coefficient: 0.008}
  new: {based_on: old, kerb_mass: 1500 kg, mass_basis: eu_running_order}
claims:
  further: {of: new.hub_range_change, announced: 3 %, sense: at_least}
  heavy: {of: new.driven_mass, announced: 1500 kg, sense: at_least}
  cares: {holds: new.udds_hub < 500 Wh/km}
`

// TestEachKindOfAddition: what the program does with a quantity follows from what is
// declared at it.
func TestEachKindOfAddition(t *testing.T) {
	o := study.Options{Rows: 512, Catalogue: added(t)}
	planOf := func(text string) (*plan.Plan, error) {
		s, err := study.Read(writeStudy(t, text), o)
		if err != nil {
			return nil, err
		}
		return plan.New(s)
	}
	p, err := planOf(kinds)
	if err != nil {
		t.Fatal(err)
	}
	told := strings.Join(slices.Concat(p.Warnings(), p.Question(), p.Conventions()), "\n")
	for kind, want := range map[string]string{
		"convention":                   "Hubs of old, new are as on the bench.",
		"a convention it rests on":     "The label is the US label",
		"given by a certification":     "which no verdict on further holds",
		"may count a driver in":        "driven_mass is on different bases",
		"machines that it is made for": "Machines of new are kept as built",
	} {
		if !strings.Contains(told, want) {
			t.Errorf("%s: nothing says %q:\n%s", kind, want, told)
		}
	}
	stored := func(p *plan.Plan, name string) bool {
		return slices.ContainsFunc(p.Columns, func(c plan.Column) bool { return c.Name == name })
	}
	if stored(p, "new.hub_check") || !slices.Contains(p.Study.System.Checks("new"), "new.hub_check") {
		t.Error("what is for checks alone is stored, or no check")
	}
	if stored(p, "new.hub_noise") {
		t.Error("hub_noise is shown without its question")
	}
	asked, err := planOf(strings.Replace(kinds, "kerb_mass: 1500 kg", "kerb_mass: 1500 kg, hub_kind: coated", 1))
	if err != nil || !stored(asked, "new.hub_noise") || !slices.Contains(asked.Study.Silent(), "hub_noise") {
		t.Errorf("hub_noise is not shown with its question: %v", err)
	}
	changed := func(stated string) string {
		return strings.Replace(kinds, "kerb_mass: 1500 kg", "kerb_mass: 1500 kg, "+stated, 1)
	}
	for stated, want := range map[string]string{"hub_kind: glazed": "coated or plain", "hub_holes: 4.5": "whole"} {
		if _, err := planOf(changed(stated)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", stated, err, want)
		}
	}
	if stored(p, "old.hub_by_change") || stored(p, "new.hub_by_change") || !stored(p, "new.hub_by_change_change") || stored(p, "old.hub_by_change_change") {
		t.Error("what stands beside another by a candidate's change is stored by itself, or not at all")
	}
	credited, err := planOf(strings.Replace(changed("hub_saved: {between: [44 kg, 52 kg]}"), "old: {", "old: {hitch_mass: 50 kg, ", 1))
	if err != nil {
		t.Fatal(err)
	}
	told = strings.Join(credited.Warnings(), "\n")
	if !strings.Contains(told, "new is credited with 48 kg of hub metal, 3 % of the baseline's kerb mass: weigh those parts.") || strings.Contains(told, "hitch") {
		t.Errorf("credit of 48 kg: %s", told)
	}
	f, err := inspect.Check(writeStudy(t, changed("tray_mass: 90 kg, pack_mass: 80 kg")), o)
	if err != nil || !strings.Contains(strings.Join(f.Odd, "\n"), "new: the tray weighs more than the pack, by 10 kg") {
		t.Errorf("what is left of a whole is below nil: %+v, %v", f, err)
	}
}

// TestAddedMarkOfACar: what states a quantity that only whole cars have is a car, and what
// amends it counts from its masses.
func TestAddedMarkOfACar(t *testing.T) {
	for stated, base := range map[string]string{"cell_mass: 83 g": "", "plate_number: 3": "kit"} {
		path := writeStudy(t, "format: 1\nuse: [kit.yaml]\nvehicles:\n  car: {based_on: kit, kerb_mass: 1500 kg}\n")
		if err := os.WriteFile(filepath.Join(filepath.Dir(path), "kit.yaml"), []byte("format: 1\nvehicles: {kit: {"+stated+"}}\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := study.Read(path, study.Options{Catalogue: added(t)})
		if err != nil || s.Cars[0].Base != base {
			t.Errorf("a car based on a kit with %s: base %q, want %q; %v", stated, s.Cars[0].Base, base, err)
		}
	}
}
