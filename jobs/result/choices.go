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
	Choice     int64
	Chosen     string    // as written
	Set        []float64 // in the order of the table's
	Rows       int64
	DroppedIn  float64 // look, from 1, after which it got no more rows; NaN: kept to the end
	DroppedFor float64 // the choice that is surely better, -1: unfit; NaN: kept to the end
	Best       string  // yes, maybe, no; all no where the best is not asked for
	Front      string
	Figures    []Estimate
}

// choiceColumns are the columns of every table of choices.
var choiceColumns = []Column{
	{Name: "choice", Meaning: "number of the choice, from 1"},
	{Name: "chosen", Meaning: "the choice as the study writes it"},
	{Name: "rows", Meaning: "draws of this choice"},
	{Name: "dropped_in", Unit: "1", Meaning: "look, from 1, after which it got no more rows, being surely off; null: kept to the end", Nullable: true},
	{Name: "dropped_for", Unit: "1", Meaning: "the choice that is surely better; -1: it does not keep the demands; null: kept to the end", Nullable: true},
	{Name: "best", Meaning: "yes: surely the best; maybe: as far as sampling tells; no: surely not, or not asked for"},
	{Name: "front", Meaning: "yes: surely no choice is better in all; maybe: as far as sampling tells; no: surely one is, or not asked for"},
}

const setPrefix, figurePrefix = "set.", "figure."

// Table is the table with metadata that says which columns are set and which are figures.
func (t *ChoiceTable) Table(meta map[string]string) *Table {
	all := map[string]string{}
	for k, v := range meta {
		all[k] = v
	}
	table := &Table{Meta: all}
	for _, c := range choiceColumns {
		for _, r := range t.Rows {
			switch c.Name {
			case "choice":
				c.Ints = append(c.Ints, r.Choice)
			case "chosen":
				c.Texts = append(c.Texts, r.Chosen)
			case "rows":
				c.Ints = append(c.Ints, r.Rows)
			case "dropped_in":
				c.Floats = append(c.Floats, r.DroppedIn)
			case "dropped_for":
				c.Floats = append(c.Floats, r.DroppedFor)
			case "best":
				c.Texts = append(c.Texts, r.Best)
			case "front":
				c.Texts = append(c.Texts, r.Front)
			}
		}
		table.Columns = append(table.Columns, c)
	}
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
	t := &ChoiceTable{Rows: make([]ChoiceRow, table.Rows())}
	if err := t.fixed(table); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
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

// fixed reads the columns that every table of choices has.
func (t *ChoiceTable) fixed(table *Table) error {
	for _, want := range choiceColumns {
		c := table.Column(want.Name)
		if c == nil {
			return fmt.Errorf("there is no column %s (%s)", want.Name, want.Meaning)
		}
		for r := range t.Rows {
			row := &t.Rows[r]
			switch {
			case want.Name == "choice" && c.Ints != nil:
				row.Choice = c.Ints[r]
			case want.Name == "rows" && c.Ints != nil:
				row.Rows = c.Ints[r]
			case want.Name == "chosen" && c.Texts != nil:
				row.Chosen = c.Texts[r]
			case want.Name == "best" && c.Texts != nil:
				row.Best = c.Texts[r]
			case want.Name == "front" && c.Texts != nil:
				row.Front = c.Texts[r]
			case want.Name == "dropped_in" && c.Floats != nil:
				row.DroppedIn = c.Floats[r]
			case want.Name == "dropped_for" && c.Floats != nil:
				row.DroppedFor = c.Floats[r]
			default:
				return fmt.Errorf("column %s holds %s", want.Name, holds(c))
			}
		}
	}
	return nil
}

// describeChoices tells the columns that every table of choices has.
func describeChoices() Description {
	d := Description{File: ChoicesTable, Row: "a choice of the designer's"}
	for _, c := range choiceColumns {
		kind := "numbers"
		switch {
		case c.Name == "choice" || c.Name == "rows":
			kind = "counts"
		case !c.Nullable:
			kind = "text"
		}
		d.Columns = append(d.Columns, Described{Name: c.Name, Holds: kind, Unit: c.Unit, Meaning: c.Meaning})
	}
	d.Columns = append(d.Columns,
		Described{Name: "QUANTITY", Holds: "numbers", Unit: "its own", Meaning: "each quantity that the choices set"},
		Described{Name: "FIGURE", Holds: "numbers", Unit: "its own", Meaning: "chance of each claim; mean, p05, p50, p95 of each output asked for; what best and front ask for. Ends of its interval: FIGURE_low, FIGURE_high"})
	return d
}
