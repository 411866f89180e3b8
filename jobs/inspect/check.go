package inspect

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"proofmass/jobs"
	"proofmass/jobs/plan"
	"proofmass/jobs/study"
)

// A Forecast is what a run of a study would do and take; see estimate.
type Forecast struct {
	Study     string         `json:"study"`
	Claims    []Condition    `json:"claims"`
	Rows      int            `json:"rows"`
	Choices   *Choosing      `json:"choices,omitempty"`      // Rows are then those of a choice that is kept to the end
	AtMost    int            `json:"rows_at_most,omitempty"` // where the sample grows: Rows and Runs are then those it starts with
	Design    string         `json:"design"`
	IndexRows int            `json:"index_rows"` // of the rounds that sensitivity begins with
	IndexMost int            `json:"index_runs_at_most"`
	Runs      int            `json:"model_runs"`
	Beside    int            `json:"runs_beside"`        // of Runs: for guessed widths and rival accounts, not stored
	Accounts  []string       `json:"accounts,omitempty"` // rival ones, with how far each is believed
	HalfWidth float64        `json:"half_width"`
	Inputs    int            `json:"uncertain_inputs"`
	Outputs   int            `json:"stored_columns"`
	Seconds   float64        `json:"seconds"`
	Memory    int64          `json:"memory_bytes"`
	Disk      int64          `json:"disk_bytes"`
	HowKnown  map[string]int `json:"how_known"`
	Defaults  []string       `json:"uncertain_defaults"`
	Constants []string       `json:"constant_defaults"`
	LeftOut   []plan.LeftOut `json:"left_out"`
	Odd       []string       `json:"odd"` // those of First before all
	First     []string       `json:"-"`   // what makes the answer wrong: what cannot be, likely slips
	Note      string         `json:"note,omitempty"`
	RareMost  int            `json:"rare_runs_at_most,omitempty"` // of a claim that next to no draw holds, or fails

	Screening *Screening `json:"screening,omitempty"`
}

// A Condition says what a claim was understood to mean.
type Condition struct {
	Claim string `json:"claim"`
	Text  string `json:"text"`  // as the tables have it: bonded.label_range_change >= 8.5 %
	Words string `json:"words"` // in plain English; of a condition that the study writes out itself as there
}

// Checked is what is found of one study file: its mistakes, or what a run would do.
type Checked struct {
	File     string        `json:"file"`
	CanRun   bool          `json:"can_be_run"`
	Mistakes []study.Error `json:"mistakes"`
	*Forecast
}

// CheckFile is Check with the mistakes of the study as a list, for a run with so many
// workers (0: one a processor). The error is one of another kind: of the command line or
// the machine.
func CheckFile(path string, o study.Options, workers int) (*Checked, error) {
	c := &Checked{File: path, Mistakes: []study.Error{}}
	s, err := jobs.Read(path, o)
	var wrong study.Errors
	switch {
	case errors.As(err, &wrong):
		c.Mistakes = wrong
		return c, nil
	case err != nil:
		return nil, err
	}
	if c.Forecast, err = forecast(s, workers); errors.As(err, &wrong) {
		c.Mistakes = wrong
	} else if err != nil {
		c.Mistakes = append(c.Mistakes, study.Error{Place: study.Place{File: path}, Found: err.Error()})
	}
	c.CanRun = err == nil
	return c, nil
}

// Screening is what finding out which inputs do next to nothing takes and saves.
type Screening struct {
	Runs     int  `json:"model_runs"`
	Inputs   int  `json:"inputs"`          // looked at
	Left     bool `json:"left_to_the_run"` // too dear to be made by a forecast, which is then of a run that sets none aside
	SetAside int  `json:"set_aside"`       // found to do next to nothing, swapped as one
	Saved    int  `json:"runs_saved"`      // of the rounds that a run begins with
}

// Check reads a study and forecasts its run. Nothing is written.
func Check(path string, o study.Options) (*Forecast, error) {
	s, err := jobs.Read(path, o)
	if err != nil {
		return nil, err
	}
	return forecast(s, 0)
}

func forecast(s *study.Study, workers int) (*Forecast, error) {
	p, err := jobs.Planned(s)
	if err != nil {
		return nil, err
	}
	whole := p
	var looked bool
	if p, looked, err = screened(context.Background(), p); err != nil {
		return nil, err
	}
	f := &Forecast{Study: s.Name, Claims: conditions(s), Rows: p.Sample.Rows, Design: s.Design, IndexRows: p.Index.FirstRounds() * p.Index.Rows, Runs: p.Sample.Rows + p.FirstIndexRuns(),
		HalfWidth: s.Indices.HalfWidth, Inputs: len(p.Factors), Outputs: len(p.Columns), HowKnown: howKnown(s),
		Defaults: []string{}, Constants: []string{}, LeftOut: append([]plan.LeftOut{}, p.LeftOut...), First: first(p), Odd: []string{}, Note: p.Note()}
	f.Odd = append(f.Odd, slices.Concat(f.First, slices.DeleteFunc(p.Warnings(), func(w string) bool { return slices.Contains(f.First, w) }), p.Unstated(), lossDoubt(s))...)
	if doubt := p.Doubt(); doubt != "" {
		f.Odd = append(f.Odd, doubt)
	}
	widths, accounts := p.Beside()
	f.Beside = widths + accounts
	f.Runs += f.Beside
	for _, a := range s.Accounts {
		f.Accounts = append(f.Accounts, fmt.Sprintf("%s believed %.3g in 100", a.Name, 100*a.Weight))
	}
	f.choosing(p)
	if s.Stopping.AtMost > 0 {
		f.AtMost = p.MostRounds() * p.Sample.Rows
	}
	for _, t := range p.Ties {
		if !t.Whole {
			f.Inputs += len(t.Inputs) - 1 // one factor, as many inputs
		}
	}
	if f.IndexRows > 0 {
		f.IndexMost = s.Indices.AtMost
	}
	if p.FollowsRare() {
		f.RareMost = p.MostClimbRuns()
	}
	f.addScreening(whole, p, looked)
	f.listDefaults(p)
	f.estimate(p, workers)
	f.Odd = append(f.Odd, f.tooLarge()...)
	return f, nil
}

// first are what a reader of check sees before all else.
func first(p *plan.Plan) []string {
	var texts []string
	for _, c := range p.Contradictions {
		texts = append(texts, "This cannot be: "+c.Text+".")
	}
	for _, s := range p.Slips {
		texts = append(texts, s.Told)
	}
	return texts
}

// conditions say what was understood of each claim.
func conditions(s *study.Study) []Condition {
	list := make([]Condition, len(s.Claims))
	for i, c := range s.Claims {
		list[i] = Condition{c.Name, c.Text, cmp.Or(c.Words, c.Text)}
	}
	return list
}

// addScreening compares the plan with all swaps with what screening left of it.
func (f *Forecast) addScreening(whole, p *plan.Plan, looked bool) {
	if s := &whole.Index.Screening; s.Rows > 0 {
		f.Screening = &Screening{Runs: s.Runs(), Inputs: len(s.Factors), Left: !looked, Saved: whole.FirstIndexRuns() - p.FirstIndexRuns()}
		if p != whole {
			f.Screening.SetAside = len(whole.Index.Swaps) - len(p.Index.Swaps) + 1
		}
	}
}

// listDefaults names what the catalogue supplies; factors have the names that
// sensitivity shows them by.
func (f *Forecast) listDefaults(p *plan.Plan) {
	uncertain := map[string]bool{}
	for _, in := range p.Defaults {
		if in.Kind == study.Uncertain {
			uncertain[in.Name] = true
		} else {
			f.Constants = append(f.Constants, in.Name)
		}
	}
	for _, factor := range p.Factors {
		if uncertain[p.Drawn[factor.Inputs[0]].Name] {
			f.Defaults = append(f.Defaults, factor.Name)
		}
	}
}

func howKnown(s *study.Study) map[string]int {
	known := map[string]int{}
	for _, in := range s.Inputs {
		if in.Kind != study.Uncertain {
			continue
		}
		if in.Free.HowKnown == "" {
			known["not said"]++
		} else {
			known[in.Free.HowKnown]++
		}
	}
	return known
}
