package report

import (
	"encoding/json"
	"fmt"
	"slices"

	"proofmass/jobs/result"
)

// MetaChoices is the key under which the table of choices says what was asked of them.
const MetaChoices = "choices"

// ChoicesAsked is what a study asks of its choices.
type ChoicesAsked struct {
	Names     []string    `json:"names"` // of what they set
	Focus     []int       `json:"focus"` // of which sensitivity is told
	Best      *ChoiceAim  `json:"best,omitempty"`
	Demands   []string    `json:"subject_to,omitempty"`
	Front     []ChoiceAim `json:"front,omitempty"`
	Drops     bool        `json:"drops"` // choices are dropped early
	Looks     int         `json:"looks"`
	Rows      int         `json:"rows"`                // of a choice that is kept to the end
	Lost      float64     `json:"lost"`                // greatest chance that the best, or a member of the front, is lost
	Undecided []string    `json:"undecided,omitempty"` // figures that drop nothing: replicates have too few rows for them
}

// A ChoiceAim is a figure that is to be high, or low.
type ChoiceAim struct {
	Column string `json:"column"` // of its value in the table of choices
	Of     string `json:"of"`
	At     string `json:"at"`
	Lower  bool   `json:"lower"`
}

// Choices is what is told of the designer's choices.
type Choices struct {
	Count int          `json:"count"`
	Told  int          `json:"told"` // the choice that all else in the answer is about
	Asked ChoicesAsked `json:"asked"`

	Rows    int64 `json:"rows"`  // of all choices
	Saved   int64 `json:"saved"` // that dropping early has spared
	Dropped int   `json:"dropped"`
	Unfit   int   `json:"unfit"` // surely do not keep the demands

	Best  []Choice `json:"best,omitempty"`  // those that may be the best, the leading one first
	Front []Choice `json:"front,omitempty"` // those that are or may be on it, by the first figure
	Some  []Choice `json:"some,omitempty"`  // where neither is asked for: the first ones

	BestCount  int `json:"best_count"` // how many may be the best; Best has the first ones
	BestEqual  int `json:"best_equal"` // how many of them have the first one's figure to the last digit, without it
	FrontYes   int `json:"front_yes"`
	FrontMaybe int `json:"front_maybe"`
}

// A Choice is one of them with its figures.
type Choice struct {
	Number  int            `json:"choice"`
	Chosen  string         `json:"chosen"`
	Best    string         `json:"best"`
	Front   string         `json:"front"`
	Rows    int64          `json:"rows"`
	Figures []ChoiceFigure `json:"figures"`
}

// A ChoiceFigure is one figure of a choice.
type ChoiceFigure struct {
	Column string   `json:"column"`
	Unit   string   `json:"unit"`
	Value  *float64 `json:"value"`
	Low    *float64 `json:"low"`
	High   *float64 `json:"high"`
}

// mostListed is how many choices an answer lists; the table has all.
const mostListed = 200

// readChoices reads the table of choices, where there is one, and what was asked of them.
func (t *tables) readChoices(folder string, m *result.Manifest) error {
	chosen, meta, err := result.ReadChoices(folder, m)
	if chosen == nil || err != nil {
		return err
	}
	t.chosen = chosen
	if err := json.Unmarshal([]byte(meta[MetaChoices]), &t.compared); err != nil {
		return fmt.Errorf("%s: what it says of the choices cannot be read: %w", result.ChoicesTable, err)
	}
	return nil
}

// told is the choice that the answer is about beside the choices themselves: the first of
// those of which sensitivity is told, else the first; 0 without choices.
func (t *tables) told() int {
	switch {
	case t.chosen == nil:
		return 0
	case len(t.compared.Focus) > 0:
		return t.compared.Focus[0]
	}
	return 1
}

// choices is nil without any.
func (t *tables) choices() *Choices {
	if t.chosen == nil {
		return nil
	}
	c := &Choices{Count: len(t.chosen.Rows), Told: t.told(), Asked: t.compared}
	for i := range t.chosen.Rows {
		r := &t.chosen.Rows[i]
		c.Rows += r.Rows
		c.Saved += int64(t.compared.Rows) - r.Rows
		if r.Rows < int64(t.compared.Rows) {
			c.Dropped++
		}
		if r.DroppedFor < 0 {
			c.Unfit++
		}
		if r.Best != "no" {
			c.BestCount++
			c.Best = append(c.Best, t.choice(r))
		}
		switch r.Front {
		case "yes":
			c.FrontYes++
		case "maybe":
			c.FrontMaybe++
		}
		if r.Front != "no" {
			c.Front = append(c.Front, t.choice(r))
		}
		if t.compared.Best == nil && len(t.compared.Front) == 0 && len(c.Some) < mostListed {
			c.Some = append(c.Some, t.choice(r))
		}
	}
	if t.compared.Best != nil {
		sortChoices(c.Best, *t.compared.Best)
		if lead := slices.IndexFunc(c.Best, func(x Choice) bool { return x.Number == c.Told }); lead > 0 {
			first := c.Best[lead]
			c.Best = slices.Insert(slices.Delete(c.Best, lead, lead+1), 0, first)
		}
		c.BestEqual = equals(c.Best, t.compared.Best.Column)
	}
	if len(t.compared.Front) > 0 {
		sortChoices(c.Front, t.compared.Front[0])
	}
	c.Best, c.Front = c.Best[:min(len(c.Best), mostListed)], c.Front[:min(len(c.Front), mostListed)]
	return c
}

func (t *tables) choice(r *result.ChoiceRow) Choice {
	c := Choice{Number: int(r.Choice), Chosen: r.Chosen, Best: r.Best, Front: r.Front, Rows: r.Rows}
	for i, f := range t.chosen.Figures {
		e := r.Figures[i]
		c.Figures = append(c.Figures, ChoiceFigure{f.Name, f.Unit, Known(e.Value), Known(e.Low), Known(e.High)})
	}
	return c
}

// equals counts the choices after the first that have its figure and interval to the last
// digit: no number of rows tells them apart.
func equals(all []Choice, column string) (n int) {
	for i := 1; i < len(all); i++ {
		x, y := all[0].Figure(column), all[i].Figure(column)
		if alike(x.Value, y.Value) && alike(x.Low, y.Low) && alike(x.High, y.High) {
			n++
		}
	}
	return n
}

// sortChoices puts what does best in an aim first, the rest in the order of their numbers.
func sortChoices(all []Choice, by ChoiceAim) {
	slices.SortStableFunc(all, func(a, b Choice) int {
		x, y := a.Figure(by.Column).Value, b.Figure(by.Column).Value
		switch {
		case x == nil || y == nil || *x == *y:
			return 0
		case (*x > *y) != by.Lower:
			return -1
		}
		return 1
	})
}

// Figure is the figure of a column; without a value where there is none.
func (c *Choice) Figure(column string) ChoiceFigure {
	for _, f := range c.Figures {
		if f.Column == column {
			return f
		}
	}
	return ChoiceFigure{Column: column}
}

// Choice is the number of the choice that the answer is about, 0 without choices.
func (a *Answer) Choice() int64 {
	if a.Choices == nil {
		return 0
	}
	return int64(a.Choices.Told)
}
