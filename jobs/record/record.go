package record

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"proofmass/jobs/regular"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/study/source"
)

// A Record is what predictions were worth.
type Record struct {
	Against     string        `json:"against"`
	Predictions []Prediction  `json:"predictions"`
	Outcomes    []Outcome     `json:"outcomes"` // in the order of the file
	Calibration []Calibration `json:"calibration"`
	Claims      *Chances      `json:"claims"` // null where no claim has an outcome
	Notes       []string      `json:"notes"`
}

// A Prediction is a finished result: which study it is of, and since when it stands.
type Prediction struct {
	Folder  string    `json:"folder"`
	Study   string    `json:"study"`
	Digest  string    `json:"study_digest"`
	Ended   time.Time `json:"ended"`
	Version string    `json:"program_version"`
	Seed    uint64    `json:"seed"`
	Rows    int64     `json:"rows"`
}

// When a prediction was made, against the day of the measurement.
const (
	First   = "first"   // before the day of the measurement
	Late    = "late"    // on that day or later: it is no prediction
	Unknown = "unknown" // the file does not say when it was measured
)

// An Outcome is what was measured of one quantity or claim, and what was foretold. Values are
// in the table's unit of the quantity.
type Outcome struct {
	Folder string   `json:"folder"`
	Study  string   `json:"study"` // as the file names it
	Name   string   `json:"name"`
	Kind   string   `json:"kind"` // quantity, claim
	Unit   string   `json:"unit"`
	Value  float64  `json:"value"` // of a claim 1: it held
	SD     *float64 `json:"sd"`    // of the measurement, null: none was stated
	On     string   `json:"measured_on"`
	Came   string   `json:"came"` // first, late, unknown

	// Of a quantity: nine in ten draws, the measurement's error with them.
	P05      *float64 `json:"p05"`
	P50      *float64 `json:"p50"`
	P95      *float64 `json:"p95"`
	Inside   *bool    `json:"inside"`
	Place    *float64 `json:"place"` // share of the draws below it
	CRPS     *float64 `json:"crps"`
	Interval *float64 `json:"interval_score"` // of nine in ten draws

	Chance *float64 `json:"chance"` // of a claim, as it was foretold
	Brier  *float64 `json:"brier"`

	Guess      *float64 `json:"guess"` // a rival's
	GuessSD    *float64 `json:"guess_sd"`
	GuessScore *float64 `json:"guess_score"` // CRPS, of a claim Brier
	Sharper    *float64 `json:"width_to_guess"`

	Announced      *float64 `json:"announced"` // where a claim announced the quantity
	AnnouncedScore *float64 `json:"announced_score"`
}

// Options say what to read.
type Options struct {
	Folders []string
	Against string // the file of outcomes
	// Whole is asked of every folder: whether the result is finished and none of its files is damaged.
	Whole func(folder string) error
}

// Read scores the predictions in the folders. Mistakes of the file of outcomes are a
// source.Errors.
func Read(o Options) (*Record, error) {
	data, err := regular.Read(o.Against, mostBytes)
	if err != nil {
		return nil, source.Errors{{Place: source.Place{File: o.Against}, Found: strings.TrimPrefix(err.Error(), o.Against+": "), Allowed: "the outcomes are a CSV file"}}
	}
	lines, err := outcomes(o.Against, data)
	if err != nil {
		return nil, err
	}
	r := &Record{Against: o.Against, Notes: []string{}}
	var all []*folder
	for _, path := range o.Folders {
		if err := o.Whole(path); err != nil {
			return nil, err
		}
		f, err := open(path)
		if err != nil {
			return nil, err
		}
		all = append(all, f)
		r.Predictions = append(r.Predictions, f.facts)
	}
	wrong := &source.Collector{}
	used := map[*folder]bool{}
	type named struct {
		folder *folder
		name   string
	}
	told := map[named]bool{}
	for i := range lines {
		o := &lines[i]
		f := find(all, o, wrong)
		if f == nil {
			continue
		}
		if told[named{f, o.name}] {
			wrong.Add(source.Error{Place: o.places["name"], Field: "name", Found: source.Quote(o.name) + " of " + source.Quote(o.study) + " a second time", Allowed: "each outcome stands once; of several measurements state the mean and its sd"})
			continue
		}
		used[f], told[named{f, o.name}] = true, true
		scored, err := f.score(o, wrong)
		if err != nil {
			return nil, err
		}
		if scored != nil {
			r.Outcomes = append(r.Outcomes, *scored)
		}
	}
	if wrong.Count() > 0 {
		return nil, wrong.All(o.Against)
	}
	for _, f := range all {
		if !used[f] {
			r.Notes = append(r.Notes, fmt.Sprintf("%s: no outcome of %s stands in the file.", f.facts.Folder, f.facts.Study))
		}
	}
	r.calibrate()
	return r, nil
}

// find is the folder whose study, or else whose own name, a line has; nil, and a mistake,
// where there is none or more than one.
func find(all []*folder, o *outcome, wrong *source.Collector) *folder {
	var found []*folder
	var names []string
	for _, f := range all {
		if f.facts.Study == o.study {
			found = append(found, f)
		}
		names = append(names, f.facts.Study)
	}
	if len(found) != 1 {
		var named []*folder
		for _, f := range all {
			if f.name == o.study {
				named = append(named, f)
			}
		}
		if len(named) == 1 {
			return named[0]
		}
	}
	switch len(found) {
	case 1:
		return found[0]
	case 0:
		wrong.Add(source.Error{Place: o.places["study"], Field: "study", Found: source.Quote(o.study), Allowed: "the folders hold " + source.Printable(report.Listed(names), 200)})
	default:
		wrong.Add(source.Error{Place: o.places["study"], Field: "study", Found: fmt.Sprintf("%s, which %d of the folders are of", source.Quote(o.study), len(found)), Allowed: "name the folder in place of the study"})
	}
	return nil
}

// folder is one result that is read.
type folder struct {
	path, name string
	facts      Prediction
	summary    map[string]*result.SummaryRow
	claims     []result.ClaimRow
	names      []string // of all that can have an outcome
	samples    *result.Slices
}

// ErrChoices says that a result has several answers.
var ErrChoices = errors.New("sweeps choices; predictions of studies without them can be scored")

func open(path string) (*folder, error) {
	m, err := result.ReadManifest(path)
	if err != nil {
		return nil, err
	}
	if _, swept := m.Tables[result.ChoicesTable]; swept {
		return nil, fmt.Errorf("%s %w", path, ErrChoices)
	}
	whole, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	f := &folder{path: path, name: filepath.Base(whole), summary: map[string]*result.SummaryRow{}}
	f.facts = Prediction{path, m.Study, m.StudyDigest, m.Ended, m.Program, m.Seed, m.Rows}
	if f.claims, _, err = result.Claims.Read(path, m); err != nil {
		return nil, err
	}
	for i := range f.claims {
		f.names = append(f.names, f.claims[i].Claim)
	}
	rows, _, err := result.Summary.Read(path, m)
	if err != nil {
		return nil, err
	}
	for i := range rows {
		if r := &rows[i]; r.Role != result.RoleClaim {
			f.summary[r.Output] = r
			f.names = append(f.names, r.Output)
		}
	}
	if err := result.LoadSlices(path, m); err != nil {
		return nil, err
	}
	var files []string
	for _, round := range m.Rounds {
		if round.Kind == result.SampleKind {
			for _, s := range round.Slices {
				files = append(files, filepath.Join(path, filepath.FromSlash(s.File)))
			}
		}
	}
	if _, moved := m.Tables[result.TemperedTable]; moved {
		files = []string{filepath.Join(path, result.TemperedTable)}
	}
	f.samples, err = result.OpenSlices(files)
	return f, err
}

// claim is the row of a claim, nil if there is none.
func (f *folder) claim(name string) *result.ClaimRow {
	for i := range f.claims {
		if f.claims[i].Claim == name {
			return &f.claims[i]
		}
	}
	return nil
}
