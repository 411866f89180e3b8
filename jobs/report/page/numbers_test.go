package page_test

import (
	"fmt"
	"html"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// A shown is the table of numbers of one figure of a page.
type shown struct {
	kind string
	head []string
	rows [][]string
}

var (
	figureOf = regexp.MustCompile(`(?s)<figure id="f\d+-([a-z]+)">.*?<thead><tr>(.*?)</tr></thead>\s*<tbody>(.*?)</tbody>`)
	lineOf   = regexp.MustCompile(`(?s)<tr>(.*?)</tr>`)
	cellOf   = regexp.MustCompile(`(?s)<t[hd][^>]*>(.*?)</t[hd]>`)
)

func cellsOf(row string) []string {
	var cells []string
	for _, m := range cellOf.FindAllStringSubmatch(row, -1) {
		cells = append(cells, html.UnescapeString(m[1]))
	}
	return cells
}

// figuresOf are the tables of a page's figures.
func figuresOf(text string) []shown {
	var all []shown
	for _, m := range figureOf.FindAllStringSubmatch(text, -1) {
		s := shown{kind: m[1], head: cellsOf(m[2])}
		for _, line := range lineOf.FindAllStringSubmatch(m[3], -1) {
			s.rows = append(s.rows, cellsOf(line[1]))
		}
		all = append(all, s)
	}
	return all
}

// same reports whether a number as it is shown is the table's at the digits shown.
func same(cell string, want float64) bool {
	if cell == "–" || cell == "-" || cell == "" {
		return want != want
	}
	text := strings.NewReplacer("−", "-", ",", "", "\u00a0%", "", " %", "").Replace(cell)
	got, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return false
	}
	mantissa, exponent, _ := strings.Cut(text, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	step := math.Pow(10, -float64(len(decimals)))
	if exponent != "" {
		power, _ := strconv.Atoi(exponent)
		step *= math.Pow(10, float64(power))
	}
	return math.Abs(got-want) <= step/2*(1+1e-9)
}

// exactly reports whether a number is shown with all its digits.
func exactly(cell string, want float64) bool {
	got, err := strconv.ParseFloat(strings.Replace(cell, "−", "-", 1), 64)
	return err == nil && math.Abs(got-want) <= 1e-9*math.Abs(want)
}

// tablesOf are the rows of a folder's tables by what a figure calls them.
type tablesOf struct {
	summary map[string]result.SummaryRow
	claims  map[string]result.ClaimRow
	swings  map[string]result.BarRow
	indices map[string]result.IndexRow
	curves  map[string][]result.CurveRow
	regions []result.RegionRow
	inside  map[string]result.InsideRow
}

func readTables(t *testing.T, folder string) *tablesOf {
	t.Helper()
	m, err := result.ReadManifest(folder)
	if err != nil {
		t.Fatal(err)
	}
	all := &tablesOf{map[string]result.SummaryRow{}, map[string]result.ClaimRow{}, map[string]result.BarRow{}, map[string]result.IndexRow{}, map[string][]result.CurveRow{}, nil, map[string]result.InsideRow{}}
	check := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	summary, _, err := result.Summary.Read(folder, m)
	check(err)
	for _, r := range summary {
		all.summary[r.Output] = r
	}
	claims, _, err := result.Claims.Read(folder, m)
	check(err)
	for _, r := range claims {
		all.claims[r.Claim] = r
	}
	swings, _, err := result.Tornado.Read(folder, m)
	check(err)
	for _, r := range swings {
		all.swings[fmt.Sprint(r.Output, r.Of, r.Input, r.Form)] = r
	}
	indices, _, err := result.Indices.Read(folder, m)
	check(err)
	for _, r := range indices {
		all.indices[fmt.Sprint(r.Output, r.Of, r.Input, r.Method, r.Order)] = r
	}
	curves, _, err := result.Curves.Read(folder, m)
	check(err)
	for _, r := range curves {
		if r.Of == result.OfOutput {
			all.curves[r.Output] = append(all.curves[r.Output], r)
		}
	}
	inside, _, err := result.Inside.Read(folder, m)
	check(err)
	for _, r := range inside {
		all.inside[r.Output] = r
	}
	all.regions, _, err = result.Regions.Read(folder, m)
	check(err)
	return all
}

// expected are the table's values behind a row of a figure, in the order of its cells from
// the given column on; nil where the test knows none.
func (all *tablesOf) expected(s shown, row []string, subject func(string) string) (from int, want []float64) {
	switch s.kind {
	case "levels", "changes":
		r := all.summary[row[0]]
		return 2, []float64{r.P05, r.P25, r.P50, r.P75, r.P95, r.Mean, r.SD, float64(r.Rows), float64(r.Infeasible)}
	case "nested", "ladder", "ranges", "layers", "field":
		if r, ok := all.summary[row[0]]; ok {
			return 2, []float64{r.P05, r.P25, r.P50, r.P75, r.P95, r.Mean, float64(r.Rows), float64(r.Infeasible)}
		}
		r := all.inside[row[0]]
		return 2, []float64{r.P05, r.P25, r.P50, r.P75, r.P95, r.Mean, float64(r.Rows), float64(r.Infeasible)}
	case "energy":
		r := all.inside[row[0]]
		return 2, []float64{r.Mean, r.P05, r.P95, float64(r.Rows)}
	case "verdicts":
		r := all.claims[row[0]]
		return 3, []float64{float64(r.Held), float64(r.Rows), 100 * r.Chance, 100 * r.ChanceLow, 100 * r.ChanceHigh}
	case "swings":
		r := all.swings[fmt.Sprint(subject(s.head[4]), result.OfOutput, row[0], row[6])]
		return 2, []float64{r.InputLow, r.InputHigh, r.AtLow, r.AtHigh}
	case "regions":
		for _, r := range all.regions { // the figure does not name its claim in its table
			if r.Input == row[0] && same(row[2], r.HoldsP10) && same(row[7], r.FailsP90) {
				return 2, []float64{r.HoldsP10, r.HoldsP50, r.HoldsP90, r.FailsP10, r.FailsP50, r.FailsP90, r.Distance, r.DistanceLow, r.DistanceHigh}
			}
		}
		return 2, []float64{math.NaN()}
	case "curves":
		for _, r := range all.curves[strings.TrimPrefix(s.head[4], "mean of ")] {
			if r.Input == row[0] && same(row[2], r.InputLow) && same(row[3], r.InputHigh) {
				return 2, []float64{r.InputLow, r.InputHigh, r.Mean, r.Low, r.High}
			}
		}
		return 2, []float64{math.NaN()}
	}
	return 0, nil
}

// insideCars says of two cars what their packs are made of.
const insideCars = `
format: 1
study: two-cars
model: vehicle
inputs:
  drag_coefficient: {between: [0.25, 0.27]}
  frontal_area: 2.31 m2
  rolling_coefficient: {normal: {mean: 0.0087, sd: 0.0004}}
  usable_share: 94 %%
  cell_diameter: 29.4(2) mm
  cell_height: 83.1(3) mm
  cell_mass: {between: [139 g, 143 g]}
  cell_charge: 8.3(1) Ah
  cell_voltage: 3.62 V
vehicles:
  before: {kerb_mass: 1733(12) kg, pack_mass: 391(8) kg, cell_count: 1980}
  after:
    based_on: before
    pack_mass: {between: [331 kg, 352 kg]}
    layout: square
    cell_rows: 33
    cell_columns: 60
    filled_share: {between: [0.97, 0.99]}
    cell_count: {formula: after.cell_rows * after.cell_columns * after.filled_share}
    cell_gap: {between: [0.9 mm, 1.4 mm]}
    bond_thickness: {between: [0.4 mm, 0.7 mm]}
    face_sheet_thickness: 0.8(1) mm
    footprint: 1.9 m2
    displaced: {floor: 13(2) kg}
%s
sample: {rows: 2048}
`

// TestNumbersAreTheTables: every number of these figures is that of its table at the digits
// shown.
func TestNumbersAreTheTables(t *testing.T) {
	folder := ranOnce(t, fmt.Sprintf(insideCars, carClaims))
	text, all := drawn(t, folder), readTables(t, folder)
	compared := map[string]int{}
	for _, s := range figuresOf(text) {
		for _, row := range s.rows {
			from, want := all.expected(s, row, func(head string) string { return strings.TrimSuffix(head, " from") })
			for i, w := range want {
				if from+i >= len(row) || !same(row[from+i], w) {
					t.Errorf("%s, %s, %s: the page says %v, the table %v", s.kind, row[0], s.head[from+i], row, w)
				}
				compared[s.kind]++
			}
		}
	}
	for kind, least := range map[string]int{"levels": 50, "changes": 20, "swings": 20, "regions": 9, "curves": 50, "nested": 30, "ladder": 30, "ranges": 30, "layers": 20, "field": 20, "energy": 100} {
		if compared[kind] < least {
			t.Errorf("%s: only %d numbers were found to compare", kind, compared[kind])
		}
	}
	all.sharesAndSaid(t, text)
}

// sharesAndSaid compares what stands in two tables at once.
func (all *tablesOf) sharesAndSaid(t *testing.T, text string) {
	shares, said, pairs := 0, 0, 0
	for _, s := range figuresOf(text) {
		for _, row := range s.rows {
			switch s.kind {
			case "pair":
				x, y := all.claims["lighter"], all.claims["further"]
				of := func(c result.ClaimRow) float64 {
					r := all.summary[c.Of]
					return map[string]float64{"announced": c.Announced, "rounded to": c.RoundedTo, "tested limit": c.Limit,
						"draws, 5th percentile": r.P05, "draws, middle": r.P50, "draws, 95th percentile": r.P95}[row[0]]
				}
				if row[0] == "tested limit" && !exactly(row[1], x.Limit) {
					t.Errorf("pair: %v, the table %v", row, x.Limit)
				}
				if !same(row[1], of(x)) || !same(row[3], of(y)) || row[2] != x.AnnouncedIn || row[4] != y.AnnouncedIn {
					t.Errorf("pair: %v, the tables %v and %v", row, of(x), of(y))
				}
				pairs++
			case "shares":
				found := false
				for _, r := range all.indices {
					found = found || r.Of == result.OfOutput && r.Input == row[0] && string(r.Order) == row[1] && same(row[2], r.Estimate) && same(row[3], r.Low) && same(row[4], r.High)
				}
				if !found {
					t.Errorf("shares: no row of indices is %v", row)
				}
				shares++
			case "said":
				found := false
				for _, c := range all.claims {
					r := all.summary[c.Of]
					want, known := map[string]float64{"announced": c.Announced, "rounded to": c.RoundedTo, "tested limit": c.Limit, "draws, 5th percentile": r.P05,
						"draws, middle": r.P50, "draws, 95th percentile": r.P95, "chance of the claim": 100 * c.Chance}[row[0]]
					found = found || !known || same(row[2], want) && (row[0] != "tested limit" || exactly(row[2], want))
				}
				if !found {
					t.Errorf("said: no claim has %v", row)
				}
				said++
			}
		}
	}
	if shares < 10 || said < 10 || pairs < 5 {
		t.Errorf("only %d shares, %d numbers of what was said and %d of the pair were found to compare", shares, said, pairs)
	}
}

// TestScatterIsTheDraws: the counts of a claim over two inputs are those of the draws shown,
// and its plane is the least-squares one of all of them, by the normal equations.
func TestScatterIsTheDraws(t *testing.T) {
	folder := ranOnce(t, fmt.Sprintf(insideCars, carClaims))
	all := readTables(t, folder)
	paths, err := filepath.Glob(filepath.Join(folder, "samples", "*", "*.parquet"))
	if err != nil {
		t.Fatal(err)
	}
	samples, err := result.OpenSlices(paths)
	if err != nil {
		t.Fatal(err)
	}
	column := func(name string) []float64 {
		x, err := samples.Read(strings.ReplaceAll(name, ".", "_"), nil)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	scatters := 0
	text := drawn(t, folder)
	for _, s := range figuresOf(text) {
		if s.kind != "two" {
			continue
		}
		scatters++
		value := map[string]string{}
		var inputs []string
		for _, row := range s.rows {
			value[row[0]] = row[1]
			if in, found := strings.CutPrefix(row[0], "its change for each unit of "); found {
				inputs = append(inputs, in)
			}
		}
		shown := int(math.Round(number(t, value["draws shown in which it holds"]) + number(t, value["draws shown in which it fails"])))
		if len(inputs) != 2 {
			t.Fatalf("the plane is over %v", inputs)
		}
		matches := 0
		for name := range all.claims {
			if name == "all_claims" {
				continue
			}
			holds := column(name)
			step := (len(holds) + 399) / 400
			held, n := 0, 0
			for i := 0; i < len(holds); i += step {
				n++
				if holds[i] == 1 {
					held++
				}
			}
			x, y, margin := column(inputs[0]), column(inputs[1]), column(name+"_margin")
			at, bx, by, explained := plane(x, y, margin)
			if n == shown && float64(held) == number(t, value["draws shown in which it holds"]) && near(value["margin of the plane where both inputs are nil"], at) &&
				near(value["its change for each unit of "+inputs[0]], bx) && near(value["its change for each unit of "+inputs[1]], by) &&
				near(value["share of the margin's spread that the plane accounts for"], explained) {
				matches++
			}
		}
		if matches != 1 {
			t.Errorf("%d claims have the scatter of %v", matches, s.rows)
		}
	}
	if scatters == 0 {
		t.Error("there is no scatter")
	}
}

// near reports whether three digits are those of a number, which another way of computing
// gives with its own rounding.
func near(cell string, want float64) bool {
	got, err := strconv.ParseFloat(strings.ReplaceAll(cell, "−", "-"), 64)
	return err == nil && math.Abs(got-want) <= 0.00501*math.Abs(want)
}

func number(t *testing.T, cell string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.NewReplacer("−", "-", ",", "").Replace(cell), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// plane fits z = a + b x + c y by the normal equations of centred columns.
func plane(x, y, z []float64) (a, b, c, explained float64) {
	mean := func(v []float64) float64 {
		sum := 0.0
		for _, u := range v {
			sum += u
		}
		return sum / float64(len(v))
	}
	mx, my, mz := mean(x), mean(y), mean(z)
	var xx, xy, yy, xz, yz, zz float64
	for i := range x {
		u, v, w := x[i]-mx, y[i]-my, z[i]-mz
		xx, xy, yy, xz, yz, zz = xx+u*u, xy+u*v, yy+v*v, xz+u*w, yz+v*w, zz+w*w
	}
	det := xx*yy - xy*xy
	b, c = (xz*yy-yz*xy)/det, (yz*xx-xz*xy)/det
	return mz - b*mx - c*my, b, c, (b*xz + c*yz) / zz
}
