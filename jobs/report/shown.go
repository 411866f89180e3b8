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
const ofRow, ofRowsInput = "unit of the row", "input_unit of the row"

// differences are the columns that hold differences or standard deviations.
var differences = []string{"sd", "swing", "sum_of_swings", "spread"}

// convert puts the fields of a row, a pointer to a struct of result, that have a unit into
// the one that the conversion goes to.
func convert(row any, of string, c shown.Conversion) {
	v := reflect.ValueOf(row).Elem()
	for i := range v.NumField() {
		tag := v.Type().Field(i).Tag
		switch {
		case tag.Get("unit") != of:
		case slices.Contains(differences, tag.Get("column")):
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
		if c, ok := u.Of(r.Output, r.Unit); ok {
			convert(r, ofRow, c)
			r.Unit = c.Unit()
		}
	}
}

// ShowCurves converts rows of the curves in place; those of margins and of whether a claim
// holds keep the claim's unit.
func ShowCurves(rows []result.CurveRow, u shown.Units) {
	for i := range rows {
		r := &rows[i]
		if c, ok := u.Of(r.Output, r.Unit); ok && r.Of == result.OfOutput {
			convert(r, ofRow, c)
			r.Unit = c.Unit()
		}
		if c, ok := u.Of(r.Input, r.InputUnit); ok {
			convert(r, ofRowsInput, c)
			r.InputUnit = c.Unit()
		}
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
		if c, ok := u.Of(r.Of, r.Unit); ok {
			convert(r, ofRow, c)
			r.Unit = c.Unit()
		}
	}
	for i := range t.tornado {
		r := &t.tornado[i]
		if c, ok := u.Of(r.Output, r.Unit); ok && r.Of == result.OfOutput {
			convert(r, ofRow, c)
			r.Unit = c.Unit()
		}
		if c, ok := u.Of(r.Input, r.InputUnit); ok {
			convert(r, ofRowsInput, c)
			r.InputUnit = c.Unit()
		}
	}
	for i := range t.regions {
		r := &t.regions[i]
		if c, ok := u.Of(r.Input, r.InputUnit); ok {
			convert(r, ofRowsInput, c)
			r.InputUnit = c.Unit()
		}
	}
	for i := range t.causes {
		r := &t.causes[i]
		if c, ok := u.Of(r.Output, r.Unit); ok {
			convert(r, ofRow, c)
			r.Unit = c.Unit()
		}
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
