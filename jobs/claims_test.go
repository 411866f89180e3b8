package jobs_test

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// The invented demo shows one claim that stands, one in doubt and one that falls.
func TestHeronShowsAllThreeVerdicts(t *testing.T) {
	a := mustRun(t, studies+"heron.yaml", quick(t, 4096)).Answer
	want := map[string]result.Verdict{"lighter": "stands", "thriftier": "in_doubt", "further": "falls"}
	for _, c := range a.Claims {
		if w, ok := want[c.Name]; ok && c.Verdict != w {
			t.Errorf("%s %s (%g), want it to %s", c.Name, c.Verdict, c.Chance, w)
		}
	}
	var text strings.Builder
	if err := a.Text(&text, report.TextOptions{Folder: "heron-result", Full: true}); err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(text.String(), "\n") {
		if len([]rune(line)) > 80 {
			t.Errorf("%d characters: %s", len([]rune(line)), line)
		}
	}
	checkShort(t, a)
	order := []string{"DO THE CLAIMS HOLD?", "HOW LARGE?", "WHAT DECIDES IT?", "WHAT WAS ASSUMED?", "WHAT TO BEWARE OF"}
	at := -1
	for _, title := range order {
		next := strings.Index(text.String(), title)
		if next <= at {
			t.Errorf("%q is missing or stands too early", title)
		}
		at = next
	}
}

// checkShort: the short answer of three claims and two cars takes at most 40 lines of
// 80 columns, and keeps to the width of any terminal from 60 to 120.
func checkShort(t *testing.T, a *report.Answer) {
	t.Helper()
	for _, width := range []int{0, 40, 60, 71, 80, 97, 120, 200} {
		for _, full := range []bool{false, true} {
			var text strings.Builder
			if err := a.Text(&text, report.TextOptions{Folder: "heron-result", Width: width, Full: full}); err != nil {
				t.Fatal(err)
			}
			most := min(120, max(60, width))
			if width == 0 {
				most = 80
			}
			lines := strings.Split(strings.TrimSuffix(text.String(), "\n"), "\n")
			for _, line := range lines {
				if n := len([]rune(line)); n > most {
					t.Errorf("width %d, full %v: %d characters: %s", width, full, n, line)
				}
			}
			if !full && most >= 80 && len(lines) > 40 {
				t.Errorf("width %d: the short answer takes %d lines\n%s", width, len(lines), text.String())
			}
		}
	}
	var text strings.Builder
	if err := a.Text(&text, report.TextOptions{Folder: "heron-result"}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"of three claims one stands, one is in doubt and one falls", "since", "is rounded to", "Assumed: ", "Structure, crash, high voltage"} {
		if !strings.Contains(strings.Join(strings.Fields(text.String()), " "), want) {
			t.Errorf("the short answer lacks %q:\n%s", want, text.String())
		}
	}
}

// The reference model gives half as much label range as mass, 0.4 to 0.65 of it: of
// 8 % less kerb mass 3.2 to 5.2 %; and the filed consumption lies within the stated 90 % range.
func TestCertifiedCar(t *testing.T) {
	a := mustRun(t, studies+"certified-car.yaml", quick(t, 8192)).Answer
	gain := size(t, a, "lighter.label_range_change")
	if *gain.P50 < 3.2 || *gain.P50 > 5.2 {
		t.Errorf("8 %% of the mass bring %.2f %%, want 3.2 to 5.2", *gain.P50)
	}
	for _, name := range []string{"city_over_filed", "highway_over_filed"} {
		if s := size(t, a, name); *s.P05 > 1 || *s.P95 < 1 {
			t.Errorf("%s: %.3f to %.3f does not hold 1", name, *s.P05, *s.P95)
		}
	}
}

// y = x1 x2, independent and uniform: mean 1/4, variance 7/144, first-order index
// 3/7, total index 4/7, P(y < 0.1) = 0.1 (1 + ln 10). All by hand. Each interval
// holds its value with chance 0.95 by construction; the seed is fixed.
func TestProductOfTwo(t *testing.T) {
	o := quick(t, 0)
	a := mustRun(t, studies+"product.yaml", o).Answer
	summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
	if err != nil {
		t.Fatal(err)
	}
	row := rowOf(t, summary, "output", "y")
	within(t, "mean", 0.25, cell(summary, "mean_low", row), cell(summary, "mean_high", row))
	if sd := cell(summary, "sd", row); math.Abs(sd-math.Sqrt(7.0/144)) > 0.004 { // 5 sd of the estimate
		t.Errorf("sd %.4f, want %.4f", sd, math.Sqrt(7.0/144))
	}
	within(t, "chance", 0.1*(1+math.Log(10)), *a.Claims[0].Low, *a.Claims[0].High)
	indices, err := result.ReadTable(filepath.Join(o.Out, result.IndicesTable))
	if err != nil {
		t.Fatal(err)
	}
	exact := map[string]float64{"first": 3.0 / 7, "total": 4.0 / 7, "second": 1.0 / 7}
	found := 0
	for i, order := range indices.Column("order").Texts {
		if want, known := exact[order]; known && indices.Column("of").Texts[i] == "output" {
			found++
			near(t, order+" "+indices.Column("input").Texts[i], want, cell(indices, "low", i), cell(indices, "high", i))
		}
	}
	if found != 2*3+1 { // first by swapping and by classes, total; the pair
		t.Errorf("%d indices of y, want 7", found)
	}
}

// The model's own error is one draw for all vehicles, so switching it on widens a
// level a lot and a gain by less than 0.05 points.
func TestModelErrorCancelsInAGain(t *testing.T) {
	const car = `
vehicles:
  old: {kerb_mass: 1900 kg, series: 101, parallel: 33, cell_mass: 97 g, cell_charge: 6.6 Ah, cell_voltage: 3.63 V, cell_resistance: 17 mohm, pack_mass: 430 kg}
  new: {based_on: old, kerb_mass: 1800 kg}
inputs:
  drag_coefficient: 0.24
  frontal_area: 2.3 m2
  rolling_coefficient: 0.0085
  usable_share: 0.95
`
	sd := func(extra string) (level, gain float64) {
		o := quick(t, 4096)
		mustRun(t, write(t, "format: 1\nstudy: error\nmodel: vehicle\nindices: none\n"+car+extra), o)
		summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
		if err != nil {
			t.Fatal(err)
		}
		return cell(summary, "sd", rowOf(t, summary, "output", "old.label_range")),
			cell(summary, "sd", rowOf(t, summary, "output", "new.label_range_change"))
	}
	level, gain := sd("")
	levelOff, gainOff := sd("  model_error_city: 1\n  model_error_highway: 1\n")
	if level < 1.1*levelOff {
		t.Errorf("sd of the level %.2f km with and %.2f without the model's error: it does nothing", level, levelOff)
	}
	if math.Abs(gain-gainOff) >= 0.05 {
		t.Errorf("sd of the gain %.4f with and %.4f without the model's error, want within 0.05 points", gain, gainOff)
	}
}

// A candidate that states nothing is the baseline: every change is exactly 0.
func TestNoChangeIsExactlyNone(t *testing.T) {
	o := quick(t, 1024)
	mustRun(t, write(t, `format: 1
study: twin
model: vehicle
indices: none
keep: all
vehicles:
  car: {kerb_mass: 1950(30) kg, pack_mass: 400(9) kg, series: 101, parallel: 33, cell_mass: {between: [95 g, 98 g]}, cell_charge: 6.6 Ah, cell_voltage: 3.63 V, cell_resistance: 17 mohm}
  twin: {based_on: car}
  same_parts: {based_on: car, displaced: {panel: 0 kg}}
inputs: {drag_coefficient: 0.24, frontal_area: 2.3 m2, rolling_coefficient: {between: [0.008, 0.009]}, usable_share: 0.95}
`), o)
	summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for i, q := range summary.Column("quantity").Texts {
		if !strings.HasSuffix(q, "_change") {
			continue
		}
		seen++
		if low, high := cell(summary, "min", i), cell(summary, "max", i); low != 0 || high != 0 {
			t.Errorf("%s runs from %g to %g, want exactly 0", summary.Column("output").Texts[i], low, high)
		}
	}
	if seen < 6 {
		t.Errorf("only %d changes were stored", seen)
	}
}

func rowOf(t *testing.T, table *result.Table, column, text string) int {
	t.Helper()
	for i, s := range table.Column(column).Texts {
		if s == text {
			return i
		}
	}
	t.Fatalf("no row with %s %q", column, text)
	return -1
}

func cell(table *result.Table, column string, row int) float64 {
	return table.Column(column).Floats[row]
}

func within(t *testing.T, what string, exact, low, high float64) {
	t.Helper()
	if !(low <= exact && exact <= high) {
		t.Errorf("%s: the interval %.5f to %.5f does not hold the exact %.5f", what, low, high, exact)
	}
}

// near is within for one of many values: inside twice the half-width of its 95 %
// interval, beyond which a right one is with the chance 5e-4 (t of 15 degrees of freedom).
func near(t *testing.T, what string, exact, low, high float64) {
	t.Helper()
	if half := (high - low) / 2; !(low-half <= exact && exact <= high+half) {
		t.Errorf("%s: twice the interval %.5f to %.5f does not hold the exact %.5f", what, low, high, exact)
	}
}

// TestAboutIsNotRefutedByWideDraws has draws that are merely wider than what was announced
// leave it in doubt, and draws on one side of it let it fall.
func TestAboutIsNotRefutedByWideDraws(t *testing.T) {
	for announced, want := range map[string]result.Verdict{"100": result.InDoubt, "118": result.Falls, "60": result.Falls, "109": result.InDoubt} {
		a := mustRun(t, write(t, `format: 1
model: formulas
indices: none
inputs: {x: {normal: {mean: 100, sd: 10}}}
outputs: {y: x}
claims: {near: {of: y, announced: `+announced+`, rounded_to: 0.5, sense: about}}
`), quick(t, 4096)).Answer
		c := a.Claims[0]
		if c.Verdict != want || strings.Contains(c.Frequency, "wider than it is") != (want == result.InDoubt) {
			t.Errorf("about %s: %s, %s; want %s", announced, c.Verdict, c.Frequency, want)
		}
	}
}
