package inspect

import (
	"errors"
	"fmt"
	"path/filepath"

	"proofmass/jobs"
	"proofmass/jobs/files"
	"proofmass/jobs/parquet"
	"proofmass/jobs/plan"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
)

// A State is how far a result folder has come.
type State struct {
	Study    string `json:"study"`
	Finished bool   `json:"finished"`
	Whole    bool   `json:"whole"` // every file is there as it was written
	Fault    string `json:"fault,omitempty"`

	Hopeless string `json:"hopeless,omitempty"` // why the same run would never finish it

	Answer *report.Answer `json:"answer,omitempty"`
	Stands *jobs.Standing `json:"stands,omitempty"` // of a result that is not finished
}

// Show reads a result folder: how far it is, whether every file is whole, and the
// answer if it is finished.
func Show(folder string) (*State, error) {
	m, err := manifestOf(folder)
	if err != nil {
		return nil, err
	}
	s := &State{Study: m.Study, Finished: m.Finished, Hopeless: m.Hopeless}
	if err := result.Verify(folder); err != nil {
		s.Fault = err.Error()
		return s, nil
	}
	s.Whole = true
	if s.Finished {
		s.Answer, err = report.Read(folder)
	} else {
		s.Stands, err = jobs.Stand(folder)
	}
	return s, err
}

// manifestOf is the manifest of a folder that holds a result, finished or not.
func manifestOf(folder string) (*result.Manifest, error) {
	if err := jobs.IsFolder(folder); err != nil {
		return nil, &jobs.UsageError{Err: err}
	}
	if err := result.Settle(files.Disk{}, folder); err != nil {
		return nil, &jobs.UsageError{Err: err}
	}
	kind, m, err := result.Inspect(folder)
	if errors.Is(err, parquet.ErrDamaged) {
		return nil, fmt.Errorf("%w; run the study again, with --replace into the same folder", err) // of a result: the folder was rightly named
	}
	switch {
	case kind == result.Unreadable:
		err = fmt.Errorf("%w; run the study again, with --replace into the same folder, or use that version", err)
	case err == nil && kind == result.Empty:
		err = fmt.Errorf("%s holds no result", folder)
	}
	if err != nil {
		return nil, &jobs.UsageError{Err: err}
	}
	return m, nil
}

// A Value is one quantity of one draw, in display units; Infeasible instead of a
// value.
type Value struct {
	Name       string  `json:"name"`
	Value      float64 `json:"value"`
	Infeasible bool    `json:"infeasible,omitempty"`
	Unit       string  `json:"unit"`
	Role       string  `json:"role"` // input, constant, formula, output, intermediate, claim
	Meaning    string  `json:"meaning"`
	Source     string  `json:"source,omitempty"`
}

// Row evaluates draw number row of a result folder again, with every quantity
// that the model can compute from it.
func Row(folder string, row int) ([]Value, error) {
	m, err := manifestOf(folder)
	if err != nil {
		return nil, err
	}
	if row < 0 || int64(row) >= m.Rows {
		return nil, &jobs.UsageError{Err: fmt.Errorf("--row: found %d; the rows are 0 to %d", row, m.Rows-1)}
	}
	if err := result.Verify(folder); err != nil {
		return nil, fmt.Errorf("%w; a draw is told of a whole result alone, and the same run command makes it whole", err)
	}
	s, err := jobs.Read(filepath.Join(folder, result.StudyFile), study.Options{})
	if err != nil {
		return nil, err
	}
	if jobs.Digest(s) != m.StudyDigest {
		return nil, fmt.Errorf("%s: the study in it is not the one that was run", folder)
	}
	s.Keep = "all"
	p, err := plan.New(s)
	if err != nil {
		return nil, &jobs.UsageError{Err: err}
	}
	if p.Choosing != nil {
		a, err := report.Read(folder)
		if err != nil {
			return nil, err
		}
		p = p.ForChoice(a.Choices.Told)
	}
	r := run.Runner{Plan: p}
	return describe(p, r.Row(row)), nil
}

// describe puts the outputs of one row into display units.
func describe(p *plan.Plan, si []float64) []Value {
	var values []Value
	for _, c := range p.Columns {
		v := Value{Name: c.Name, Value: c.Quantity.Unit.FromSI(si[c.Output]), Unit: c.Quantity.Unit.String(),
			Role: c.Role(), Meaning: c.Quantity.Meaning, Source: c.Source()}
		values = append(values, v.orInfeasible())
	}
	for _, c := range p.Claims {
		values = append(values, Value{Name: c.Name, Value: si[c.Holds], Unit: "1", Role: "claim", Meaning: c.Text}.orInfeasible())
	}
	return values
}

func (v Value) orInfeasible() Value {
	if v.Value != v.Value {
		v.Value, v.Infeasible = 0, true
	}
	return v
}
