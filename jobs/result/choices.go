package result

import (
	"fmt"
	"path/filepath"
)

// An Estimate is a figure with its interval; NaN is not known.
type Estimate struct{ Value, Low, High float64 }

// A ChoiceTable is choices.parquet: a row a choice, with a column for each quantity that
// the choices set, and value, low and high of each figure.
type ChoiceTable struct {
	Set     []Column // name, unit and meaning of what is set
	Figures []Column // those of the figures' values; their ends are NAME_low and NAME_high
	Rows    []ChoiceRow
}

// A ChoiceRow is one choice.
type ChoiceRow struct {
	ChoiceFacts
	Set     []float64 // in the order of the table's
	Figures []Estimate
}

// ChoiceFacts are the columns of every table of choices.
type ChoiceFacts struct {
	Choice     int64   `column:"choice" meaning:"number of the choice, from 1"`
	Chosen     string  `column:"chosen" meaning:"the choice as the study writes it"`
	Rows       int64   `column:"rows" meaning:"draws of this choice"`
	DroppedIn  float64 `column:"dropped_in" unit:"1" meaning:"look, from 1, after which it got no more rows, being surely off; null: kept to the end"`
	DroppedFor float64 `column:"dropped_for" unit:"1" meaning:"the choice that is surely better; -1: it does not keep the demands; null: kept to the end"`
	Best       string  `column:"best" meaning:"yes: surely the best; maybe: as far as sampling tells; no: surely not, or not asked for"`
	Front      string  `column:"front" meaning:"yes: surely no choice is better in all; maybe: as far as sampling tells; no: surely one is, or not asked for"`
}

var choiceFacts = declare[ChoiceFacts](ChoicesTable, "a choice of the designer's")

const setPrefix, figurePrefix = "set.", "figure."

// Table is the table with metadata that says which columns are set and which are figures.
func (t *ChoiceTable) Table(meta map[string]string) *Table {
	all := map[string]string{}
	for k, v := range meta {
		all[k] = v
	}
	facts := make([]ChoiceFacts, len(t.Rows))
	for i, r := range t.Rows {
		facts[i] = r.ChoiceFacts
	}
	table := choiceFacts.Make(facts, all)
	for i, c := range t.Set {
		c.Nullable, c.Floats = true, []float64{}
		for _, r := range t.Rows {
			c.Floats = append(c.Floats, r.Set[i])
		}
		all[fmt.Sprintf("%s%04d", setPrefix, i)] = c.Name
		table.Columns = append(table.Columns, c)
	}
	for i, c := range t.Figures {
		all[fmt.Sprintf("%s%04d", figurePrefix, i)] = c.Name
		low, high := c, c
		low.Name, high.Name = c.Name+"_low", c.Name+"_high"
		low.Meaning, high.Meaning = "lower end of the interval of "+c.Name, "upper end of the interval of "+c.Name
		ends := []*Column{&c, &low, &high}
		for k, end := range ends {
			end.Nullable, end.Floats = true, []float64{}
			for _, r := range t.Rows {
				e := r.Figures[i]
				end.Floats = append(end.Floats, []float64{e.Value, e.Low, e.High}[k])
			}
		}
		table.Columns = append(table.Columns, c, low, high)
	}
	return table
}

// ReadChoices reads the table and its metadata from a result folder: nil where its manifest
// does not list it.
func ReadChoices(folder string, m *Manifest) (*ChoiceTable, map[string]string, error) {
	if _, there := m.Tables[ChoicesTable]; !there {
		return nil, nil, nil
	}
	path := filepath.Join(folder, ChoicesTable)
	table, err := ReadTable(path)
	if err != nil {
		return nil, nil, err
	}
	facts, err := choiceFacts.rows(table)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	t := &ChoiceTable{Rows: make([]ChoiceRow, len(facts))}
	for i, f := range facts {
		t.Rows[i].ChoiceFacts = f
	}
	numbers := func(name string) (*Column, error) {
		c := table.Column(name)
		if c == nil || c.Floats == nil {
			return nil, fmt.Errorf("%s: there is no column of numbers %q", path, name)
		}
		return c, nil
	}
	for i := 0; ; i++ {
		name, more := table.Meta[fmt.Sprintf("%s%04d", setPrefix, i)]
		if !more {
			break
		}
		c, err := numbers(name)
		if err != nil {
			return nil, nil, err
		}
		t.Set = append(t.Set, Column{Name: c.Name, Unit: c.Unit, Meaning: c.Meaning})
		for r := range t.Rows {
			t.Rows[r].Set = append(t.Rows[r].Set, c.Floats[r])
		}
	}
	for i := 0; ; i++ {
		name, more := table.Meta[fmt.Sprintf("%s%04d", figurePrefix, i)]
		if !more {
			return t, table.Meta, nil
		}
		var ends [3]*Column
		for k, end := range []string{"", "_low", "_high"} {
			if ends[k], err = numbers(name + end); err != nil {
				return nil, nil, err
			}
		}
		t.Figures = append(t.Figures, Column{Name: ends[0].Name, Unit: ends[0].Unit, Meaning: ends[0].Meaning})
		for r := range t.Rows {
			t.Rows[r].Figures = append(t.Rows[r].Figures, Estimate{ends[0].Floats[r], ends[1].Floats[r], ends[2].Floats[r]})
		}
	}
}

// describeChoices tells the columns that every table of choices has.
func describeChoices() Description {
	d := choiceFacts.describe()
	d.Columns = append(d.Columns,
		Described{Name: "QUANTITY", Holds: "numbers", Unit: "its own", Meaning: "each quantity that the choices set"},
		Described{Name: "FIGURE", Holds: "numbers", Unit: "its own", Meaning: "chance of each claim; mean, p05, p50, p95 of each output asked for; what best and front ask for. Ends of its interval: FIGURE_low, FIGURE_high"})
	return d
}
