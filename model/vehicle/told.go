package vehicle

import (
	"regexp"
	"slices"
	"strings"
)

// A Route is one way to make a quantity: its equation, "" where it is no single one, and
// what it is made from directly.
type Route struct {
	Equation string   `json:"equation,omitempty"`
	From     []string `json:"from"`
}

// Routes returns the ways to make a quantity, the first that can be gone first.
func (m *Model) Routes(q string) []Route {
	e := m.named[q]
	if e == nil {
		return nil
	}
	var routes []Route
	told := m.equations(q)
	for _, w := range e.ways {
		r := Route{Equation: w.form, From: []string{}}
		if w.form == "" && len(told) > 0 {
			r.Equation, told = told[0], told[1:]
		}
		for _, need := range slices.Concat(w.needs, w.from) {
			if name := parent(need); !slices.Contains(r.From, name) {
				r.From = append(r.From, name)
			}
		}
		if len(r.From) > 0 || r.Equation != "" {
			routes = append(routes, r)
		}
	}
	if m.isBillPart(q) {
		routes = append(routes, Route{Equation: "the sum of count x mass of the lines that a bill has of it", From: []string{"bill"}})
	}
	return routes
}

// equations are those of a quantity, the parts of a whole written out.
func (m *Model) equations(q string) []string {
	told := slices.Clone(equations[q])
	for i, text := range told {
		before, rest, _ := strings.Cut(text, partsMark)
		if whole, after, found := strings.Cut(rest, ":"); found {
			told[i] = before + strings.Join(m.parts[whole], " + ") + after
		}
	}
	return told
}

// equations are those of ways that are more than a product, a sum or a difference, as a
// reader writes them down: of each quantity one a way, in their order; "parts:WHOLE:" stands
// for the sum of the parts of a whole.
var equations = map[string][]string{
	"cell_volume":       {"pi / 4 x cell_diameter^2 x cell_height, or cell_width x cell_thickness x cell_height, by cell_format"},
	"cell_plan_area":    {"sqrt(3) / 2 x cell_pitch^2 where layout is hexagonal, cell_pitch^2 where it is square; (cell_width + gap_across) x (cell_thickness + cell_gap) of flat-sided cells, by cell_format"},
	"bond_mass":         {"2 x cell_count x cell_plan_area x bond_thickness x bond_density"},
	"face_sheet_mass":   {"footprint x (face_sheet_thickness + lower_sheet_thickness) x face_sheet_density"},
	"pack_mass":         {"cells_mass x (1 + non_cell_ratio)", partsMark + "pack_mass:"},
	"non_cell_ratio":    {"(pack_mass - cells_mass) / cells_mass"},
	"pack_height":       {"cell_height + 2 x bond_thickness + face_sheet_thickness + lower_sheet_thickness + cooling_thickness, by cooling_place, + busbar_layer_thickness + pack_other_height"},
	"cell_volume_share": {"cell_count x cell_volume / pack_volume"},
	"net_pack_mass":     {"pack_mass - displaced_mass + added_mass"},
	"windscreen_mass":   {paneEquation("windscreen")},
	"side_glass_mass":   {paneEquation("side_glass")},
	"rear_glass_mass":   {paneEquation("rear_glass")},
	"roof_glass_mass":   {paneEquation("roof_glass")},
	"glazing_mass":      {partsMark + "glazing_mass:"},
	"displaced_mass":    {"the sum of the items under displaced, or displaced_by_stiffness, by displaced_from"},
	"added_mass":        {"the sum of the items under added"},
	"kerb_mass": {"that of its base + what changed in pack_mass, the other parts, displaced and added",
		partsMark + "kerb_mass: - displaced + added"},
	"air_density":   {"air_pressure / (287.05287 J/(kg K) x outside_temperature)"},
	"city_range":    {"usable_energy / udds_consumption"},
	"highway_range": {"usable_energy / hwfet_consumption"},
	"wltc_range":    {"usable_energy / wltc_consumption"},
	"combined_range": {
		"0.55 x city_range + 0.45 x highway_range"},
	"combined_ac_consumption": {"0.55 x udds_ac_consumption + 0.45 x hwfet_ac_consumption"},
}

func paneEquation(pane string) string {
	return pane + "_area x (" + pane + "_thickness x glass_density + " + pane + "_interlayer x interlayer_density)"
}

var nameInEquation = regexp.MustCompile(`[a-z][a-z0-9]*(_[a-z0-9]+)+`)

// namesIn are the names of quantities in an equation.
func namesIn(equation string) []string { return nameInEquation.FindAllString(equation, -1) }
