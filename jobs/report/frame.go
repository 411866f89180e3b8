package report

import (
	"proofmass/jobs/result"
	"proofmass/model/unit"
)

// Names of what the summary table says about the whole study, beside its rows.
const (
	MetaAbout       = "study.about"
	MetaModel       = "study.model" // vehicle or formulas
	MetaDesign      = "study.design"
	MetaBaseline    = "study.baseline"
	MetaNote        = "study.note"
	MetaLeftOut     = "study.left_out"    // JSON: [{output, why}]
	MetaTied        = "study.tied"        // JSON: [{input, other, wanted, achieved}]
	MetaChance      = "study.chance"      // half-width of chances, as asked for
	MetaPercentiles = "study.percentiles" // the same of percentiles, a share of p95 - p05
	MetaHalfWidth   = "study.half_width"  // of indices, as asked for
	MetaWarnings    = "study.warnings"    // JSON: [text]
)

// frame gives a table's cells by column and row.
type frame struct {
	table *result.Table
	index map[string]int
}

func newFrame(t *result.Table) frame {
	f := frame{table: t, index: map[string]int{}}
	for i, c := range t.Columns {
		f.index[c.Name] = i
	}
	return f
}

func (f frame) meta(key string) string {
	if f.table == nil {
		return ""
	}
	return f.table.Meta[key]
}

func (f frame) rows() int {
	if f.table == nil {
		return 0
	}
	return f.table.Rows()
}

func (f frame) text(column string, row int) string {
	if i, ok := f.index[column]; ok && row < len(f.table.Columns[i].Texts) {
		return f.table.Columns[i].Texts[row]
	}
	return ""
}

func (f frame) count(column string, row int) int64 {
	if i, ok := f.index[column]; ok && row < len(f.table.Columns[i].Ints) {
		return f.table.Columns[i].Ints[row]
	}
	return 0
}

// number is nil for null.
func (f frame) number(column string, row int) *float64 {
	if i, ok := f.index[column]; ok && row < len(f.table.Columns[i].Floats) {
		if v := f.table.Columns[i].Floats[row]; v == v {
			return &v
		}
	}
	return nil
}

func (f frame) spread(row int) Spread {
	return Spread{Unit: f.text("unit", row), P05: f.number("p05", row), P50: f.number("p50", row), P95: f.number("p95", row)}
}

// in converts a spread to another unit, that of an announcement; it stays as it is
// where that unit says nothing or another dimension.
func (s Spread) in(text string) Spread {
	from, err := unit.Parse(s.Unit)
	to, errTo := unit.Parse(text)
	if err != nil || errTo != nil || from.Dimension() != to.Dimension() || s.Unit == text {
		return s
	}
	convert := func(x *float64) *float64 {
		if x == nil {
			return nil
		}
		y := to.FromSI(from.ToSI(*x))
		return &y
	}
	return Spread{Unit: text, P05: convert(s.P05), P50: convert(s.P50), P95: convert(s.P95)}
}

// find is the first row whose column holds the text, -1 if there is none.
func (f frame) find(column, text string) int {
	for row := range f.rows() {
		if f.text(column, row) == text {
			return row
		}
	}
	return -1
}
