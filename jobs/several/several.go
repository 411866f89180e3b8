// Package several runs many studies, one result folder each, and puts the chances of their
// claims side by side.
package several

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"proofmass/jobs"
	"proofmass/jobs/files"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// A Study is one of many: its file, the folder of its result inside that of all, and what
// became of it.
type Study struct {
	Path   string         `json:"file"`
	Folder string         `json:"folder"` // inside that of all
	Answer *report.Answer `json:"answer,omitempty"`
	Missed bool           `json:"half_width_missed,omitempty"`
	Err    error          `json:"-"`
	Fault  string         `json:"error,omitempty"` // Err in words
}

// Folders names a folder for each study: that of its file, of study.yaml in a result folder
// that of the folder. Two of one name are an error.
func Folders(paths []string) ([]Study, error) {
	var all []Study
	by := map[string]string{}
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
		if filepath.Base(path) == result.StudyFile {
			if whole, err := filepath.Abs(path); err == nil && filepath.Dir(whole) != "/" {
				name = filepath.Base(filepath.Dir(whole))
			}
		}
		if other, twice := by[name]; twice {
			return nil, &jobs.UsageError{Err: fmt.Errorf("%s and %s would have one folder, %s; give their files other names, or run them one by one", other, path, name)}
		}
		if name == "" || strings.HasPrefix(name, ".") || name+".parquet" == result.IndexTable {
			return nil, &jobs.UsageError{Err: fmt.Errorf("%s: no folder can be named %q; give the file another name", path, name)}
		}
		by[name] = path
		all = append(all, Study{Path: path, Folder: name})
	}
	return all, nil
}

// Run runs each study into its folder inside o.Out, one after the other, and keeps
// index.parquet there up to date. A study that fails does not stop the rest: the error is
// about the folder of all, or the context's. begin is told of
// each study before it is run and may change how.
func Run(ctx context.Context, paths []string, o jobs.Options, begin func(i int, s *Study, one *jobs.Options)) ([]Study, error) {
	all, err := Folders(paths)
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(filepath.Join(o.Out, "manifest.json")); err == nil {
		return nil, &jobs.UsageError{Err: fmt.Errorf("--out %s: it holds the result of one study; give another folder for those of many", o.Out)}
	}
	lock, err := result.LockFolder(o.Out)
	if err != nil {
		return nil, &jobs.UsageError{Err: fmt.Errorf("--out %w", err)}
	}
	defer lock.Release()
	for i := range all {
		s, one := &all[i], o
		one.Out = filepath.Join(o.Out, s.Folder)
		begin(i, s, &one)
		outcome, err := jobs.Run(ctx, s.Path, one)
		if errors.Is(err, context.Canceled) {
			return all, err
		}
		if s.Err = err; err != nil {
			s.Fault = err.Error()
		} else {
			s.Answer, s.Missed = outcome.Answer, outcome.Missed
		}
		if err := result.WriteIndex(files.Disk{}, o.Out, rows(all[:i+1])); err != nil {
			return all, fmt.Errorf("--out %w", err)
		}
	}
	return all, nil
}

// rows are those of index.parquet: one a claim, one of a study without claims or answer.
func rows(all []Study) []result.StudyRow {
	var rows []result.StudyRow
	for _, s := range all {
		row := result.StudyRow{Folder: s.Folder, File: s.Path, Fault: s.Fault}
		row.Chance, row.Low, row.High = math.NaN(), math.NaN(), math.NaN()
		if s.Answer == nil || len(s.Answer.Claims) == 0 {
			if s.Answer != nil {
				row.Study, row.Rows, row.Seed = s.Answer.Study, s.Answer.Run.Rows, fmt.Sprint(s.Answer.Run.Seed)
			}
			rows = append(rows, row)
			continue
		}
		for _, c := range s.Answer.Claims {
			row.Study, row.Rows, row.Seed = s.Answer.Study, s.Answer.Run.Rows, fmt.Sprint(s.Answer.Run.Seed)
			row.Claim, row.Text, row.Verdict, row.Chance = c.Name, c.Text, c.Verdict, c.Chance
			row.Low, row.High = report.OrNull(c.Low), report.OrNull(c.High)
			rows = append(rows, row)
		}
	}
	return rows
}
