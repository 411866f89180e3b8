package report

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"proofmass/jobs/result"
	"proofmass/jobs/shown"
)

// UnitsShown are the units that a study wants its numbers shown in, by what its summary
// says of it.
func UnitsShown(summaryMeta map[string]string) shown.Units {
	var wishes []shown.Wish
	_ = json.Unmarshal([]byte(summaryMeta[MetaShowIn]), &wishes) // absent: as they are stored
	return shown.New(wishes)
}

// Units of fields of a row that are not written in their tags but in another field.
const (
	ofRow       = "unit of the row"
	ofRowsInput = "input_unit of the row"
	ofRowsError = "error_unit of the row"
)

// differences are the columns that hold differences or standard deviations.
var differences = []string{"sd", "swing", "sum_of_swings", "spread", "error"}

// show puts the fields of a row, a pointer to a struct of result, that have the unit in into
// the one that their quantity is to be shown in, and makes in that one.
func show(row any, of, quantity string, in *string, u shown.Units) {
	if c, ok := u.Of(quantity, *in); ok {
		convert(row, of, c)
		*in = c.Unit()
	}
}

// convert puts the fields of a row whose tag has a unit into the one that the conversion goes
// to. Of causes and levers every value is a difference.
func convert(row any, of string, c shown.Conversion) {
	all := false
	switch row.(type) {
	case *result.CauseRow, *result.LeverRow:
		all = true
	}
	v := reflect.ValueOf(row).Elem()
	for i := range v.NumField() {
		tag := v.Type().Field(i).Tag
		switch {
		case tag.Get("unit") != of:
		case all || slices.Contains(differences, tag.Get("column")):
			v.Field(i).SetFloat(c.Difference(v.Field(i).Float()))
		default:
			v.Field(i).SetFloat(c.Value(v.Field(i).Float()))
		}
	}
}

// ShowSummary converts rows of the summary in place.
func ShowSummary(rows []result.SummaryRow, u shown.Units) {
	for i := range rows {
		r := &rows[i]
		show(r, ofRow, r.Output, &r.Unit, u)
	}
}

// ShowCurves converts rows of the curves in place; those of margins and of whether a claim
// holds keep the claim's unit.
func ShowCurves(rows []result.CurveRow, u shown.Units) {
	for i := range rows {
		r := &rows[i]
		if r.Of == result.OfOutput {
			show(r, ofRow, r.Output, &r.Unit, u)
		}
		show(r, ofRowsInput, r.Input, &r.InputUnit, u)
	}
}

// ShowInside converts rows of what lies inside in place. What stands in one figure in one
// unit is shown in one: that of the first quantity which another unit is asked for.
func ShowInside(rows []result.InsideRow, u shown.Units) {
	type axis struct{ figure, unit string }
	chosen := map[axis]shown.Conversion{}
	for i := range rows {
		at := axis{rows[i].Figure, rows[i].Unit}
		if _, settled := chosen[at]; settled {
			continue
		}
		if c, ok := u.Of(rows[i].Output, rows[i].Unit); ok {
			chosen[at] = c
		}
	}
	for i := range rows {
		r := &rows[i]
		if c, ok := chosen[axis{r.Figure, r.Unit}]; ok {
			convert(r, ofRow, c)
			r.Unit = c.Unit()
		}
	}
}

// ShowChoices converts the figures of choices in place.
func ShowChoices(t *result.ChoiceTable, u shown.Units) {
	if t == nil {
		return
	}
	for k := range t.Figures {
		c, ok := u.Of(outputOfFigure(t.Figures[k].Name), t.Figures[k].Unit)
		if !ok {
			continue
		}
		t.Figures[k].Unit = c.Unit()
		for i := range t.Rows {
			e := &t.Rows[i].Figures[k]
			e.Value, e.Low, e.High = c.Value(e.Value), c.Value(e.Low), c.Value(e.High)
		}
	}
}

// outputOfFigure is what a column of choices is of: bonded_label_range_p10.
func outputOfFigure(column string) string { return column[:max(0, strings.LastIndexByte(column, '_'))] }

// shown converts all rows in place.
func (t *tables) shown(u shown.Units) {
	ShowSummary(t.summary, u)
	ShowSummary(t.earlier, u)
	for i := range t.facts {
		r := &t.facts[i]
		show(r, ofRow, r.Of, &r.Unit, u)
	}
	for i := range t.tornado {
		r := &t.tornado[i]
		if r.Of == result.OfOutput {
			show(r, ofRow, r.Output, &r.Unit, u)
		}
		show(r, ofRowsInput, r.Input, &r.InputUnit, u)
	}
	for i := range t.regions {
		r := &t.regions[i]
		show(r, ofRowsInput, r.Input, &r.InputUnit, u)
	}
	for i := range t.causes {
		r := &t.causes[i]
		show(r, ofRow, r.Output, &r.Unit, u)
	}
	for i := range t.levers {
		r := &t.levers[i]
		show(r, ofRow, r.Output, &r.Unit, u)
	}
	for i := range t.requires { // how far a point is inside a claim keeps the claim's unit
		r := &t.requires[i]
		show(r, ofRow, r.Input, &r.Unit, u)
	}
	for i := range t.measure { // and so does what is left of that
		r := &t.measure[i]
		show(r, ofRowsError, r.Item, &r.ErrorUnit, u)
	}
	ShowChoices(t.chosen, u)
}

// With converts a spread.
func (s Spread) With(c shown.Conversion) Spread {
	return Spread{Unit: c.Unit(), P05: Converted(s.P05, c.Value), P50: Converted(s.P50, c.Value), P95: Converted(s.P95, c.Value)}
}

// Converted applies a change of unit to a number that may be unknown.
func Converted(x *float64, by func(float64) float64) *float64 {
	if x == nil {
		return nil
	}
	y := by(*x)
	return &y
}
